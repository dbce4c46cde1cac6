#include "models/bow/settings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <stdexcept>
#include <utility>

#include "models/bow/sides.hpp"
#include "models/bow/spacers.hpp"

namespace limbwright::models {
namespace {

using Settings = std::vector<Setting>;

/// Lest the arrow leave the bow's plane or its level [mm].
constexpr double most_rest = 2;

/// By place, as `Pairing` has them.
constexpr std::array limb_bits{built::top_left_limb, built::top_right_limb, built::bottom_left_limb,
                               built::bottom_right_limb};

/// A number of the layout.
///
/// @param number  from a layout (const or not) to a reference to it
template <class Number>
Setting in_layout(Setting setting, Number number) {
    setting.get = [number](const Layout& layout) -> double { return number(layout); };
    setting.set = [number](Layout& layout, double value) { number(layout) = value; };
    setting.take = [number](Layout& to, const Layout& from) { number(to) = number(from); };
    return setting;
}

/// A number of the bow itself, which layouts move.
///
/// @param number  from a bow (const or not) to a reference to it
template <class Number>
Setting in_bow(Setting setting, Number number) {
    const std::string& key = setting.key;
    setting.in_bow = true;
    setting.get = [key](const Layout& layout) {
        const auto found = layout.moved.find(key);
        return found == layout.moved.end() ? 0.0 : found->second;
    };
    setting.set = [key](Layout& layout, double value) {
        if (value == 0)
            layout.moved.erase(key);
        else
            layout.moved[key] = value;
    };
    setting.take = [get = setting.get, set = setting.set](Layout& to, const Layout& from) {
        set(to, get(from));
    };
    setting.get_of = [number](const Bow& bow) -> double { return number(bow); };
    setting.set_of = [number](Bow& bow, double value) { number(bow) = value; };
    return setting;
}

// How sure a person is of a number is a guess of what a careful owner knows of a bow, wide on purpose.

/// @param places  pockets whose limb it is: one, or both of one end for a solid limb
Setting limb_number(const char* pocket, std::vector<std::size_t> places) {
    constexpr std::array numbers{&Pairing::top_left, &Pairing::top_right, &Pairing::bottom_left,
                                 &Pairing::bottom_right};
    std::string key = fmt::format("limb_number_{}", pocket);
    std::ranges::replace(key, ' ', '_');
    Setting s{.key = std::move(key),
              .name = fmt::format("limb number, {}", pocket),
              .definition = "deflection number of the limb in that pocket; higher is stiffer",
              .part = pocket,
              .more = "stiffer",
              .less = "softer",
              .dimension = nullptr,
              .work = Work::limbs,
              .sigma = 1};  // limbs are sorted to about one number
    for (const std::size_t place : places) s.builds |= limb_bits[place];
    s.get = [=](const Layout& layout) { return layout.pairing.*numbers[places[0]]; };
    s.set = [=](Layout& layout, double value) {
        for (const std::size_t place : places) layout.pairing.*numbers[place] = value;
    };
    s.take = [=](Layout& to, const Layout& from) {
        for (const std::size_t place : places) to.pairing.*numbers[place] = from.pairing.*numbers[place];
    };
    return s;
}

template <SpacerStacks Layout::*Stacks>
Setting cam_offset_by_spacers(const std::string& end, double spacer, unsigned axle) {
    return {.key = "spacers_" + end,
            .name = "spacers, " + end,
            .definition =
                "offset of the cam's middle from the bow's plane, positive left; one step moves a spacer "
                "from the left stack to the right",
            .part = end + " cam",
            .more = "left",
            .less = "right",
            .dimension = &units::length,
            .step = spacer,
            .step_name = fmt::format("{0:.3g} mm spacer to right, cam {0:.3g} mm left", spacer),
            .work = Work::spacers,
            .builds = axle,
            .get = [](const Layout& layout) { return cam_offset(layout.*Stacks); },
            .set =
                [](Layout& layout, double value) {
                    SpacerStacks& stacks = layout.*Stacks;
                    const double change = value - cam_offset(stacks);
                    stacks.left.push_back(-change);
                    stacks.right.push_back(change);
                },
            .take = [](Layout& to, const Layout& from) { to.*Stacks = from.*Stacks; }};
}

template <double Layout::*Turns>
Setting bolt(const std::string& end, const Pocket& pocket, unsigned limbs) {
    return in_layout(
        {.key = "bolt_" + end,
         .name = "limb bolt, " + end,
         .definition = "turns of the limb bolt, positive out",
         .part = end + " limb bolt",
         .more = "out",
         .less = "in",
         .dimension = nullptr,
         .work = Work::bolts,
         .least = 0,
         .sigma = pocket.angle_per_turn > 0 ? 0.25 : 0,  // turns lost count of
         .reach = {.most = 2, .notch = 0.25},
         .builds = limbs},
        [](auto& layout) -> auto& { return layout.*Turns; });
}

/// Twist of string, cable or yoke leg.
template <class Number>
Setting twist(std::string key, const std::string& name, std::string part, const std::string& of, Work work,
              Reach reach, Number number) {
    return in_layout({.key = std::move(key),
                      .name = "twist, " + name,
                      .definition = "turns of twist added to " + of + ", each of which shortens it",
                      .part = std::move(part),
                      .more = "shorter",
                      .less = "longer",
                      .dimension = nullptr,
                      .work = work,
                      .reach = std::move(reach),
                      // Twists of string and cables change their lengths only.
                      .builds = work == Work::yokes ? built::guide_and_yokes : built::nothing},
                     number);
}

/// @param cable  order of the yoke's cable in `Cables::cables`
void add_yoke(Settings& all, const std::string& end, std::size_t cable) {
    const auto leg = [&](const std::string& side, const std::string& other, auto member, double most) {
        const std::string key = "twist_yoke_" + end + "_";
        all.push_back(twist(
            key + side, fmt::format("{} yoke, {} leg", end, side),
            fmt::format("{} leg of the {} yoke", side, end),
            fmt::format("the {} leg of the yoke on the {} axle", side, end), Work::yokes,
            {.most = most, .against = key + other}, [=](auto& layout) -> auto& {
                return (layout.*member)[cable];
            }));
    };
    leg("left", "right", &Layout::twist_yoke_left, 4);
    leg("right", "left", &Layout::twist_yoke_right, 0);
}

void add_cable(Settings& all, const std::string& which, std::size_t cable, Reach reach) {
    all.push_back(twist(
        fmt::format("twist_cable_{}", cable == 0 ? "first" : "second"), which + "take-up cable",
        which + "take-up cable", "the cable of the " + which + "take-up track", Work::cables,
        std::move(reach), [=](auto& layout) -> auto& { return layout.twist_cables[cable]; }));
}

void add_twists(Settings& all, CableSystem system) {
    all.push_back(twist(
        "twist_string", "string", "halves of the string", "each half of the string", Work::cables, {},
        [](auto& layout) -> auto& { return layout.twist_string; }));
    if (system == CableSystem::single_cam) {
        add_cable(all, "", 0, {});
        add_yoke(all, "top", 0);
        return;
    }
    add_cable(all, "top ", 0, {.most = 2, .against = "twist_cable_second"});
    add_cable(all, "bottom ", 1, {});
    if (system == CableSystem::yoked) add_yoke(all, "bottom", 0);
    if (system == CableSystem::yoked || system == CableSystem::mixed) add_yoke(all, "top", 1);
}

void add_limbs(Settings& all, LimbKind kind) {
    if (kind == LimbKind::solid) {
        all.push_back(limb_number("top", {0, 1}));
        all.push_back(limb_number("bottom", {2, 3}));
        return;
    }
    all.push_back(limb_number("top left", {0}));
    all.push_back(limb_number("top right", {1}));
    all.push_back(limb_number("bottom left", {2}));
    all.push_back(limb_number("bottom right", {3}));
}

void add_guide(Settings& all) {
    all.push_back(in_layout(
        {.key = "guide_lateral",
         .name = "guide, lateral",
         .definition = "shift of the cable guide, positive left",
         .part = "cable guide",
         .more = "left",
         .less = "right",
         .dimension = &units::length,
         .work = Work::guide,
         .sigma = 2,
         .reach = {.most = 5},
         .builds = built::guide_and_yokes},
        [](auto& layout) -> auto& { return layout.guide_lateral; }));
    all.push_back(in_layout(
        {.key = "guide_angle",
         .name = "guide, angle",
         .definition = "turn of the cable guide's lateral axis about Z, positive when its "
                       "left side goes to the archer",
         .part = "cable guide's left side",
         .more = "toward the archer",
         .less = "toward the target",
         .dimension = &units::angle,
         .step = units::degree,
         .step_name = "left side 1 deg toward the archer",
         .work = Work::guide,
         .builds = built::guide_and_yokes},
        [](auto& layout) -> auto& { return layout.guide_angle; }));
}

void add_rest(Settings& all) {
    all.push_back(in_bow(
        {.key = "rest_lateral",
         .name = "arrow rest, lateral",
         .definition = "of the arrow rest from the bow's plane, positive left; a layout shifts it "
                       "from where the bow file has it",
         .part = "arrow rest",
         .more = "left",
         .less = "right",
         .dimension = &units::length,
         .work = Work::rest,
         .sigma = 2,
         .reach = {.most = most_rest, .notch = 0.25}},
        [](auto& bow) -> auto& { return bow.shooter.rest.y(); }));
    all.push_back(in_bow(
        {.key = "rest_height",
         .name = "arrow rest, height",
         .definition = "of the arrow rest above the pivot point, along the riser's Z; a layout "
                       "shifts it from where the bow file has it",
         .part = "arrow rest",
         .more = "up",
         .less = "down",
         .dimension = &units::length,
         .work = Work::rest,
         .sigma = 2,
         .reach = {.most = most_rest, .notch = 0.25}},
        [](auto& bow) -> auto& { return bow.shooter.rest.z(); }));
    all.push_back(in_layout(
        {.key = "nocking_point",
         .name = "nocking point",
         .definition = "shift of the nocking point up the string",
         .part = "nocking point",
         .more = "up",
         .less = "down",
         .dimension = &units::length,
         .work = Work::nocking_point,
         .reach = {.most = most_rest}},
        [](auto& layout) -> auto& { return layout.nocking_point; }));
}

}  // namespace

int tools_for(Work work) {
    if (work == Work::none) return 0;
    if (work <= Work::bolts) return 1;
    if (work <= Work::yokes) return 2;
    return work == Work::spacers ? 3 : 4;
}

const char* name_of_tools(int tools) {
    constexpr std::array names{"none", "keys", "twists", "spacers", "limbs"};
    return names.at(static_cast<std::size_t>(tools));
}

std::vector<Setting> settings_of(const Bow& bow, double spacer) {
    Settings all;
    add_limbs(all, bow.limb.kind);
    all.push_back(cam_offset_by_spacers<&Layout::spacers_top>("top", spacer, built::top_axle));
    all.push_back(cam_offset_by_spacers<&Layout::spacers_bottom>("bottom", spacer, built::bottom_axle));
    if (bow.guide.kind != GuideKind::none) add_guide(all);
    all.push_back(
        bolt<&Layout::bolt_top>("top", bow.pocket_top, built::top_left_limb | built::top_right_limb));
    all.push_back(bolt<&Layout::bolt_bottom>("bottom", bow.pocket_bottom,
                                             built::bottom_left_limb | built::bottom_right_limb));
    add_twists(all, bow.cables.system);
    add_rest(all);
    for (Setting& setting : all) {
        if (setting.step_name.empty()) setting.step_name = amount_in_words(setting, setting.step);
        if (setting.in_bow) continue;
        setting.get_of = [get = setting.get](const Bow& b) { return get(b.layout); };
        setting.set_of = [set = setting.set](Bow& b, double value) { set(b.layout, value); };
    }
    return all;
}

std::vector<Setting> settings_of(const Bow& bow) {
    return settings_of(bow, thinnest_spacer(bow));
}

Bow with_layout(Bow bow, const Layout& layout) {
    if (layout.moved != bow.layout.moved) {
        const Settings all = settings_of(bow);
        for (const auto& [key, shift] : layout.moved)
            if (!find(all, key)) throw std::invalid_argument("no setting of this bow: " + key);
        for (const Setting& setting : all)
            if (setting.in_bow)
                setting.set_of(bow, setting.get_of(bow) + setting.get(layout) - setting.get(bow.layout));
    }
    bow.layout = layout;
    return bow;
}

double thinnest_spacer(const Bow& bow) {
    double thinnest = HUGE_VAL;
    for (const SpacerStacks* stacks : {&bow.layout.spacers_top, &bow.layout.spacers_bottom})
        for (const std::vector<double>* stack : {&stacks->left, &stacks->right})
            for (const double spacer : *stack) thinnest = std::min(thinnest, spacer);
    return std::isfinite(thinnest) ? thinnest : 0.5;
}

const Setting* find(const std::vector<Setting>& settings, std::string_view key) {
    const auto found = std::ranges::find(settings, key, &Setting::key);
    return found == settings.end() ? nullptr : &*found;
}

double in_its_unit(double inside, const Setting& setting) {
    return setting.dimension ? inside / setting.dimension->units.front().factor : inside;
}

std::string unit_of(const Setting& setting) {
    return setting.dimension ? std::string(setting.dimension->units.front().name) : "";
}

std::string amount_in_words(const Setting& setting, double change) {
    const double amount = std::abs(in_its_unit(change, setting));
    std::string unit = unit_of(setting);
    if (!setting.dimension) {
        unit = setting.work == Work::limbs ? "number" : "turn";
        if (std::abs(amount - 1) > 1e-9) unit += "s";
    }
    return fmt::format("{:.4g} {} {}", amount, unit, change > 0 ? setting.more : setting.less);
}

std::string change_in_words(const Setting& setting, double from, double to) {
    if (setting.work == Work::limbs) return fmt::format("limb {:.4g} {}", to, setting.part);
    return setting.part + " " + amount_in_words(setting, to - from);
}

std::string change_in_words(const std::vector<Setting>& settings, const Layout& from, const Layout& to) {
    std::string words;
    for (const Setting& setting : settings) {
        const double before = setting.get(from), after = setting.get(to);
        if (!differ(before, after)) continue;
        if (!words.empty()) words += ", ";
        words += change_in_words(setting, before, after);
    }
    return words;
}

}  // namespace limbwright::models
