#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <map>

#include "meshes/strip_shells.hpp"
#include "models/parts/limb_stiffness.hpp"
#include "models/parts/shell_parts.hpp"
#include "solver/elements/beam.hpp"
#include "solver/elements/spring.hpp"
#include "tests/support/found.hpp"
#include "tests/support/solid_limb.hpp"

/// One limb with a stub of an axle through its tip, as an elastic solid of CalculiX, as shells, and as beams
/// with ends that cannot warp and with ends that can. The root is clamped, and the tip's section is rigid in
/// all of them, as a pocket and a bore make them.
namespace limbwright::testing::calculix_shell_limb_test {
namespace {

using namespace limbwright::solver;

struct Limb {
    std::string name;
    LimbShape shape;
    Lamina lamina;
};

const Moduli metal{42000, 42000 / 2.6};
/// A unidirectional laminate of glass in epoxy, 60 % fibres; G₂₃ = E₂/2.8.
const Lamina glass{
    .along = 42000, .across = 10500, .poisson = 0.27, .shear = 4200, .shear_13 = 4200, .shear_23 = 3750};
const Limb metal_limb{"isotropic, curved", {1. / 900}, isotropic(metal)};
const Limb glass_limb{"glass, curved", {1. / 900}, glass};
const Limb straight_glass_limb{"glass, straight", {0}, glass};

/// What pulls at the stub, from the middle of the tip.
struct Load {
    std::string name;
    Vec3 beside = Vec3::Zero();  ///< from the tip's middle to where the force acts [mm]
    Vec3 force = Vec3::Zero();   ///< [N]
    double torque = 0;           ///< about the tip's axis 1, small [N mm]
};
const Load cable{"cable beside the tip", {0, 20, 0}, {0, -25, 400}, 0};
const Load torque{"small torque", {}, {}, 100};

/// How the tip moved.
struct Tip {
    Pose rest, moved;

