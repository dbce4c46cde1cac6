#include "solver/elements/shell.hpp"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <cmath>
#include <stdexcept>

namespace limbwright::solver {
namespace {

constexpr int forms = 64;  ///< 16 products x_i·x_j, then 48 products x_i·t_jc
using Form = Eigen::Matrix<double, 1, forms>;
template <int rows>
using Forms = Eigen::Matrix<double, rows, forms>;
using Corners = Eigen::Vector4d;  ///< one number a corner

/// Share of the drilling weight for how the corners' turns differ from their mean. On curved surfaces they do
/// differ, which must cost little against bending: about (t/h)²/12 of the same weight in an element of size
/// h.
constexpr double own_turns = 1e-5;

/// (Σ f_i x_i)·(Σ g_j x_j), as ½ Σ α_ij x_i·x_j with α symmetric.
Form stretch(const Corners& f, const Corners& g) {
    Form form = Form::Zero();
    for (int i = 0; i < 4; ++i)
        for (int j = 0; j < 4; ++j) form[4 * i + j] = f[i] * g[j] + g[i] * f[j];
    return form;
}

/// (Σ f_i x_i)·(Σ g_j v_j) with v_j a vector fixed to corner j, given in its frame.
Form product(const Corners& f, const Corners& g, const std::array<Vec3, 4>& v) {
    Form form = Form::Zero();
    for (int i = 0; i < 4; ++i)
        for (int j = 0; j < 4; ++j)
            form.segment<3>(16 + 12 * i + 3 * j) = f[i] * g[j] * v[static_cast<std::size_t>(j)].transpose();
    return form;
}

/// Shape functions and their slopes by the natural coordinates r, s. A triangle has a zero fourth.
struct Shape {
    Corners N, Nr, Ns;
};

Shape quadrilateral(double r, double s) {
    return {0.25 * Corners((1 - r) * (1 - s), (1 + r) * (1 - s), (1 + r) * (1 + s), (1 - r) * (1 + s)),
            0.25 * Corners(-(1 - s), 1 - s, 1 + s, -(1 + s)),
            0.25 * Corners(-(1 - r), -(1 + r), 1 + r, 1 - r)};
}

Shape triangle(double r, double s) {
    return {{1 - r - s, r, s, 0}, {-1, 1, 0, 0}, {-1, 0, 1, 0}};
}

/// The element at rest: its wall's axes, its corners in them, and its strains as forms.
struct Geometry {
    int corners = 4;
    Mat3 axes;                                         ///< columns: the wall's axes 1, 2, 3
    Eigen::Matrix<double, 2, 4> flat;                  ///< corners in axes 1 and 2
    std::array<Vec3, 4> director{}, axis1{}, axis2{};  ///< fixed to the corners, in their frames

    [[nodiscard]] Shape at(double r, double s) const {
        return corners == 4 ? quadrilateral(r, s) : triangle(r, s);
    }
    /// Rows: ∂/∂r and ∂/∂s of axes 1 and 2.
    [[nodiscard]] Eigen::Matrix2d jacobian(const Shape& shape) const {
        Eigen::Matrix2d J;
        J.row(0) = (flat * shape.Nr).transpose();
        J.row(1) = (flat * shape.Ns).transpose();
        return J;
    }

    /// (ε₁₁, ε₂₂, 2ε₁₂, κ₁₁, κ₂₂, 2κ₁₂) at a point.
    [[nodiscard]] Forms<6> membrane_and_bending(const Shape& shape) const {
        const Eigen::Matrix2d inverse = jacobian(shape).inverse();
        const Corners f = inverse(0, 0) * shape.Nr + inverse(0, 1) * shape.Ns;
        const Corners g = inverse(1, 0) * shape.Nr + inverse(1, 1) * shape.Ns;
        Forms<6> e;
        e.row(0) = 0.5 * stretch(f, f);
        e.row(1) = 0.5 * stretch(g, g);
        e.row(2) = stretch(f, g);
        e.row(3) = product(f, f, director);
        e.row(4) = product(g, g, director);
        e.row(5) = product(f, g, director) + product(g, f, director);
        return e;
    }

    /// Natural shear strains x,r·d and x,s·d at a point, untied.
    [[nodiscard]] Form shear_r(double r, double s) const {
        const Shape shape = at(r, s);
        return product(shape.Nr, shape.N, director);
    }
    [[nodiscard]] Form shear_s(double r, double s) const {
        const Shape shape = at(r, s);
        return product(shape.Ns, shape.N, director);
    }
    /// (γ₁, γ₂) at a point, tied.
    [[nodiscard]] Forms<2> shear(double r, double s) const {
        Forms<2> natural;
        if (corners == 4) {
            natural.row(0) = 0.5 * (1 - s) * shear_r(0, -1) + 0.5 * (1 + s) * shear_r(0, 1);
            natural.row(1) = 0.5 * (1 - r) * shear_s(-1, 0) + 0.5 * (1 + r) * shear_s(1, 0);
        } else {
            const Form c = shear_s(0, 0.5) - shear_r(0.5, 0) - shear_s(0.5, 0.5) + shear_r(0.5, 0.5);
            natural.row(0) = shear_r(0.5, 0) + s * c;
            natural.row(1) = shear_s(0, 0.5) - r * c;
        }
        return jacobian(at(r, s)).inverse() * natural;
    }

