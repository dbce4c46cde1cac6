#include "postproc/scene/bow_shells.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/support/piece_check.hpp"
#include "tests/support/small_bow.hpp"

namespace limbwright::postproc::bow_shells_test {
namespace {

using models::PartModel;
using testing::cell_field_of;
using testing::extent;
using testing::field_of;
using testing::piece_of;

models::AssembledBow bow_of(PartModel limbs, PartModel riser) {
    models::Bow bow = testing::small_bow();
    bow.limb.model = limbs;
    bow.limb.shells = 8;
    bow.limb.shells_across = 4;
    bow.riser.model = riser;
    bow.riser.shells = 24;
    bow.riser.shells_across = 4;
    return models::assemble(bow);
}

double largest(const Field& field) {
    double most = 0;
    for (const double value : field.values) most = std::max(most, std::abs(value));
    return most;
}

TEST(BowShells, ShowsThePartsThatAreMadeOfShellsByTheirNames) {
    const auto names = [](PartModel limbs, PartModel riser) {
        const models::AssembledBow bow = bow_of(limbs, riser);
        return testing::names_of(shell_pieces(bow, bow.rest));
    };
    const std::vector<std::string> limbs{"limb top left", "limb top right", "limb bottom left",
                                         "limb bottom right"};
    EXPECT_EQ(names(PartModel::shell, PartModel::beam), limbs);
    EXPECT_EQ(names(PartModel::beam, PartModel::shell), std::vector<std::string>{"riser"});
    EXPECT_TRUE(names(PartModel::beam, PartModel::beam).empty());
}

TEST(BowShells, AreAsWideAndAsThickAsTheParts) {
    const models::AssembledBow bow = bow_of(PartModel::shell, PartModel::shell);
    const std::vector<Piece> pieces = shell_pieces(bow, bow.rest);
    const testing::Extent limb = extent(piece_of(pieces, "limb top left"), 1);
    EXPECT_NEAR(limb.low, 26 - 12, 1e-9);
    EXPECT_NEAR(limb.high, 26 + 12, 1e-9);
    const std::vector<double>& thickness =
        cell_field_of(piece_of(pieces, "limb top left"), "thickness").values;
    const auto [thinnest, thickest] = std::ranges::minmax(thickness);
    EXPECT_NEAR(thickest, 9 - (9 - 7.3) / 8, 1e-9);  // in the middle of the first cell
    EXPECT_NEAR(thinnest, 5.4 + (7.3 - 5.4) / 8, 1e-9);
    const testing::Extent riser = extent(piece_of(pieces, "riser"), 1);
    EXPECT_NEAR(riser.high - riser.low, 46, 2);  // the plate's end cells, a twelfth of the taper within
}

TEST(BowShells, AtRestNothingIsStressedOrDisplaced) {
    const models::AssembledBow bow = bow_of(PartModel::shell, PartModel::shell);
    for (const Piece& piece : shell_pieces(bow, bow.rest)) {
        EXPECT_LT(largest(field_of(piece, "displacement")), 1e-10) << piece.name;
        EXPECT_LT(largest(cell_field_of(piece, "stress, ply 1")), 1e-6) << piece.name;  // rounding of 1e5 MPa
    }
}

TEST(BowShells, ATurnOfTheWholeBowIsNoDisplacement) {
    const models::AssembledBow bow = bow_of(PartModel::shell, PartModel::shell);
    const solver::Pose turn{solver::exp<double>(Vec3(0, 0, 0.3)), Vec3::Zero()};
    solver::State state = bow.rest;
    for (solver::Pose& node : state.nodes) node = turn * node;
    state.at(bow.riser.yaw) = 0.3;
    for (const Piece& piece : shell_pieces(bow, state))
        EXPECT_LT(largest(field_of(piece, "displacement")), 1e-10) << piece.name;
}

TEST(BowShells, AStretchedLimbIsStressedByItsOwnModulus) {
    // All nodes drawn apart by the same share in every direction; so are the cells between free nodes.
    const models::AssembledBow bow = bow_of(PartModel::shell, PartModel::beam);
    constexpr double share = 1e-5;
    solver::State state = bow.rest;
    for (solver::Pose& node : state.nodes) node.position *= 1 + share;
    const Piece piece = piece_of(shell_pieces(bow, state), "limb top left");
    const Field& stress = cell_field_of(piece, "stress, ply 1");
    // Plane stress of equal strains both ways: E₁ (1 + ν₂₁)/(1 − ν₁₂ ν₂₁) of the lamina.
    const double ratio = 10500. / 42000, poisson = 0.27;
    const double expected = 42000 * share * (1 + poisson * ratio) / (1 - poisson * poisson * ratio);
    const std::size_t middle = 3 * (4 * 4 + 1);  // the fifth of eight rows
    EXPECT_NEAR(stress.values[middle], expected, 1e-3 * expected);
}

}  // namespace
}  // namespace limbwright::postproc::bow_shells_test