    [[nodiscard]] Vec3 displacement() const { return moved.position - rest.position; }
    /// Of the section against its place at rest, seen in its axes: twist, flatwise, edgewise [rad].
    [[nodiscard]] Vec3 turn() const { return log(rest.rotation.inverse() * moved.rotation); }
    /// By how much the axle, level at rest, leans out of the level [rad].
    [[nodiscard]] double lean() const { return std::asin((moved.rotation * Vec3(Vec3::UnitY())).z()); }
};

/// These leave 0.16 % of the twist: 3.8044 mrad of the straight limb of glass under the small torque, 3.8094
/// by 28 × 6 × 3, 3.8102 by 28 × 8 × 4, and 3.8105 by 56 × 8 × 4 bricks.
constexpr Bricks fine{28, 4, 2};

Tip of_solid(const Limb& limb, const Load& load, const Bricks& count = fine) {
    Meshed m = meshed(limb.shape, count);
    const Pose tip = limb.shape.pose(1);
    m.solid.material = limb.lamina;
    m.solid.pulled_at = tip * load.beside;
    m.solid.force = load.force;
    m.solid.moment = load.torque * (tip.rotation * Vec3(Vec3::UnitX()));
    const std::vector<Vec3> displacements = displacements_by_calculix(m.solid);
    return {tip, moved_section(m.solid, displacements, m.faces.back(), tip)};
}

/// The equilibrium of what the builder holds under a load on a frame that stands at the tip.
Tip under(const models::Builder& unloaded, const Frame& tip, const Load& load) {
    models::Builder builder = unloaded;
    State state = builder.rest();
    std::vector<std::size_t> forces;
    const auto all = [&](double share) {
        const double arm = 10;
        const Vec3 couple = builder.at_rest(tip).rotation * Vec3(0, 0, load.torque / (2 * arm));
        return std::array{
            std::make_shared<DeadForce>(tip.then(Pose{{}, load.beside}), Vec3(share * load.force)),
            std::make_shared<DeadForce>(tip.then(Pose{{}, {0, arm, 0}}), Vec3(share * couple)),
            std::make_shared<DeadForce>(tip.then(Pose{{}, {0, -arm, 0}}), Vec3(-share * couple))};
    };
    for (const auto& force : all(0)) forces.push_back(builder.add<DeadForce>(*force));
    System system = builder.system();
    Workspace workspace(system);
    for (const double share : {0.25, 0.5, 0.75, 1.}) {
        const auto now = all(share);
        for (std::size_t i = 0; i < now.size(); ++i) system.replace(forces[i], now[i]);
        state = found(find_equilibrium(system, state, {}, workspace)).state;
    }
    return {builder.at_rest(tip), pose(tip, state)};
}

Tip of_shells(const Limb& limb, const Load& load, int along = 40, int across = 8) {
    const meshes::Surface surface =
        strip_surface(limb.shape.strip(), {}, 0, meshes::even_shares(0, 1, along), across);
    models::Builder builder;
    const auto line = surface.sets.at("line");
    const Frame root = Frame::on_ground(surface.nodes[static_cast<std::size_t>(line.front())]);
    const Frame tip = Frame::on(builder.add_node(surface.nodes[static_cast<std::size_t>(line.back())]));
    const models::Pad pads[] = {{root, surface.sets.at("root")}, {tip, surface.sets.at("tip")}};
    (void)models::add_shells(
        surface, pads,
        [&](const meshes::SurfaceCell& cell) {
            return wall_stiffness({{limb.lamina, 0, cell.thickness}});
        },
        builder);
    return under(builder, tip, load);
}

Tip of_beams(const Limb& limb, const Load& load, bool held, int count = 40) {
    const meshes::Strip strip = limb.shape.strip();
    const std::vector<double> shares = meshes::even_shares(0, 1, count);
    const std::vector<Pose> rest = section_poses(strip, {}, shares);
    models::LimbStiffness stiffness;
    stiffness.moduli = {limb.lamina.along, limb.lamina.shear};
    models::Builder builder;
    Frame end = Frame::on_ground(rest.front());
    for (std::size_t i = 0; i + 1 < rest.size(); ++i) {
        const BeamDataOf<double> data = beam_data(rest[i], rest[i + 1], [&](double u) {
            const meshes::StripStation s = strip.at(shares[i] + u * (shares[i + 1] - shares[i]));
            const std::vector<double> ends{strip.length * s.at, strip.length * (1 - s.at)};
            return stiffness.section_near(held ? ends : std::vector<double>{}, s.width, s.thickness);
        });
        const Frame next = Frame::on(builder.add_node(rest[i + 1]));
        (void)builder.add<Beam>(end, next, data);
        end = next;
    }
    return under(builder, end, load);
}

/// Solved once for all tests.
const Tip& solid(const Limb& limb, const Load& load) {
    static std::map<std::pair<std::string, std::string>, Tip> solved;
    const std::pair key{limb.name, load.name};
    if (!solved.contains(key)) solved[key] = of_solid(limb, load);
    return solved[key];
}

/// How far a limb and the solid are apart, each as a share of what the solid has.
struct Deviation {
    Vec3 displacement;  ///< component by component; a small one as a share of the floor
    double twist, slope, lean;

