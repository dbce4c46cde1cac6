#include "models/study/layout_evaluation.hpp"

#include <gtest/gtest.h>

#include "models/states/natural_lengths.hpp"
#include "tests/support/small_study.hpp"
#include "tests/support/strung.hpp"

namespace limbwright::models::layout_evaluation_test {
namespace {

/// Brace, peak and full draw of today's bow.
ShortDraw today_of(const StudyBase& base) {
    ShortDraw states{{}, base.peak()};
    for (const StudyBase::Station& station : base.stations())
        states.draw.states.push_back(draw_state(base.today().bow, station.state));
    return states;
}

TEST(LayoutReading, GivesOneValueForEachColumn) {
    const StudyBase& base = testing::small_base();
    const LayoutRow row = row_with(base, 7, base.today(), today_of(base));
    EXPECT_EQ(row.number, 7);
    EXPECT_EQ(row.failure, "");
    EXPECT_EQ(row.values.size(), base.columns().size());
}

TEST(LayoutReading, NamesACableThatIsSlackAtBrace) {
    const StudyBase& base = testing::small_base();
    StrungBow strung = base.today();
    solver::VecX lengths = twisted(strung.bow, strung.lengths);
    lengths[2] += 50;
    strung.bow.system = with_lengths(strung.bow, lengths);
    const LayoutRow row = row_with(base, 0, strung, today_of(base));
    EXPECT_TRUE(row.values.empty());
    EXPECT_EQ(row.failure, "the " + cut_parts(strung.bow)[2].name + " is slack at brace");
}

}  // namespace
}  // namespace limbwright::models::layout_evaluation_test
