#pragma once

#include <utility>

#include "solver/elements/element.hpp"

namespace limbwright::solver {

/// Which way a spring acts.
enum class Side { both, above, below };

/// A spring on a weighted sum of scalars q = Σ w s: energy ½ k (q − q₀)² − f q; a one-sided one is a stop and
/// acts only above (below) q₀. With k = 0 a dead load f, a torque on an angle or a force on a slide.
class Spring final : public Element {
public:
    struct Data {
        double stiffness = 0;  ///< k [N mm/rad or N/mm]
        double rest = 0;       ///< q₀ [rad or mm]
        Side side = Side::both;
        double load = 0;  ///< f [N mm or N]
    };
    Spring(std::vector<std::pair<ScalarId, double>> weights, const Data& data);

    [[nodiscard]] const std::vector<Touch>& touches() const override { return touches_; }
    [[nodiscard]] double energy(const State& state) const override;
    [[nodiscard]] std::complex<double> energy(const StateOf<std::complex<double>>& state) const override;
    void gradient(const State& state, ElementVector& g) const override;
    void gradient_and_hessian(const State& state, ElementVector& g, ElementMatrix& H) const override;

    [[nodiscard]] const Data& data() const { return data_; }
    [[nodiscard]] const std::vector<std::pair<ScalarId, double>>& weights() const { return weights_; }
    /// The weighted sum q.
    [[nodiscard]] double value(const State& state) const;

private:
    template <class T>
    [[nodiscard]] T energy_of(const StateOf<T>& state) const;
    [[nodiscard]] bool acts(double q) const;

    std::vector<std::pair<ScalarId, double>> weights_;
    Data data_;
    std::vector<Touch> touches_;
};

/// A force fixed in direction at the origin of a frame: energy −F·x [N].
class DeadForce final : public Element {
public:
    DeadForce(const Frame& frame, const Vec3& force);

    [[nodiscard]] const std::vector<Touch>& touches() const override { return list_.touches(); }
    [[nodiscard]] double energy(const State& state) const override;
    [[nodiscard]] std::complex<double> energy(const StateOf<std::complex<double>>& state) const override;
    void gradient(const State& state, ElementVector& g) const override;
    void gradient_and_hessian(const State& state, ElementVector& g, ElementMatrix& H) const override;

private:
    Frame frame_;
    Vec3 force_;
    TouchList list_;
    std::vector<int> places_;
};

}  // namespace limbwright::solver
