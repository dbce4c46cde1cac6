#include "solver/cable.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace limbwright::solver {
namespace {

/// Turn of a sheave by its frame's last joint; zero where it has none [rad].
template <class T>
double turn(const Contact& contact, const StateOf<T>& state) {
    const int n = contact.frame.joint_count;
    return n == 0 ? 0 : real_part(state.at(contact.frame.joints[static_cast<std::size_t>(n - 1)].scalar));
}

Winding toward_next(const Contact& contact) {
    const Contact::Sheave& s = *contact.sheave;
    return {s.groove, s.sense, s.expected_next, s.anchor};
}

/// A middle sheave is left on the other side; on the last the side is given toward the previous contact.
Winding toward_previous(const Contact& contact, bool last) {
    const Contact::Sheave& s = *contact.sheave;
    return {s.groove, last ? s.sense : -s.sense, s.expected_previous, s.anchor};
}

/// The run with its ends exchanged.
Run reversed(const Run& run) {
    Run r;
    r.length = run.length;
    r.gradient << run.gradient.tail<6>(), run.gradient.head<6>();
    r.hessian << run.hessian.bottomRightCorner<6, 6>(), run.hessian.bottomLeftCorner<6, 6>(),
        run.hessian.topRightCorner<6, 6>(), run.hessian.topLeftCorner<6, 6>();
    return r;
}

template <class T>
PoseOf<double> real_pose(const PoseOf<T>& X) {
    Pose p;
    p.rotation.w = real_part(X.rotation.w);
    for (int i = 0; i < 3; ++i) {
        p.rotation.v[i] = real_part(X.rotation.v[i]);
        p.position[i] = real_part(X.position[i]);
    }
    return p;
}

}  // namespace

Cable::Cable(std::vector<Contact> contacts, const Data& data) : contacts_(std::move(contacts)), data_(data) {
    for (const Contact& contact : contacts_) places_.push_back(list_.add(contact.frame));
}

Cable Cable::with(const Data& data) const {
    Cable cable = *this;
    cable.data_ = data;
    return cable;
}

Run Cable::run(std::size_t i, const State& state) const {
    const Contact &a = contacts_[i], &b = contacts_[i + 1];
    const Pose A = pose(a.frame, state), B = pose(b.frame, state);
    const bool last = i + 2 == contacts_.size();
    if (a.sheave && b.sheave)
        return run_to_sheave(toward_next(a), turn(a, state), A, toward_previous(b, last), turn(b, state), B);
    if (a.sheave) return run_to_point(toward_next(a), turn(a, state), A, B);
    if (b.sheave) return reversed(run_to_point(toward_previous(b, last), turn(b, state), B, A));
    return straight_run(A, B);
}

template <class T>
T Cable::length_of(const StateOf<T>& state) const {
    using std::sqrt;
    T total = T(0);
    for (std::size_t i = 0; i + 1 < contacts_.size(); ++i) {
        const Contact &a = contacts_[i], &b = contacts_[i + 1];
        const PoseOf<T> A = pose(a.frame, state), B = pose(b.frame, state);
        const bool last = i + 2 == contacts_.size();
        const auto to_point = [&](const Winding& w, const Contact& sheave, const PoseOf<T>& S,
                                  const PoseOf<T>& P) {
            return sheave_run<T>(w, turn(sheave, state), S.inverse() * P.position).length;
        };
        if (a.sheave && b.sheave) {
            const Winding wa = toward_next(a), wb = toward_previous(b, last);
            total +=
                sheave_to_sheave<T>(wa, A, wb, B,
                                    exits(wa, turn(a, state), real_pose(A), wb, turn(b, state), real_pose(B)))
                    .length;
        } else if (a.sheave) {
            total += to_point(toward_next(a), a, A, B);
        } else if (b.sheave) {
            total += to_point(toward_previous(b, last), b, B, A);
        } else {
            const Vector3<T> d = B.position - A.position;
            total += sqrt(dot(d, d));
        }
    }
    return total;
}

template <class T>
T Cable::energy_of(const StateOf<T>& state) const {
    const T length = length_of(state);
    if (data_.dead_tension) return *data_.dead_tension * length;
    const T stretch = length - data_.natural_length;
    if (real_part(stretch) < 0) return T(0);  // false for NaN, which must be seen
    return (0.5 * data_.stiffness / data_.natural_length) * stretch * stretch;
}

double Cable::energy(const State& state) const {
    return energy_of(state);
}

std::complex<double> Cable::energy(const StateOf<std::complex<double>>& state) const {
    return energy_of(state);
}

double Cable::length(const State& state) const {
    return length_of(state);
}

double Cable::tension(const State& state) const {
    if (data_.dead_tension) return *data_.dead_tension;
    return std::max(0., data_.stiffness * (length(state) / data_.natural_length - 1));
}

ElementVector Cable::length_gradient(const State& state) const {
    ElementVector g = ElementVector::Zero(list_.size());
    for (std::size_t i = 0; i + 1 < contacts_.size(); ++i) {
        const Run r = run(i, state);
        add_pulled_back(FrameMotion(contacts_[i].frame, state), places_[i], r.gradient.head<6>(), g);
        add_pulled_back(FrameMotion(contacts_[i + 1].frame, state), places_[i + 1], r.gradient.tail<6>(), g);
    }
    return g;
}

