#include "models/matching/joint_forward_model.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/support/complaint.hpp"
#include "tests/support/small_bow.hpp"

namespace limbwright::models::joint_forward_model_test {
namespace {

using solver::VecX;

Bow bow() {
    Bow made = testing::small_uneven_bow();
    made.layout.pairing = {52, 50, 49, 51};
    return made;
}

/// The bow as its file has it, and with its upper limbs changed about and the guide moved.
std::vector<BenchDay> two_days() {
    std::vector<BenchDay> days(2);
    days[0] = {"first", bow().layout, {}};
    days[1] = {"second", bow().layout, {}};
    std::swap(days[1].layout.pairing.top_left, days[1].layout.pairing.top_right);
    days[1].layout.guide_lateral = 1;
    for (BenchDay& day : days)
        for (const char* key : {"straightedge_gap_top", "peak_weight", "brace_height"})
            day.sheet.measurements.push_back({key, {}, 0, 1});
    return days;
}

int place(const JointModel& model, const std::string& key) {
    const auto found = std::ranges::find(model.parameters(), key, &MatchParameter::key);
    return found == model.parameters().end() ? -1 : static_cast<int>(found - model.parameters().begin());
}

TEST(JointModel, HasBraceForEachDayAndAllElseInCommon) {
    const JointModel model(bow(), two_days());
    EXPECT_GE(place(model, "axle_to_axle_second"), 0);
    EXPECT_EQ(place(model, "guide_lateral_second"), -1);
    EXPECT_EQ(place(model, "limb_number_top_left_second"), -1);
    EXPECT_EQ(model.parameters().size(), match_parameters(bow()).size() - 2 + 4);  // no rest; brace again
}

TEST(JointModel, MovesALimbsNumberWhereverTheLimbSits) {
    const JointModel model(bow(), two_days());
    VecX values = model.prior();
    values[place(model, "limb_number_top_left")] += 0.5;
    const auto moved = model.solve(values, model.start());
    ASSERT_TRUE(moved);
    EXPECT_EQ((*moved)[0].strung.bow.bow.layout.pairing.top_left, 52.5);
    EXPECT_EQ((*moved)[1].strung.bow.bow.layout.pairing.top_right, 52.5);
}

TEST(JointModel, SlopesAreThoseOfItsValues) {
    const JointModel model(bow(), two_days());
    const solver::MatX slopes = model.slopes(model.start());
    for (const char* key : {"limb_number_top_left", "guide_lateral", "axle_to_axle_second"}) {
        const int i = place(model, key);
        const double h = 0.05;
        VecX more = model.prior(), less = model.prior();
        more[i] += h;
        less[i] -= h;
        const auto up = model.solve(more, model.start()), down = model.solve(less, model.start());
        ASSERT_TRUE(up && down);
        const VecX numeric = (model.values(*up) - model.values(*down)) / (2 * h);
        // Of second order in h, and the solver's tolerance over h.
        EXPECT_LT((numeric - slopes.col(i)).lpNorm<Eigen::Infinity>(),
                  1e-3 * (1e-2 + numeric.lpNorm<Eigen::Infinity>()))
            << key << "\n"
            << numeric.transpose() << "\n"
            << slopes.col(i).transpose();
    }
}

TEST(JointModel, RefusesAMeasurementThatTheBowHasNot) {
    const std::string said =
        testing::complaint([] { (void)bench_query(bench_quantities(bow()), "colour", {}); });
    EXPECT_NE(said.find("there is no measurement \"colour\""), std::string::npos) << said;
}

}  // namespace
}  // namespace limbwright::models::joint_forward_model_test
