#include "solver/elements/laminate.hpp"

#include <fmt/core.h>

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <cmath>
#include <stdexcept>

namespace limbwright::solver {

namespace {

using Mat2 = Eigen::Matrix2d;
using Mat4 = Eigen::Matrix4d;

bool is_positive(double value) {
    return value > 0 && std::isfinite(value);
}

void check(const Ply& ply, std::size_t number) {
    if (!is_positive(ply.thickness))
        throw std::invalid_argument(
            fmt::format("ply {}: thickness must be positive, but is {} mm", number, ply.thickness));
    if (!std::isfinite(ply.angle))
        throw std::invalid_argument(fmt::format("ply {}: the angle is {}", number, ply.angle));
    const Lamina& m = ply.lamina;
    for (const double modulus : {m.along, m.across, m.shear, m.shear_13, m.shear_23})
        if (!is_positive(modulus))
            throw std::invalid_argument(
                fmt::format("ply {}: every modulus must be positive, but one is {} MPa", number, modulus));
    if (!(m.along > m.poisson * m.poisson * m.across))
        throw std::invalid_argument(
            fmt::format("ply {}: E1 must be more than nu12^2 E2, but E1 = {}, E2 = {} MPa and nu12 = {}",
                        number, m.along, m.across, m.poisson));
}

Mat3 plane_stress_stiffness(const Lamina& m) {
    const double rest = 1 - m.poisson * m.poisson * m.across / m.along;
    Mat3 Q = Mat3::Zero();
    Q(0, 0) = m.along / rest;
    Q(1, 1) = m.across / rest;
    Q(0, 1) = Q(1, 0) = m.poisson * m.across / rest;
    Q(2, 2) = m.shear;
    return Q;
}

/// T: strains (11, 22, 12 engineering) of the wall to those in the fibre axes.
Mat3 to_fibre_axes(double angle) {
    const double c = std::cos(angle), s = std::sin(angle);
    Mat3 T;
    T << c * c, s * s, c * s,  //
        s * s, c * c, -c * s,  //
        -2 * c * s, 2 * c * s, c * c - s * s;
    return T;
}

/// Compliance (G⁻¹) of the shears γ₁₃, γ₂₃ in the wall's axes.
Mat2 transverse_compliance(const Ply& ply) {
    const Mat2 R = Eigen::Rotation2Dd(ply.angle).toRotationMatrix();
    return R * Vec2(1 / ply.lamina.shear_13, 1 / ply.lamina.shear_23).asDiagonal() * R.transpose();
}

/// A ply in its place.
struct Layer {
    double lower, middle, upper;  ///< heights
    Mat3 stiffness;               ///< Q̄
    Mat2 transverse_compliance;
};

std::vector<Layer> layers(const Laminate& laminate) {
    if (laminate.empty()) throw std::invalid_argument("a laminate needs at least one ply");
    for (std::size_t i = 0; i < laminate.size(); ++i) check(laminate[i], i + 1);
    std::vector<Layer> all;
    double z = -thickness(laminate) / 2;
    for (const Ply& ply : laminate) {
        const Mat3 T = to_fibre_axes(ply.angle);
        all.push_back({z, z + ply.thickness / 2, z + ply.thickness,
                       T.transpose() * plane_stress_stiffness(ply.lamina) * T, transverse_compliance(ply)});
        z += ply.thickness;
    }
    return all;
}

struct PlateStiffness {
    Mat3 A = Mat3::Zero(), B = Mat3::Zero(), D = Mat3::Zero();
};

PlateStiffness plate_stiffness(const std::vector<Layer>& all) {
    PlateStiffness p;
    for (const Layer& layer : all) {
        const double t = layer.upper - layer.lower, z = layer.middle;
        p.A += t * layer.stiffness;
        p.B += t * z * layer.stiffness;
        p.D += t * (z * z + t * t / 12) * layer.stiffness;
    }
    return p;
}

/// H⁻¹.
Mat2 shear_compliance(const std::vector<Layer>& all, const PlateStiffness& p) {
    const Mat3 neutral = p.A.llt().solve(p.B);
    const Mat3 bending_compliance = (p.D - p.B * neutral).inverse();
    // Gauss's three points: exact for the energy's polynomials of fourth degree.
    const std::array<double, 3> points{-std::sqrt(0.6), 0, std::sqrt(0.6)},
        weights{5. / 18, 8. / 18, 5. / 18};
    Mat2 compliance = Mat2::Zero();
    Mat3 a = Mat3::Zero(), b = Mat3::Zero();  // ∫ Q̄ dζ and ∫ Q̄ ζ dζ of the plies below
    for (const Layer& layer : all) {
        const double t = layer.upper - layer.lower;
        for (std::size_t k = 0; k < points.size(); ++k) {
            const double up = t / 2 * (1 + points[k]);  // from the ply's lower face
            const double mean = layer.lower + up / 2;
            const Mat3 F = ((a + up * layer.stiffness) * neutral - (b + up * mean * layer.stiffness)) *
                           bending_compliance;
            Mat2 flow;
            flow << F(0, 0), F(2, 1), F(2, 0), F(1, 1);
            compliance += weights[k] * t * flow.transpose() * layer.transverse_compliance * flow;
        }
        a += t * layer.stiffness;
        b += t * layer.middle * layer.stiffness;
    }
    return compliance;
}

/// What the edges leave of a wide strip's twisting stiffness.
double twist_left(double scaled_width, double thickness) {
    return torsion_constant(scaled_width, thickness) / (scaled_width * std::pow(thickness, 3) / 3);
}

/// 3 (coth x − 1/x)/x: 1 if the edge zones fill the width, 0 if the strip is wide.
double edge_share(double x) {
    return 3 * (1 / std::tanh(x) - 1 / x) / x;
}

}  // namespace

Lamina isotropic(const Moduli& m) {
    const double nu = m.young / (2 * m.shear) - 1;
    if (!is_positive(m.young) || !is_positive(m.shear) || !(nu > -1 && nu < 0.5))
        throw std::invalid_argument(fmt::format(
            "no isotropic material has E = {} MPa and G = {} MPa: nu = E/(2G) - 1 = {} must lie between "
            "-1 and 0.5, the moduli above 0",
            m.young, m.shear, nu));
    return {m.young, m.young, nu, m.shear, m.shear, m.shear};
}

double thickness(const Laminate& laminate) {
    double sum = 0;
    for (const Ply& ply : laminate) sum += ply.thickness;
    return sum;
}

WallStiffness wall_stiffness(const Laminate& laminate) {
    const std::vector<Layer> all = layers(laminate);
    const PlateStiffness p = plate_stiffness(all);
    WallStiffness C = WallStiffness::Zero();
    C.block<3, 3>(0, 0) = p.A;
    C.block<3, 3>(0, 3) = C.block<3, 3>(3, 0) = p.B;
    C.block<3, 3>(3, 3) = p.D;
    C.block<2, 2>(6, 6) = shear_compliance(all, p).inverse();
    return (C + C.transpose()) / 2;
}

SectionStiffness laminate_section(const Laminate& laminate, double width) {
    if (!is_positive(width))
        throw std::invalid_argument(fmt::format("a section's width must be positive, but is {} mm", width));
    const WallStiffness wall = wall_stiffness(laminate);
    const double b = width, h = thickness(laminate);
    const Mat6 compliance = wall.topLeftCorner<6, 6>().inverse();
    const double transverse = 1 / wall.bottomRightCorner<2, 2>().inverse()(0, 0);  // Q₁/γ₁ at Q₂ = 0

    const std::array uniform{0, 3, 5};  // N₁₁, M₁₁, M₁₂
    const Mat3 P = Mat3(compliance(uniform, uniform)).inverse();
    const double decay = std::sqrt(transverse / P(2, 2));               // λ [1/mm] of the edge zones
    const double left = twist_left(b * decay * h / std::sqrt(10.), h);  // λ² = 10 G₁₃/(G₁₂ h²)

    // Loads N, V₂, M₁, M₂ of the beam as N₁₁, N₁₂, M₁₂, M₁₁ of the wall; M₁₂ = −M₁/(2b).
    const std::array of_wall{0, 2, 5, 3}, of_beam{0, 1, 3, 4};
    const Eigen::Vector4d sign(1, 1, -0.5, 1);
    Mat4 S = sign.asDiagonal() * Mat4(compliance(of_wall, of_wall)) * sign.asDiagonal() / b;
    S(1, 1) *= 1.2;
    S(2, 2) += (1 / left - 1) / (4 * b * P(2, 2));

    SectionStiffness C = SectionStiffness::Zero();
    C(of_beam, of_beam) = Mat4(S.inverse());
    C(2, 2) = b * transverse;
    C(5, 5) = (P(0, 0) - P(0, 2) * P(0, 2) / P(2, 2) * edge_share(decay * b / 2)) * std::pow(b, 3) / 12;
    return (C + C.transpose()) / 2;
}

std::vector<PlyState> ply_states(const Laminate& laminate, const Vec3& strain, const Vec3& curvature) {
    const std::vector<Layer> all = layers(laminate);
    std::vector<PlyState> states;
    for (std::size_t i = 0; i < all.size(); ++i) {
        const Mat3 Q = plane_stress_stiffness(laminate[i].lamina), T = to_fibre_axes(laminate[i].angle);
        PlyState state;
        const std::array heights{all[i].lower, all[i].upper};
        for (std::size_t face = 0; face < 2; ++face) {
            state.strain[face] = T * (strain + heights[face] * curvature);
            state.stress[face] = Q * state.strain[face];
        }
        states.push_back(state);
    }
    return states;
}

}  // namespace limbwright::solver
