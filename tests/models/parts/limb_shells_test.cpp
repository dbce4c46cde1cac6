#include "models/parts/limb_shells.hpp"

#include <gtest/gtest.h>

#include <numbers>

#include "models/parts/limb_parts.hpp"
#include "solver/system/assembly.hpp"
#include "tests/support/small_bow.hpp"

namespace limbwright::models::limb_shells_test {
namespace {

using solver::Frame;
using solver::Pose;
using solver::State;

/// The small bow's limb, curved, of plies that make top and bottom of it, left and right, differ.
Bow bow_of_shells() {
    Bow bow = testing::small_bow();
    const solver::Lamina glass{42000, 10500, 0.27, 4200, 4200, 3750}, soft{3000, 3000, 0.3, 1150, 1150, 1150};
    bow.limb.plies = {{soft, "soft", 0, {}}, {glass, "glass", 0.4, 2}};
    for (LimbStation& s : bow.limb.stations) s.curvature = 1. / 600;
    bow.limb.model = PartModel::shell;
    bow.limb.shells = 8;
    bow.limb.shells_across = 4;
    return bow;
}

/// The same limb, wider and with a fork.
Bow with_solid_limbs(Bow bow) {
    bow.limb.kind = LimbKind::solid;
    for (LimbStation& s : bow.limb.stations) s.width = 72;
    bow.limb.prong_width = 20;
    bow.limb.fork = 80;
    bow.limb.shells_across = 8;
    return bow;
}

/// A limb whose root follows one node and whose tips follow others.
struct Built {
    Bow bow;
    Builder builder;
    solver::NodeId root;
    std::array<solver::NodeId, 2> tips;
    std::vector<LimbRow> rows;

    Built(LimbKind kind, End end, double lateral = 0)
        : bow(kind == LimbKind::split ? bow_of_shells() : with_solid_limbs(bow_of_shells())),
          root(builder.add_node(limb_root(bow, bow.layout, end, lateral))),
          tips{builder.add_node(axle_rest(bow, bow.layout, end)),
               builder.add_node(axle_rest(bow, bow.layout, end))} {
        const LimbPlace place{end,     name(end),       limb_root(bow, bow.layout, end, 0),
                              lateral, Frame::on(root), {Frame::on(tips[0]), Frame::on(tips[1])}};
        const LimbStiffness stiffness = limb_stiffness(bow.limb, 50);
        if (kind == LimbKind::split)
            rows = {add_split_limb_shells(bow.limb, stiffness, place, builder)};
        else
            rows = add_solid_limb_shells(bow.limb, stiffness, place, builder);
    }
    [[nodiscard]] const State& rest() const { return builder.rest(); }

