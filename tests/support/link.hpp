#pragma once

#include "solver/elements/element.hpp"

namespace limbwright::testing {

using namespace limbwright::solver;

/// The simplest element between two frames: energy ½ d·W d of the vector d between their origins [N mm].
/// Objective only if W is a multiple of the identity.
class Link : public Element {
public:
    Link(const Frame& from, const Frame& to, const Mat3& weight)
        : from_(from), to_(to), weight_(weight), from_places_(list_.add(from)), to_places_(list_.add(to)) {}

    [[nodiscard]] const std::vector<Touch>& touches() const override { return list_.touches(); }
    [[nodiscard]] double energy(const State& state) const override { return energy_of(state); }
    [[nodiscard]] std::complex<double> energy(const StateOf<std::complex<double>>& state) const override {
        return energy_of(state);
    }

    void gradient(const State& state, ElementVector& g) const override {
        const FrameMotion from(from_, state), to(to_, state);
        const Vec3 force = weight_ * (to.pose().position - from.pose().position);
        g = ElementVector::Zero(list_.size());
        add_pulled_back(from, from_places_, Vec6(-along(force)), g);
        add_pulled_back(to, to_places_, along(force), g);
    }

    void gradient_and_hessian(const State& state, ElementVector& g, ElementMatrix& H) const override {
        const FrameMotion from(from_, state), to(to_, state);
        const Vec3 force = weight_ * (to.pose().position - from.pose().position);
        Vec12 own;
        own << -along(force), along(force);
        Mat12 hessian = Mat12::Zero();
        hessian.block<3, 3>(0, 0) = hessian.block<3, 3>(6, 6) = weight_;
        hessian.block<3, 3>(0, 6) = hessian.block<3, 3>(6, 0) = -weight_;
        g = ElementVector::Zero(list_.size());
        H = ElementMatrix::Zero(list_.size(), list_.size());
        add_pulled_back(from, from_places_, to, to_places_, own, hessian, g, H);
    }

protected:
    Frame from_, to_;
    Mat3 weight_;

private:
    static Vec6 along(const Vec3& force) {
        Vec6 f;
        f << force, Vec3::Zero();
        return f;
    }

    template <class T>
    [[nodiscard]] T energy_of(const StateOf<T>& state) const {
        const Vector3<T> d = pose(to_, state).position - pose(from_, state).position;
        const Vector3<T> force = weight_.cast<T>() * d;
        return T(0.5) * dot(d, force);
    }

    TouchList list_;
    std::vector<int> from_places_, to_places_;
};

}  // namespace limbwright::testing
