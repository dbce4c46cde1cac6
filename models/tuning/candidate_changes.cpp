#include "models/tuning/candidate_changes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "models/bow/spacers.hpp"
#include "models/study/pairings.hpp"
#include "models/study/rework_effort.hpp"
#include "models/study/spacer_combinations.hpp"
#include "models/tuning/tear_measures.hpp"

namespace limbwright::models {
namespace {

/// Slopes of the tail turn by settings, per unit inside.
class Slopes {
public:
    explicit Slopes(const EffectsTable& table) : table_(table) {}

    /// Null if the bow has no such setting.
    [[nodiscard]] const Setting* setting(const std::string& name) const {
        const auto found = std::ranges::find(table_.settings, name, &Setting::name);
        return found == table_.settings.end() ? nullptr : &*found;
    }

    [[nodiscard]] Vec2 of(const Setting& setting) const {
        const auto at = static_cast<std::size_t>(&setting - table_.settings.data());
        const auto slope = [&](const char* measure, DrawPlace place) {
            return table_.find({measure, place})->change[at] / setting.step;
        };
        const auto turn = [&](const char* measure) {
            return slope(measure, DrawPlace::full_draw) - slope(measure, DrawPlace::brace);
        };
        return {turn("arrow_line_lateral"), turn("arrow_line_vertical")};
    }
    [[nodiscard]] Vec2 of(const std::string& name) const {
        const Setting* found = setting(name);
        return found ? of(*found) : Vec2(Vec2::Zero());
    }

private:
    const EffectsTable& table_;
};

std::string side(double value, const char* positive, const char* negative) {
    return value > 0 ? positive : negative;
}

std::string turns(double amount) {
    return fmt::format("{:+.3g} {}", amount, std::abs(amount) == 1 ? "turn" : "turns");
}

/// Change of today's tail turn if the rest stood elsewhere; the bow itself does not feel it.
Vec2 turn_by_rest(SolvedTune today, const Vec3& by) {
    const Vec2 before = tail_turn(today);
    today.strung.bow.bow.shooter.rest += by;
    return tail_turn(today) - before;
}

void add_rest(std::vector<Knob>& all, const SolvedTune& today) {
    all.push_back({CureKind::rest, "arrow rest, sideways", turn_by_rest(today, Vec3::UnitY()), -most_rest,
                   most_rest, 0.25,
                   [](double a) {
                       return fmt::format("arrow rest {:.3g} mm {}", std::abs(a), side(a, "left", "right"));
                   },
                   [](Tune& t, double a) { t.rest_lateral += a; }});
    all.push_back(
        {CureKind::rest, "arrow rest, height", turn_by_rest(today, Vec3::UnitZ()), -most_rest, most_rest,
         0.25,
         [](double a) { return fmt::format("arrow rest {:.3g} mm {}", std::abs(a), side(a, "up", "down")); },
         [](Tune& t, double a) { t.rest_height += a; }});
}

/// One setting up and, if given, another down by as much.
void add_pair(std::vector<Knob>& all, const Slopes& slopes, CureKind kind, const std::string& up,
              const std::string& down, double most, const std::string& up_part,
              const std::string& down_part) {
    const Setting *more = slopes.setting(up), *less = slopes.setting(down);
    if (!more || !less) return;
    const auto set_up = more->set, set_down = less->set;
    const auto get_up = more->get, get_down = less->get;
    all.push_back(
        {kind, up_part + " against " + down_part, slopes.of(*more) - slopes.of(*less), -most, most, 0.5,
         [=](double a) { return fmt::format("{} {}, {} {}", up_part, turns(a), down_part, turns(-a)); },
         [=](Tune& t, double a) {
             set_up(t.layout, get_up(t.layout) + a);
             set_down(t.layout, get_down(t.layout) - a);
         }});
}

void add_bolt(std::vector<Knob>& all, const Slopes& slopes, End end, const Layout& layout) {
    const Setting* bolt = slopes.setting(std::string("limb bolt, ") + name(end));
    if (!bolt) return;
    const auto set = bolt->set;
    const auto get = bolt->get;
    const std::string part = std::string(name(end)) + " limb bolt";
    // A bolt that is at its seat only turns out.
    all.push_back(
        {CureKind::bolts, part, slopes.of(*bolt), -std::min(most_bolts, get(layout)), most_bolts, 0.25,
         [=](double a) { return fmt::format("{} {:.3g} turns {}", part, std::abs(a), side(a, "out", "in")); },
         [=](Tune& t, double a) { set(t.layout, get(t.layout) + a); }});
}

std::string stacks_text(const SpacerStacks& from, const SpacerStacks& to, const char* end) {
    const double left = cam_offset(to) - cam_offset(from);
    if (std::abs(left) < 1e-9) return {};
    return fmt::format("{} cam {:.3g} mm {} by spacers", end, std::abs(left), side(left, "left", "right"));
}

std::string joined(const std::string& a, const std::string& b) {
    return a.empty() || b.empty() ? a + b : a + ", " + b;
}

}  // namespace

Vec2 tail_turn(const SolvedTune& tune) {
    return {tear_measure("tail_turn_lateral", tune.strung, tune.draw),
            tear_measure("tail_turn_vertical", tune.strung, tune.draw)};
}

Move Knob::nearest_to(const Vec2& wanted, const Vec2& directions) const {
    const Vec2 counted = slope.cwiseProduct(directions);
    const double steepness = counted.squaredNorm();
    if (steepness == 0) return {};
    const double ideal = std::clamp(counted.dot(wanted) / steepness, least, most);
    const double amount = step * std::trunc(ideal / step + std::copysign(0.5 - 1e-9, ideal));
    if (amount == 0 || amount < least || amount > most) return {};
    return {kind, text(amount), amount * slope, [apply = apply, amount](Tune& t) { apply(t, amount); }, 1};
}

std::vector<Knob> knobs(const SolvedTune& today, const CureOptions& options,
                        const std::optional<Vec2>& nocking_point) {
    const Bow& bow = today.strung.bow.bow;
    const EffectsTable kept =
        effects_table(today.strung, today.draw, LengthRule::kept, settings_of(bow, thinnest_spacer(bow)));
    const Slopes slopes(kept);
    std::vector<Knob> all;
    add_rest(all, today);
    if (nocking_point)
        all.push_back({CureKind::nocking_point, "nocking point", *nocking_point, -most_rest, most_rest, 0.5,
                       [](double a) {
                           return fmt::format("nocking point {:.3g} mm {}", std::abs(a),
                                              side(a, "up", "down"));
                       },
                       [](Tune& t, double a) { t.nocking_point += a; }});
    if (slopes.setting("guide, lateral"))
        all.push_back(
            {CureKind::guide, "cable guide", slopes.of("guide, lateral"), -most_guide, most_guide, 0.5,
             [](double a) {
                 return fmt::format("cable guide {:.3g} mm {}", std::abs(a), side(a, "left", "right"));
             },
             [](Tune& t, double a) { t.layout.guide_lateral += a; }});
    if (options.bolts)
        for (const End end : {End::top, End::bottom}) add_bolt(all, slopes, end, today.tune.layout);
    add_pair(all, slopes, CureKind::timing, "twist, top take-up cable", "twist, bottom take-up cable",
             most_timing, "cable of the top cam", "cable of the bottom cam");
    for (const char* end : {"top", "bottom"}) {
        const std::string yoke = fmt::format("{} yoke, ", end);
        add_pair(all, slopes, CureKind::yoke, "twist, " + yoke + "left leg", "twist, " + yoke + "right leg",
                 most_yoke, yoke + "left leg", "right leg");
    }
    return all;
}

std::vector<Move> spacer_moves(const SolvedTune& today, const EffectsTable& re_timed,
                               const CureOptions& options) {
    const Slopes slopes(re_timed);
    const Layout& layout = today.tune.layout;
    std::vector<SpacerKind> box = options.spacers;
    for (const SpacerStacks* stacks : {&layout.spacers_top, &layout.spacers_bottom})
        for (const std::vector<double>* stack : {&stacks->left, &stacks->right})
            for (const double thickness : *stack) box.push_back({thickness, 1});
    const Vec2 top = slopes.of("spacers, top"), bottom = slopes.of("spacers, bottom");
    std::vector<Move> all;
    for (const SpacerPair& pair : spacer_pairs(today.strung.bow.bow, box)) {
        Layout there = layout;
        there.spacers_top = pair.top;
        there.spacers_bottom = pair.bottom;
        const std::string text = joined(stacks_text(layout.spacers_top, pair.top, "top"),
                                        stacks_text(layout.spacers_bottom, pair.bottom, "bottom"));
        if (text.empty()) continue;
        all.push_back({CureKind::spacers, text,
                       (cam_offset(pair.top) - cam_offset(layout.spacers_top)) * top +
                           (cam_offset(pair.bottom) - cam_offset(layout.spacers_bottom)) * bottom,
                       [=](Tune& t) {
                           t.layout.spacers_top = pair.top;
                           t.layout.spacers_bottom = pair.bottom;
                       },
                       rework(layout, there).parts});
    }
    return all;
}

std::vector<Move> limb_moves(const SolvedTune& today, const EffectsTable& re_timed,
                             const CureOptions& options) {
    const Slopes slopes(re_timed);
    const Layout& layout = today.tune.layout;
    const LimbKind kind = today.strung.bow.bow.limb.kind;
    const Pairing& p = layout.pairing;
    std::vector<double> limbs = options.limbs;
    limbs.insert(limbs.end(), {p.top_left, p.bottom_left});
    if (kind == LimbKind::split) limbs.insert(limbs.end(), {p.top_right, p.bottom_right});
    std::vector<Move> all;
    for (const Pairing& pairing : pairings(limbs, kind)) {
        Layout there = layout;
        there.pairing = pairing;
        Move move{CureKind::limbs,
                  {},
                  Vec2::Zero(),
                  [=](Tune& t) { t.layout.pairing = pairing; },
                  rework(layout, there, kind).parts};
        for (const Setting& setting : re_timed.settings) {
            if (!setting.name.starts_with("limb number, ")) continue;
            const double change = setting.get(there) - setting.get(layout);
            if (change == 0) continue;
            move.turn += change * slopes.of(setting);
            move.text =
                joined(move.text, fmt::format("limb {:.4g} {}", setting.get(there),
                                              setting.name.substr(std::string("limb number, ").size())));
        }
        if (!move.text.empty()) all.push_back(std::move(move));
    }
    return all;
}

}  // namespace limbwright::models
