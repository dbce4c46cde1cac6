#pragma once

#include "solver/dual.hpp"
#include "solver/pose.hpp"

/// The geometrically exact two-node beam segment, as functions of the poses of its ends.
///
/// Strain: ξ = log(X₁⁻¹ X₂) on SE(3), (Γ, φ) in the axes of the middle frame R_m = R₁ exp(φ/2):
///
///     φ = log(R₁ᵀ R₂),   Γ = S⁻¹(φ) v,   v = R_mᵀ (x₂ − x₁),
///
/// exact for any constant strain (arc, helix) and for any rigid motion. Energy ½ (ξ − ξ₀)ᵀ K (ξ − ξ₀); K [N/mm, N,
/// N mm] comes from `beam`. Sources: helicoidal segments of Borri & Bottasso, Int. J. Numer. Methods Eng. 37
/// (1994), and Sonneville, Cardona & Brüls, Comput. Methods Appl. Mech. Eng. 268 (2014); strain from the relative
/// rotation after Crisfield & Jelenić, Proc. R. Soc. A 455 (1999). First and second variations are derived below.
namespace limbwright::solver {

/// Stiffness and strain at rest of one segment.
template <class T>
struct BeamDataOf {
    Matrix6<T> stiffness = Matrix6<T>::Zero();
    Vector6<T> rest = Vector6<T>::Zero();
};

namespace detail {

/// What both derivatives need. E = exp(φ/2), t = n tan(φ/4).
template <class T>
struct BeamFrame {
    RotationOf<T> half, middle;
    Vector3<T> phi, v, t;
    MidMap<T> map;
};

template <class T>
BeamFrame<T> beam_frame(const PoseOf<T>& X1, const PoseOf<T>& X2) {
    using std::sqrt;
    BeamFrame<T> f;
    RotationOf<T> q = X1.rotation.inverse() * X2.rotation;
    if (real_part(q.w) < 0) q = {-q.w, -q.v};
    f.phi = log(q);
    f.map = mid_map<T>(dot(f.phi, f.phi));
    const T scale = T(1) / sqrt(T(2) * (T(1) + q.w));
    f.half = {(T(1) + q.w) * scale, q.v * scale};
    f.middle = X1.rotation * f.half;
    f.v = f.middle.inverse() * Vector3<T>(X2.position - X1.position);
    f.t = q.v / (T(1) + q.w);
    return f;
}

/// S⁻¹ x.
template <class T, class C>
Vector3<T> apply(const MidMap<C>& m, const Vector3<T>& phi, const Vector3<T>& x) {
    return m.a * x + (m.b * dot(phi, x)) * phi;
}

/// Generalised forces in the axes of the middle frame: of the relative displacement (f), and of the two ends'
/// turns (g1, g2). From
///     δE = f·(δd + v × μ) + (m + g)·S⁻¹β,   μ = (α₁+α₂)/2 − t × β/2,   β = α₂ − α₁,
/// with (n, m) = K(ξ − ξ₀), f = S⁻¹ n, and g the derivative of n·S⁻¹(φ)v by φ at fixed v.
template <class T>
struct MiddleForces {
    Vector3<T> f, g1, g2;
};

template <class T, class C>
MiddleForces<T> middle_forces(const Matrix6<C>& K, const Vector6<C>& rest, const MidMap<T>& m,
                              const Vector3<T>& phi, const Vector3<T>& v, const Vector3<T>& t) {
    const T phi_v = dot(phi, v);
    Vector3<T> n = Vector3<T>::Zero(), moment = Vector3<T>::Zero();
    for (int j = 0; j < 3; ++j) {
        const T gamma = m.a * v[j] + m.b * phi_v * phi[j] - rest[j];
        const T kappa = phi[j] - rest[3 + j];
        for (int i = 0; i < 3; ++i) {
            n[i] += gamma * K(i, j) + kappa * K(i, 3 + j);
            moment[i] += gamma * K(3 + i, j) + kappa * K(3 + i, 3 + j);
        }
    }
    const T phi_n = dot(phi, n);
    const T along = T(2) * (m.a1 * dot(n, v) + m.b1 * phi_v * phi_n);
    const Vector3<T> g = along * phi + (m.b * phi_v) * n + (m.b * phi_n) * v;
    const Vector3<T> f = m.a * n + (m.b * phi_n) * phi;
    const Vector3<T> h = cross<T>(f, v);
    const Vector3<T> q = apply<T, T>(m, phi, moment + g) - T(0.5) * cross<T>(h, t);
    return {f, T(0.5) * h - q, T(0.5) * h + q};
}

}  // namespace detail

/// Strain energy [N mm].
template <class T>
T beam_energy(const BeamDataOf<T>& data, const PoseOf<T>& X1, const PoseOf<T>& X2) {
    const detail::BeamFrame<T> F = detail::beam_frame(X1, X2);
    Vector6<T> xi;
    xi << detail::apply<T, T>(F.map, F.phi, F.v), F.phi;
    xi -= data.rest;
    T twice = T(0);
    for (int i = 0; i < 6; ++i)
        for (int j = 0; j < 6; ++j) twice += xi[i] * data.stiffness(i, j) * xi[j];
    return T(0.5) * twice;
}

/// Gradient by (x₁, θ₁, x₂, θ₂): forces in world axes [N], moments in the ends' own axes [N mm]; what the rest of
/// the structure must apply to hold the segment. Zero when unstrained, whatever the rigid motion.
template <class T>
Eigen::Matrix<T, 12, 1> beam_gradient(const BeamDataOf<T>& data, const PoseOf<T>& X1, const PoseOf<T>& X2) {
    const detail::BeamFrame<T> F = detail::beam_frame(X1, X2);
    const auto forces = detail::middle_forces<T, T>(data.stiffness, data.rest, F.map, F.phi, F.v, F.t);
    const Vector3<T> force = F.middle * forces.f;
    Eigen::Matrix<T, 12, 1> gradient;
    gradient << -force, F.half * forces.g1, force, F.half.inverse() * forces.g2;
    return gradient;
}

/// Gradient as above and its Hessian by the same increments: the exact second derivative of the energy along
/// x + d, R exp θ, hence symmetric away from equilibrium too.
///
/// In the middle frame's axes and nine directions (d, α₁, α₂), d = R_mᵀ(d₂ − d₁), α₁ = Eᵀθ₁, α₂ = Eθ₂:
///     δφ = S⁻¹β,   δv = d + v × μ,   δt = (1 + t·t)/4 β;
/// each force also turns with its axes, by μ, μ − α₁ and μ − α₂; the symmetric part is the Hessian.
template <class T>
void beam_gradient_and_hessian(const BeamDataOf<T>& data, const PoseOf<T>& X1, const PoseOf<T>& X2,
                               Eigen::Matrix<T, 12, 1>& gradient, Eigen::Matrix<T, 12, 12>& hessian) {
    using D = Dual<T, 9>;
    using Slopes = Eigen::Matrix<T, 3, 9>;
    const detail::BeamFrame<T> F = detail::beam_frame(X1, X2);
    const Matrix3<T> I = Matrix3<T>::Identity();

    Slopes beta, mu;
    beta << Matrix3<T>::Zero(), -I, I;
    const Matrix3<T> half_t = T(0.5) * skew<T>(F.t);
    mu << Matrix3<T>::Zero(), T(0.5) * I + half_t, T(0.5) * I - half_t;
    const Matrix3<T> S_inverse = F.map.a * I + F.map.b * F.phi * F.phi.transpose();
    const Slopes d_phi = S_inverse * beta;
    Slopes d_v = skew<T>(F.v) * mu;
    d_v.template leftCols<3>() += I;
    const T t_scale = T(0.25) * (T(1) + dot(F.t, F.t));

    Vector3<D> phi, v, t;
    for (int i = 0; i < 3; ++i) {
        phi[i] = D(F.phi[i], d_phi.row(i).transpose().array());
        v[i] = D(F.v[i], d_v.row(i).transpose().array());
        t[i] = D(F.t[i], t_scale * beta.row(i).transpose().array());
    }
    const auto d_s = (T(2) * (F.phi.transpose() * d_phi)).transpose().array().eval();
    const auto lift = [&](const T& value, const T& slope) { return D(value, slope * d_s); };
    const MidMap<T>& m = F.map;
    const D none(T(0));
    const MidMap<D> map{lift(m.a, m.a1), lift(m.a1, m.a2), none, lift(m.b, m.b1), lift(m.b1, m.b2), none};
    const auto forces = detail::middle_forces<D, T>(data.stiffness, data.rest, map, phi, v, t);

    Eigen::Matrix<T, 9, 9> H;
    const auto put_rows = [&](int row, const Vector3<D>& w, const Slopes& turn) {
        const Vector3<T> value(w[0].value, w[1].value, w[2].value);
        const Slopes turned = -(skew<T>(value) * turn);
        for (int i = 0; i < 3; ++i) H.row(row + i) = w[i].slope.matrix().transpose() + turned.row(i);
    };
    Slopes turn1 = mu, turn2 = mu;
    turn1.template middleCols<3>(3) -= I;
    turn2.template rightCols<3>() -= I;
    put_rows(0, forces.f, mu);
    put_rows(3, forces.g1, turn1);
    put_rows(6, forces.g2, turn2);

    const Matrix3<T> axes[3] = {F.middle.matrix(), F.half.matrix(), F.half.inverse().matrix()};
    Matrix3<T> block[3][3];
    for (int i = 0; i < 3; ++i)
        for (int j = 0; j <= i; ++j) {
            const Matrix3<T> symmetric = T(0.5) * (H.template block<3, 3>(3 * i, 3 * j) +
                                                   H.template block<3, 3>(3 * j, 3 * i).transpose());
            block[i][j] = axes[i] * symmetric * axes[j].transpose();
            if (i != j) block[j][i] = block[i][j].transpose();
        }
    hessian << block[0][0], -block[0][1], -block[0][0], -block[0][2],  //
        -block[1][0], block[1][1], block[1][0], block[1][2],           //
        -block[0][0], block[0][1], block[0][0], block[0][2],           //
        -block[2][0], block[2][1], block[2][0], block[2][2];
    const auto value = [](const Vector3<D>& w) { return Vector3<T>(w[0].value, w[1].value, w[2].value); };
    const Vector3<T> force = axes[0] * value(forces.f);
    gradient << -force, axes[1] * value(forces.g1), force, axes[2] * value(forces.g2);
}

}  // namespace limbwright::solver
