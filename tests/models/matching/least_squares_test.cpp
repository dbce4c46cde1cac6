#include "models/matching/least_squares.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/support/small_bow.hpp"

namespace limbwright::models::least_squares_test {
namespace {

using solver::VecX;

/// Two layouts of the small bow; its limbs are a tenth stiffer than the file says, as peak weights tell.
struct TwoDays {
    Bow bow = testing::small_uneven_bow();
    std::vector<BenchDay> days;

    TwoDays() {
        days = {{"first", bow.layout, {}}, {"second", bow.layout, {}}};
        days[1].layout.guide_lateral = 1;
        Bow truth = bow;
        truth.limb.material.along *= 1.1;
        truth.limb.material.shear *= 1.1;
        for (BenchDay& day : days) day.sheet.measurements = {{"peak_weight", {}, 0, 0.01}};
        const JointModel model(truth, days);
        const VecX values = model.values(model.start());
        for (int j = 0; j < 2; ++j) days[static_cast<std::size_t>(j)].sheet.measurements[0].value = values[j];
    }
};

TEST(BenchFit, FindsACommonNumberFromBothLayouts) {
    const TwoDays two;
    const JointModel model(two.bow, two.days);
    const BenchData data = bench_data(model, two.days);
    std::vector<bool> fitted(model.parameters().size(), false);
    const auto stiffness = std::ranges::find(model.parameters(), "limb_stiffness", &MatchParameter::key);
    const auto place = static_cast<std::size_t>(stiffness - model.parameters().begin());
    fitted[place] = true;
    const auto answer = best_fit(model, data, fitted, VecX::Zero(data.prior.size()), model.start());
    const auto& fit = std::get<BenchFit>(answer);
    // The prior pulls by (0.01 N / 27 N)² of the change: nothing; peaks come from parabolas set elsewhere.
    EXPECT_NEAR(fit.x[static_cast<Eigen::Index>(place)] * stiffness->sigma,
                0.1 * data.prior[static_cast<Eigen::Index>(place)],
                2e-3 * 0.1 * data.prior[static_cast<Eigen::Index>(place)]);
    EXPECT_TRUE(fit.ended);
    EXPECT_EQ(fit.r.size(), 2);
}

TEST(BenchFit, LeavesAStiffnessAQuarterAtLeast) {
    const TwoDays two;
    const JointModel model(two.bow, two.days);
    BenchData data = bench_data(model, two.days);
    data.prior_sigma[0] = data.prior[0];  // as unsure as it is large
    EXPECT_DOUBLE_EQ(lower_ends(model, data, {0})[0], -0.75);
    EXPECT_EQ(lower_ends(model, data, {1})[0], -farthest);
}

}  // namespace
}  // namespace limbwright::models::least_squares_test
