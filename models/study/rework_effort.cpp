#include "models/study/rework_effort.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

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

void add_spacers(std::vector<Change>& changes, const Layout& layout, int gain) {
    const std::array stacks{&layout.spacers_top.left, &layout.spacers_top.right, &layout.spacers_bottom.left,
                            &layout.spacers_bottom.right};
    for (std::size_t place = 0; place < stacks.size(); ++place)
        for (const double thickness : *stacks[place]) changes.push_back({thickness, place, gain});
}

}  // namespace

Rework rework(const std::vector<Setting>& settings, const Layout& from, const Layout& to) {
    Rework result;
    const auto count = [&](Work work, int parts) {
        if (parts > 0) result.work = std::max(result.work, work);
        result.parts += parts;
    };
    std::vector<Change> limbs, spacers;
    for (const Setting& setting : settings) {
        const double before = setting.get(from), after = setting.get(to);
        if (setting.work == Work::limbs) {
            const std::size_t pocket = limbs.size() / 2;
            limbs.push_back({before, pocket, -1});
            limbs.push_back({after, pocket, 1});
        } else if (setting.work != Work::spacers) {
            count(setting.work, differ(before, after));
        }
    }
    add_spacers(spacers, from, -1);
    add_spacers(spacers, to, 1);
    count(Work::spacers, moved_parts(std::move(spacers)));
    count(Work::limbs, moved_parts(std::move(limbs)));
    return result;
}

std::string to_text(const Rework& rework) {
    const char* tools = name_of_tools(rework.tools());
    if (rework.parts == 0) return tools;
    return fmt::format("{}, {} {}", tools, rework.parts, rework.parts == 1 ? "part" : "parts");
}

}  // namespace limbwright::models
