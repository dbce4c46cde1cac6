#pragma once

#include <memory>

#include "solver/elements/groove.hpp"
#include "solver/numbers/dual.hpp"
#include "solver/numbers/pose.hpp"

/// Runs of a taut cable between sheaves and points, as functions of the poses they are fixed to.
///
/// A sheave's frame has its groove in the plane of its first two axes (u, v); w is the sheave's axis. The
/// cable leaves the groove where the tangent line in the plane passes through its target, n(ψ)·p = h(ψ), and
/// keeps a straight run to the target, out of the plane by p_w:
///
///     length = √(l² + p_w²) + σ (s(ψ) − s(anchor)),   l = σ (t·p − h′),   σ = ±1: leaves along ±t.
///
/// Out of the plane the exit's own motion counts: dψ = −σ n·dp / l. Then, with c = l/√(l² + p_w²) and ρ = h +
/// h″,
///
///     ∂length/∂p = c σ t − ρ (1 − c)/l n + p_w/√(l² + p_w²) w.
namespace limbwright::solver {

/// How a cable lies on a sheave, seen from one of its runs.
struct Winding {
    std::shared_ptr<const Groove> groove;
    double sense = 1;  ///< σ
    double expected =
        0;  ///< direction of the exit's normal, turn added; tells one turn from the next, ±π [rad]
    double anchor = 0;  ///< ψ where the cable's length in the groove begins [rad]

