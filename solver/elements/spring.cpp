#include "solver/elements/spring.hpp"

#include "solver/numbers/scalar.hpp"

namespace limbwright::solver {

Spring::Spring(std::vector<std::pair<ScalarId, double>> weights, const Data& data)
    : weights_(std::move(weights)), data_(data) {
    for (const auto& [scalar, weight] : weights_) touches_.push_back({.scalar = scalar});
    (void)freedom_count(touches_);
}

bool Spring::acts(double q) const {
    return data_.side == Side::both || (data_.side == Side::above ? q > data_.rest : q < data_.rest);
}

template <class T>
T Spring::energy_of(const StateOf<T>& state) const {
    T q = T(0);
    for (const auto& [scalar, weight] : weights_) q += weight * state.at(scalar);
    T energy = -data_.load * q;
    const T stretch = q - data_.rest;
    if (acts(real_part(q))) energy += 0.5 * data_.stiffness * stretch * stretch;
    return energy;
}

double Spring::energy(const State& state) const {
    return energy_of(state);
}

std::complex<double> Spring::energy(const StateOf<std::complex<double>>& state) const {
    return energy_of(state);
}

double Spring::value(const State& state) const {
    double q = 0;
    for (const auto& [scalar, weight] : weights_) q += weight * state.at(scalar);
    return q;
}

void Spring::gradient(const State& state, ElementVector& g) const {
    const double q = value(state);
    const double slope = (acts(q) ? data_.stiffness * (q - data_.rest) : 0) - data_.load;
    g.resize(static_cast<int>(weights_.size()));
    for (int i = 0; i < g.size(); ++i) g[i] = slope * weights_[static_cast<std::size_t>(i)].second;
}

void Spring::gradient_and_hessian(const State& state, ElementVector& g, ElementMatrix& H) const {
    gradient(state, g);
    ElementVector w(g.size());
    for (int i = 0; i < g.size(); ++i) w[i] = weights_[static_cast<std::size_t>(i)].second;
    H = ((acts(value(state)) ? data_.stiffness : 0) * w).lazyProduct(w.transpose());
}

DeadForce::DeadForce(const Frame& frame, const Vec3& force)
    : frame_(frame), force_(force), places_(list_.add(frame)) {}

double DeadForce::energy(const State& state) const {
    return -force_.dot(pose(frame_, state).position);
}

std::complex<double> DeadForce::energy(const StateOf<std::complex<double>>& state) const {
    return -dot(force_.cast<std::complex<double>>(), pose(frame_, state).position);
}

void DeadForce::gradient(const State& state, ElementVector& g) const {
    g = ElementVector::Zero(list_.size());
    Vec6 own;
    own << -force_, Vec3::Zero();
    add_pulled_back(FrameMotion(frame_, state), places_, own, g);
}

void DeadForce::gradient_and_hessian(const State& state, ElementVector& g, ElementMatrix& H) const {
    gradient(state, g);
    const FrameMotion::Second B = FrameMotion(frame_, state).second(-force_, Vec3::Zero());
    H = ElementMatrix::Zero(list_.size(), list_.size());
    for (int i = 0; i < B.rows(); ++i)
        for (int j = 0; j < B.cols(); ++j)
            H(places_[static_cast<std::size_t>(i)], places_[static_cast<std::size_t>(j)]) += B(i, j);
}

}  // namespace limbwright::solver
