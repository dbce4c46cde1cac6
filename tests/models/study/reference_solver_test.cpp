#include "models/study/reference_solver.hpp"

#include <gtest/gtest.h>

#include "tests/support/strung.hpp"

namespace limbwright::models::reference_solver_test {
namespace {

Study guide_study(LengthRule rule) {
    Study study;
    study.lengths = rule;
    study.ranges = {{"guide, lateral", {-2, 2, 2}}};
    return study;
}

const StudyBase& kept() {
    static const StudyBase made(testing::demo_bow("crossed"), guide_study(LengthRule::kept));
    return made;
}

TEST(ColdLayout, OfTodaysLayoutHasTheMeasuresOfAWholeDraw) {
    const LayoutRow row = solve_cold(kept(), 1);  // the guide in the middle: today's
    const testing::Drawn drawn = testing::drawn(kept().today());
    ASSERT_EQ(row.failure, "");
    for (std::size_t c = 0; c < kept().columns().size(); ++c) {
        const PlacedMeasure& column = kept().columns()[c];
        if (column.at == DrawPlace::brace) {
            // Strung a second time, from its lengths: Newton's method ends elsewhere within its tolerance.
            EXPECT_NEAR(row.values[c], drawn.brace(column.measure.name), 1e-6) << column.measure.name;
        }
        if (column.at == DrawPlace::full_draw) {
            EXPECT_NEAR(row.values[c], drawn.full(column.measure.name), 1e-6 * (1 + std::abs(row.values[c])))
                << column.measure.name;
        }
    }
}

TEST(ColdLayout, KeepsTodaysLengthsOrTimesAnew) {
    Layout moved = kept().today().bow.layout;
    moved.guide_lateral = 2;
    const StrungBow same = testing::strung(string_up(kept(), moved));
    EXPECT_EQ(same.lengths.cables, kept().today().lengths.cables);
    EXPECT_GT(std::abs(axle_to_axle(same.bow, same.brace.state) - kept().today().bow.bow.brace.axle_to_axle),
              1e-3);
    const StudyBase re_timed(testing::demo_bow("crossed"), guide_study(LengthRule::re_timed));
    const StrungBow anew = testing::strung(string_up(re_timed, moved));
    EXPECT_NE(anew.lengths.cables, kept().today().lengths.cables);
    // As near as stringing corrects.
    EXPECT_NEAR(axle_to_axle(anew.bow, anew.brace.state), re_timed.today().bow.bow.brace.axle_to_axle, 1e-7);
}

TEST(ColdLayout, SaysWhyALayoutCannotBeStrung) {
    Layout loose = kept().today().bow.layout;
    loose.twist_string = -900;
    const LayoutRow row = solve_cold(kept(), loose, 12);
    EXPECT_EQ(row.number, 12);
    EXPECT_TRUE(row.values.empty());
    EXPECT_NE(row.failure.find("the string is longer than"), std::string::npos) << row.failure;
}

}  // namespace
}  // namespace limbwright::models::reference_solver_test
