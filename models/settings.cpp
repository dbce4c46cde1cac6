#include "models/settings.hpp"

#include <algorithm>

#include "models/spacers.hpp"

namespace limbwright::models {
namespace {

void set_offset(SpacerStacks& stacks, double offset) {
    const double sum = total(stacks);
    stacks.left = {sum / 2 - offset};
    stacks.right = {sum / 2 + offset};
}

}  // namespace

std::vector<Setting> settings_of(const Bow&, double) {
    const Dimension* number = nullptr;
    return {
        {"limb number, top left", "one number stiffer", 1, number, "",
         [](const Layout& l) { return l.pairing.top_left; },
         [](Layout& l, double v) { l.pairing.top_left = v; }},
        {"limb number, top right", "one number stiffer", 1, number, "",
         [](const Layout& l) { return l.pairing.top_right; },
         [](Layout& l, double v) { l.pairing.top_right = v; }},
        {"limb number, bottom left", "one number stiffer", 1, number, "",
         [](const Layout& l) { return l.pairing.bottom_left; },
         [](Layout& l, double v) { l.pairing.bottom_left = v; }},
        {"limb number, bottom right", "one number stiffer", 1, number, "",
         [](const Layout& l) { return l.pairing.bottom_right; },
         [](Layout& l, double v) { l.pairing.bottom_right = v; }},
        {"spacers, top", "", 1, &units::length, "", [](const Layout& l) { return cam_offset(l.spacers_top); },
         [](Layout& l, double v) { set_offset(l.spacers_top, v); }},
        {"spacers, bottom", "", 1, &units::length, "",
         [](const Layout& l) { return cam_offset(l.spacers_bottom); },
         [](Layout& l, double v) { set_offset(l.spacers_bottom, v); }},
        {"guide, lateral", "1 mm left", 1, &units::length, "",
         [](const Layout& l) { return l.guide_lateral; }, [](Layout& l, double v) { l.guide_lateral = v; }},
        {"guide, angle", "1 deg", units::degree, &units::angle, "",
         [](const Layout& l) { return l.guide_angle; }, [](Layout& l, double v) { l.guide_angle = v; }},
        {"limb bolt, top", "one turn out", 1, number, "", [](const Layout& l) { return l.bolt_top; },
         [](Layout& l, double v) { l.bolt_top = v; }},
        {"limb bolt, bottom", "one turn out", 1, number, "", [](const Layout& l) { return l.bolt_bottom; },
         [](Layout& l, double v) { l.bolt_bottom = v; }},
    };
}

double thinnest_spacer(const Bow&) {
    return 0.5;
}

}  // namespace limbwright::models
