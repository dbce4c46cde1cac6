#pragma once

#include <memory>

#include "solver/dual.hpp"
#include "solver/groove.hpp"
#include "solver/pose.hpp"

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

    /// Exit direction in the groove's axes for a target at p; NaN if p lies inside the groove.
    [[nodiscard]] double exit(const Vec2& p, double turn) const {
        return groove->tangent_direction(p, sense, expected - turn);
    }
};

/// A run from a sheave to a point p in its frame: length with the arc, slope by p, and where it leaves.
template <class T>
struct SheaveRun {
    T length, straight, psi;
    Vector3<T> slope;
};

template <class T>
SheaveRun<T> sheave_run(const Winding& winding, double turn, const Vector3<T>& p) {
    using std::cos, std::sin, std::sqrt;
    const Groove& groove = *winding.groove;
    const double sigma = winding.sense;
    SheaveRun<T> run;
    run.psi = T(winding.exit({real_part(p[0]), real_part(p[1])}, turn));
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
struct Run {
    double length = 0;
    Vec12 gradient = Vec12::Zero();
    Mat12 hessian = Mat12::Zero();
};

/// From the origin of one frame straight to the origin of another.
[[nodiscard]] Run straight_run(const Pose& from, const Pose& to);
/// From a sheave (first pose) to the origin of another frame.
[[nodiscard]] Run run_to_point(const Winding& winding, double turn, const Pose& sheave, const Pose& point);
/// From a sheave to another, tangent to both.
[[nodiscard]] Run run_to_sheave(const Winding& first, double first_turn, const Pose& first_pose,
                                const Winding& second, double second_turn, const Pose& second_pose);

/// Where a run between two sheaves leaves them [rad].
struct Exits {
    double first = 0, second = 0;
};
[[nodiscard]] Exits exits(const Winding& first, double first_turn, const Pose& first_pose,
                          const Winding& second, double second_turn, const Pose& second_pose);

/// Length, and its gradient by the two poses, of a run tangent to two sheaves:
/// with contact points P, unit vector u, normals N and tangents,
///     dℓ = u·(dP₂ − dP₁)|frozen + c·dψ,   c = (ρ₁(σ₁ − u·t₁), ρ₂(σ₂ + u·t₂)),   J dψ = −dg,   λ = J⁻ᵀ c,
/// g the two tangency equations; each of their slopes is a pair of opposite forces −λN.
template <class T>
struct RunGradient {
    T length;
    Eigen::Matrix<T, 12, 1> gradient;
};

template <class T>
RunGradient<T> sheave_to_sheave(const Winding& w1, const PoseOf<T>& X1, const Winding& w2,
                                const PoseOf<T>& X2, const Exits& exit) {
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

}  // namespace limbwright::solver
