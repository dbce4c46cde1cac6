#pragma once

#include <optional>
#include <span>

#include "solver/elements/cable_path.hpp"
#include "solver/elements/element.hpp"

/// A cable's length along its contacts with first and second derivatives, as a function of the state.
namespace limbwright::solver {

/// The groove of a contact and how a cable lies in it.
struct Sheave {
    std::shared_ptr<const Groove> groove{};
    double sense = 1;  ///< side on which the run to the next contact leaves, ±t; for the last contact, to the
                       ///< previous
    double expected_next =
        0;  ///< direction of the exit's normal toward the next contact, joint at zero [rad]
    double expected_previous = 0;  ///< the same toward the previous contact
    double anchor = 0;             ///< where the cable ends in the groove, for a first or last contact [rad]

    bool operator==(const Sheave& o) const {
        return (groove == o.groove || *groove == *o.groove) && sense == o.sense &&
               expected_next == o.expected_next && expected_previous == o.expected_previous &&
               anchor == o.anchor;
    }
};

/// One thing that a cable meets: a point (the frame's origin), or a sheave whose groove lies in the frame's
/// u-v plane. T is the scalar of the frame's offsets.
template <class T>
struct ContactOf {
    FrameOf<T> frame{};  ///< a sheave's last joint, if any, is its turn about +w
    std::optional<Sheave> sheave{};
};
using Contact = ContactOf<double>;

/// Turn of a sheave by its frame's last joint; zero where it has none [rad].
template <class S, class T>
RealOf<T> turn_of(const ContactOf<S>& contact, const StateOf<T>& state) {
    const int n = contact.frame.joint_count;
    if (n == 0) return RealOf<T>(0);
    return real_part(state.at(contact.frame.joints[static_cast<std::size_t>(n - 1)].scalar));
}

/// The run that leaves a sheave for the next contact.
inline Winding toward_next(const Sheave& s) {
    return {s.groove, s.sense, s.expected_next, s.anchor};
}
/// The run that comes from the previous contact. A middle sheave is left on the other side; on the last the
/// side is given toward the previous contact.
inline Winding toward_previous(const Sheave& s, bool last) {
    return {s.groove, last ? s.sense : -s.sense, s.expected_previous, s.anchor};
}

/// The run with its ends exchanged.
template <class T>
RunOf<T> reversed(const RunOf<T>& run) {
    RunOf<T> r;
    r.length = run.length;
    r.gradient << run.gradient.template tail<6>(), run.gradient.template head<6>();
    r.hessian << run.hessian.template bottomRightCorner<6, 6>(),
        run.hessian.template bottomLeftCorner<6, 6>(), run.hessian.template topRightCorner<6, 6>(),
        run.hessian.template topLeftCorner<6, 6>();
    return r;
}

/// The run from contact i to the next, between the poses of their frames.
template <class T>
RunOf<T> run_between(std::span<const ContactOf<T>> contacts, std::size_t i, const StateOf<T>& state,
                     const PoseOf<T>& A, const PoseOf<T>& B) {
    const ContactOf<T>&a = contacts[i], &b = contacts[i + 1];
    const bool last = i + 2 == contacts.size();
    if (a.sheave && b.sheave)
        return run_to_sheave<T>(toward_next(*a.sheave), turn_of(a, state), A,
                                toward_previous(*b.sheave, last), turn_of(b, state), B);
    if (a.sheave) return run_to_point<T>(toward_next(*a.sheave), turn_of(a, state), A, B);
    if (b.sheave) return reversed(run_to_point<T>(toward_previous(*b.sheave, last), turn_of(b, state), B, A));
    return straight_run<T>(A, B);
}

/// Length of the whole path [mm]; its gradient and Hessian by the element's increments come in g and H.
///
/// @param places  of each contact's increments in the element's vectors of `size` numbers
template <class T>
T length_derivatives(std::span<const ContactOf<T>> contacts, const std::vector<std::vector<int>>& places,
                     int size, const StateOf<T>& state, ElementVectorOf<T>& g, ElementMatrixOf<T>& H) {
    g = ElementVectorOf<T>::Zero(size);
    H = ElementMatrixOf<T>::Zero(size, size);
    T length = T(0);
    std::optional<FrameMotionOf<T>> here(FrameMotionOf<T>(contacts[0].frame, state));
    for (std::size_t i = 0; i + 1 < contacts.size(); ++i) {
        FrameMotionOf<T> next(contacts[i + 1].frame, state);
        const RunOf<T> r = run_between<T>(contacts, i, state, here->pose(), next.pose());
        length += r.length;
        add_pulled_back<T>(*here, places[i], next, places[i + 1], r.gradient, r.hessian, g, H);
        here.emplace(next);
    }
    return length;
}

}  // namespace limbwright::solver
