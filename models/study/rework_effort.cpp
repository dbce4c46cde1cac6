#include "models/study/rework_effort.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include "models/input/units.hpp"

namespace limbwright::models {
namespace {

/// A limb or a spacer that a place gains (+1) or loses (−1).
struct Change {
    double size = 0;  ///< number or thickness, by which parts are told apart
    std::size_t place = 0;
    int gain = 0;
};

/// Parts that go to another place, come in or go out.
int moved_parts(std::vector<Change> changes) {
    std::ranges::stable_sort(changes, {}, &Change::size);
    int parts = 0;
    for (std::size_t i = 0; i < changes.size();) {
        const double size = changes[i].size;
        std::array<int, 4> net{};
        for (; i < changes.size() && !differ(size, changes[i].size); ++i)
            net[changes[i].place] += changes[i].gain;
        int gains = 0, losses = 0;
        for (const int n : net) (n > 0 ? gains : losses) += std::abs(n);
        parts += std::max(gains, losses);
    }
    return parts;
}

void add_limbs(std::vector<Change>& changes, const Pairing& pairing, LimbKind kind, int gain) {
    changes.push_back({pairing.top_left, 0, gain});
    changes.push_back({pairing.bottom_left, 2, gain});
    if (kind == LimbKind::solid) return;
    changes.push_back({pairing.top_right, 1, gain});
    changes.push_back({pairing.bottom_right, 3, gain});
}

void add_spacers(std::vector<Change>& changes, const Layout& layout, int gain) {
    const std::array stacks{&layout.spacers_top.left, &layout.spacers_top.right, &layout.spacers_bottom.left,
                            &layout.spacers_bottom.right};
    for (std::size_t place = 0; place < stacks.size(); ++place)
        for (const double thickness : *stacks[place]) changes.push_back({thickness, place, gain});
}

int changed_keys(const Layout& from, const Layout& to) {
    return differ(from.guide_lateral, to.guide_lateral) + differ(from.guide_angle, to.guide_angle) +
           differ(from.bolt_top, to.bolt_top) + differ(from.bolt_bottom, to.bolt_bottom);
}

int changed_twists(const Layout& from, const Layout& to) {
    int count = differ(from.twist_string, to.twist_string);
    for (std::size_t i = 0; i < 2; ++i)
        count += differ(from.twist_cables[i], to.twist_cables[i]) +
                 differ(from.twist_yoke_left[i], to.twist_yoke_left[i]) +
                 differ(from.twist_yoke_right[i], to.twist_yoke_right[i]);
    return count;
}

}  // namespace

Rework rework(const Layout& from, const Layout& to, LimbKind kind) {
    std::vector<Change> limbs, spacers;
    add_limbs(limbs, from.pairing, kind, -1);
    add_limbs(limbs, to.pairing, kind, 1);
    add_spacers(spacers, from, -1);
    add_spacers(spacers, to, 1);
    const std::array counts{
        std::pair{ReworkKind::keys, changed_keys(from, to)},
        std::pair{ReworkKind::twists, changed_twists(from, to)},
        std::pair{ReworkKind::spacers, moved_parts(std::move(spacers))},
        std::pair{ReworkKind::limbs, moved_parts(std::move(limbs))},
    };
    Rework result;
    for (const auto& [needed, parts] : counts) {
        if (parts > 0) result.kind = needed;
        result.parts += parts;
    }
    return result;
}

std::string to_text(const Rework& rework) {
    const auto parts = [&](const char* kind) {
        return fmt::format("{}, {} {}", kind, rework.parts, rework.parts == 1 ? "part" : "parts");
    };
    switch (rework.kind) {
        case ReworkKind::none:
            return "none";
        case ReworkKind::keys:
            return parts("keys");
        case ReworkKind::twists:
            return parts("twists");
        case ReworkKind::spacers:
            return parts("spacers");
        case ReworkKind::limbs:
            break;
    }
    return parts("limbs");
}

}  // namespace limbwright::models