    Deviation(const Tip& found, const Tip& expected, double floor)
        : twist(found.turn().x() / expected.turn().x() - 1),
          slope(found.turn().y() / expected.turn().y() - 1),
          lean(found.lean() / expected.lean() - 1) {
        const Vec3 u = expected.displacement();
        const Vec3 scale = u.cwiseAbs().cwiseMax(floor);
        displacement = (found.displacement() - u).cwiseQuotient(scale);
    }
    [[nodiscard]] double largest() const {
        return std::max(
            {displacement.cwiseAbs().maxCoeff(), std::abs(twist), std::abs(slope), std::abs(lean)});
    }
    /// Into the test's record, in percent.
    void record(const std::string& limb) const {
        const auto put = [&](const char* what, double share) {
            ::testing::Test::RecordProperty(fmt::format("{}: {} [%]", limb, what),
                                            fmt::format("{:.2f}", 100 * share));
        };
        put("along", displacement.x());
        put("sideways", displacement.y());
        put("flatwise", displacement.z());
        put("twist", twist);
        put("slope", slope);
        put("lean", lean);
    }
};

/// What limbs of shells and of beams are asked for.
constexpr double accuracy = 0.02;

TEST(LimbOfShells, MovesItsTipAndLeansItsAxleAsTheSolidDoes) {
    // Seen: twist and lean −1.1 %, which is the cells' size; all else 0.5 % at most.
    for (const Limb& limb : {metal_limb, glass_limb}) {
        const Tip& expected = solid(limb, cable);
        EXPECT_GT(expected.displacement().norm(), 0.3 * LimbShape::length);
        const Deviation deviation(of_shells(limb, cable), expected, 1);
        deviation.record(limb.name);
        EXPECT_LT(deviation.largest(), accuracy) << limb.name;
    }
}

TEST(LimbOfShells, OfHalfTheCellSizeMeetsTheSolidALotCloser) {
    const Tip& expected = solid(glass_limb, cable);
    const Tip coarse_tip = of_shells(glass_limb, cable), fine_tip = of_shells(glass_limb, cable, 80, 16);
    const auto twist_missing = [&](const Tip& tip) { return 1 - tip.turn().x() / expected.turn().x(); };
    EXPECT_LT(std::abs(twist_missing(fine_tip)), 0.25 * std::abs(twist_missing(coarse_tip)));
}

TEST(LimbOfBeams, WithEndsThatCannotWarpMovesItsTipAndLeansItsAxleAsTheSolidDoes) {
    // Seen: twist and lean −0.4 % and −0.9 %, for Vlasov leaves out the shear strain that goes with a warping
    // that changes along the limb; of Benscoter's theory 0.1 % is left. The floor: along the limb, bending
    // and the unrolling of its curve all but cancel, and what the clamp keeps from curving across, 0.05 mm,
    // is 2.7 % of the rest.
    constexpr double floor = 3;
    for (const Limb& limb : {metal_limb, glass_limb}) {
        const Deviation deviation(of_beams(limb, cable, true), solid(limb, cable), floor);
        deviation.record(limb.name);
        EXPECT_LT(deviation.largest(), accuracy) << limb.name;
    }
}

TEST(LimbOfBeams, WithEndsFreeToWarpTwistsTooMuch) {
    // As if 10 mm longer, of 320 mm, where E/G is 2.6, and 20 mm where it is 10.
    const Deviation metal_deviation(of_beams(metal_limb, cable, false), solid(metal_limb, cable), 3);
    const Deviation glass_deviation(of_beams(glass_limb, cable, false), solid(glass_limb, cable), 3);
    metal_deviation.record(metal_limb.name);
    glass_deviation.record(glass_limb.name);
    EXPECT_NEAR(metal_deviation.twist, 0.032, 0.005);
    EXPECT_NEAR(glass_deviation.twist, 0.059, 0.005);
}

TEST(LimbUnderTorque, TwistsAsTheSolidDoesIfItsEndsCannotWarp) {
    const double expected = solid(straight_glass_limb, torque).turn().x();
    const auto share = [&](const char* name, const Tip& tip) {
        const double found = tip.turn().x() / expected;
        ::testing::Test::RecordProperty(fmt::format("{}: twist over the solid's", name),
                                        fmt::format("{:.4f}", found));
        return found;
    };
    EXPECT_NEAR(share("shells", of_shells(straight_glass_limb, torque)), 1, accuracy);
    EXPECT_NEAR(share("beams, ends held", of_beams(straight_glass_limb, torque, true)), 1, accuracy);
    EXPECT_GT(share("beams, ends free", of_beams(straight_glass_limb, torque, false)), 1 + 3 * accuracy);
}

TEST(SolidLimbOfGlass, ChangesLittleWithFinerBricks) {
    const Tip& before = solid(straight_glass_limb, torque);
    const Tip finer = of_solid(straight_glass_limb, torque, {28, 6, 3});
    EXPECT_NEAR(before.turn().x() / finer.turn().x(), 1, 0.005);
}

}  // namespace
}  // namespace limbwright::testing::calculix_shell_limb_test
