#include "solver/cable_path.hpp"

namespace limbwright::solver {
namespace {

/// Adds ∂²f of a scalar function f(p), p = R₁ᵀ(x₂ − x₁), pulled back to (d, θ₁) in the first frame's axes, d
/// = R₁ᵀ(d₂ − d₁).
Run from_local(double length, const Vec3& slope, const Mat3& curvature, const Vec3& p, const Mat3& R) {
    const Mat3 P = skew(p), F = skew(slope);
    const Mat3 dd = curvature, dt = curvature * P - F;
    Mat3 tt = -P * curvature * P + F * P;
    tt = 0.5 * (tt + tt.transpose()).eval();
    const Mat3 world_dd = R * dd * R.transpose(), world_dt = R * dt;
    Run run;
    run.length = length;
    const Vec3 force = R * slope;
    run.gradient << -force, slope.cross(p), force, Vec3::Zero();
    Mat12& H = run.hessian;
    H.block<3, 3>(0, 0) = H.block<3, 3>(6, 6) = world_dd;
    H.block<3, 3>(0, 6) = H.block<3, 3>(6, 0) = -world_dd;
    H.block<3, 3>(0, 3) = -world_dt;
    H.block<3, 3>(6, 3) = world_dt;
    H.block<3, 3>(3, 0) = -world_dt.transpose();
    H.block<3, 3>(3, 6) = world_dt.transpose();
    H.block<3, 3>(3, 3) = tt;
    return run;
}

template <class T>
PoseOf<T> lifted(const Pose& X, int first) {
    // x + d and R exp θ ≈ R (1, θ/2): all that a first derivative sees.
    PoseOf<T> L = cast<T>(X);
    RotationOf<T> turn;
    for (int i = 0; i < 3; ++i) {
        L.position[i].slope[first + i] = 1;
        turn.v[i].slope[first + 3 + i] = 0.5;
    }
    L.rotation = L.rotation * turn;
    return L;
}

}  // namespace

Run straight_run(const Pose& from, const Pose& to) {
    const Vec3 d = to.position - from.position;
    const double length = d.norm();
    const Vec3 u = d / length;
    Run run;
    run.length = length;
    run.gradient << -u, Vec3::Zero(), u, Vec3::Zero();
    const Mat3 across = (Mat3::Identity() - u * u.transpose()) / length;
    run.hessian.block<3, 3>(0, 0) = run.hessian.block<3, 3>(6, 6) = across;
    run.hessian.block<3, 3>(0, 6) = run.hessian.block<3, 3>(6, 0) = -across;
    return run;
}

Run run_to_point(const Winding& winding, double turn, const Pose& sheave, const Pose& point) {
    using D = Dual<double, 3>;
    const Mat3 R = sheave.rotation.matrix();
    const Vec3 p = R.transpose() * (point.position - sheave.position);
    Vector3<D> q;
    for (int i = 0; i < 3; ++i) q[i] = D(p[i], Vec3::Unit(i).array());
    const SheaveRun<D> run = sheave_run(winding, turn, q);
    Vec3 slope;
    Mat3 curvature;
    for (int i = 0; i < 3; ++i) {
        slope[i] = run.slope[i].value;
        curvature.row(i) = run.slope[i].slope.matrix().transpose();
    }
    const Mat3 symmetric = 0.5 * (curvature + curvature.transpose());
    return from_local(run.length.value, slope, symmetric, p, R);
}

Exits exits(const Winding& w1, double turn1, const Pose& X1, const Winding& w2, double turn2,
            const Pose& X2) {
    const auto seen = [](const Pose& X, const Vec3& point) {
        const Vec3 p = X.inverse() * point;
        return Vec2(p.x(), p.y());
    };
    const auto contact = [](const Winding& w, const Pose& X, double psi) {
        const Vec2 P = w.groove->point(psi);
        return Vec3(X * Vec3(P.x(), P.y(), 0));
    };
    Exits e;
    Vec3 target = X2.position;
    // In one plane each round of exchanging targets squares the error; tilted, it gains a factor of the tilt
    // squared.
    for (int round = 0; round < 60; ++round) {
        const Exits before = e;
        e.first = w1.exit(seen(X1, target), turn1);
        e.second = w2.exit(seen(X2, contact(w1, X1, e.first)), turn2);
        target = contact(w2, X2, e.second);
        if (std::abs(e.first - before.first) + std::abs(e.second - before.second) < 1e-15) break;
    }
    return e;
}

Run run_to_sheave(const Winding& w1, double turn1, const Pose& X1, const Winding& w2, double turn2,
                  const Pose& X2) {
    using D = Dual<double, 12>;
    const RunGradient<D> dual =
        sheave_to_sheave<D>(w1, lifted<D>(X1, 0), w2, lifted<D>(X2, 6), exits(w1, turn1, X1, w2, turn2, X2));
    Run run;
    run.length = dual.length.value;
    for (int i = 0; i < 12; ++i) {
        run.gradient[i] = dual.gradient[i].value;
        run.hessian.row(i) = dual.gradient[i].slope.matrix().transpose();
    }
    run.hessian = 0.5 * (run.hessian + run.hessian.transpose()).eval();
    return run;
}

}  // namespace limbwright::solver
