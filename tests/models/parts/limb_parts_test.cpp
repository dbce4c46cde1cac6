#include "models/parts/limb_parts.hpp"

#include <gtest/gtest.h>

#include "solver/elements/spring.hpp"
#include "tests/support/found.hpp"
#include "tests/support/small_bow.hpp"

namespace limbwright::models::limb_parts_test {
namespace {

using solver::Frame;
using solver::Pose;
using solver::State;

/// The limbs of one end on a riser that does not give, their tips on two free nodes where the axle would be.
struct Limbs {
    Bow bow;
    Builder builder;
    RiserParts riser;
    solver::NodeId left, right;
    std::array<solver::ScalarId, 2> tip_turns;
    LimbParts parts;

    explicit Limbs(const Bow& b, End end = End::top)
        : bow(stiff(b)),
          riser(add_riser(bow.riser, {}, builder)),
          left(builder.add_node(beside(bow, end, bow.limb.lateral))),
          right(builder.add_node(beside(bow, end, -bow.limb.lateral))),
          tip_turns{builder.add_scalar(), builder.add_scalar()},
          parts(add_limbs(bow, bow.layout, end, riser, {left, right}, tip_turns, builder)) {}

    static Bow stiff(Bow b) {
        b.riser.material = {1e10, 1e10};
        return b;
    }
    static Pose beside(const Bow& b, End end, double lateral) {
        const Pose X = axle_rest(b, b.layout, end);
        return {X.rotation, X.position + lateral * Vec3::UnitY()};
    }

