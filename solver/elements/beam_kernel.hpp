#pragma once

#include "solver/numbers/pose.hpp"

/// The geometrically exact two-node beam segment, as functions of the poses of its ends.
///
/// Strain: ξ = log(X₁⁻¹ X₂) on SE(3), (Γ, φ) in the axes of the middle frame R_m = R₁ exp(φ/2):
///
///     φ = log(R₁ᵀ R₂),   Γ = S⁻¹(φ) v,   v = R_mᵀ (x₂ − x₁),
///
/// exact for any constant strain (arc, helix) and for any rigid motion. Energy ½ (ξ − ξ₀)ᵀ K (ξ − ξ₀); K
/// [N/mm, N, N mm] comes from `beam`. Sources: helicoidal segments of Borri & Bottasso, Int. J. Numer.
/// Methods Eng. 37 (1994), and Sonneville, Cardona & Brüls, Comput. Methods Appl. Mech. Eng. 268 (2014);
/// strain from the relative rotation after Crisfield & Jelenić, Proc. R. Soc. A 455 (1999). First and second
/// variations are derived below.
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
    const T sign = T(choose(real_part(q.w) < 0, -1, 1));
    q = {sign * q.w, sign * q.v};
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
template <class T>
Vector3<T> apply(const MidMap<T>& m, const Vector3<T>& phi, const Vector3<T>& x) {
    return m.a * x + (m.b * dot(phi, x)) * phi;
}

/// P(x) with P δφ = δ(S⁻¹) x.
template <class T>
Matrix3<T> change_of_map(const MidMap<T>& m, const Vector3<T>& phi, const Vector3<T>& x) {
    const T phi_x = dot(phi, x);
    Matrix3<T> P =
        (T(2) * m.a1 * x + T(2) * m.b1 * phi_x * phi) * phi.transpose() + m.b * phi * x.transpose();
    P.diagonal().array() += m.b * phi_x;
    return P;
}

/// Generalised forces in the axes of the middle frame. With (n, m) = K(ξ − ξ₀) and β = α₂ − α₁, γ = (α₁ +
/// α₂)/2 the difference and the mean of the ends' turns,
///     δE = f·d + h·γ + q·β,   f = S⁻¹ n,   p = m + P(v)ᵀ n,   h = f × v,   q = S⁻¹ p + t × h/2,
/// because δφ = S⁻¹β, δv = d + v × μ with the middle frame's own turn μ = γ − t × β/2.
template <class T>
struct MiddleForces {
    Vector3<T> n, f, p, h, q;
};

template <class T>
MiddleForces<T> middle_forces(const BeamDataOf<T>& data, const BeamFrame<T>& F) {
    Vector6<T> strain;
    strain << apply<T>(F.map, F.phi, F.v), F.phi;
    const Vector6<T> stress = data.stiffness * (strain - data.rest);
    MiddleForces<T> forces;
    forces.n = stress.template head<3>();
    forces.f = apply<T>(F.map, F.phi, forces.n);
    forces.p = stress.template tail<3>() + change_of_map(F.map, F.phi, F.v).transpose() * forces.n;
    forces.h = cross<T>(forces.f, F.v);
    forces.q = apply<T>(F.map, F.phi, forces.p) + T(0.5) * cross<T>(F.t, forces.h);
    return forces;
}

}  // namespace detail

/// Strain energy [N mm].
template <class T>
T beam_energy(const BeamDataOf<T>& data, const PoseOf<T>& X1, const PoseOf<T>& X2) {
    const detail::BeamFrame<T> F = detail::beam_frame(X1, X2);
    Vector6<T> xi;
    xi << detail::apply<T>(F.map, F.phi, F.v), F.phi;
    xi -= data.rest;
    T twice = T(0);
    for (int i = 0; i < 6; ++i)
        for (int j = 0; j < 6; ++j) twice += xi[i] * data.stiffness(i, j) * xi[j];
    return T(0.5) * twice;
}

/// Gradient by (x₁, θ₁, x₂, θ₂): forces in world axes [N], moments in the ends' own axes [N mm]; what the
/// rest of the structure must apply to hold the segment. Zero when unstrained, whatever the rigid motion.
template <class T>
Eigen::Matrix<T, 12, 1> beam_gradient(const BeamDataOf<T>& data, const PoseOf<T>& X1, const PoseOf<T>& X2) {
    const detail::BeamFrame<T> F = detail::beam_frame(X1, X2);
    const detail::MiddleForces<T> forces = detail::middle_forces(data, F);
    const Vector3<T> force = F.middle * forces.f;
    Eigen::Matrix<T, 12, 1> gradient;
    gradient << -force, F.half * Vector3<T>(T(0.5) * forces.h - forces.q), force,
        F.half.inverse() * Vector3<T>(T(0.5) * forces.h + forces.q);
    return gradient;
}

