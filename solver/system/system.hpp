#pragma once

#include <memory>
#include <vector>

#include "solver/system/symbolic_factor.hpp"

namespace limbwright::solver {

/// The immutable problem: what is free, which elements act, and the plan of its matrix. Copies share all but
/// what they replace, so that other numbers in one element cost a pointer.
class System {
public:
    using Elements = std::vector<std::shared_ptr<const Element>>;

    System(const Numbering& numbering, Elements elements);

    [[nodiscard]] const Numbering& numbering() const { return plan_->numbering; }
    [[nodiscard]] const Elements& elements() const { return elements_; }
    [[nodiscard]] const Plan& plan() const { return *plan_; }
    [[nodiscard]] const std::shared_ptr<const Plan>& shared_plan() const { return plan_; }
    /// The same system with one element changed.
    ///
    /// @throws std::invalid_argument unless it touches the same freedoms
    [[nodiscard]] System with(std::size_t index, std::shared_ptr<const Element> element) const;
    /// The same in place, for who rebuilds one system many times.
    ///
    /// @throws std::invalid_argument as above
    void replace(std::size_t index, std::shared_ptr<const Element> element);

private:
    Elements elements_;
    std::shared_ptr<const Plan> plan_;
};

}  // namespace limbwright::solver
