#include "postproc/scene/shell_pieces.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <stdexcept>

#include "solver/elements/spring.hpp"
#include "tests/support/piece_check.hpp"

namespace limbwright::postproc::shell_pieces_test {
namespace {

using namespace solver;
using testing::cell_field_of;
using testing::field_of;
using testing::vector_at;

constexpr double rounding = 1e-9;  // of stresses and forces up to 1e3, over some hundred operations
constexpr Lamina lamina{40e3, 10e3, 0.3, 4e3, 4e3, 3e3};

/// Fibres along the wall's axis 1 below, across it above.
const Laminate crossed{{lamina, 0, 1.5}, {lamina, std::numbers::pi / 2, 0.5}};

/// Plane stress: σ = Q ε in fibre axes.
Mat3 plane_stress() {
    const double share = 1 - lamina.poisson * lamina.poisson * lamina.across / lamina.along;
    Mat3 Q = Mat3::Zero();
    Q(0, 0) = lamina.along / share;
    Q(1, 1) = lamina.across / share;
    Q(0, 1) = Q(1, 0) = lamina.poisson * lamina.across / share;
    Q(2, 2) = lamina.shear;
    return Q;
}

/// Elements 0 a triangle, 1 a quad, 2 a quad whose corners run the other way round, 3 a spring:
///
///     3 --- 2 --- 5
///     |  1  |  2  | \    Y
///     0 --- 1 --- 4 0 6  o X
struct Plate {
    State rest;
    System system;

    explicit Plate(const Laminate& laminate) : Plate(states(), laminate) {}
    Plate(const State& at_rest, const Laminate& laminate)
        : rest(at_rest),
          system({.nodes = 7, .scalars = 1},
                 {shell({4, 6, 5}, laminate), shell({0, 1, 2, 3}, laminate), shell({1, 2, 5, 4}, laminate),
                  std::make_shared<Spring>(std::vector{std::pair{ScalarId(0), 1.}},
                                           Spring::Data{.stiffness = 1})}) {}