    /// Exit direction in the groove's axes for a target at (u, v); NaN if it lies inside the groove.
    template <class R>
    [[nodiscard]] R exit(const R& u, const R& v, const R& turn) const {
        return per_lane(
            [&](double a, double b, double turned) {
                return groove->tangent_direction({a, b}, sense, expected - turned);
            },
            u, v, turn);
    }
};

/// A run from a sheave to a point p in its frame: length with the arc, slope by p, and where it leaves.
template <class T>
struct SheaveRun {
    T length, straight, psi;
    Vector3<T> slope;
};

template <class T>
SheaveRun<T> sheave_run(const Winding& winding, const RealOf<T>& turn, const Vector3<T>& p) {
    using std::cos, std::sin, std::sqrt;
    const Groove& groove = *winding.groove;
    const double sigma = winding.sense;
    SheaveRun<T> run;
    run.psi = T(winding.exit(real_part(p[0]), real_part(p[1]), turn));
    {
        // One Newton step in T carries the derivatives of the implicit exit into it.
        const T c = cos(run.psi), s = sin(run.psi);
        const auto at = groove.at(run.psi);
        run.psi -= (c * p[0] + s * p[1] - at.h) / T(real_part(c * p[1] - s * p[0] - at.h1));
    }
    const T c = cos(run.psi), s = sin(run.psi);
    const auto at = groove.at(run.psi);
    const T in_plane = T(sigma) * (c * p[1] - s * p[0] - at.h1);
    run.straight = sqrt(in_plane * in_plane + p[2] * p[2]);
    const double anchored = real_part(groove.at(winding.anchor).h1 + groove.at(winding.anchor).H);
    run.length = run.straight + T(sigma) * (at.h1 + at.H - T(anchored));
    const T inverse = T(1) / run.straight;
    const T cosine = in_plane * inverse;
    // 1 − cos β = p_w² / (√(l²+p_w²) (√(l²+p_w²) + l)), which keeps its digits for small β.
    const T lift = p[2] * p[2] * inverse / (run.straight + in_plane);
    const T along = T(sigma) * cosine, across = (at.h + at.h2) * lift / in_plane;
    run.slope = Vector3<T>(-along * s - across * c, along * c - across * s, p[2] * inverse);
    return run;
}

/// A run's length with gradient and Hessian by the poses of its two ends, (δx, δθ own axes) of each.
template <class T>
struct RunOf {
    T length = T(0);
    Vector12<T> gradient = Vector12<T>::Zero();
    Matrix12<T> hessian = Matrix12<T>::Zero();
};
using Run = RunOf<double>;

/// Where a run between two sheaves leaves them [rad]; NaN if a sheave's centre lies inside the other's groove
/// or they are tilted so far against each other that the exits are not found.
template <class R>
struct ExitsOf {
    R first, second;
};
using Exits = ExitsOf<double>;
[[nodiscard]] Exits exits(const Winding& first, double first_turn, const Pose& first_pose,
                          const Winding& second, double second_turn, const Pose& second_pose);

/// The same in every lane.
template <class R>
ExitsOf<R> exits(const Winding& first, const R& first_turn, const PoseOf<R>& first_pose,
                 const Winding& second, const R& second_turn, const PoseOf<R>& second_pose) {
    const auto in_lane = [](const PoseOf<R>& X, int lane) {
        const Vector3<R>&v = X.rotation.v, &x = X.position;
        return Pose{{X.rotation.w[lane], {v[0][lane], v[1][lane], v[2][lane]}},
                    {x[0][lane], x[1][lane], x[2][lane]}};
    };
    ExitsOf<R> all;
    for (int lane = 0; lane < R::width; ++lane) {
        const Exits one = exits(first, first_turn[lane], in_lane(first_pose, lane), second, second_turn[lane],
                                in_lane(second_pose, lane));
        all.first.set(lane, one.first);
        all.second.set(lane, one.second);
    }
    return all;
}

/// Length, and its gradient by the two poses, of a run tangent to two sheaves:
/// with contact points P, unit vector u, normals N and tangents,
///     dℓ = u·(dP₂ − dP₁)|frozen + c·dψ,   c = (ρ₁(σ₁ − u·t₁), ρ₂(σ₂ + u·t₂)),   J dψ = −dg,   λ = J⁻ᵀ c,
/// g the two tangency equations; each of their slopes is a pair of opposite forces −λN.
template <class T>
struct RunGradient {
    T length;
    Vector12<T> gradient;
};

template <class T>
RunGradient<T> sheave_to_sheave(const Winding& w1, const PoseOf<T>& X1, const Winding& w2,
                                const PoseOf<T>& X2, const ExitsOf<RealOf<T>>& exit) {
    using std::cos, std::sin, std::sqrt;
    struct Touching {
        T psi, h1, H, rho;
        Vector3<T> P, N, t;  // contact point, normal and tangent, world
    };
    const auto side = [](const Winding& w, const PoseOf<T>& X, const T& psi) {
        const auto at = w.groove->at(psi);
        const T c = cos(psi), s = sin(psi);
        return Touching{psi,
                        at.h1,
                        at.H,
                        at.h + at.h2,
                        X * Vector3<T>(at.h * c - at.h1 * s, at.h * s + at.h1 * c, T(0)),
                        X.rotation * Vector3<T>(c, s, T(0)),
                        X.rotation * Vector3<T>(-s, c, T(0))};
    };
    Touching a = side(w1, X1, T(exit.first)), b = side(w2, X2, T(exit.second));
    T J11, J12, J21, J22, det;
    const auto jacobian = [&] {
        const Vector3<T> d = b.P - a.P;
        J11 = dot(a.t, d);
        J12 = b.rho * dot(a.N, b.t);
        J21 = a.rho * dot(b.N, a.t);
        J22 = -dot(b.t, d);
        det = J11 * J22 - J12 * J21;
    };
    jacobian();
    const Vector3<T> d0 = b.P - a.P;
    const T g1 = dot(a.N, d0), g2 = -dot(b.N, d0);
    a = side(w1, X1, a.psi - (J22 * g1 - J12 * g2) / det);
    b = side(w2, X2, b.psi - (J11 * g2 - J21 * g1) / det);
    jacobian();

    const Vector3<T> d = b.P - a.P;
    RunGradient<T> run;
    const T straight = sqrt(dot(d, d));
    const Vector3<T> u = (T(1) / straight) * d;
    const auto anchored = [](const Winding& w) {
        const auto at = w.groove->at(w.anchor);
        return T(at.h1 + at.H);
    };
    run.length =
        straight + T(w1.sense) * (a.h1 + a.H - anchored(w1)) + T(w2.sense) * (b.h1 + b.H - anchored(w2));
    const T c1 = a.rho * (T(w1.sense) - dot(u, a.t)), c2 = b.rho * (T(w2.sense) + dot(u, b.t));
    const T lambda1 = (J22 * c1 - J21 * c2) / det, lambda2 = (J11 * c2 - J12 * c1) / det;
    const Vector3<T> on_b = u - lambda1 * a.N,
                     at_a = -lambda2 * b.N;  // on the second body: at P₂, and minus at P₁
    const Vector3<T> force = on_b - at_a;
    const auto moment = [&](const PoseOf<T>& X) {
        return X.rotation.inverse() *
               Vector3<T>(cross<T>(b.P - X.position, on_b) - cross<T>(a.P - X.position, at_a));
    };
    run.gradient << -force, -moment(X1), force, moment(X2);
    return run;
}

namespace detail {

/// Adds ∂²f of a scalar function f(p), p = R₁ᵀ(x₂ − x₁), pulled back to (d, θ₁) in the first frame's axes, d
/// = R₁ᵀ(d₂ − d₁).
template <class T>
RunOf<T> run_from_local(const T& length, const Vector3<T>& slope, const Matrix3<T>& curvature,
                        const Vector3<T>& p, const Matrix3<T>& R) {
    const Matrix3<T> P = skew<T>(p), F = skew<T>(slope);
    const Matrix3<T> dd = curvature, dt = curvature * P - F;
    const Matrix3<T> turned = -P * curvature * P + F * P;
    const Matrix3<T> tt = T(0.5) * (turned + turned.transpose());
    const Matrix3<T> world_dd = R * dd * R.transpose(), world_dt = R * dt;
    RunOf<T> run;
    run.length = length;
    const Vector3<T> force = R * slope;
    run.gradient << -force, cross<T>(slope, p), force, Vector3<T>::Zero();
    Matrix12<T>& H = run.hessian;
    H.template block<3, 3>(0, 0) = H.template block<3, 3>(6, 6) = world_dd;
    H.template block<3, 3>(0, 6) = H.template block<3, 3>(6, 0) = -world_dd;
    H.template block<3, 3>(0, 3) = -world_dt;
    H.template block<3, 3>(6, 3) = world_dt;
    H.template block<3, 3>(3, 0) = -world_dt.transpose();
    H.template block<3, 3>(3, 6) = world_dt.transpose();
    H.template block<3, 3>(3, 3) = tt;
    return run;
}

template <class T, int N>
PoseOf<Dual<T, N>> lifted(const PoseOf<T>& X, int first) {
    // x + d and R exp θ ≈ R (1, θ/2): all that a first derivative sees.
    using D = Dual<T, N>;
    PoseOf<D> L = cast<D>(X);
    RotationOf<D> turn;
    for (int i = 0; i < 3; ++i) {
        L.position[i].slope[first + i] = T(1);
        turn.v[i].slope[first + 3 + i] = T(0.5);
    }
    L.rotation = L.rotation * turn;
    return L;
}

}  // namespace detail

/// From the origin of one frame straight to the origin of another.
template <class T>
RunOf<T> straight_run(const PoseOf<T>& from, const PoseOf<T>& to) {
    using std::sqrt;
    const Vector3<T> d = to.position - from.position;
    RunOf<T> run;
    run.length = sqrt(dot(d, d));
    const Vector3<T> u = (T(1) / run.length) * d;
    run.gradient << -u, Vector3<T>::Zero(), u, Vector3<T>::Zero();
    const Matrix3<T> across = (T(1) / run.length) * (Matrix3<T>::Identity() - u * u.transpose());
    run.hessian.template block<3, 3>(0, 0) = run.hessian.template block<3, 3>(6, 6) = across;
    run.hessian.template block<3, 3>(0, 6) = run.hessian.template block<3, 3>(6, 0) = -across;
    return run;
}

/// From a sheave (first pose) to the origin of another frame.
template <class T>
RunOf<T> run_to_point(const Winding& winding, const T& turn, const PoseOf<T>& sheave,
                      const PoseOf<T>& point) {
    using D = Dual<T, 3>;
    const Matrix3<T> R = sheave.rotation.matrix();
    const Vector3<T> p = R.transpose() * (point.position - sheave.position);
    Vector3<D> q;
    for (int i = 0; i < 3; ++i) q[i] = D(p[i], Vector3<T>(Vector3<T>::Unit(i)).array());
    const SheaveRun<D> run = sheave_run(winding, turn, q);
    Vector3<T> slope;
    Matrix3<T> curvature;
    for (int i = 0; i < 3; ++i) {
        slope[i] = run.slope[i].value;
        curvature.row(i) = run.slope[i].slope.matrix().transpose();
    }
    const Matrix3<T> symmetric = T(0.5) * (curvature + curvature.transpose());
    return detail::run_from_local<T>(run.length.value, slope, symmetric, p, R);
}

/// From a sheave to another, tangent to both.
template <class T>
RunOf<T> run_to_sheave(const Winding& w1, const T& turn1, const PoseOf<T>& X1, const Winding& w2,
                       const T& turn2, const PoseOf<T>& X2) {
    using D = Dual<T, 12>;
    const RunGradient<D> dual =
        sheave_to_sheave<D>(w1, detail::lifted<T, 12>(X1, 0), w2, detail::lifted<T, 12>(X2, 6),
                            exits(w1, turn1, X1, w2, turn2, X2));
    RunOf<T> run;
    run.length = dual.length.value;
    Matrix12<T> slopes;
    for (int i = 0; i < 12; ++i) {
        run.gradient[i] = dual.gradient[i].value;
        slopes.row(i) = dual.gradient[i].slope.matrix().transpose();
    }
    run.hessian = T(0.5) * (slopes + slopes.transpose());
    return run;
}

}  // namespace limbwright::solver
