#pragma once

#include "solver/numbers/rotation.hpp"

namespace limbwright::solver {

/// Position and rotation of a frame in another: X_AB takes coordinates in B to coordinates in A.
template <class T>
struct PoseOf {
    RotationOf<T> rotation;
    Vector3<T> position = Vector3<T>::Zero();

    [[nodiscard]] Vector3<T> operator*(const Vector3<T>& x) const { return position + rotation * x; }
    [[nodiscard]] PoseOf operator*(const PoseOf& o) const {
        return {rotation * o.rotation, *this * o.position};
    }
    [[nodiscard]] PoseOf inverse() const {
        const RotationOf<T> back = rotation.inverse();
        return {back, -(back * position)};
    }
};
using Pose = PoseOf<double>;

/// A rotation from its matrix; the columns are the turned axes.
[[nodiscard]] inline Rotation rotation_from(const Mat3& R) {
    const Eigen::Quaterniond q(R);
    return Rotation{q.w(), q.vec()}.normalized();
}

/// The same numbers with another scalar, for instance complex ones for a derivative check.
template <class T, class S>
PoseOf<T> cast(const PoseOf<S>& X) {
    return {{T(X.rotation.w), X.rotation.v.template cast<T>()}, X.position.template cast<T>()};
}

/// exp on SE(3): the end of a segment whose strain ξ = (Γ, κ) is constant over unit length,
///     position = exp(κ/2) S(κ) Γ, rotation = exp κ   (S of `MidMap`).
[[nodiscard]] inline Pose exp_pose(const Vec6& xi) {
    const Vec3 gamma = xi.head<3>(), kappa = xi.tail<3>();
    const MidMap<double> m = mid_map(kappa.squaredNorm());
    const Mat3 S = (m.a * Mat3::Identity() + m.b * kappa * kappa.transpose()).inverse();
    return {exp<double>(kappa), exp<double>(0.5 * kappa) * Vec3(S * gamma)};
}

/// log on SE(3), the inverse of `exp_pose`.
[[nodiscard]] inline Vec6 log_pose(const Pose& X) {
    const Vec3 kappa = log(X.rotation);
    const MidMap<double> m = mid_map(kappa.squaredNorm());
    const Vec3 p = exp<double>(-0.5 * kappa) * X.position;
    Vec6 xi;
    xi << m.a * p + m.b * kappa.dot(p) * kappa, kappa;
    return xi;
}

}  // namespace limbwright::solver
