#pragma once

#include <optional>

#include "solver/elements/cable_kernel.hpp"
#include "solver/elements/element.hpp"

namespace limbwright::solver {

/// What a cable does along its path at one state.
struct CablePath {
    double length = 0;                ///< with the arcs in the grooves [mm]
    std::vector<Vec3> line;           ///< points along it, world [mm]
    std::vector<double> fleet_angle;  ///< of every sheave contact, out of the groove's plane [rad]
    double least_wound = 0;           ///< shortest arc left in an end groove [mm]; infinite without one
    bool off_groove = false;          ///< an exit lies past the end of its groove
};

/// An elastic, tension-only, frictionless cable along its whole path: energy EA/(2 L₀) ⟨ℓ − L₀⟩²; or, while a
/// net of cables is being tightened, a dead tension T: energy T ℓ.
class Cable final : public Element {
public:
    struct Data {
        double stiffness = 0;                  ///< EA [N]
        double natural_length = 0;             ///< L₀ [mm]
        std::optional<double> dead_tension{};  ///< [N]
    };

    Cable(std::vector<Contact> contacts, const Data& data);

    [[nodiscard]] const std::vector<Touch>& touches() const override { return list_.touches(); }
    [[nodiscard]] double energy(const State& state) const override;
    [[nodiscard]] std::complex<double> energy(const StateOf<std::complex<double>>& state) const override;
    void gradient(const State& state, ElementVector& g) const override;
    void gradient_and_hessian(const State& state, ElementVector& g, ElementMatrix& H) const override;

    [[nodiscard]] const Data& data() const { return data_; }
    [[nodiscard]] const std::vector<Contact>& contacts() const { return contacts_; }
    /// Where each contact's increments stand in the element's vectors.
    [[nodiscard]] const std::vector<std::vector<int>>& places() const { return places_; }
    /// The same path with other data.
    [[nodiscard]] Cable with(const Data& data) const;
    [[nodiscard]] double length(const State& state) const;
    [[nodiscard]] double tension(const State& state) const;  ///< zero when slack [N]
    [[nodiscard]] CablePath path(const State& state) const;
    /// Gradient of the length by the element's own increments: a unit tension's forces.
    [[nodiscard]] ElementVector length_gradient(const State& state) const;
    /// Force [N] and moment about the frame's origin [N mm], world axes, that the cable exerts on each
    /// contact's frame.
    struct Pull {
        Vec3 force, moment;
    };
    [[nodiscard]] std::vector<Pull> pulls(const State& state) const;

private:
    template <class T>
    [[nodiscard]] T length_of(const StateOf<T>& state) const;
    template <class T>
    [[nodiscard]] T energy_of(const StateOf<T>& state) const;

    std::vector<Contact> contacts_;
    Data data_;
    TouchList list_;
    std::vector<std::vector<int>> places_;
};

}  // namespace limbwright::solver
