#include "models/states/natural_lengths.hpp"

#include <gtest/gtest.h>

#include "solver/system/equilibrium.hpp"
#include "tests/support/strung.hpp"

namespace limbwright::models::natural_lengths_test {
namespace {

using solver::VecX;

const StrungBow& uneven() {
    return testing::uneven_bow().strung;
}

TEST(NaturalLengths, LoseWhatTheTwistsTakeAndGetItBack) {
    Layout layout = uneven().bow.layout;
    layout.twist_string = 2;
    layout.twist_cables = {-1, 3};
    const AssembledBow bow = assemble(uneven().bow.bow, layout);
    const NaturalLengths lengths{700, 650, {900, 910}};
    const VecX cut = twisted(bow, lengths);
    ASSERT_EQ(cut.size(), 4);
    const double wanted[] = {699.6, 649.6, 900.2, 909.4};  // 0.2 mm a turn
    for (int i = 0; i < 4; ++i) EXPECT_NEAR(cut[i], wanted[i], 1e-9);
    const NaturalLengths again = untwisted(bow, cut);
    EXPECT_NEAR(again.string_above, 700, 1e-9);
    EXPECT_NEAR(again.string_below, 650, 1e-9);
    ASSERT_EQ(again.cables.size(), 2u);
    EXPECT_NEAR(again.cables[0], 900, 1e-9);
    EXPECT_NEAR(again.cables[1], 910, 1e-9);
}

TEST(NaturalLengths, OfAStrungBowAreThoseInItsSystem) {
    const VecX lengths = twisted(uneven().bow, uneven().lengths);
    const std::vector<CablePart> parts = cut_parts(uneven().bow);
    ASSERT_EQ(lengths.size(), static_cast<int>(parts.size()));
    for (std::size_t i = 0; i < parts.size(); ++i)
        EXPECT_NEAR(uneven().bow.cable(parts[i]).data().natural_length, lengths[static_cast<int>(i)], 1e-9);
}

TEST(NaturalLengths, ActOnTheFreedomsAsTheGradientsDifferenceTells) {
    const AssembledBow& bow = uneven().bow;
    const VecX lengths = twisted(bow, uneven().lengths);
    const solver::State& state = uneven().brace.state;
    const solver::MatX loads = loads_of_lengths(bow, bow.system, state);
    const double h = 1e-3;  // mm; the error is 1e-12 of L₀², far below the rounding of forces of 1e4 N
    for (int i = 0; i < lengths.size(); ++i) {
        const VecX step = h * VecX::Unit(lengths.size(), i);
        const VecX wanted = (total_gradient(with_lengths(bow, lengths - step), state) -
                             total_gradient(with_lengths(bow, lengths + step), state)) /
                            (2 * h);
        EXPECT_LT((loads.col(i) - wanted).lpNorm<Eigen::Infinity>(), 1e-6 * wanted.lpNorm<Eigen::Infinity>());
    }
}

TEST(NaturalLengths, AtBraceLeaveNothingUnmet) {
    // Brace is met to 1e-7 mm and rad by the lengths' correction.
    EXPECT_LT(unmet_at_brace(uneven().bow, uneven().brace.state).lpNorm<Eigen::Infinity>(), 1e-6);
}

TEST(BraceByLengths, IsAsBraceFoundAnew) {
    const AssembledBow& bow = uneven().bow;
    const VecX lengths = twisted(bow, uneven().lengths);
    const solver::State& brace = uneven().brace.state;
    solver::Workspace workspace(bow.system);
    const auto anew = [&](const VecX& changed) {
        return std::get<solver::Equilibrium>(
                   find_equilibrium(with_lengths(bow, changed), brace, held_at_brace(bow), workspace))
            .state;
    };
    (void)anew(lengths);
    const BraceByLengths by = brace_by_lengths(bow, bow.system, brace, workspace.factor);
    const double h = 0.05;  // mm; third derivatives leave h² × 1e-4 /mm²
    for (int i = 0; i < lengths.size(); ++i) {
        const VecX step = h * VecX::Unit(lengths.size(), i);
        const solver::State more = anew(lengths + step), less = anew(lengths - step);
        const solver::Numbering& n = bow.system.numbering();
        const VecX state = (step_between(brace, more, n) - step_between(brace, less, n)) / (2 * h);
        EXPECT_LT((by.state.col(i) - state).lpNorm<Eigen::Infinity>(), 1e-5);
        const VecX unmet = (unmet_at_brace(bow, more) - unmet_at_brace(bow, less)) / (2 * h);
        EXPECT_LT((by.unmet.col(i) - unmet).lpNorm<Eigen::Infinity>(), 1e-5);
    }
}

TEST(BraceByLengths, TellsTheLengthsThatMeetWhatIsUnmet) {
    BraceByLengths by;
    by.unmet = Eigen::Matrix2d{{2, 0}, {1, 4}};
    const VecX change = by.meeting(Eigen::Vector2d(6, -5));
    EXPECT_NEAR(change[0], -3, 1e-14);  // 6 − 3·2 = 0, −5 − 3·1 + 2·4 = 0
    EXPECT_NEAR(change[1], 2, 1e-14);
}

TEST(WithStop, ActsOnTheCamAgainstItsLimbs) {
    Bow bow = testing::small_bow();
    bow.cam_top.stop = 2.5;
    const AssembledBow assembled = assemble(bow);
    const AxleParts& axle = assembled.axle(End::top);
    const solver::System stopped = with_stop(assembled.system, axle, {.stiffness = 100, .rest = 0.5});
    const solver::Element& stop = *stopped.elements()[*axle.stop];
    solver::State state = assembled.rest;
    EXPECT_DOUBLE_EQ(stop.energy(state), 0.5 * 100 * 0.25);
    state.at(*axle.turn) = 0.25;
    state.at(axle.tip_turns[0]) = 0.5;  // half of which counts: the stop rests
    EXPECT_DOUBLE_EQ(stop.energy(state), 0);
}

TEST(PlaceStops, PutsEachAtTheCamsTurnFromBrace) {
    Bow bow = testing::small_bow();
    bow.cam_top.stop = 2.5;
    bow.cam_bottom.stop = 2.75;
    AssembledBow assembled = assemble(bow);
    solver::State brace = assembled.rest;
    brace.at(*assembled.axle(End::top).turn) = 0.125;
    brace.at(*assembled.axle(End::bottom).turn) = 0.25;
    place_stops(assembled, brace);
    EXPECT_DOUBLE_EQ(stop_of(assembled, assembled.axle(End::top)).data().rest, 0.125 + 2.5);
    // The bottom cam turns the other way.
    EXPECT_DOUBLE_EQ(stop_of(assembled, assembled.axle(End::bottom)).data().rest, 0.25 - 2.75);
}

}  // namespace
}  // namespace limbwright::models::natural_lengths_test
