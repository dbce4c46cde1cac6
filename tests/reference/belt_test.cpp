#include <gtest/gtest.h>

#include <array>
#include <numbers>

#include "solver/elements/cable.hpp"
#include "solver/elements/spring.hpp"

/// Cables over circular sheaves against the geometry of belts.
namespace limbwright::testing::belt_test {
namespace {

using namespace limbwright::solver;
using std::numbers::pi;

std::shared_ptr<const Groove> circle(double radius, const Vec2& centre = Vec2::Zero()) {
    return std::make_shared<const Groove>(Groove::circle(centre, radius));
}

solver::Sheave passed(std::shared_ptr<const Groove> groove, double sense, double previous, double next,
                      double anchor = 0) {
    return {std::move(groove), sense, next, previous, anchor};
}

/// Two wheels of radii R (at the origin) and r (at C on the u axis). Computed: closed forms, sin a = (R −
/// r)/C for the open belt, sin g = (R + r)/C for the crossed one.
struct Belt {
    double R, r, C, open, crossed;
};
constexpr std::array<Belt, 6> belts{{
    {100, 100, 500, 1628.31853072, 1709.44040814},
    {100, 50, 400, 1277.49707447, 1328.1777791},
    {60, 25, 300, 871.123359475, 891.283847519},
    {45, 30, 120, 477.49690195, 524.239118912},
    {40, 20, 61, 317.11366934, 377.232745503},
    {1, 0.5, 3, 10.7959168427, 11.4793377299},
}};
constexpr double printed = 1e-11;  // relative, of twelve digits

/// A closed belt: from the far side of the first wheel over the second and back.
double belt_length(const Belt& belt, bool crossed) {
    const Frame first = Frame::on_ground(), second = Frame::on_ground({{}, Vec3(belt.C, 0, 0)});
    const double up = pi / 2;
    const Contact begin{first, passed(circle(belt.R), -1, 0, up, pi)};
    const Contact middle{second,
                         crossed ? passed(circle(belt.r), 1, -up, up) : passed(circle(belt.r), -1, up, -up)};
    const Contact end{first, passed(circle(belt.R), 1, -up, 0, -pi)};
    return Cable({begin, middle, end}, {.dead_tension = 1}).length({});
}

TEST(Belt, OpenHasTheLengthOfItsClosedForm) {
    for (const Belt& belt : belts) EXPECT_NEAR(belt_length(belt, false), belt.open, printed * belt.open);
}

TEST(Belt, CrossedHasTheLengthOfItsClosedForm) {
    for (const Belt& belt : belts) EXPECT_NEAR(belt_length(belt, true), belt.crossed, printed * belt.crossed);
}

/// Circle of radius 40 with its centre 15 from the axle; rope to (300, −80) from the upper side, unit
/// tension. Computed: closed form.
struct Eccentric {
    double rotation, span, exit_angle, exit_x, exit_y, moment;  // degrees
};
constexpr std::array<Eccentric, 12> eccentric{{
    {0, 293.300187521, 66.5544430269, 30.9150995728, 36.6975422282, -45.9681623398},
    {30, 297.373118096, 65.3842843396, 29.6515878962, 43.8648757272, -52.2292998416},
    {60, 304.308167766, 64.8753627519, 24.4835511637, 49.2058334199, -54.9457290017},
    {90, 312.1297807, 65.1259865576, 16.8249751746, 51.2893952881, -53.608523233},
    {120, 318.752977977, 66.0216742996, 8.75564123188, 49.5383512896, -48.8213687734},
    {150, 322.520121286, 67.3111559329, 2.43867533065, 44.4045284348, -41.9088660361},
    {180, 322.529068457, 68.6802532599, -0.457107511823, 37.2626391722, -34.5464153169},
    {210, 318.777710378, 69.8061597205, 0.817511025443, 30.041205578, -28.4767794607},
    {240, 312.164282119, 70.4044870715, 5.91511169093, 24.6929677636, -25.2466400411},
    {270, 304.343555871, 70.2873852642, 13.4921013029, 22.6558521671, -25.8790554373},
    {300, 297.399628498, 69.4363536635, 21.5499062462, 24.4609224516, -30.47168983},
    {330, 293.310026024, 68.0576037193, 27.9373505443, 29.6024002342, -37.8974706883},
}};

TEST(EccentricPulley, HasTheLeverArmAsTheSlopeOfItsLength) {
    const ScalarId turn(0);
    const Frame wheel = Frame::on_ground().then(Joint{JointKind::hinge, Vec3::UnitZ(), turn, {}});
    const Frame fixed = Frame::on_ground({{}, Vec3(300, -80, 0)});
    const Cable rope({{wheel, passed(circle(40, {15, 0}), -1, 0, 1.2, pi)}, {fixed, {}}},
                     {.dead_tension = 1});
    for (const Eccentric& row : eccentric) {
        State state;
        state.scalars = {row.rotation * pi / 180};
        constexpr double twelve_digits = 1e-9;
        EXPECT_NEAR(rope.length_gradient(state)[0], -row.moment, twelve_digits) << row.rotation;
        EXPECT_NEAR(rope.pulls(state)[0].moment.z(), row.moment, twelve_digits) << row.rotation;
        const double psi = row.exit_angle * pi / 180 - state.scalars[0];  // in the wheel's own axes
        EXPECT_NEAR(rope.length(state), row.span + circle(40, {15, 0})->arc(psi, pi), twelve_digits);
        const CablePath path = rope.path(state);
        const Vec3 exit = path.line[path.line.size() - 2];
        EXPECT_NEAR(exit.x(), row.exit_x, twelve_digits) << row.rotation;
        EXPECT_NEAR(exit.y(), row.exit_y, twelve_digits) << row.rotation;
    }
}

/// Rope from A over the top of a sheave at the origin to B. Computed: spans along the tangents in the
/// sheave's plane, 1e-9; force and moment of unit tensions along the straight spans.
struct Tilted {
    double radius;
    Vec3 axis, A, B;
    double length, fleet_A, fleet_B;  // degrees
    Vec3 force, moment;
};
const std::array<Tilted, 5> tilted{{
    {35,
     {0, 0, 1},
     {-400, -30, 0},
     {350, -120, 0},
     788.4885001,
     0,
     0,
     {-0.07584533316, -0.5738666537, 0},
     {0, 0, 0}},
    {35,
     {0, -0.0871557427477, 0.996194698092},
     {-400, -30, 0},
     {350, -120, 0},
     788.4390846,
     0.3749078484,
     1.627077896,
     {-0.07577186666, -0.5732563359, -0.01508259615},
     {1.131851478, -0.3715918444, -0.01909657383}},
    {35,
     {0.173648177667, 0, 0.984807753012},
     {-400, -30, 0},
     {350, -120, 0},
     788.7869658,
     -10.01027647,
     9.497331912,
     {-0.0757664053, -0.5735931197, 0.004400419634},
     {-0.7525122273, -3.410662465, 0.07878499824}},
    {35,
     {0.0523359562429, 0, 0.998629534755},
     {-400, -30, 12},
     {350, -120, -8},
     788.7567685,
     -1.282944696,
     1.606447369,
     {-0.07558981356, -0.5736944329, 0.009613624824},
     {0.1206045081, -0.5312028552, -0.001331469403}},
    {28,
     {0.12, -0.2, 1},
     {-300, -210, 25},
     {260, -150, -18},
     701.3018854,
     4.731715542,
     8.077787405,
     {0.04086842307, -1.208718273, -0.01765480243},
     {5.005594671, -0.7906564038, -0.571524776}},
}};

/// The sheave's frame: w is its axis, u as near to the world's x as it can be.
Pose sheave_pose(const Vec3& axis) {
    const Vec3 w = axis.normalized(), u = (Vec3::UnitX() - w.x() * w).normalized();
    Mat3 R;
    R << u, w.cross(u), w;
    return {rotation_from(R), Vec3::Zero()};
}

Cable over(const Tilted& row) {
    const Frame sheave =
        Frame::on_ground(sheave_pose(row.axis)).then(Joint{JointKind::hinge, Vec3::UnitZ(), ScalarId(0), {}});
    return Cable({{Frame::on_ground({{}, row.A}), {}},
                  {sheave, passed(circle(row.radius), -1, pi / 2, pi / 2)},
                  {Frame::on_ground({{}, row.B}), {}}},
                 {.dead_tension = 1});
}

State turned(double angle) {
    State state;
    state.scalars = {angle};
    return state;
}

TEST(TiltedSheave, GivesTheLengthAndTheFleetAngles) {
    for (const Tilted& row : tilted) {
        const CablePath path = over(row).path(turned(0.3));
        EXPECT_NEAR(path.length, row.length, 1e-6);  // ten digits printed, nine computed
        EXPECT_NEAR(path.fleet_angle[0], row.fleet_A * pi / 180, 1e-9);
        EXPECT_NEAR(path.fleet_angle[1], row.fleet_B * pi / 180, 1e-9);
    }
}

TEST(TiltedSheave, CarriesTheForcesOfTheSpansUpToTheSquareOfTheFleetAngle) {
    for (const Tilted& row : tilted) {
        const Cable rope = over(row);
        const auto pulls = rope.pulls(turned(0));
        // Where a span leaves moves with its target; that adds ρ (1 − cos β)/l along the exit's normal, l the
        // span in the sheave's plane, with the target as its lever.
        double force_bound = 1e-8, moment_bound = 1e-6;
        for (const auto& [target, degrees] : {std::pair{row.A, row.fleet_A}, std::pair{row.B, row.fleet_B}}) {
            const Vec3 p = sheave_pose(row.axis).inverse() * target;
            const double l = std::sqrt(p.head<2>().squaredNorm() - row.radius * row.radius);
            const double extra = row.radius * (1 - std::cos(degrees * pi / 180)) / l;
            force_bound += extra;
            moment_bound += extra * p.norm();
        }
        EXPECT_LT((pulls[1].force - row.force).norm(), force_bound);
        EXPECT_LT((pulls[1].moment - row.moment).norm(), moment_bound);
    }
}

TEST(TiltedSheave, IsNotTurnedByARopeThatOnlyPassesOver) {
    constexpr double rounding = 1e-12;  // of a unit tension at some 400 mm
    for (const Tilted& row : tilted) {
        const Cable rope = over(row);
        EXPECT_NEAR(rope.length_gradient(turned(0.3))[0], 0, rounding);
        EXPECT_NEAR(rope.length(turned(0.3)), rope.length(turned(-2)), rounding * rope.length(turned(0)));
        EXPECT_NEAR(rope.pulls(turned(0.3))[1].moment.dot(row.axis.normalized()), 0, rounding * 400);
    }
}

TEST(Sheave, StandsBetweenTwoRopesWhereTensionsTimesRadiiAgree) {
    // A stepped drum, radii 30 and 50, a rope wound on each; tensions 250 and 150.
    const ScalarId turn(0);
    const Frame drum = Frame::on_ground().then(Joint{JointKind::hinge, Vec3::UnitZ(), turn, {}});
    const auto rope = [&](double radius, double side, double tension) {
        const Frame target = Frame::on_ground({{}, Vec3(side * radius, -400, 0)});
        return std::make_shared<Cable>(
            std::vector<Contact>{{drum, passed(circle(radius), -side, 0, side > 0 ? 0 : pi, pi / 2)},
                                 {target, {}}},
            Cable::Data{.dead_tension = tension});
    };
    const auto right = rope(30, 1, 250), left = rope(50, -1, 150);
    State state;
    state.scalars = {0.4};
    ElementVector g, other;
    right->gradient(state, g);
    left->gradient(state, other);
    EXPECT_NEAR(g[0], 250 * 30, 1e-9);  // unwinding lengthens the rope; rounding of 7500 N mm
    EXPECT_NEAR(g[0] + other[0], 0, 1e-9);
}

}  // namespace
}  // namespace limbwright::testing::belt_test
