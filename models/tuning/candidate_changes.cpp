#include "models/tuning/candidate_changes.hpp"

#include <algorithm>
#include <cmath>

#include "models/study/pairings.hpp"
#include "models/study/rework_effort.hpp"
#include "models/study/spacer_combinations.hpp"
#include "models/tuning/tear_measures.hpp"

namespace limbwright::models {
namespace {

/// Slope of the tail turn by one of a table's settings, per unit inside.
Vec2 slope_by(const EffectsTable& table, const Setting& setting) {
    const auto at = static_cast<std::size_t>(&setting - table.settings.data());
    const auto change = [&](const char* measure) {
        double turn = 0;
        for (const Effect& e : table.effects)
            if (e.measure == measure && e.at == DrawPlace::full_draw)
                turn += e.change[at];
            else if (e.measure == measure && e.at == DrawPlace::brace)
                turn -= e.change[at];
        return turn / setting.step;
    };
    return {change("arrow line, lateral"), change("arrow line, vertical")};
}

/// What stands in other places in each of the layouts; those that change nothing are left out.
std::vector<Move> moves_to(const std::vector<Layout>& layouts, Work work, const Layout& today,
                           const EffectsTable& table) {
    std::vector<Move> all;
    for (const Layout& there : layouts) {
        std::string text = change_in_words(table.settings, today, there);
        if (text.empty()) continue;
        Move move{work, std::move(text), Vec2::Zero(), {}, rework(table.settings, today, there).parts};
        std::vector<Setting> changed;
        for (const Setting& setting : table.settings) {
            if (setting.work != work) continue;
            move.turn += (setting.get(there) - setting.get(today)) * slope_by(table, setting);
            changed.push_back(setting);
        }
        move.apply = [changed = std::move(changed), there](Layout& layout) {
            for (const Setting& setting : changed) setting.take(layout, there);
        };
        all.push_back(std::move(move));
    }
    return all;
}

}  // namespace

Vec2 tail_turn(const SolvedTune& tune) {
    return {tear_measure("tail turn, lateral", tune.strung, tune.draw),
            tear_measure("tail turn, vertical", tune.strung, tune.draw)};
}

std::string Knob::name() const {
    return against ? setting.part + " against " + against->part : setting.name;
}

std::string Knob::text(double amount) const {
    const std::string words = change_in_words(setting, 0, amount);
    return against ? words + ", " + change_in_words(*against, 0, -amount) : words;
}

Move Knob::nearest_to(const Vec2& wanted, const Vec2& directions) const {
    const Vec2 counted = slope.cwiseProduct(directions);
    const double steepness = counted.squaredNorm();
    if (steepness == 0) return {};
    const double ideal = std::clamp(counted.dot(wanted) / steepness, least, most), step = setting.reach.notch;
    const double amount = step * std::trunc(ideal / step + std::copysign(0.5 - 1e-9, ideal));
    if (amount == 0 || amount < least || amount > most) return {};
    const auto apply = [setting = setting, against = against, amount](Layout& layout) {
        setting.set(layout, setting.get(layout) + amount);
        if (against) against->set(layout, against->get(layout) - amount);
    };
    return {setting.work, text(amount), amount * slope, apply, 1};
}

std::vector<Knob> knobs(const SolvedTune& today, const CureOptions& options) {
    const EffectsTable kept =
        effects_table(today.strung, today.draw, LengthRule::kept, settings_of(today.strung.bow.bow));
    std::vector<Knob> all;
    for (const Setting& setting : kept.settings) {
        const Reach& reach = setting.reach;
        if (reach.most == 0 || (setting.work == Work::bolts && !options.bolts)) continue;
        Knob knob{setting, {}, slope_by(kept, setting), -reach.most, reach.most};
        knob.least = std::max(knob.least, setting.least - setting.get(today.layout));
        if (const Setting* other = find(kept.settings, reach.against)) {
            knob.against = *other;
            knob.slope -= slope_by(kept, *other);
        }
        all.push_back(std::move(knob));
    }
    std::ranges::stable_sort(all, {}, [](const Knob& knob) { return knob.setting.work; });
    return all;
}

std::vector<Move> spacer_moves(const SolvedTune& today, const EffectsTable& re_timed,
                               const CureOptions& options) {
    std::vector<SpacerKind> box = options.spacers;
    for (const SpacerStacks* stacks : {&today.layout.spacers_top, &today.layout.spacers_bottom})
        for (const std::vector<double>* stack : {&stacks->left, &stacks->right})
            for (const double thickness : *stack) box.push_back({thickness, 1});
    std::vector<Layout> layouts;
    for (const SpacerPair& pair : spacer_pairs(today.strung.bow.bow, box)) {
        layouts.push_back(today.layout);
        layouts.back().spacers_top = pair.top;
        layouts.back().spacers_bottom = pair.bottom;
    }
    return moves_to(layouts, Work::spacers, today.layout, re_timed);
}

std::vector<Move> limb_moves(const SolvedTune& today, const EffectsTable& re_timed,
                             const CureOptions& options) {
    const LimbKind kind = today.strung.bow.bow.limb.kind;
    const Pairing& p = today.layout.pairing;
    std::vector<double> limbs = options.limbs;
    limbs.insert(limbs.end(), {p.top_left, p.bottom_left});
    if (kind == LimbKind::split) limbs.insert(limbs.end(), {p.top_right, p.bottom_right});
    std::vector<Layout> layouts;
    for (const Pairing& pairing : pairings(limbs, kind)) {
        layouts.push_back(today.layout);
        layouts.back().pairing = pairing;
    }
    return moves_to(layouts, Work::limbs, today.layout, re_timed);
}

}  // namespace limbwright::models