/// Gradient as above and its Hessian by the same increments: the exact second derivative of the energy along
/// x + d, R exp θ, hence symmetric away from equilibrium too.
///
/// In the middle frame's axes each of f, h, q also turns with its axes by μ, so that the Hessian is the
/// symmetric part of the slopes of (f + μ × f, h + μ × h, q + μ × q) by (d, γ, β), with δt = (1 + t·t)/4 β.
/// Below W.. are second derivatives of the strain energy by φ and v, [x] the matrix of x ×, and T = [t]/2.
template <class T>
void beam_gradient_and_hessian(const BeamDataOf<T>& data, const PoseOf<T>& X1, const PoseOf<T>& X2,
                               Eigen::Matrix<T, 12, 1>& gradient, Eigen::Matrix<T, 12, 12>& hessian) {
    const detail::BeamFrame<T> F = detail::beam_frame(X1, X2);
    const detail::MiddleForces<T> forces = detail::middle_forces(data, F);
    const MidMap<T>& m = F.map;
    const Vector3<T>&phi = F.phi, &n = forces.n;
    const Matrix3<T> I = Matrix3<T>::Identity();
    const Matrix3<T> S_inverse = m.a * I + m.b * phi * phi.transpose();
    const Matrix3<T> Pv = detail::change_of_map(m, phi, F.v);
    const Matrix3<T> Knn = data.stiffness.template topLeftCorner<3, 3>();
    const Matrix3<T> Knm = data.stiffness.template topRightCorner<3, 3>();
    const Matrix3<T> Kmm = data.stiffness.template bottomRightCorner<3, 3>();

    const Matrix3<T> n_phi = Knn * Pv + Knm;
    const Matrix3<T> Wvv = S_inverse * Knn * S_inverse;
    const Matrix3<T> Wvphi = S_inverse * n_phi + detail::change_of_map(m, phi, n);
    // Second derivative of n·S⁻¹(φ)v by φ alone.
    const T phi_n = dot(phi, n), phi_v = dot(phi, F.v), n_v = dot(n, F.v);
    const Vector3<T> mixed =
        T(2) * m.b1 * (phi_v * n + phi_n * F.v) + T(2) * (m.a2 * n_v + m.b2 * phi_n * phi_v) * phi;
    Matrix3<T> Wphiphi = Kmm + Knm.transpose() * Pv + Pv.transpose() * n_phi;
    Wphiphi +=
        phi * mixed.transpose() + mixed * phi.transpose() + m.b * (n * F.v.transpose() + F.v * n.transpose());
    Wphiphi.diagonal().array() += T(2) * (m.a1 * n_v + m.b1 * phi_n * phi_v);

    const Matrix3<T> V = skew<T>(F.v), Th = T(0.5) * skew<T>(F.t);
    const Matrix3<T> f = skew<T>(forces.f), h = skew<T>(forces.h), q = skew<T>(forces.q);
    const Matrix3<T> WvphiS = Wvphi * S_inverse;
    const Matrix3<T> dd = Wvv;
    const Matrix3<T> dc = Wvv * V - f;
    const Matrix3<T> db = WvphiS - dc * Th;
    const Matrix3<T> N = f * V - V * (Wvv * V);
    const Matrix3<T> cc = N - T(0.5) * h;
    const Matrix3<T> cb_slope = -V * WvphiS - N * Th;  // of h by β, without its turn
    const Matrix3<T> cb = cb_slope + h * Th + T(0.5) * q;
    Matrix3<T> bb = S_inverse * (Wphiphi * S_inverse) - WvphiS.transpose() * V * Th +
                    detail::change_of_map(m, phi, forces.p) * S_inverse + Th * cb_slope + q * Th;
    bb = (T(0.5) * (bb + bb.transpose())).eval();

    const Matrix3<T> R = F.middle.matrix(), E1 = F.half.matrix(), E2 = E1.transpose();
    const Matrix3<T> mean = T(0.25) * cc + bb, half_cb = T(0.5) * cb;
    const Matrix3<T> both = half_cb + half_cb.transpose();
    const Matrix3<T> Hdd = R * dd * R.transpose();
    const Matrix3<T> Hd1 = R * (T(0.5) * dc - db) * E1.transpose(),
                     Hd2 = R * (T(0.5) * dc + db) * E2.transpose();
    const Matrix3<T> H11 = E1 * (mean - both) * E1.transpose(), H22 = E2 * (mean + both) * E2.transpose();
    const Matrix3<T> H12 = E1 * (T(0.25) * cc - bb + half_cb - half_cb.transpose()) * E2.transpose();
    hessian << Hdd, -Hd1, -Hdd, -Hd2,                 //
        -Hd1.transpose(), H11, Hd1.transpose(), H12,  //
        -Hdd, Hd1, Hdd, Hd2,                          //
        -Hd2.transpose(), H12.transpose(), Hd2.transpose(), H22;
    const Vector3<T> force = R * forces.f;
    gradient << -force, E1 * (T(0.5) * forces.h - forces.q), force, E2 * (T(0.5) * forces.h + forces.q);
}

}  // namespace limbwright::solver