    /// Every corner of the shells of a row.
    [[nodiscard]] std::vector<Frame> corners(const LimbRow& row) const {
        const solver::System system = builder.system();
        std::vector<Frame> all;
        for (const PartShell& part : row.shells)
            for (const Frame& corner :
                 dynamic_cast<const solver::Shell&>(*system.elements()[part.element]).corners())
                all.push_back(corner);
        return all;
    }
    /// How many corners move with a node, and that they move as one body.
    [[nodiscard]] int carried_by(solver::NodeId node) const {
        const Pose motion{solver::exp<double>(Vec3(0.1, 0.2, -0.3)), Vec3(3, -4, 5)};
        State state = rest();
        state.at(node) = motion * state.at(node);
        int count = 0;
        for (const LimbRow& row : rows)
            for (const Frame& corner : corners(row)) {
                const Pose before = pose(corner, rest()), after = pose(corner, state);
                if ((after.position - before.position).norm() == 0) continue;
                ++count;
                EXPECT_LT((after.position - motion * before.position).norm(), 1e-11);
            }
        return count;
    }
};

TEST(LimbOfShells, ItsRootAndTipRowsFollowTheirFrames) {
    const Built limb(LimbKind::split, End::top, 26);
    EXPECT_EQ(limb.rows[0].shells.size(), 8u * 4u);
    EXPECT_EQ(limb.carried_by(limb.root), 8);  // four cells with two corners each
    EXPECT_EQ(limb.carried_by(limb.tips[0]), 8);
    EXPECT_EQ(limb.carried_by(limb.tips[1]), 0);
}

TEST(LimbOfShells, RunsFromItsRootToTheAxle) {
    for (const End end : {End::top, End::bottom}) {
        const Built limb(LimbKind::split, end, 26);
        const LimbRow& row = limb.rows[0];
        ASSERT_EQ(row.sections.size(), 9u);
        EXPECT_LT((row.rest.front().position - Vec3(165, 26, sign(end) * 300)).norm(), 1e-11);
        const Vec3 axle = limb.rest().at(limb.tips[0]).position;
        EXPECT_LT((row.rest.back().position - (axle + 26 * Vec3::UnitY())).norm(), 1e-11);
        for (std::size_t i = 0; i < row.rest.size(); ++i)
            EXPECT_LT((pose(row.sections[i], limb.rest()).position - row.rest[i].position).norm(), 1e-11);
    }
}

TEST(LimbOfShells, ItsTopFaceLooksToTheArcherAtBothEnds) {
    for (const LimbKind kind : {LimbKind::split, LimbKind::solid})
        for (const End end : {End::top, End::bottom}) {
            const Built limb(kind, end);
            const solver::System system = limb.builder.system();
            for (const LimbRow& row : limb.rows)
                for (const PartShell& part : row.shells) {
                    const auto& shell = dynamic_cast<const solver::Shell&>(*system.elements()[part.element]);
                    EXPECT_LT(shell.wall_state(limb.rest()).axes(0, 2), 0);  // the archer is at −X
                }
        }
}

/// Energy of a limb under a smooth motion of the top limb's surroundings, turned along with the limb.
double energy_when_bent(const Built& limb, const Pose& turned) {
    State state = limb.rest();
    for (Pose& node : state.nodes) {
        const Vec3 p = turned.inverse() * node.position;
        const Vec3 u(1e-4 * p.z() * p.z(), 2e-3 * p.x(), 1e-3 * (p.y() + 0.01 * p.x() * p.z()));
        const Vec3 w(1e-3 * p.y(), 1e-4 * p.z(), 1e-3 * p.x());
        node = {turned.rotation * solver::exp<double>(w) * turned.rotation.inverse() * node.rotation,
                turned * Vec3(p + u)};
    }
    return total_energy(limb.builder.system(), state);
}

TEST(LimbOfShells, OfTheBottomIsTheTopLimbTurnedAboutItsLength) {
    const Pose half_turn{solver::exp<double>(Vec3(std::numbers::pi * Vec3::UnitX())), Vec3::Zero()};
    for (const LimbKind kind : {LimbKind::split, LimbKind::solid}) {
        const double expected = energy_when_bent(Built(kind, End::top), {});
        EXPECT_GT(expected, 1);
        // What was the left limb stands at the right.
        EXPECT_NEAR(energy_when_bent(Built(kind, End::bottom), half_turn) / expected, 1, 1e-9);
    }
}

TEST(LimbOfShells, CarriesNothingAtRest) {
    for (const LimbKind kind : {LimbKind::split, LimbKind::solid})
        for (const End end : {End::top, End::bottom}) {
            const Built limb(kind, end);
            EXPECT_LT(total_energy(limb.builder.system(), limb.rest()), 1e-15);
        }
}

TEST(SolidLimbOfShells, HasABodyAndTwoProngsWithTheirOwnShells) {
    for (const End end : {End::top, End::bottom}) {
        const Built limb(LimbKind::solid, end);
        ASSERT_EQ(limb.rows.size(), 3u);
        EXPECT_EQ(limb.rows[1].name, std::string(name(end)) + " left prong");
        const Vec3 fork = limb.rows[0].rest.back().position;
        EXPECT_NEAR(limb.rows[1].rest.front().position.y(), 26, 1e-11);
        EXPECT_NEAR(limb.rows[2].rest.front().position.y(), -26, 1e-11);
        for (const Frame& corner : limb.corners(limb.rows[0]))
            EXPECT_LT(sign(end) * pose(corner, limb.rest()).position.z(), sign(end) * fork.z() + 1e-9);
        for (const std::size_t prong : {1u, 2u})
            for (const Frame& corner : limb.corners(limb.rows[prong])) {
                const Vec3 at = pose(corner, limb.rest()).position;
                EXPECT_GT(sign(end) * at.z(), sign(end) * fork.z() - 1e-9);
                EXPECT_NEAR(at.y(), prong == 1 ? 26 : -26, 10 + 1e-9);
            }
    }
}

TEST(SolidLimbOfShells, ItsProngsFollowTheFramesOfTheirOwnSide) {
    const Built limb(LimbKind::solid, End::bottom);
    EXPECT_EQ(limb.carried_by(limb.tips[0]), limb.carried_by(limb.tips[1]));
    State state = limb.rest();
    state.at(limb.tips[0]).position += Vec3(0, 0, 1);
    EXPECT_EQ(pose(limb.rows[1].sections.back(), state).position.z() - limb.rows[1].rest.back().position.z(),
              1);
    EXPECT_EQ(pose(limb.rows[2].sections.back(), state).position,
              pose(limb.rows[2].sections.back(), limb.rest()).position);
}

}  // namespace
}  // namespace limbwright::models::limb_shells_test