    static State states() {
        State state;
        for (const Vec3& p : {Vec3(0, 0, 0), Vec3(10, 0, 0), Vec3(10, 8, 0), Vec3(0, 8, 0), Vec3(20, 0, 0),
                              Vec3(20, 8, 0), Vec3(28, 0, 0)})
            state.nodes.push_back({{}, p});
        state.scalars = {0};
        return state;
    }
    [[nodiscard]] std::shared_ptr<const Element> shell(const std::vector<int>& nodes,
                                                       const Laminate& laminate) const {
        std::vector<Frame> frames;
        std::vector<ShellCorner> corners;
        for (const int n : nodes) {
            frames.push_back(Frame::on(NodeId(n)));
            corners.push_back({rest.at(NodeId(n)), Vec3::UnitZ()});
        }
        return std::make_shared<Shell>(frames, corners, Vec3::UnitX(), wall_stiffness(laminate));
    }
    [[nodiscard]] Piece piece(const State& state, const Laminate& laminate) const {
        return shell_piece(system, {"wall", {0, 1, 2}, [&](std::size_t) { return laminate; }}, state);
    }
};

/// Stretched along X by a share.
State stretched(State state, double share) {
    for (Pose& X : state.nodes) X.position.x() *= 1 + share;
    return state;
}

/// What a wall strained along X by a share feels: Green and Lagrange's strain.
double strain_of(double share) {
    return share + share * share / 2;
}

TEST(ShellPieces, CornersOnEqualFramesAreOnePoint) {
    const Plate plate(crossed);
    const Piece piece = plate.piece(plate.rest, crossed);
    EXPECT_EQ(piece.name, "wall");
    EXPECT_EQ(piece.points.size(), 7u);
    EXPECT_EQ(piece.quads.size(), 2u);
    EXPECT_EQ(piece.triangles.size(), 1u);
}

TEST(ShellPieces, CornersOnOneNodeAtDifferentOffsetsAreDifferentPoints) {
    State rest;
    rest.nodes = {Pose{}};
    std::vector<Frame> frames;
    std::vector<ShellCorner> corners;
    for (const Vec3& p : {Vec3(0, 0, 0), Vec3(10, 0, 0), Vec3(0, 8, 0)}) {
        frames.push_back(Frame::on(NodeId(0), {{}, p}));
        corners.push_back({{{}, p}, Vec3::UnitZ()});
    }
    const auto shell = std::make_shared<Shell>(frames, corners, Vec3::UnitX(), wall_stiffness(crossed));
    const System system({.nodes = 1}, {shell});
    const Piece piece = shell_piece(system, {"wall", {0}, [](std::size_t) { return crossed; }}, rest);
    ASSERT_EQ(piece.points.size(), 3u);
    EXPECT_EQ(piece.points[2], Vec3(0, 8, 0));
}

TEST(ShellPieces, CellsOfAFieldStandQuadsFirst) {
    const Plate plate(crossed);
    const auto laminate = [](std::size_t element) {
        return Laminate{
            {lamina, 0, 1.0 + static_cast<double>(element)}};  // element 0, the triangle, is 1 mm thick
    };
    const Piece piece = shell_piece(plate.system, {"wall", {0, 1, 2}, laminate}, plate.rest);
    EXPECT_EQ(cell_field_of(piece, "thickness").values, (std::vector<double>{2, 3, 1}));
}

TEST(ShellPieces, EveryFieldHasItsValuesAtEveryCell) {
    const Plate plate(crossed);
    const Piece piece = plate.piece(plate.rest, crossed);
    EXPECT_EQ(piece.cell_fields.size(), 6u + 2 * crossed.size());
    for (const Field& field : piece.cell_fields)
        EXPECT_EQ(field.values.size(), 3u * field.components) << field.name;
}

TEST(ShellPieces, CellsRunCounterClockwiseSeenFromTheTop) {
    const Plate plate(crossed);
    const Piece piece = plate.piece(plate.rest, crossed);
    const auto turn = [&](int a, int b, int c) {
        const Vec3& start = piece.points.at(a);
        return (piece.points.at(b) - start).cross(piece.points.at(c) - start).z();
    };
    for (const auto& q : piece.quads) {
        EXPECT_GT(turn(q[0], q[1], q[2]), 0);
        EXPECT_GT(turn(q[0], q[2], q[3]), 0);
    }
    for (const auto& t : piece.triangles) EXPECT_GT(turn(t[0], t[1], t[2]), 0);
}

TEST(ShellPieces, AStretchedWallCarriesItsMembraneForce) {
    const Plate plate(crossed);
    const Piece piece = plate.piece(stretched(plate.rest, 1e-3), crossed);
    const Mat3 Q = plane_stress();
    const Vec3 force = strain_of(1e-3) * Vec3(1.5 * Q(0, 0) + 0.5 * Q(1, 1), 2 * Q(0, 1), 0);
    for (std::size_t c = 0; c < 3; ++c)
        EXPECT_LT((vector_at(cell_field_of(piece, "membrane force"), c) - force).norm(), rounding) << c;
}

TEST(ShellPieces, PliesTellStrainAndStressInTheirOwnFibreAxes) {
    const Plate plate(crossed);
    const Piece piece = plate.piece(stretched(plate.rest, 1e-3), crossed);
    const double strain = strain_of(1e-3);
    const Mat3 Q = plane_stress();
    for (std::size_t c = 0; c < 3; ++c) {
        const auto at = [&](const std::string& field) { return vector_at(cell_field_of(piece, field), c); };
        EXPECT_LT((at("strain, ply 1") - Vec3(100 * strain, 0, 0)).norm(), rounding);
        EXPECT_LT((at("strain, ply 2") - Vec3(0, 100 * strain, 0)).norm(), rounding);
        EXPECT_LT((at("stress, ply 1") - Q * Vec3(strain, 0, 0)).norm(), rounding);
        EXPECT_LT((at("stress, ply 2") - Q * Vec3(0, strain, 0)).norm(), rounding);
        EXPECT_NEAR(cell_field_of(piece, "strain, outer").values[c], 100 * strain, rounding);
    }
}

/// Both ends of the quad 0-1-2-3 turned about Y against one another, so that its top face is stretched.
State bent(State state, double angle) {
    for (const int n : {0, 3}) state.at(NodeId(n)).rotation = exp<double>(Vec3(0, -angle / 2, 0));
    for (const int n : {1, 2}) state.at(NodeId(n)).rotation = exp<double>(Vec3(0, angle / 2, 0));
    return state;
}

TEST(ShellPieces, ABentWallIsStrainedMostAtItsOuterFaces) {
    const Laminate three{{lamina, 0, 0.5}, {lamina, 0, 1}, {lamina, 0, 0.5}};
    const Plate plate(three);
    const Piece piece = plate.piece(bent(plate.rest, 0.02), three);
    const double curvature = 2 * std::sin(0.01) / 10;
    const Mat3 Q = plane_stress();
    const auto at = [&](const std::string& field) { return vector_at(cell_field_of(piece, field), 0); };
    EXPECT_NEAR(cell_field_of(piece, "strain, outer").values[0], 100 * curvature, rounding);
    EXPECT_NEAR(at("stress, ply 1")[0], -1 * curvature * Q(0, 0), rounding);  // at z = −1 mm
    EXPECT_NEAR(std::abs(at("stress, ply 2")[0]), 0.5 * curvature * Q(0, 0), rounding);
    EXPECT_NEAR(at("stress, ply 3")[0], 1 * curvature * Q(0, 0), rounding);
    EXPECT_NEAR(at("strain, ply 3")[0], 100 * curvature, rounding);
    const double inertia = 8. / 12;  // h³/12
    EXPECT_LT((at("moment") - Q * Vec3(curvature * inertia, 0, 0)).norm(), rounding);
}

TEST(ShellPieces, AWallSlantedAgainstItsDirectorsCarriesShear) {
    const Plate plate(crossed);
    State slanted = plate.rest;
    for (Pose& X : slanted.nodes) X.rotation = exp<double>(Vec3(0, 1e-3, 0));
    const Vec3 shear = vector_at(cell_field_of(plate.piece(slanted, crossed), "shear force"), 0);
    EXPECT_NEAR(shear[0], wall_stiffness(crossed)(6, 6) * std::sin(1e-3), rounding);
    EXPECT_NEAR(shear[1], 0, rounding);
    EXPECT_EQ(shear[2], 0);
}

/// The plate moved as a whole.
State carried(State state, const Pose& motion) {
    for (Pose& X : state.nodes) X = motion * X;
    return state;
}

TEST(ShellPieces, TheWallAxisTurnsWithTheWall) {
    const Plate plate(crossed);
    const Piece piece = plate.piece(carried(plate.rest, {exp<double>(Vec3(0, 0, 0.3)), {1, 2, 3}}), crossed);
    for (std::size_t c = 0; c < 3; ++c)
        EXPECT_LT((vector_at(cell_field_of(piece, "wall axis 1"), c) - Vec3(std::cos(0.3), std::sin(0.3), 0))
                      .norm(),
                  rounding);
}

TEST(ShellPieces, DisplacementIsToldFromTheCarriedRest) {
    const Plate plate(crossed);
    const Pose motion{exp<double>(Vec3(0.2, -0.1, 0.3)), {1, 2, 3}};
    const State state = carried(stretched(plate.rest, 0.01), motion);
    const Piece piece = shell_piece(plate.system, {"wall", {1}, [](std::size_t) { return crossed; }}, state,
                                    {plate.rest, motion});
    const Vec3 stretch = motion.rotation * Vec3(0.1, 0, 0);  // 1 % of 10 mm
    EXPECT_LT(vector_at(field_of(piece, "displacement"), 0).norm(), rounding);
    EXPECT_LT((vector_at(field_of(piece, "displacement"), 1) - stretch).norm(), rounding);
}

TEST(ShellPieces, RefusesAnElementThatIsNoShell) {
    const Plate plate(crossed);
    const ShellPart part{"wall", {1, 3}, [](std::size_t) { return crossed; }};
    EXPECT_THROW((void)shell_piece(plate.system, part, plate.rest), std::invalid_argument);
}

TEST(ShellPieces, RefusesElementsOfDifferentNumbersOfPlies) {
    const Plate plate(crossed);
    const auto laminate = [](std::size_t element) {
        return element == 1 ? crossed : Laminate{{lamina, 0, 1}};
    };
    EXPECT_THROW((void)shell_piece(plate.system, {"wall", {1, 2}, laminate}, plate.rest),
                 std::invalid_argument);
}

}  // namespace
}  // namespace limbwright::postproc::shell_pieces_test
