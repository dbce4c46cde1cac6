#include "solver/elements/element.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

namespace limbwright::solver {

int freedom_count(const std::vector<Touch>& touches) {
    int n = 0;
    for (const Touch& touch : touches) n += touch.width();
    if (n > max_element_freedoms)
        throw std::length_error(fmt::format("an element may touch {} freedoms, but this one touches {}",
                                            max_element_freedoms, n));
    return n;
}

int TouchList::place(const Touch& touch) {
    Touch otherwise = touch;
    otherwise.slides = !touch.slides;
    if (touch.scalar.value >= 0 && std::ranges::count(touches_, otherwise))
        throw std::invalid_argument("a scalar is an angle or a length, not both");
    const auto found = std::find(touches_.begin(), touches_.end(), touch);
    if (found != touches_.end()) return places_[static_cast<std::size_t>(found - touches_.begin())];
    touches_.push_back(touch);
    places_.push_back(size_);
    size_ = freedom_count(touches_);
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
    for (int i = 0; i < frame.joint_count; ++i) {
        const Joint& joint = frame.joints[static_cast<std::size_t>(i)];
        append({.scalar = joint.scalar, .slides = joint.kind == JointKind::slide});
    }
    return places;
}

}  // namespace limbwright::solver
