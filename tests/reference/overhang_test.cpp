#include <gtest/gtest.h>

#include <array>

#include "tests/support/cantilever.hpp"

/// A strip along +x on two supports, its end beyond the second one pulled by a dead force in +y.
namespace limbwright::testing::overhang_test {
namespace {

const Joint turn_by(int scalar) {
    return {JointKind::hinge, Vec3::UnitZ(), ScalarId(scalar), {}};
}
const Joint slide_by(int scalar, const Vec3& axis) {
    return {JointKind::slide, axis, ScalarId(scalar), {}};
}

/// The strip's butt, what it passes over, and the number of scalars in both frames.
struct Supports {
    Frame butt, pivot;
    double span = 0;
    int scalars = 0;
};

struct Overhang {
    State rest;
    System::Elements elements;
    NodeId tip;
};

Overhang make_overhang(const Supports& on, double length, double bending, double rigid, int span_beams,
                       int free_beams) {
    const RestCurve curve = straight(length);
    const SectionAlong section = [&](double) { return plane_section(bending, rigid); };
    Overhang strip;
    strip.rest.scalars.assign(static_cast<std::size_t>(on.scalars), 0);
    const double pivot = on.span / length;
    Frame end = on.butt;
    double from = 0;
    for (int i = 1; i <= span_beams + free_beams; ++i) {
        const double to =
            i <= span_beams ? pivot * i / span_beams : pivot + (1 - pivot) * (i - span_beams) / free_beams;
        Frame next = on.pivot;
        if (i != span_beams) {
            strip.tip = NodeId(static_cast<int>(strip.rest.nodes.size()));
            strip.rest.nodes.push_back(curve(to));
            next = Frame::on(strip.tip);
        }
        strip.elements.push_back(beam_along(curve, section, from, to, end, next));
        end = next;
        from = to;
    }
    return strip;
}

/// Closed form: tip deflection P b² (a + b)/(3 EI) + d_p + (d_p + d_b) b/a, slopes at butt, pivot and tip.
struct Linear {
    double EI, a, b, P, k_butt, k_pivot, deflection, slope_butt, slope_pivot, slope_tip;
};
constexpr std::array<Linear, 2> linear{{
    {5e7, 60, 280, 300, 5000, 20000, 53.312 + 1.78833333333, -0.0168, 0.0336, 0.2688},
    {8e7, 90, 330, 500, 8000, 1e12, 95.2875 + 0.840277777778, -0.0309375, 0.061875, 0.4021875},
}};

TEST(Overhang, OnElasticSupportsIsExactForSmallLoadsWithOneBeamASide) {
    constexpr double small = 1e-5;  // of the load: what is nonlinear falls with its square
    for (const Linear& row : linear) {
        const Supports on{
            Frame::on_ground().then(slide_by(0, Vec3::UnitY())).then(turn_by(1)),
            Frame::on_ground({{}, Vec3(row.a, 0, 0)}).then(slide_by(2, Vec3::UnitY())).then(turn_by(3)),
            row.a, 4};
        Overhang strip = make_overhang(on, row.a + row.b, row.EI, 1e10, 1, 1);
        const auto spring = [&](int scalar, double k) {
            strip.elements.push_back(std::make_shared<Spring>(std::vector{std::pair{ScalarId(scalar), 1.}},
                                                              Spring::Data{.stiffness = k}));
        };
        spring(0, row.k_butt);
        spring(2, row.k_pivot);
        strip.elements.push_back(
            std::make_shared<DeadForce>(Frame::on(strip.tip), Vec3(0, small * row.P, 0)));
        const System system(numbering_of_nodes(strip.rest), strip.elements);
        Workspace workspace(system);
        const State state = found(find_equilibrium(system, strip.rest, {}, workspace)).state;
        // Shear leaves P (b + b²/a)/GA, some 1e-6 of the deflection, with GA = 1e10.
        constexpr double accuracy = 1e-5;
        const double give_butt = row.P * row.b / row.a / row.k_butt;
        const double give_pivot = row.P * (row.a + row.b) / row.a / row.k_pivot;
        const double tilt = (give_butt + give_pivot) / row.a;
        EXPECT_NEAR(state.at(strip.tip).position.y() / small, row.deflection, accuracy * row.deflection);
        EXPECT_NEAR(state.scalars[1] / small, row.slope_butt + tilt, accuracy * row.slope_tip);
        EXPECT_NEAR(state.scalars[3] / small, row.slope_pivot + tilt, accuracy * row.slope_tip);
        EXPECT_NEAR(turn_about_z(state.at(strip.tip)) / small, row.slope_tip + tilt,
                    accuracy * row.slope_tip);
    }
}

/// Length 1.2, EI = 1, butt pinned at the origin, strip sliding without friction over the point (0.2, 0).
/// Computed: shooting, residual 1e-9; inextensible.
struct Row {
    double load, turn_butt, arc_to_pivot, turn_pivot, x_tip, y_tip, turn_tip;
};
constexpr std::array<Row, 8> table{{
    {0.01, -0.0003333302458, 0.2000000089, 0.0006666605566, 1.19999088, 0.003999940837, 0.005666599636},
    {0.1, -0.003330253324, 0.2000008873, 0.006660571453, 1.199090236, 0.0399409982, 0.05659980233},
    {0.25, -0.0082858174, 0.2000054928, 0.01657263378, 1.194385927, 0.09909116335, 0.1406354272},
    {0.5, -0.0163027226, 0.2000212686, 0.03261307703, 1.178499388, 0.1930750216, 0.2754422668},
    {1, -0.0308262325, 0.2000761017, 0.06170460726, 1.125940943, 0.3531249991, 0.5124898952},
    {1.5, -0.04302328422, 0.2001483916, 0.08619035865, 1.062602066, 0.4723656875, 0.6999055261},
    {2, -0.05317849411, 0.2002269715, 0.1066328735, 1.000775254, 0.5586067677, 0.8445493364},
    {3, -0.06912380473, 0.2003843985, 0.1388737372, 0.8959973159, 0.6686070874, 1.04524241},
}};

TEST(Overhang, BendsFarAsComputedWhereItSlidesOverItsPivot) {
    // The strip's point at 0.2 turns with a hinge at the pivot and slides along itself: its tangent, not its
    // arc, goes through the pivot. They part by κ s²/2 < 3e-7, s < 4e-4 the slide; the turns by κ s.
    const Supports on{
        Frame::on_ground().then(turn_by(0)),
        Frame::on_ground({{}, Vec3(0.2, 0, 0)}).then(turn_by(1)).then(slide_by(2, Vec3::UnitX())), 0.2, 3};
    Overhang strip = make_overhang(on, 1.2, 1, 1e6, 8, 32);
    const std::size_t load = strip.elements.size();
    const auto pulled = [&](double P) {
        return std::make_shared<DeadForce>(Frame::on(strip.tip), Vec3(0, P, 0));
    };
    strip.elements.push_back(pulled(0));
    const System unloaded(numbering_of_nodes(strip.rest), strip.elements);
    Workspace workspace(unloaded);
    State here = strip.rest;
    for (const Row& row : table) {
        const Equilibrium e =
            found(find_equilibrium(unloaded.with(load, pulled(row.load)), here, {}, workspace));
        here = e.state;
        const double s = -here.scalars[2], bend = row.load * (row.x_tip - 0.2);
        constexpr double accuracy = 2e-5;  // shear moves the tip by P (b + b²/a)/c = 1.8e-5 at most
        EXPECT_EQ(e.negative_pivots, 0);
        EXPECT_NEAR(here.scalars[0], row.turn_butt, accuracy) << row.load;
        EXPECT_NEAR(here.scalars[1] + bend * s, row.turn_pivot, accuracy) << row.load;
        EXPECT_NEAR(0.2 + s, row.arc_to_pivot, accuracy) << row.load;
        EXPECT_NEAR(here.at(strip.tip).position.x(), row.x_tip, accuracy) << row.load;
        EXPECT_NEAR(here.at(strip.tip).position.y(), row.y_tip, accuracy) << row.load;
        EXPECT_NEAR(turn_about_z(here.at(strip.tip)), row.turn_tip, accuracy) << row.load;
    }
}

}  // namespace
}  // namespace limbwright::testing::overhang_test