    /// Force over displacement of a limb's tip across the chord from its root.
    [[nodiscard]] double tip_rate(std::size_t row, solver::NodeId tip) const {
        const Vec3 chord = parts.rows[row].rest.back().position - parts.rows[row].rest.front().position;
        const Vec3 across = Vec3::UnitY().cross(chord).normalized();
        Builder loaded = builder;
        const double small = 1e-2;  // N: what is not linear is a millionth
        loaded.add<solver::DeadForce>(Frame::on(tip), Vec3(small * across));
        const solver::System system = loaded.system();
        solver::Workspace workspace(system);
        const solver::Numbering& n = system.numbering();
        const int held[] = {n.first(riser.yaw), n.first(riser.pitch), n.first(riser.roll),
                            n.first(tip_turns[0]), n.first(tip_turns[1])};
        const State state = testing::found(find_equilibrium(system, loaded.rest(), held, workspace)).state;
        return small / (state.at(tip).position - loaded.rest().at(tip).position).dot(across);
    }
};

/// The closed form's midpoint rule (1e-6), and what is not linear under the small force.
constexpr double rate_accuracy = 1e-5;
/// A curved limb also has the closed form's shear, which takes the whole force across every section: a share
/// 1.4e-3 of the flexibility, less by cos² of up to 0.27 rad.
constexpr double curved_rate_accuracy = 1e-4;

TEST(LimbModuli, AreInProportionToTheDeflectionNumber) {
    const Limb limb = testing::small_bow().limb;
    EXPECT_DOUBLE_EQ(limb_moduli(limb, 60).young, 1.2 * limb.material.along);
    EXPECT_DOUBLE_EQ(limb_moduli(limb, 60).shear, 1.2 * limb.material.shear);
}

TEST(LimbModuli, FollowAMeasuredSpringRateAndKeepTheMaterialsRatio) {
    Limb limb = testing::small_bow().limb;
    limb.spring_rate = 6.5;
    const solver::Moduli moduli = limb_moduli(limb, limb.reference_number);
    EXPECT_NEAR(flatwise_rate(limb_strip(limb), moduli), 6.5, 1e-12);
    EXPECT_DOUBLE_EQ(moduli.shear / moduli.young, limb.material.shear / limb.material.along);
    limb.material = {};
    EXPECT_NEAR(flatwise_rate(limb_strip(limb), limb_moduli(limb, 50)), 6.5, 1e-12);
}

TEST(Limb, HasTheSpringRateThatWasMeasured) {
    Bow bow = testing::small_bow();
    bow.limb.spring_rate = 6.5;
    const Limbs limbs(bow);
    EXPECT_NEAR(limbs.tip_rate(0, limbs.left) / 6.5, 1, rate_accuracy);
    EXPECT_NEAR(limbs.tip_rate(1, limbs.right) / 6.5, 1, rate_accuracy);
}

TEST(Limb, CurvedAtRestHasTheSpringRateThatWasMeasured) {
    Bow bow = testing::small_bow();
    bow.limb.spring_rate = 6.5;
    bow.limb.elements = 12;
    for (LimbStation& s : bow.limb.stations) s.curvature = 1. / 600;
    for (const End end : {End::top, End::bottom}) {
        const Limbs limbs(bow, end);
        EXPECT_NEAR(limbs.tip_rate(0, limbs.left) / 6.5, 1, curved_rate_accuracy);
    }
}

TEST(Limb, IsStifferInProportionToItsNumber) {
    Bow bow = testing::small_bow();
    bow.layout.pairing.top_left = 60;
    const Limbs limbs(bow);
    EXPECT_NEAR(limbs.tip_rate(0, limbs.left) / limbs.tip_rate(1, limbs.right), 1.2, 1e-6);
}

/// A hinge of stiffness k at the root adds c²/k to the tip's flexibility, c the chord.
TEST(Limb, GivesWayAtASoftPocket) {
    Bow bow = testing::small_bow();
    const Limbs hard(bow);
    const double firm = hard.tip_rate(0, hard.left);
    bow.pocket_top.bending_stiffness = 5e6;
    const Limbs soft(bow);
    const double chord = bow.limb.length;
    EXPECT_NEAR(1 / soft.tip_rate(0, soft.left), 1 / firm + chord * chord / 5e6, 1e-5 / firm);
}

TEST(LimbRoot, LeansTowardTheArcherByThePocketsAngleAndLessByEveryTurnOutOfTheBolt) {
    Bow bow = testing::small_bow();
    bow.layout.bolt_top = 2;
    const double angle = bow.pocket_top.angle;
    const double out = angle + 2 * bow.pocket_top.angle_per_turn;
    const auto direction = [&](End end) {
        return Vec3(limb_root(bow, bow.layout, end, 0).rotation * Vec3(Vec3::UnitX()));
    };
    EXPECT_LT((direction(End::top) - Vec3(-std::sin(out), 0, std::cos(out))).norm(), 1e-15);
    EXPECT_LT((direction(End::bottom) - Vec3(-std::sin(angle), 0, -std::cos(angle))).norm(), 1e-15);
}

TEST(AxleRest, StandsAtTheEndOfAStraightLimbWithItsBoreTowardTheArcher) {
    Bow bow = testing::small_bow();
    bow.limb.bore_offset = 6;
    const double a = bow.pocket_top.angle;
    const Vec3 tip = bow.pocket_top.position + bow.limb.length * Vec3(-std::sin(a), 0, std::cos(a));
    // Across the limb, on the archer's side: axis 1 turned by a quarter.
    const Vec3 toward_archer(-std::cos(a), 0, -std::sin(a));
    EXPECT_LT((axle_rest(bow, bow.layout, End::top).position - (tip + 6 * toward_archer)).norm(), 1e-12);
}

TEST(AxleRest, OfTheBottomMirrorsTheTop) {
    Bow bow = testing::small_bow();
    bow.limb.bore_offset = 6;
    for (LimbStation& s : bow.limb.stations) s.curvature = 1. / 600;
    const Vec3 top = axle_rest(bow, bow.layout, End::top).position;
    const Vec3 bottom = axle_rest(bow, bow.layout, End::bottom).position;
    EXPECT_LT((top - Vec3(bottom.x(), bottom.y(), -bottom.z())).norm(), 1e-11);
}

TEST(AxleRest, MovesTowardTheTargetWithAPositiveCurvature) {
    Bow bow = testing::small_bow();
    const double straight = axle_rest(bow, bow.layout, End::top).position.x();
    for (LimbStation& s : bow.limb.stations) s.curvature = 1. / 600;
    EXPECT_GT(axle_rest(bow, bow.layout, End::top).position.x(), straight);
    EXPECT_GT(axle_rest(bow, bow.layout, End::bottom).position.x(), straight);
}

TEST(LimbParts, SplitLimbsRunFromThePocketToTheAxle) {
    const Limbs limbs(testing::small_bow());
    ASSERT_EQ(limbs.parts.rows.size(), 2u);
    for (std::size_t flank = 0; flank < 2; ++flank) {
        const LimbRow& row = limbs.parts.rows[limbs.parts.tip_rows[flank]];
        const double y = flank == 0 ? 26 : -26;
        EXPECT_EQ(row.beams.size(), 6u);
        const Vec3 root = pose(row.sections.front(), limbs.builder.rest()).position;
        const Vec3 tip = pose(row.sections.back(), limbs.builder.rest()).position;
        EXPECT_LT((root - Vec3(165, y, 300)).norm(), 1e-10);
        EXPECT_LT((tip - limbs.builder.rest().at(flank == 0 ? limbs.left : limbs.right).position).norm(),
                  1e-10);
    }
    EXPECT_EQ(limbs.parts.rows[0].name, "top left limb");
    EXPECT_EQ(limbs.parts.rows[1].name, "top right limb");
}

TEST(LimbParts, TheTipsTurnFreelyAboutTheAxle) {
    const Limbs limbs(testing::small_bow());
    for (std::size_t flank = 0; flank < 2; ++flank) {
        State state = limbs.builder.rest();
        state.at(limbs.tip_turns[flank]) = 0.1;
        const Frame& tip = limbs.parts.rows[flank].sections.back();
        const Pose change = pose(tip, limbs.builder.rest()).inverse() * pose(tip, state);
        EXPECT_NEAR(solver::log(change.rotation).y(), 0.1, 1e-14);  // about the limb's axis 2, the left
        EXPECT_LT(change.position.norm(), 1e-12);
    }
}

TEST(LimbParts, ASolidLimbForksIntoTwoProngs) {
    Bow bow = testing::small_bow();
    bow.limb.kind = LimbKind::solid;
    bow.limb.fork = 80;
    bow.limb.prong_width = 20;
    const Limbs limbs(bow);
    ASSERT_EQ(limbs.parts.rows.size(), 3u);
    EXPECT_EQ(limbs.parts.rows[0].name, "top limb");
    const Vec3 fork = limbs.parts.rows[0].rest.back().position;
    EXPECT_NEAR((fork - Vec3(165, 0, 300)).norm(), 320 - 80, 1e-10);
    for (const std::size_t r : limbs.parts.tip_rows) {
        const LimbRow& prong = limbs.parts.rows[r];
        EXPECT_NEAR((prong.rest.front().position - fork).norm(), 26, 1e-10);
        EXPECT_EQ(prong.stations.back().width, 20);
    }
}

TEST(LimbParts, AreStressFreeAtRest) {
    Bow bow = testing::small_bow();
    for (LimbStation& s : bow.limb.stations) s.curvature = 1. / 600;
    bow.limb.bore_offset = 6;
    for (const LimbKind kind : {LimbKind::split, LimbKind::solid}) {
        bow.limb.kind = kind;
        bow.limb.fork = 80;
        bow.limb.prong_width = 20;
        const Limbs limbs(bow);
        EXPECT_LT(total_energy(limbs.builder.system(), limbs.builder.rest()),
                  1e-12);  // rounding of the stiff riser
    }
}

}  // namespace
}  // namespace limbwright::models::limb_parts_test