void Cable::gradient(const State& state, ElementVector& g) const {
    g = tension(state) * length_gradient(state);
}

void Cable::gradient_and_hessian(const State& state, ElementVector& g, ElementMatrix& H) const {
    g = ElementVector::Zero(list_.size());
    H = ElementMatrix::Zero(list_.size(), list_.size());
    double length = 0;
    std::optional<FrameMotion> here(FrameMotion(contacts_[0].frame, state));
    for (std::size_t i = 0; i + 1 < contacts_.size(); ++i) {
        FrameMotion next(contacts_[i + 1].frame, state);
        const Run r = run(i, state);
        length += r.length;
        add_pulled_back(*here, places_[i], next, places_[i + 1], r.gradient, r.hessian, g, H);
        here.emplace(next);
    }
    if (data_.dead_tension) {
        g *= *data_.dead_tension;
        H *= *data_.dead_tension;
        return;
    }
    const double rate = data_.stiffness / data_.natural_length;
    const double tension = rate * (length - data_.natural_length);
    if (tension < 0) {
        g.setZero();
        H.setZero();
        return;
    }
    H *= tension;
    H += (rate * g).lazyProduct(g.transpose());
    g *= tension;
}

std::vector<Cable::Pull> Cable::pulls(const State& state) const {
    std::vector<Pull> pulls(contacts_.size(), Pull{Vec3::Zero(), Vec3::Zero()});
    const double T = tension(state);
    for (std::size_t i = 0; i + 1 < contacts_.size(); ++i) {
        const Run r = run(i, state);
        for (std::size_t k = 0; k < 2; ++k) {
            const Pose X = pose(contacts_[i + k].frame, state);
            pulls[i + k].force -= T * r.gradient.segment<3>(6 * static_cast<int>(k));
            pulls[i + k].moment -=
                T * (X.rotation * Vec3(r.gradient.segment<3>(6 * static_cast<int>(k) + 3)));
        }
    }
    return pulls;
}

CablePath Cable::path(const State& state) const {
    CablePath path;
    path.length = length(state);
    path.least_wound = std::numeric_limits<double>::infinity();
    const std::size_t n = contacts_.size();
    std::vector<double> leaves(n, 0), arrives(n, 0);
    for (std::size_t i = 0; i + 1 < n; ++i) {
        const Contact &a = contacts_[i], &b = contacts_[i + 1];
        const Pose A = pose(a.frame, state), B = pose(b.frame, state);
        const auto exit = [&](const Winding& w, const Contact& sheave, const Pose& S, const Pose& P) {
            const Vec3 p = S.inverse() * P.position;
            return w.exit({p.x(), p.y()}, turn(sheave, state));
        };
        const bool last = i + 2 == n;
        if (a.sheave && b.sheave) {
            const Exits e =
                exits(toward_next(a), turn(a, state), A, toward_previous(b, last), turn(b, state), B);
            leaves[i] = e.first;
            arrives[i + 1] = e.second;
        } else if (a.sheave) {
            leaves[i] = exit(toward_next(a), a, A, B);
        } else if (b.sheave) {
            arrives[i + 1] = exit(toward_previous(b, last), b, B, A);
        }
    }
    const auto at_exit = [&](std::size_t i, double psi) {
        const Vec2 P = contacts_[i].sheave->groove->point(psi);
        return pose(contacts_[i].frame, state) * Vec3(P.x(), P.y(), 0);
    };
    for (std::size_t i = 0; i < n; ++i) {
        const Contact& contact = contacts_[i];
        if (!contact.sheave) {
            path.line.push_back(pose(contact.frame, state).position);
            continue;
        }
        const Contact::Sheave& s = *contact.sheave;
        const double from = i == 0 ? s.anchor : arrives[i], to = i + 1 == n ? s.anchor : leaves[i];
        for (const double psi : {from, to}) path.off_groove |= !s.groove->covers(psi);
        if (i == 0 || i + 1 == n)
            path.least_wound = std::min(path.least_wound,
                                        s.sense * s.groove->arc(s.anchor, i == 0 ? leaves[i] : arrives[i]));
        const int steps = std::max(1, static_cast<int>(std::ceil(std::abs(to - from) / 0.1)));
        for (int k = 0; k <= steps; ++k) path.line.push_back(at_exit(i, from + (to - from) * k / steps));
        const Pose S = pose(contact.frame, state);
        for (const int side : {-1, 1}) {
            if ((side < 0 && i == 0) || (side > 0 && i + 1 == n)) continue;
            const std::size_t j = side < 0 ? i - 1 : i + 1;
            const Vec3 here = at_exit(i, side < 0 ? arrives[i] : leaves[i]);
            const Vec3 there = contacts_[j].sheave ? at_exit(j, side < 0 ? leaves[j] : arrives[j])
                                                   : pose(contacts_[j].frame, state).position;
            const Vec3 d = S.rotation.inverse() * Vec3(there - here);
            path.fleet_angle.push_back(std::atan2(d.z(), std::hypot(d.x(), d.y())));
        }
    }
    path.off_groove |= path.least_wound < 0;
    return path;
}

}  // namespace limbwright::solver
