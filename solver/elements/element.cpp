#include "solver/elements/element.hpp"

#include <algorithm>

namespace limbwright::solver {

int freedom_count(const std::vector<Touch>& touches) {
    int n = 0;
    for (const Touch& touch : touches) n += touch.width();
    return n;
}

int TouchList::place(const Touch& touch) {
    const auto found = std::find(touches_.begin(), touches_.end(), touch);
    if (found != touches_.end()) return places_[static_cast<std::size_t>(found - touches_.begin())];
    touches_.push_back(touch);
    places_.push_back(size_);
    size_ += touch.width();
    return places_.back();
}

std::vector<int> TouchList::add(const Frame& frame) {
    std::vector<int> places;
    const auto append = [&](const Touch& touch) {
        const int first = place(touch);
        for (int i = 0; i < touch.width(); ++i) places.push_back(first + i);
    };
    if (frame.node.value >= 0)
        append({.node = frame.node});
    else if (frame.point.value >= 0)
        append({.point = frame.point});
    for (int i = 0; i < frame.joint_count; ++i)
        append({.scalar = frame.joints[static_cast<std::size_t>(i)].scalar});
    return places;
}

}  // namespace limbwright::solver
