#include "postproc/results/compare_results.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/support/small_bow.hpp"

namespace limbwright::postproc::compare_results_test {
namespace {

using models::PartModel;
using models::Warping;

const Runs& runs() {
    static const Runs all = [] {
        models::Bow bow = testing::small_bow();
        bow.limb.shells = 8;
        bow.limb.shells_across = 4;
        bow.shooter.states = 5;
        Runs made;
        for (const models::ModelChoice& choice :
             {models::ModelChoice{.warping = Warping::free}, models::ModelChoice{},
              models::ModelChoice{.limb = PartModel::shell}})
            made.push_back(std::get<models::ModelRun>(run_model(bow, choice)));
        return made;
    }();
    return all;
}

std::vector<double> row(const Table& table, const std::string& text) {
    const auto at = std::find(table.texts.begin(), table.texts.end(), text);
    EXPECT_NE(at, table.texts.end()) << text;
    return table.rows[static_cast<std::size_t>(at - table.texts.begin())];
}

TEST(CompareResults, TellTheDifferenceOfBeamsFromTheLastRun) {
    const std::vector<double> peak = row(measures_table(runs(), false), "draw force, at peak [N]");
    ASSERT_EQ(peak.size(), 5u);
    EXPECT_DOUBLE_EQ(peak[3], peak[1] - peak[2]);
    EXPECT_DOUBLE_EQ(peak[4], 100 * (peak[1] - peak[2]) / std::abs(peak[2]));
}

TEST(CompareResults, ShowEveryMeasureWhenAsked) {
    EXPECT_GT(measures_table(runs(), true).rows.size(), 3 * measures_table(runs(), false).rows.size());
}

TEST(CompareResults, HaveARowOfCostForEveryRun) {
    const Table cost = cost_table(runs());
    EXPECT_EQ(cost.texts, (std::vector<std::string>{"beams, ends free to warp", "beams", "shell limbs"}));
    EXPECT_GT(cost.rows[2][0], cost.rows[1][0]) << "shells have more numbers";
    EXPECT_EQ(cost.rows[1][6], runs()[1].iterations);
}

TEST(CompareResults, ShowThatHeldEndsStiffenALimbInTwist) {
    const std::vector<double> twist = row(rates_table(runs()), "limb, twist [N mm/deg]");
    EXPECT_LT(twist[0], twist[1]);
}

TEST(CompareResults, TellWhyInSentences) {
    const std::vector<std::string> told = findings(runs());
    ASSERT_FALSE(told.empty());
    EXPECT_EQ(told.back().find("One limb against twist: beams "), 0u) << told.back();
}

}  // namespace
}  // namespace limbwright::postproc::compare_results_test
