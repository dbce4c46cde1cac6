#pragma once

#include "solver/numbers/pose.hpp"

/// A shell element as a list of generalised strains, each quadratic in the corners' positions x_i and in the
/// axes t_jc (c = 1 … 3) of the corners' rotations:
///
///     e_k = ½ Σ_ij α_kij x_i·x_j + Σ_ijc β_kijc x_i·t_jc − e_k⁰,   U = ½ Σ_k e_k².
///
/// Stretches, shears and changes of curvature of a surface whose positions and directors are interpolated are
/// such products, so that energy, gradient and Hessian are exact with a few small matrices, and a rigid
/// motion leaves every product as it is. What α, β and e⁰ are is told in `shell`.
namespace limbwright::solver {

inline constexpr int max_shell_corners = 4;
inline constexpr int max_shell_strains = 20;  ///< 19 in use; even, for registers of two

struct ShellData {
    int corners = max_shell_corners;
    using Alpha = Eigen::Matrix<double, max_shell_strains, 16>;  ///< k × (i, j), symmetric in i and j
    using Beta = Eigen::Matrix<double, max_shell_strains, 48>;   ///< k × (i, j, c)
    Alpha alpha = Alpha::Zero();
    Beta beta = Beta::Zero();
    Eigen::Matrix<double, max_shell_strains, 1> rest = Eigen::Matrix<double, max_shell_strains, 1>::Zero();
};

template <class T>
using Vector24 = Eigen::Matrix<T, 24, 1>;
template <class T>
using Matrix24 = Eigen::Matrix<T, 24, 24>;
template <class T>
using ShellCornersOf = std::array<PoseOf<T>, max_shell_corners>;
template <class T>
using ShellStrainsOf = Eigen::Matrix<T, max_shell_strains, 1>;

namespace detail {

/// Corners' positions from the first corner (3 × 4) and their axes (3 × 12). A missing corner repeats the
/// first; no strain knows it.
template <class T>
struct ShellVectors {
    Eigen::Matrix<T, 3, 4> x;
    Eigen::Matrix<T, 3, 12> axes;

    explicit ShellVectors(const ShellCornersOf<T>& corners) {
        for (int i = 0; i < max_shell_corners; ++i) {
            const PoseOf<T>& X = corners[static_cast<std::size_t>(i)];
            x.col(i) = X.position - corners[0].position;
            axes.template block<3, 3>(0, 3 * i) = X.rotation.matrix();
        }
    }
};

/// sum += column · factor, and sum · column: along the strains, whatever the scalar.
template <class T, class Column>
void add_scaled(const Column& column, const T& factor, ShellStrainsOf<T>& sum) {
    sum += column.template cast<T>() * factor;
}
template <class T, class Column>
T product(const Column& column, const ShellStrainsOf<T>& e) {
    return column.template cast<T>().cwiseProduct(e).sum();
}

/// Σ_k e_k α_k and Σ_k e_k β_k: slopes of the energy by the products.
template <class T>
struct ShellWeights {
    Eigen::Matrix<T, 16, 1> alpha;
    Eigen::Matrix<T, 48, 1> beta;

