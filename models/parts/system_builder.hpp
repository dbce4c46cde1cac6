#pragma once

#include <memory>
#include <utility>

#include "solver/system/system.hpp"

namespace limbwright::models {

/// Collects nodes, points, scalars and elements while a bow is put together, all at rest.
class Builder {
public:
    solver::NodeId add_node(const solver::Pose& rest) {
        state_.nodes.push_back(rest);
        return solver::NodeId(static_cast<int>(state_.nodes.size()) - 1);
    }
    solver::PointId add_point(const solver::Vec3& rest) {
        state_.points.push_back(rest);
        return solver::PointId(static_cast<int>(state_.points.size()) - 1);
    }
    solver::ScalarId add_scalar() {
        state_.scalars.push_back(0);
        return solver::ScalarId(static_cast<int>(state_.scalars.size()) - 1);
    }
    /// @return the element's place in the system
    template <class E, class... Arguments>
    std::size_t add(Arguments&&... arguments) {
        elements_.push_back(std::make_shared<const E>(std::forward<Arguments>(arguments)...));
        return elements_.size() - 1;
    }

    /// Where a frame stands at rest.
    [[nodiscard]] solver::Pose at_rest(const solver::Frame& frame) const { return pose(frame, state_); }
    [[nodiscard]] const solver::State& rest() const { return state_; }
    [[nodiscard]] solver::System system() const {
        return {{static_cast<int>(state_.nodes.size()), static_cast<int>(state_.points.size()),
                 static_cast<int>(state_.scalars.size())},
                elements_};
    }

private:
    solver::State state_;
    solver::System::Elements elements_;
};

}  // namespace limbwright::models
