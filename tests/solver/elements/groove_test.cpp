#include "solver/elements/groove.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <complex>
#include <functional>
#include <numbers>
#include <stdexcept>
#include <string>
#include <vector>

namespace limbwright::solver::groove_test {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double degree = pi / 180;
constexpr double rounding = 1e-12;  // relative to lengths of order 1 to 100: a few hundred ulps

using Curve = std::function<double(double)>;

Groove periodic_from(const Curve& h, int knots) {
    std::vector<double> values;
    for (int j = 0; j < knots; ++j) values.push_back(h(2 * pi * j / knots));
    return Groove::periodic(0, Vec2::Zero(), values);
}

Groove open_from(const Curve& h, double begin, double end, int knots) {
    std::vector<double> values;
    for (int j = 0; j < knots; ++j) values.push_back(h(begin + (end - begin) * j / (knots - 1)));
    return Groove::open(0, Vec2::Zero(), begin, end, values);
}

/// Half axes 50 and 35.
double ellipse_h(double psi) {
    return std::hypot(50 * std::cos(psi), 35 * std::sin(psi));
}
Vec2 ellipse_point(double psi) {
    return Vec2(2500 * std::cos(psi), 1225 * std::sin(psi)) / ellipse_h(psi);
}
Groove ellipse(int knots = 256) {
    return periodic_from(ellipse_h, knots);
}

double largest_error(const Groove& groove, const Curve& h, double begin, double end) {
    double largest = 0;
    for (int i = 0; i <= 1000; ++i) {
        const double psi = begin + (end - begin) * i / 1000;
        largest = std::max(largest, std::abs(groove.at(psi).h - h(psi)));
    }
    return largest;
}

/// An involute-like open groove off the pole, for what must hold for any.
Groove some_open() {
    return Groove::open(30, {4, -7}, -1.0, 3.5, {0, 1, 1.5, 3, 4.5, 5, 7, 8});
}
Groove some_periodic() {
    return Groove::periodic(40, {5, 9}, {0, 1, 0.5, -1, -2, 0, 1, 1.5, 0.2});
}

double miss(const Groove& groove, const Vec2& p, double psi) {
    return std::cos(psi) * p.x() + std::sin(psi) * p.y() - groove.at(psi).h;
}
double lead(const Groove& groove, const Vec2& p, double psi) {
    return std::cos(psi) * p.y() - std::sin(psi) * p.x() - groove.at(psi).h1;
}

TEST(Groove, OfACircleHasItsPointsArcAndRadius) {
    const Groove circle = Groove::circle({3, -2}, 20);
    const Vec2 point = circle.point(0.7);
    EXPECT_NEAR(point.x(), 3 + 20 * std::cos(0.7), rounding);
    EXPECT_NEAR(point.y(), -2 + 20 * std::sin(0.7), rounding);
    EXPECT_NEAR(circle.arc(-1, 6), 7 * 20, rounding);
    EXPECT_NEAR(circle.arc(6, -1), -7 * 20, rounding);
    EXPECT_EQ(circle.smallest_radius_of_curvature(), 20);
    EXPECT_TRUE(circle.covers(1e6));
}

TEST(Groove, RefusesACircleWithoutRadius) {
    EXPECT_THROW((void)Groove::circle({0, 0}, 0), std::invalid_argument);
    EXPECT_THROW((void)Groove::circle({0, 0}, std::nan("")), std::invalid_argument);
}

TEST(Groove, RefusesASplineOfTooFewValuesOrWithoutRange) {
    EXPECT_THROW((void)Groove::periodic(10, {0, 0}, {0, 0, 0}), std::invalid_argument);
    EXPECT_THROW((void)Groove::open(10, {0, 0}, 0, 1, {0, 0, 0}), std::invalid_argument);
    EXPECT_THROW((void)Groove::open(10, {0, 0}, 1, 1, {0, 0, 0, 0}), std::invalid_argument);
}

TEST(Groove, InterpolatesItsKnots) {
    const std::vector<double> values{0, 1, 0.5, -1, -2, 0};
    const Groove closed = Groove::periodic(0, Vec2::Zero(), values);
    const Groove open = Groove::open(0, Vec2::Zero(), 1, 6, values);
    for (int j = 0; j < 6; ++j) {
        EXPECT_NEAR(closed.at(j * 2 * pi / 6).h, values[j], rounding);
        EXPECT_NEAR(open.at(1.0 + j).h, values[j], rounding);
    }
}

TEST(Groove, OfAnEllipseHasItsPoints) {
    const Groove groove = ellipse();
    for (const double psi : {0.0, 0.3, 1.5, 2.9, 4.0, 6.1})  // h' of a cubic spline is of third order:
        EXPECT_LT((groove.point(psi) - ellipse_point(psi)).norm(), 5e-5) << psi;  // 3 h'''' (2π/256)³ ≈ 5e-5
}

TEST(Groove, OfAnEllipseHasItsArcLength) {
    // ds = ρ dψ with ρ = a² b² / h³; Simpson's rule, 2000 intervals, exact to 1e-11
    const double begin = 0.4;
    const double end = 2.7;
    const int intervals = 2000;
    double sum = 0;
    for (int i = 0; i <= intervals; ++i) {
        const double h = ellipse_h(begin + (end - begin) * i / intervals);
        sum += (i == 0 || i == intervals ? 1 : i % 2 ? 4 : 2) * 2500 * 1225 / (h * h * h);
    }
    EXPECT_NEAR(ellipse().arc(begin, end), sum * (end - begin) / intervals / 3,
                5e-5);  // error of h', as above
}

TEST(Groove, KnowsTheSharpestPlaceOfAnEllipse) {
    EXPECT_NEAR(ellipse().smallest_radius_of_curvature(), 35.0 * 35.0 / 50.0, 0.01);  // h'' of second order
}

TEST(Groove, FindsTheSmallestRadiusBetweenKnotsToo) {
    for (const Groove& groove : {some_open(), some_periodic()}) {
        double sampled = 1e9;
        for (int i = 0; i <= 100000; ++i) {
            const SupportAt<double> support = groove.at(-1 + 4.5 * i / 100000);
            sampled = std::min(sampled, support.h + support.h2);
        }
        if (std::isinf(groove.end()))
            for (int i = 0; i <= 100000; ++i) {
                const SupportAt<double> support = groove.at(2 * pi * i / 100000);
                sampled = std::min(sampled, support.h + support.h2);
            }
        EXPECT_NEAR(groove.smallest_radius_of_curvature(), sampled, 1e-3);  // slope of ρ × spacing
        EXPECT_LE(groove.smallest_radius_of_curvature(), sampled + rounding);
    }
}

TEST(Groove, ConvergesWithFourthOrderWhenClosed) {
    const double coarse = largest_error(ellipse(32), ellipse_h, 0, 2 * pi);
    const double fine = largest_error(ellipse(64), ellipse_h, 0, 2 * pi);
    EXPECT_NEAR(std::log2(coarse / fine), 4, 0.25);
}

TEST(Groove, ConvergesWithFourthOrderUpToItsEndsWhenOpen) {
    const double coarse = largest_error(open_from(ellipse_h, 0.4, 2.7, 33), ellipse_h, 0.4, 2.7);
    const double fine = largest_error(open_from(ellipse_h, 0.4, 2.7, 65), ellipse_h, 0.4, 2.7);
    EXPECT_NEAR(std::log2(coarse / fine), 4, 0.25);
}

TEST(Groove, OpenSplineReproducesACubic) {
    const Curve cubic = [](double x) { return 1 + x * (2 - x * (0.5 - 0.3 * x)); };
    EXPECT_LT(largest_error(open_from(cubic, -1, 2, 4), cubic, -1, 2), rounding);
    EXPECT_LT(largest_error(open_from(cubic, -1, 2, 9), cubic, -1, 2), rounding);
}

struct SpiralArc {
    std::string curve;
    double psi_begin, psi_end, arc_length, x, y;  // normals: tangent angle less a quarter turn
    Curve h;
};

/// End points and lengths: source closed form, agreeing with quadrature to 1e-9.
TEST(Groove, FollowsInvolutesToTheirEnds) {
    // h = a t with t = ψ + π/2; x = a (cos t + t sin t), y = a (sin t − t cos t), s = a t²/2
    const std::array rows{
        SpiralArc{"a=10", 0, 3.14159265359, 49.3480220054, -10, 31.4159265359, {}},
        SpiralArc{"a=10", 0.5, 2.5, 30, 6.95036744713, 26.0133118297, {}},
        SpiralArc{"a=25", 0.2, 1.7, 35.625, 38.9246420868, 30.2675112689, {}},
    };
    for (const SpiralArc& row : rows) {
        const double a = row.curve == "a=25" ? 25 : 10;
        const double begin = row.psi_begin - pi / 2;
        const double end = row.psi_end - pi / 2;
        const Groove groove = open_from([a](double psi) { return a * (psi + pi / 2); }, begin, end, 5);
        EXPECT_NEAR(groove.arc(begin, end), row.arc_length,
                    1e-9);  // the spline is exact; rows have 12 digits
        EXPECT_NEAR(groove.point(end).x(), row.x, 1e-9);
        EXPECT_NEAR(groove.point(end).y(), row.y, 1e-9);
    }
}

/// h of r = a + b θ at the normal ψ: the angle θ + atan2(r, r′) − π/2 = ψ is solved by bisection.
double archimedean_h(double a, double b, double psi) {
    double low = 0;
    double high = 4 * pi;
    if (b < 0) high = 0.9 * a / -b;
    for (int step = 0; step < 200; ++step) {
        const double theta = (low + high) / 2;
        (theta + std::atan2(a + b * theta, b) - pi / 2 < psi ? low : high) = theta;
    }
    const double r = a + b * low;
    return r * r / std::hypot(r, b);
}

TEST(Groove, FollowsArchimedeanSpiralsToTheirEnds) {
    struct Row {
        double a, b, tangent_begin, tangent_end, arc_length, x, y;
    };
    const std::array rows{
        Row{20, 2, std::atan2(20, 2), 7.79264562194, 165.628895768, 32.5663706144, 0},
        Row{30, -1.5, std::atan2(30, -1.5), 5.63321513679, 108.167226038, -15.6874469007, -18.1632598874},
    };
    for (const Row& row : rows) {
        const double begin = row.tangent_begin - pi / 2;
        const double end = row.tangent_end - pi / 2;
        const Groove groove =
            open_from([&](double psi) { return archimedean_h(row.a, row.b, psi); }, begin, end, 401);
        EXPECT_NEAR(groove.arc(begin, end), row.arc_length, 1e-6);  // h' of third order: (2π/400)³ h''''
        EXPECT_NEAR(groove.point(end).x(), row.x, 1e-6);
        EXPECT_NEAR(groove.point(end).y(), row.y, 1e-6);
    }
}

TEST(Groove, FollowsAnArchimedeanSpiralThatStartsAtThePole) {
    const double end = 10.8898664912 - pi / 2;  // one and a half turns
    const Groove groove = open_from([](double psi) { return archimedean_h(0, 5, psi); }, -pi / 2, end, 801);
    EXPECT_NEAR(groove.arc(-pi / 2, end), 230.660830653, 5e-5);  // h is least smooth at the pole
    EXPECT_NEAR(groove.point(end).x(), -47.1238898038, 1e-5);
    EXPECT_NEAR(groove.point(end).y(), 0, 1e-5);
}

TEST(Groove, FollowsLogarithmicSpiralsToTheirEnds) {
    struct Row {
        double a, k, begin, end, arc_length, x, y, tangent_end;
    };
    const std::array rows{
        Row{20, 0.1, 0, 3, 70.3207500218, -26.7270018194, 3.8098417161, 4.4711276743},
        Row{35, -0.15, 0.2, 2.8, 73.9444619724, -21.6679467373, 7.70360145575, 4.5196862744},
    };
    for (const Row& row : rows) {
        const double end = row.tangent_end - pi / 2;
        const double lag = end - row.end;  // ψ − θ is constant
        const Groove groove = open_from(
            [&](double psi) { return row.a * std::exp(row.k * (psi - lag)) / std::hypot(1, row.k); },
            row.begin + lag, end, 101);
        EXPECT_NEAR(groove.arc(row.begin + lag, end), row.arc_length,
                    1e-7);  // h' of third order: 2.7e-5 h''''
        EXPECT_NEAR(groove.point(end).x(), row.x, 1e-7);
        EXPECT_NEAR(groove.point(end).y(), row.y, 1e-7);
    }
}

TEST(Groove, DerivativesAgreeWithComplexStep) {
    const double step = 1e-30;  // too small to round, too small to err
    for (const Groove& groove : {Groove::circle({3, -2}, 20), some_periodic(), some_open()})
        for (const double psi : {-9.0, -1.3, -0.2, 0.9, 3.1, 3.6, 11.0}) {
            const SupportAt<double> real = groove.at(psi);
            const SupportAt<std::complex<double>> moved = groove.at(std::complex<double>(psi, step));
            EXPECT_NEAR(moved.H.imag() / step, real.h, 1e-11) << psi;
            EXPECT_NEAR(moved.h.imag() / step, real.h1, 1e-11) << psi;
            EXPECT_NEAR(moved.h1.imag() / step, real.h2, 1e-11) << psi;
            EXPECT_NEAR(moved.h2.imag() / step, real.h3, 1e-11) << psi;
            EXPECT_NEAR(moved.H.real(), real.H, 1e-11) << psi;
        }
}

TEST(Groove, IntegralStartsAtZeroAndIsContinuousAcrossKnotsAndEnds) {
    for (const Groove& groove : {Groove::circle({3, -2}, 20), some_periodic(), some_open()}) {
        EXPECT_NEAR(groove.at(0.0).H, 0, rounding);
        double sum = 0;  // Gauss's rule with two points on steps of 1/1000, exact to 1e-9
        const double width = 1e-3;
        for (int i = 0; i < 8000; ++i)
            for (const double at : {0.5 - std::sqrt(3) / 6, 0.5 + std::sqrt(3) / 6})
                sum += width / 2 * groove.at((i + at) * width).h;
        EXPECT_NEAR(groove.at(8.0).H, sum, 1e-8);
    }
    const Groove away = Groove::open(30, {4, -7}, 1.0, 3.5, {0, 1, 1.5, 3, 4.5});  // zero lies outside
    EXPECT_NEAR(away.at(0.0).H, 0, rounding);
}

TEST(Groove, ClosedOneRepeatsEveryTurnAndItsArcAddsUp) {
    const Groove groove = some_periodic();
    const double turn = groove.arc(0, 2 * pi);
    for (const double psi : {-0.4, 0.0, 1.0, 6.2})
        for (const int turns : {-3, 1, 4}) {
            const double later = psi + 2 * pi * turns;
            EXPECT_NEAR(groove.at(later).h, groove.at(psi).h, 1e-11);
            EXPECT_NEAR(groove.at(later).h2, groove.at(psi).h2, 1e-11);
            EXPECT_NEAR(groove.arc(psi, later), turns * turn, 1e-10);
        }
}

TEST(Groove, OpenOneGoesOnSmoothlyOnTheCircleOfCurvatureAtItsEnds) {
    const Groove groove = some_open();
    const double tiny = 1e-9;
    for (const double end : {groove.begin(), groove.end()}) {
        const SupportAt<double> before = groove.at(end - tiny);
        const SupportAt<double> after = groove.at(end + tiny);
        EXPECT_NEAR(before.H, after.H, 1e-6);  // slopes of up to 100 × 2e-9
        EXPECT_NEAR(before.h, after.h, 1e-6);
        EXPECT_NEAR(before.h1, after.h1, 1e-6);
        EXPECT_NEAR(before.h2, after.h2, 1e-6);
    }
    const SupportAt<double> end = groove.at(groove.end());
    for (const double beyond : {0.1, 1.0, 7.0}) {
        const SupportAt<double> support = groove.at(groove.end() + beyond);
        EXPECT_NEAR(support.h + support.h2, end.h + end.h2, 1e-11);
    }
    EXPECT_FALSE(groove.covers(groove.end() + tiny));
    EXPECT_TRUE(groove.covers(groove.end()));
}

TEST(Groove, NotANumberGoesInAndComesOut) {
    for (const Groove& groove : {some_open(), some_periodic()})
        EXPECT_TRUE(std::isnan(groove.at(std::nan("")).h));
}

TEST(Groove, MirroredOneHasMirroredPointsAndTheSameLength) {
    for (const Groove& groove : {Groove::circle({3, -2}, 20), some_periodic(), some_open()}) {
        const Groove mirrored = groove.mirrored();
        EXPECT_EQ(mirrored.begin(), -groove.end());
        EXPECT_EQ(mirrored.end(), -groove.begin());
        for (const double psi : {-2.0, -0.7, 0.4, 2.0, 5.0}) {
            const Vec2 point = groove.point(psi);
            EXPECT_LT((mirrored.point(-psi) - Vec2(point.x(), -point.y())).norm(), 1e-11) << psi;
            EXPECT_NEAR(mirrored.arc(-psi, 0), groove.arc(0, psi), 1e-11) << psi;
        }
    }
}

/// Circle of radius 40 whose centre stands 15 from the axle, rope to the fixed point (300, −80), leaving
/// counter-clockwise of the line to it. Source: closed form; d(span + wrapped arc)/d(rotation) = −arm.
struct EccentricRow {
    double rotation, span, exit_angle, exit_x, exit_y, arm;  // [deg, mm]
};
constexpr std::array eccentric_pulley{
    EccentricRow{0, 293.300187521, 66.5544430269, 30.9150995728, 36.6975422282, 45.9681623398},
    EccentricRow{30, 297.373118096, 65.3842843396, 29.6515878962, 43.8648757272, 52.2292998416},
    EccentricRow{60, 304.308167766, 64.8753627519, 24.4835511637, 49.2058334199, 54.9457290017},
    EccentricRow{90, 312.1297807, 65.1259865576, 16.8249751746, 51.2893952881, 53.608523233},
    EccentricRow{120, 318.752977977, 66.0216742996, 8.75564123188, 49.5383512896, 48.8213687734},
    EccentricRow{150, 322.520121286, 67.3111559329, 2.43867533065, 44.4045284348, 41.9088660361},
    EccentricRow{180, 322.529068457, 68.6802532599, -0.457107511823, 37.2626391722, 34.5464153169},
    EccentricRow{210, 318.777710378, 69.8061597205, 0.817511025443, 30.041205578, 28.4767794607},
    EccentricRow{240, 312.164282119, 70.4044870715, 5.91511169093, 24.6929677636, 25.2466400411},
    EccentricRow{270, 304.343555871, 70.2873852642, 13.4921013029, 22.6558521671, 25.8790554373},
    EccentricRow{300, 297.399628498, 69.4363536635, 21.5499062462, 24.4609224516, 30.47168983},
    EccentricRow{330, 293.310026024, 68.0576037193, 27.9373505443, 29.6024002342, 37.8974706883},
};

TEST(Groove, OfAnEccentricPulleyLetsTheRopeLeaveWhereTheTableSays) {
    const Groove groove = Groove::circle({15, 0}, 40);
    const Vec2 anchor(300, -80);
    constexpr double digits = 1e-8;  // of the table
    for (const EccentricRow& row : eccentric_pulley) {
        const Eigen::Rotation2Dd rotation(row.rotation * degree);
        const Vec2 seen = rotation.inverse() * anchor;  // from the pulley
        const double psi = groove.tangent_direction(seen, -1);
        const Vec2 exit = rotation * groove.point(psi);
        const double angle = psi + row.rotation * degree;
        EXPECT_NEAR(std::remainder(angle - row.exit_angle * degree, 2 * pi), 0, digits);
        EXPECT_NEAR(exit.x(), row.exit_x, digits);
        EXPECT_NEAR(exit.y(), row.exit_y, digits);
        EXPECT_NEAR((anchor - exit).norm(), row.span, digits);
        EXPECT_NEAR(groove.at(psi).h, row.arm, digits);
    }
}

TEST(Groove, TangentFromAPointTouchesOnTheSideAskedFor) {
    for (const Groove& groove : {Groove::circle({3, -2}, 20), ellipse(64), some_periodic()})
        for (int i = 0; i < 72; ++i)
            for (const double distance : {80.0, 400.0, 1e4})
                for (const double sense : {+1.0, -1.0}) {
                    const double direction = -pi + (i + 0.5) * 5 * degree;
                    const Vec2 p = distance * Vec2(std::cos(direction), std::sin(direction));
                    const double psi = groove.tangent_direction(p, sense);
                    EXPECT_NEAR(miss(groove, p, psi), 0, 4e-15 * distance) << direction;  // 18 ulps
                    EXPECT_GT(sense * lead(groove, p, psi), 0) << direction;
                    EXPECT_LT(sense * psi, sense * direction);
                    EXPECT_GT(sense * psi, sense * direction - pi);
                }
}

TEST(Groove, TangentIsFoundFromCloseToAnElongatedCurve) {
    const auto h = [](double psi) { return std::hypot(60 * std::cos(psi), 12 * std::sin(psi)); };
    const Groove groove = periodic_from(h, 256);
    for (int i = 0; i < 60; ++i)
        for (const double gap : {1e-3, 0.1, 3.0})
            for (const double sense : {+1.0, -1.0}) {
                const double touching = 0.1 + i * 2 * pi / 60;
                const Vec2 p = groove.point(touching) + gap * Vec2(std::cos(touching), std::sin(touching));
                const double psi = groove.tangent_direction(p, sense);
                EXPECT_NEAR(miss(groove, p, psi), 0, 1e-12) << touching << " " << gap;
                EXPECT_GT(sense * lead(groove, p, psi), 0) << touching << " " << gap;
            }
}

TEST(Groove, TangentIsFoundWhereThePoleLiesOutside) {
    const Groove groove = Groove::circle({100, 20}, 15);
    for (const Vec2& p : {Vec2(0, 0), Vec2(5, -3), Vec2(100, 36), Vec2(300, 20), Vec2(-50, 400)})
        for (const double sense : {+1.0, -1.0}) {
            const double psi = groove.tangent_direction(p, sense);
            EXPECT_NEAR(miss(groove, p, psi), 0, 1e-12);
            EXPECT_GT(sense * lead(groove, p, psi), 0);
        }
}

TEST(Groove, NoTangentLeavesAPointInside) {
    for (const Groove& groove : {Groove::circle({3, -2}, 20), ellipse(64)})
        for (const Vec2& p : {Vec2(0, 0), Vec2(5, 3), Vec2(19, -2), Vec2(0.1, 17.7)})
            EXPECT_TRUE(std::isnan(groove.tangent_direction(p, 1)));
    EXPECT_TRUE(std::isnan(ellipse(64).tangent_direction(0.999 * ellipse_point(0.8), -1)));
}

TEST(Groove, HasNoTangentWhereACurveThatIsNotConvexHidesIt) {
    const Groove wavy = Groove::open(20, Vec2::Zero(), -2, 2, {-42, 10, -8, 47, -30, -28, 44, -26, 18, -11});
    ASSERT_LT(wavy.smallest_radius_of_curvature(), 0);
    EXPECT_TRUE(std::isnan(wavy.tangent_direction({69, -11}, 1)));
}

TEST(Groove, TangentOfAnOpenOneLiesOnTheTurnThatItCovers) {
    // an involute over one turn that starts two turns on
    const double begin = 4 * pi;
    const double end = 6 * pi - 0.5;
    const Groove groove = open_from([&](double psi) { return 30 + 2 * (psi - begin); }, begin, end, 40);
    for (const double psi : {begin + 0.2, begin + 2.0, begin + 4.0, end - 0.2})
        for (const double sense : {+1.0, -1.0}) {
            const Vec2 t(-std::sin(psi), std::cos(psi));
            const Vec2 p = groove.point(psi) + sense * 300 * t;
            EXPECT_NEAR(groove.tangent_direction(p, sense), psi, 1e-12);  // ψ ≈ 18 has ulps of 4e-15
        }
}

TEST(Groove, TangentLiesOnTheTurnNearestToTheOneGiven) {
    const Groove spiral = open_from([](double psi) { return 20 + 2 * psi; }, -10, 10, 40);
    for (const Groove& groove : {Groove::circle({3, -2}, 20), some_periodic(), spiral})
        for (const double psi : {-8.0, -3.0, 0.5, 7.0})
            for (const double sense : {+1.0, -1.0}) {
                const Vec2 t(-std::sin(psi), std::cos(psi));
                const Vec2 p = groove.point(psi) + sense * 500 * t;
                EXPECT_NEAR(groove.tangent_direction(p, sense, psi + 1), psi, 1e-12);
                EXPECT_NEAR(groove.tangent_direction(p, sense, psi - 1), psi, 1e-12);
            }
}

TEST(Groove, EqualsAnotherOneOfTheSameNumbers) {
    EXPECT_EQ(some_open(), some_open());
    EXPECT_NE(some_open(), some_open().mirrored());
    EXPECT_NE(Groove::circle({1, 2}, 20), Groove::circle({1, 2}, 20.5));
}

}  // namespace
}  // namespace limbwright::solver::groove_test
