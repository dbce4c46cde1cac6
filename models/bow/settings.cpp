#include "models/bow/settings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "models/bow/spacers.hpp"

namespace limbwright::models {
namespace {

using Settings = std::vector<Setting>;

/// A number of the layout itself.
template <double Layout::*Number>
Setting direct(const std::string& name, const std::string& step_name, double step, const Dimension* dimension,
               const std::string& definition) {
    return {name,
            step_name,
            step,
            dimension,
            definition,
            [](const Layout& layout) { return layout.*Number; },
            [](Layout& layout, double value) { layout.*Number = value; }};
}

/// Twist of one of two parts.
template <std::array<double, 2> Layout::*Turns, std::size_t Which>
Setting twist_of(const std::string& part, const std::string& definition) {
    return {"twist, " + part,
            "+1 turn",
            1,
            nullptr,
            "turns of twist added to " + definition + ", each of which shortens it",
            [](const Layout& layout) { return (layout.*Turns)[Which]; },
            [](Layout& layout, double value) { (layout.*Turns)[Which] = value; }};
}

/// The number of one limb, or of the two halves of a solid one.
template <double Pairing::*First, double Pairing::*Second>
Setting limb_number(const std::string& pocket) {
    return {"limb number, " + pocket,
            "+1",
            1,
            nullptr,
            "deflection number of the limb in that pocket; higher is stiffer",
            [](const Layout& layout) { return layout.pairing.*First; },
            [](Layout& layout, double value) {
                layout.pairing.*First = value;
                layout.pairing.*Second = value;
            }};
}

template <SpacerStacks Layout::*Stacks>
Setting cam_offset_by_spacers(const std::string& end, double spacer) {
    return {
        "spacers, " + end,
        fmt::format("{:.3g} mm to right", spacer),
        spacer,
        &units::length,
        "offset of the cam's middle from the bow's plane, positive left; one step moves a spacer from the "
        "left stack to the right",
        [](const Layout& layout) { return cam_offset(layout.*Stacks); },
        [](Layout& layout, double value) {
            SpacerStacks& stacks = layout.*Stacks;
            const double change = value - cam_offset(stacks);
            stacks.left.push_back(-change);
            stacks.right.push_back(change);
        }};
}

void add_limbs(Settings& s, const Bow& bow) {
    using P = Pairing;
    if (bow.limb.kind == LimbKind::solid) {
        s.push_back(limb_number<&P::top_left, &P::top_right>("top"));
        s.push_back(limb_number<&P::bottom_left, &P::bottom_right>("bottom"));
        return;
    }
    s.push_back(limb_number<&P::top_left, &P::top_left>("top left"));
    s.push_back(limb_number<&P::top_right, &P::top_right>("top right"));
    s.push_back(limb_number<&P::bottom_left, &P::bottom_left>("bottom left"));
    s.push_back(limb_number<&P::bottom_right, &P::bottom_right>("bottom right"));
}

/// @param cable  order of the yoke's cable in `Cables::cables`
template <std::size_t Cable>
void add_yoke(Settings& s, const std::string& end) {
    const std::string of = " leg of the yoke on the " + end + " axle";
    s.push_back(twist_of<&Layout::twist_yoke_left, Cable>(end + " yoke, left leg", "the left" + of));
    s.push_back(twist_of<&Layout::twist_yoke_right, Cable>(end + " yoke, right leg", "the right" + of));
}

void add_twists(Settings& s, CableSystem system) {
    s.push_back(direct<&Layout::twist_string>(
        "twist, string", "+1 turn", 1, nullptr,
        "turns of twist added to each half of the string, each of which shortens it"));
    const auto of = [](const std::string& which) { return "the cable of the " + which + "take-up track"; };
    if (system == CableSystem::single_cam) {
        s.push_back(twist_of<&Layout::twist_cables, 0>("take-up cable", of("")));
        add_yoke<0>(s, "top");
        return;
    }
    s.push_back(twist_of<&Layout::twist_cables, 0>("top take-up cable", of("top ")));
    s.push_back(twist_of<&Layout::twist_cables, 1>("bottom take-up cable", of("bottom ")));
    if (system == CableSystem::yoked) add_yoke<0>(s, "bottom");
    if (system == CableSystem::yoked || system == CableSystem::mixed) add_yoke<1>(s, "top");
}

}  // namespace

std::vector<Setting> settings_of(const Bow& bow, double spacer) {
    Settings s;
    add_limbs(s, bow);
    s.push_back(cam_offset_by_spacers<&Layout::spacers_top>("top", spacer));
    s.push_back(cam_offset_by_spacers<&Layout::spacers_bottom>("bottom", spacer));
    if (bow.guide.kind != GuideKind::none) {
        s.push_back(direct<&Layout::guide_lateral>("guide, lateral", "1 mm left", 1, &units::length,
                                                   "shift of the cable guide, positive left"));
        s.push_back(direct<&Layout::guide_angle>("guide, angle", "1 deg", units::degree, &units::angle,
                                                 "turn of the cable guide's lateral axis about Z, positive "
                                                 "when its left side goes to the archer"));
    }
    s.push_back(direct<&Layout::bolt_top>("limb bolt, top", "+1 turn out", 1, nullptr,
                                          "turns of the limb bolt, positive out"));
    s.push_back(direct<&Layout::bolt_bottom>("limb bolt, bottom", "+1 turn out", 1, nullptr,
                                             "turns of the limb bolt, positive out"));
    add_twists(s, bow.cables.system);
    return s;
}

double thinnest_spacer(const Bow& bow) {
    double thinnest = HUGE_VAL;
    for (const SpacerStacks* stacks : {&bow.layout.spacers_top, &bow.layout.spacers_bottom})
        for (const std::vector<double>* stack : {&stacks->left, &stacks->right})
            for (const double spacer : *stack) thinnest = std::min(thinnest, spacer);
    return std::isfinite(thinnest) ? thinnest : 0.5;
}

}  // namespace limbwright::models
