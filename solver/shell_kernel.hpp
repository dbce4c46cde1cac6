#pragma once

#include "solver/pose.hpp"

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
inline constexpr int max_shell_strains = 18;

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

}  // namespace detail

/// e_k; zero at rest, whatever the rigid motion.
template <class T>
ShellStrainsOf<T> shell_strains(const ShellData& data, const ShellCornersOf<T>& corners) {
    const detail::ShellVectors<T> v(corners);
    const Eigen::Matrix<T, 4, 4> xx = v.x.transpose() * v.x;
    Eigen::Matrix<T, 48, 1> xt;
    for (int i = 0; i < 4; ++i) xt.template segment<12>(12 * i) = v.axes.transpose() * v.x.col(i);
    const Eigen::Map<const Eigen::Matrix<T, 16, 1>> products(xx.data());
    return T(0.5) * (data.alpha.cast<T>() * products) + data.beta.cast<T>() * xt - data.rest.cast<T>();
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
    const Eigen::Matrix<T, 16, 1> weights = data.alpha.cast<T>().transpose() * e;
    const Eigen::Matrix<T, 48, 1> moments = data.beta.cast<T>().transpose() * e;
    Vector24<T> g;
    for (int i = 0; i < 4; ++i) {
        Vector3<T> force = Vector3<T>::Zero(), moment = Vector3<T>::Zero();
        const Matrix3<T> back = v.axes.template block<3, 3>(0, 3 * i).transpose();
        for (int j = 0; j < 4; ++j) {
            force += weights[4 * i + j] * v.x.col(j);
            force += v.axes.template block<3, 3>(0, 3 * j) * moments.template segment<3>(12 * i + 3 * j);
            // x·R(θ×b) = θ·(b × Rᵀx)
            moment += cross<T>(moments.template segment<3>(12 * j + 3 * i), back * v.x.col(j));
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
    const detail::ShellVectors<T> v(corners);
    const ShellStrainsOf<T> e = shell_strains(data, corners);
    std::array<Matrix3<T>, 4> back;             // to the corner's own axes
    std::array<Eigen::Matrix<T, 3, 4>, 4> own;  // every position in each corner's axes
    for (std::size_t j = 0; j < 4; ++j) {
        back[j] = v.axes.template block<3, 3>(0, 3 * static_cast<int>(j)).transpose();
        own[j] = back[j] * v.x;
    }
    Eigen::Matrix<T, 24, max_shell_strains> slopes;
    for (int k = 0; k < max_shell_strains; ++k)
        for (int i = 0; i < 4; ++i) {
            Vector3<T> force = Vector3<T>::Zero(), moment = Vector3<T>::Zero();
            for (int j = 0; j < 4; ++j) {
                force += T(data.alpha(k, 4 * i + j)) * v.x.col(j);
                const Vector3<T> b =
                    data.beta.template block<1, 3>(k, 12 * i + 3 * j).transpose().template cast<T>();
                force += v.axes.template block<3, 3>(0, 3 * j) * b;
                const Vector3<T> back_b =
                    data.beta.template block<1, 3>(k, 12 * j + 3 * i).transpose().template cast<T>();
                moment += cross<T>(back_b, own[static_cast<std::size_t>(i)].col(j));
            }
            slopes.template block<3, 1>(6 * i, k) = force;
            slopes.template block<3, 1>(6 * i + 3, k) = moment;
        }
    gradient = slopes * e;
    hessian = slopes * slopes.transpose();

    const Eigen::Matrix<T, 16, 1> weights = data.alpha.cast<T>().transpose() * e;
    const Eigen::Matrix<T, 48, 1> moments = data.beta.cast<T>().transpose() * e;
    for (int i = 0; i < 4; ++i)
        for (int j = 0; j < 4; ++j) {
            hessian.template block<3, 3>(6 * i, 6 * j).diagonal().array() += weights[4 * i + j];
            const Vector3<T> b = moments.template segment<3>(12 * i + 3 * j);
            // x_i·R_j(θ×b) by x_i and θ_j, then ½ x_i·R_j θ×(θ×b) by θ_j alone.
            const Matrix3<T> mixed = -v.axes.template block<3, 3>(0, 3 * j) * skew<T>(b);
            hessian.template block<3, 3>(6 * i, 6 * j + 3) += mixed;
            hessian.template block<3, 3>(6 * j + 3, 6 * i) += mixed.transpose();
            const Vector3<T> y = own[static_cast<std::size_t>(j)].col(i);
            Matrix3<T> turn = T(0.5) * (y * b.transpose() + b * y.transpose());
            turn.diagonal().array() -= dot(y, b);
            hessian.template block<3, 3>(6 * j + 3, 6 * j + 3) += turn;
        }
}

}  // namespace limbwright::solver