    ShellWeights(const ShellData& data, const ShellStrainsOf<T>& e) {
        for (int k = 0; k < 16; ++k) alpha[k] = product<T>(data.alpha.col(k), e);
        for (int k = 0; k < 48; ++k) beta[k] = product<T>(data.beta.col(k), e);
    }
};

}  // namespace detail

/// e_k; zero at rest, whatever the rigid motion.
template <class T>
ShellStrainsOf<T> shell_strains(const ShellData& data, const ShellCornersOf<T>& corners) {
    const detail::ShellVectors<T> v(corners);
    ShellStrainsOf<T> e;
    for (int k = 0; k < max_shell_strains; ++k) e[k] = -T(data.rest[k]);
    for (int i = 0; i < 4; ++i) {
        const Vector3<T> x = v.x.col(i);
        for (int j = 0; j < 4; ++j) {
            const Vector3<T> other = v.x.col(j);
            detail::add_scaled(data.alpha.col(4 * i + j), T(0.5) * dot(x, other), e);
            for (int c = 0; c < 3; ++c) {
                const Vector3<T> axis = v.axes.col(3 * j + c);
                detail::add_scaled(data.beta.col(12 * i + 3 * j + c), dot(x, axis), e);
            }
        }
    }
    return e;
}

/// U [N mm].
template <class T>
T shell_energy(const ShellData& data, const ShellCornersOf<T>& corners) {
    const ShellStrainsOf<T> e = shell_strains(data, corners);
    T sum(0);
    for (int k = 0; k < max_shell_strains; ++k) sum += e[k] * e[k];
    return T(0.5) * sum;
}

/// Gradient by the increments of the corners' poses (δx world, δθ own axes), corner by corner [N, N mm].
template <class T>
Vector24<T> shell_gradient(const ShellData& data, const ShellCornersOf<T>& corners) {
    const detail::ShellVectors<T> v(corners);
    const ShellStrainsOf<T> e = shell_strains(data, corners);
    const detail::ShellWeights<T> w(data, e);
    Vector24<T> g;
    for (int i = 0; i < 4; ++i) {
        Vector3<T> force = Vector3<T>::Zero(), moment = Vector3<T>::Zero();
        const Matrix3<T> back = v.axes.template block<3, 3>(0, 3 * i).transpose();
        for (int j = 0; j < 4; ++j) {
            force += w.alpha[4 * i + j] * v.x.col(j);
            force += v.axes.template block<3, 3>(0, 3 * j) * w.beta.template segment<3>(12 * i + 3 * j);
            // x·R(θ×b) = θ·(b × Rᵀx)
            moment += cross<T>(w.beta.template segment<3>(12 * j + 3 * i), back * v.x.col(j));
        }
        g.template segment<3>(6 * i) = force;
        g.template segment<3>(6 * i + 3) = moment;
    }
    return g;
}

/// The same with the Hessian: Σ_k ∂e_k ∂e_kᵀ + e_k ∂²e_k.
template <class T>
void shell_hessian(const ShellData& data, const ShellCornersOf<T>& corners, Vector24<T>& gradient,
                   Matrix24<T>& hessian) {
    constexpr int n = max_shell_strains;
    const detail::ShellVectors<T> v(corners);
    const ShellStrainsOf<T> e = shell_strains(data, corners);
    // Slopes of all strains, one column an increment, so that every product runs along the strains.
    Eigen::Matrix<T, n, 24> slopes;
    std::array<Eigen::Matrix<T, 3, 4>, 4> own;  // every position in each corner's axes
    for (int i = 0; i < 4; ++i) {
        const Matrix3<T> axes = v.axes.template block<3, 3>(0, 3 * i);
        Eigen::Matrix<T, 3, 4>& y = own[static_cast<std::size_t>(i)];
        for (int j = 0; j < 4; ++j) y.col(j) = axes.transpose() * v.x.col(j);
        for (int r = 0; r < 3; ++r) {
            const int r1 = (r + 1) % 3, r2 = (r + 2) % 3;
            ShellStrainsOf<T> force = ShellStrainsOf<T>::Zero(), moment = ShellStrainsOf<T>::Zero();
            for (int j = 0; j < 4; ++j) {
                detail::add_scaled<T>(data.alpha.col(4 * i + j), v.x(r, j), force);
                for (int c = 0; c < 3; ++c)
                    detail::add_scaled<T>(data.beta.col(12 * i + 3 * j + c), v.axes(r, 3 * j + c), force);
                detail::add_scaled<T>(data.beta.col(12 * j + 3 * i + r1), y(r2, j), moment);
                detail::add_scaled<T>(data.beta.col(12 * j + 3 * i + r2), -y(r1, j), moment);
            }
            slopes.col(6 * i + r) = force;
            slopes.col(6 * i + 3 + r) = moment;
        }
    }
    for (int j = 0; j < 24; ++j) gradient[j] = detail::product<T>(slopes.col(j), e);
    for (int j = 0; j < 24; ++j) {
        const ShellStrainsOf<T> slope = slopes.col(j);
        for (int i = 0; i <= j; ++i) hessian(i, j) = hessian(j, i) = detail::product<T>(slopes.col(i), slope);
    }

    const detail::ShellWeights<T> w(data, e);
    for (int i = 0; i < 4; ++i)
        for (int j = 0; j < 4; ++j) {
            hessian.template block<3, 3>(6 * i, 6 * j).diagonal().array() += w.alpha[4 * i + j];
            const Vector3<T> b = w.beta.template segment<3>(12 * i + 3 * j);
            // x_i·R_j(θ×b) by x_i and θ_j, then ½ x_i·R_j θ×(θ×b) by θ_j alone.
            const Matrix3<T> axes = v.axes.template block<3, 3>(0, 3 * j);
            const Matrix3<T> mixed = -axes * skew<T>(b);
            hessian.template block<3, 3>(6 * i, 6 * j + 3) += mixed;
            hessian.template block<3, 3>(6 * j + 3, 6 * i) += mixed.transpose();
            const Vector3<T> y = own[static_cast<std::size_t>(j)].col(i);
            Matrix3<T> turn = T(0.5) * (y * b.transpose() + b * y.transpose());
            turn.diagonal().array() -= dot(y, b);
            hessian.template block<3, 3>(6 * j + 3, 6 * j + 3) += turn;
        }
}

}  // namespace limbwright::solver