    /// Turns of the corners about the normal against the surface's at the centre.
    struct Drilling {
        Forms<4> sines;    ///< sin ω of each
        Form mean_cosine;  ///< mean of 1 − cos ω, of first order in no displacement
    };
    [[nodiscard]] Drilling drilling() const {
        const Shape centre = corners == 4 ? at(0, 0) : at(1. / 3, 1. / 3);
        const Eigen::Matrix2d inverse = jacobian(centre).inverse();
        const Corners f = inverse(0, 0) * centre.Nr + inverse(0, 1) * centre.Ns;
        const Corners g = inverse(1, 0) * centre.Nr + inverse(1, 1) * centre.Ns;
        // With stretches λ₁, λ₂ of the axes ½ (λ₁ + λ₂) cos ω is less than ¼ (λ₁² + λ₂²) + ½ by 1 − cos ω and
        // by squares of strains.
        Drilling made{Forms<4>::Zero(), 0.25 * (stretch(f, f) + stretch(g, g))};
        for (int j = 0; j < corners; ++j) {
            const Corners one = Corners::Unit(j);
            made.sines.row(j) = 0.5 * (product(f, one, axis2) - product(g, one, axis1));
            made.mean_cosine -= 0.5 / corners * (product(f, one, axis1) + product(g, one, axis2));
        }
        return made;
    }
};

Geometry geometry(std::span<const ShellCorner> rest, const Vec3& direction) {
    Geometry g;
    g.corners = static_cast<int>(rest.size());
    const auto place = [&](std::size_t i) { return rest[i].frame.position; };
    const Vec3 across = g.corners == 4 ? Vec3((place(2) - place(0)).cross(place(3) - place(1)))
                                       : Vec3((place(1) - place(0)).cross(place(2) - place(0)));
    Vec3 mean = Vec3::Zero();
    for (const ShellCorner& corner : rest) mean += corner.normal;
    const double size = (place(2) - place(0)).squaredNorm();
    if (across.norm() <= 1e-9 * size) throw std::invalid_argument("a shell element has no area");
    const Vec3 normal = (across.dot(mean) < 0 ? -across : across).normalized();
    const Vec3 along = direction - direction.dot(normal) * normal;
    if (along.norm() <= 1e-6 * direction.norm())
        throw std::invalid_argument("the direction of a shell element's wall is along its normal");
    g.axes.col(0) = along.normalized();
    g.axes.col(1) = normal.cross(g.axes.col(0));
    g.axes.col(2) = normal;
    g.flat.setZero();
    for (std::size_t i = 0; i < rest.size(); ++i) {
        g.flat.col(static_cast<int>(i)) = g.axes.leftCols<2>().transpose() * (place(i) - place(0));
        const Rotation back = rest[i].frame.rotation.inverse();
        g.director[i] = back * rest[i].normal;
        g.axis1[i] = back * Vec3(g.axes.col(0));
        g.axis2[i] = back * Vec3(g.axes.col(1));
    }
    return g;
}

/// The assumed forces' and moments' shapes at a point, 8 × 14: constant, and linear along the sides as
/// Pian and Sumihara's; r̄ and s̄ are the centroid's.
Eigen::Matrix<double, 8, 14> assumed(const Eigen::Matrix2d& J0, double r, double s) {
    const auto linear = [&](int k) {  // k = 0: in s, along r; k = 1: in r, along s
        const double a = J0(k, 0), b = J0(k, 1);
        return Vec3(Vec3(a * a, b * b, a * b) * (k == 0 ? s : r));
    };
    Eigen::Matrix<double, 8, 14> S = Eigen::Matrix<double, 8, 14>::Zero();
    S.block<8, 8>(0, 0).setIdentity();
    for (int half = 0; half < 2; ++half)
        for (int k = 0; k < 2; ++k) S.block<3, 1>(3 * half, 8 + 2 * half + k) = linear(k);
    S.block<2, 1>(6, 12) = J0.row(0).transpose() * s;
    S.block<2, 1>(6, 13) = J0.row(1).transpose() * r;
    return S;
}

/// Strain forms that make the energy half the sum of their squares, and what gives the centre's stress from
/// them.
struct Strains {
    Forms<max_shell_strains> forms = Forms<max_shell_strains>::Zero();
    Eigen::Matrix<double, 8, max_shell_strains> stress = Eigen::Matrix<double, 8, max_shell_strains>::Zero();
    double area = 0;
};

Strains assumed_stress_strains(const Geometry& geometry, const WallStiffness& compliance) {
    const double p = 1 / std::sqrt(3.);
    const std::array<std::pair<double, double>, 4> points{{{-p, -p}, {p, -p}, {p, p}, {-p, p}}};
    Strains made;
    double r_mean = 0, s_mean = 0, sense = 0;
    for (const auto& [r, s] : points) {
        const double det = geometry.jacobian(geometry.at(r, s)).determinant();
        if (sense == 0) sense = det;
        if (det * sense <= 0) throw std::invalid_argument("a shell element is folded over");
        made.area += std::abs(det);
        r_mean += r * std::abs(det);
        s_mean += s * std::abs(det);
    }
    r_mean /= made.area;
    s_mean /= made.area;
    const Eigen::Matrix2d J0 = geometry.jacobian(geometry.at(0, 0));
    Eigen::Matrix<double, 14, 14> H = Eigen::Matrix<double, 14, 14>::Zero();
    Forms<14> g = Forms<14>::Zero();
    for (const auto& [r, s] : points) {
        const Shape shape = geometry.at(r, s);
        const double weight = std::abs(geometry.jacobian(shape).determinant());
        const Eigen::Matrix<double, 8, 14> S = assumed(J0, r - r_mean, s - s_mean);
        Forms<8> strain;
        strain << geometry.membrane_and_bending(shape), geometry.shear(r, s);
        H += weight * S.transpose() * compliance * S;
        g += weight * S.transpose() * strain;
    }
    // U = ½ gᵀ H⁻¹ g, stress parameters H⁻¹ g; the centroid's stress is the constant part.
    const Eigen::LLT<Eigen::Matrix<double, 14, 14>> factor(H);
    if (factor.info() != Eigen::Success)
        throw std::invalid_argument("a shell element's stiffness is not positive definite");
    made.forms.topRows<14>() = factor.matrixL().solve(g);
    const Eigen::Matrix<double, 14, 14> to_stress =
        factor.matrixU().solve(Eigen::Matrix<double, 14, 14>::Identity());
    made.stress.leftCols<14>() = to_stress.topRows<8>();
    return made;
}

Strains constant_strains(const Geometry& geometry, const WallStiffness& wall) {
    Strains made;
    made.area = 0.5 * std::abs(geometry.jacobian(geometry.at(0, 0)).determinant());
    const Mat6 plate = wall.topLeftCorner<6, 6>();
    const Eigen::Matrix2d shear = wall.bottomRightCorner<2, 2>();
    const Eigen::LLT<Mat6> plate_factor(plate);
    const Eigen::LLT<Eigen::Matrix2d> shear_factor(shear);
    if (plate_factor.info() != Eigen::Success || shear_factor.info() != Eigen::Success)
        throw std::invalid_argument("a shell element's stiffness is not positive definite");
    const Mat6 L = plate_factor.matrixL();
    const Eigen::Matrix2d Ls = shear_factor.matrixL();
    const double root = std::sqrt(made.area);
    made.forms.topRows<6>() =
        root * L.transpose() * geometry.membrane_and_bending(geometry.at(1. / 3, 1. / 3));
    made.stress.topLeftCorner<6, 6>() = L / root;
    const std::array<std::pair<double, double>, 3> points{
        {{1. / 6, 1. / 6}, {2. / 3, 1. / 6}, {1. / 6, 2. / 3}}};
    for (std::size_t i = 0; i < points.size(); ++i) {
        const int row = 6 + 2 * static_cast<int>(i);
        const double third = root / std::sqrt(3.);
        made.forms.middleRows<2>(row) =
            third * Ls.transpose() * geometry.shear(points[i].first, points[i].second);
        made.stress.block<2, 2>(6, row) = Ls / (third * 3);  // their mean is the centroid's
    }
    return made;
}

/// Rows whose squares sum up to those of three or four numbers' departures from their mean; all corners
/// alike.
Eigen::Matrix<double, 3, 4> departures(int corners) {
    Eigen::Matrix<double, 3, 4> rows;
    if (corners == 4)
        rows << 0.5, 0.5, -0.5, -0.5, 0.5, -0.5, -0.5, 0.5, 0.5, -0.5, 0.5, -0.5;
    else
        rows << 1, -1, 0, 0, 0, 1, -1, 0, -1, 0, 1, 0;
    return corners == 4 ? rows : Eigen::Matrix<double, 3, 4>(rows / std::sqrt(3.));
}

}  // namespace

Shell::Shell(std::span<const Frame> corners, std::span<const ShellCorner> rest, const Vec3& direction,
             const WallStiffness& wall, double drilling)
    : corners_(corners.begin(), corners.end()) {
    if (corners.size() != rest.size() || corners.size() < 3 || corners.size() > max_shell_corners)
        throw std::invalid_argument("a shell element has three or four corners");
    const Geometry g = geometry(rest, direction);
    compliance_ = wall.inverse();
    Strains strains = g.corners == 4 ? assumed_stress_strains(g, compliance_) : constant_strains(g, wall);
    area_ = strains.area;
    stress_ = strains.stress;

    // A skew part δ of the displacement's gradient beside the corners' turn is a shear strain 2δ of both
    // axes.
    const Geometry::Drilling drills = g.drilling();
    const double weight = std::sqrt(drilling * 4 * wall(2, 2) * area_), own = weight * std::sqrt(own_turns);
    strains.forms.row(14) = weight / g.corners * drills.sines.colwise().sum();
    strains.forms.middleRows<3>(15) = own / std::sqrt(g.corners) * departures(g.corners) * drills.sines;
    strains.forms.row(18) = own * 4 * drills.mean_cosine;

    data_.corners = g.corners;
    data_.alpha = strains.forms.leftCols<16>();
    data_.beta = strains.forms.rightCols<48>();
    ShellCornersOf<double> poses;
    for (std::size_t i = 0; i < poses.size(); ++i) poses[i] = rest[i < rest.size() ? i : 0].frame;
    data_.rest = shell_strains(data_, poses);

    bare_ = true;
    for (std::size_t i = 0; i < corners_.size(); ++i) {
        places_[i] = list_.add(corners_[i]);
        bare_ = bare_ && corners_[i].is_bare_node();
        axes_[i] = rest[i].frame.rotation.matrix().transpose() * g.axes;
    }
    // Corners on one node share its increments.
    bare_ = bare_ && list_.size() == 6 * g.corners;
}

double Shell::energy(const State& state) const {
    return shell_energy(data_, poses(state));
}

std::complex<double> Shell::energy(const StateOf<std::complex<double>>& state) const {
    return shell_energy(data_, poses(state));
}

void Shell::gradient(const State& state, ElementVector& g) const {
    if (bare_) {
        g = shell_gradient(data_, poses(state)).head(list_.size());
        return;
    }
    g.setZero(list_.size());
    const Vector24<double> own = shell_gradient(data_, poses(state));
    for (std::size_t i = 0; i < corners_.size(); ++i)
        if (!places_[i].empty())
            add_pulled_back<double>(FrameMotion(corners_[i], state), places_[i],
                                    own.segment<6>(6 * static_cast<int>(i)), g);
}

void Shell::gradient_and_hessian(const State& state, ElementVector& g, ElementMatrix& H) const {
    Vector24<double> gradient;
    Matrix24<double> hessian;
    shell_hessian(data_, poses(state), gradient, hessian);
    const int n = list_.size();
    if (bare_) {
        g = gradient.head(n);
        H = hessian.topLeftCorner(n, n);
        return;
    }
    g.setZero(n);
    H.setZero(n, n);
    std::vector<FrameMotion> motions;
    motions.reserve(corners_.size());
    for (const Frame& corner : corners_) motions.emplace_back(corner, state);
    std::array<const FrameMotion*, max_shell_corners> motion{};
    std::array<const std::vector<int>*, max_shell_corners> places{};
    for (std::size_t i = 0; i < corners_.size(); ++i) {
        motion[i] = &motions[i];
        places[i] = &places_[i];
    }
    add_pulled_back<double, max_shell_corners>(motion, places, data_.corners, gradient, hessian, g, H);
}

WallState Shell::wall_state(const State& state) const {
    const ShellCornersOf<double> corners = poses(state);
    const Eigen::Matrix<double, 8, 1> stress = stress_ * shell_strains(data_, corners);
    const Eigen::Matrix<double, 8, 1> strain = compliance_ * stress;
    WallState wall;
    wall.strain = strain.head<3>();
    wall.curvature = strain.segment<3>(3);
    wall.shear_strain = strain.tail<2>();
    wall.force = stress.head<3>();
    wall.moment = stress.segment<3>(3);
    wall.shear_force = stress.tail<2>();
    wall.position = Vec3::Zero();
    Mat3 mean = Mat3::Zero();
    for (std::size_t i = 0; i < corners_.size(); ++i) {
        wall.position += corners[i].position / data_.corners;
        mean += corners[i].rotation.matrix() * axes_[i];
    }
    // The nearest rotation, by one Gram–Schmidt: corners of one element differ little.
    wall.axes.col(0) = mean.col(0).normalized();
    wall.axes.col(2) = wall.axes.col(0).cross(Vec3(mean.col(1))).normalized();
    wall.axes.col(1) = wall.axes.col(2).cross(wall.axes.col(0));
    return wall;
}

}  // namespace limbwright::solver
