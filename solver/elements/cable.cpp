#include "solver/elements/cable.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace limbwright::solver {
namespace {

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
            return sheave_run<T>(w, turn_of(sheave, state), S.inverse() * P.position).length;
        };
        if (a.sheave && b.sheave) {
            const Winding wa = toward_next(*a.sheave), wb = toward_previous(*b.sheave, last);
            total += sheave_to_sheave<T>(
                         wa, A, wb, B,
                         exits(wa, turn_of(a, state), real_pose(A), wb, turn_of(b, state), real_pose(B)))
                         .length;
        } else if (a.sheave) {
            total += to_point(toward_next(*a.sheave), a, A, B);
        } else if (b.sheave) {
            total += to_point(toward_previous(*b.sheave, last), b, B, A);
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
        const FrameMotion A(contacts_[i].frame, state), B(contacts_[i + 1].frame, state);
        const Run r = run_between<double>(contacts_, i, state, A.pose(), B.pose());
        add_pulled_back<double>(A, places_[i], r.gradient.head<6>(), g);
        add_pulled_back<double>(B, places_[i + 1], r.gradient.tail<6>(), g);
    }
    return g;
}

void Cable::gradient(const State& state, ElementVector& g) const {
    g = tension(state) * length_gradient(state);
}

void Cable::gradient_and_hessian(const State& state, ElementVector& g, ElementMatrix& H) const {
    const double length = length_derivatives<double>(contacts_, places_, list_.size(), state, g, H);
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
        const Pose ends[2] = {pose(contacts_[i].frame, state), pose(contacts_[i + 1].frame, state)};
        const Run r = run_between<double>(contacts_, i, state, ends[0], ends[1]);
        for (std::size_t k = 0; k < 2; ++k) {
            const Pose& X = ends[k];
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
            return w.exit(p.x(), p.y(), turn_of(sheave, state));
        };
        const bool last = i + 2 == n;
        if (a.sheave && b.sheave) {
            const Exits e = exits(toward_next(*a.sheave), turn_of(a, state), A,
                                  toward_previous(*b.sheave, last), turn_of(b, state), B);
            leaves[i] = e.first;
            arrives[i + 1] = e.second;
        } else if (a.sheave) {
            leaves[i] = exit(toward_next(*a.sheave), a, A, B);
        } else if (b.sheave) {
            arrives[i + 1] = exit(toward_previous(*b.sheave, last), b, B, A);
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
        const Sheave& s = *contact.sheave;
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
