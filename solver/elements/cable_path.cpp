#include "solver/elements/cable_path.hpp"

#include <limits>

namespace limbwright::solver {

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
    Exits e{0, 0};
    Vec3 target = X2.position;
    // In one plane each round of exchanging targets squares the error; tilted, it gains a factor of the tilt
    // squared. A Newton step follows where the run is made, so that rounding of angles counted in turns and
    // of places in the world is exact enough.
    constexpr double rounding = 1e-13;
    for (int round = 0; round < 60; ++round) {
        const Exits before = e;
        const Vec2 at_a = seen(X1, target);
        e.first = w1.exit(at_a.x(), at_a.y(), turn1);
        const Vec2 at_b = seen(X2, contact(w1, X1, e.first));
        e.second = w2.exit(at_b.x(), at_b.y(), turn2);
        target = contact(w2, X2, e.second);
        const double changed = std::abs(e.first - before.first) + std::abs(e.second - before.second);
        // Not a number goes out at once.
        if (!(changed > rounding * (1 + std::abs(e.first) + std::abs(e.second)))) return e;
    }
    constexpr double nowhere = std::numeric_limits<double>::quiet_NaN();
    return {nowhere, nowhere};
}

}  // namespace limbwright::solver
