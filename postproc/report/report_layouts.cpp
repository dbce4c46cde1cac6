#include "postproc/report/report_layouts.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <iterator>
#include <limits>
#include <map>
#include <thread>

#include "models/bow/settings.hpp"
#include "models/bow/spacers.hpp"
#include "models/input/units.hpp"
#include "models/states/measures.hpp"
#include "models/study/pairings.hpp"
#include "models/study/parallel_solve.hpp"
#include "models/study/ranking.hpp"
#include "models/study/reference_solver.hpp"
#include "models/study/rework_effort.hpp"
#include "models/study/search.hpp"
#include "postproc/results/full_draws.hpp"
#include "postproc/results/study_notes.hpp"
#include "postproc/results/study_results.hpp"

namespace limbwright::postproc {
namespace {

using models::Layout;
using models::LengthRule;

constexpr double none = std::numeric_limits<double>::quiet_NaN();

std::string sideways(double shift) {
    return fmt::format("{:.3g} mm {}", std::abs(shift), shift > 0 ? "left" : "right");
}

/// Curves of a draw that came to its end.
void add_curves(ReportLayout& layout, const models::AssembledBow& bow, const models::Draw& draw) {
    std::vector<models::Measure> shown;
    for (const ReportCurve& curve : report_curves(bow)) shown.push_back(curve.measure);
    layout.curves = models::values(shown, bow, draw);
    for (const models::DrawState& state : draw.states) layout.draw.push_back(state.draw);
}

std::string words_of(const Layout& layout) {
    const models::Pairing& p = layout.pairing;
    return fmt::format("limbs top {:g} | {:g}, bottom {:g} | {:g}", p.top_left, p.top_right, p.bottom_left,
                       p.bottom_right);
}

/// A layout to be solved.
struct Wish {
    Layout layout;
    LengthRule lengths = LengthRule::re_timed;
};

std::vector<Wish> wishes(const models::Bow& bow) {
    const models::Pairing& p = bow.layout.pairing;
    std::vector<double> limbs{p.top_left, p.bottom_left};
    if (bow.limb.kind == models::LimbKind::split) limbs.insert(limbs.end(), {p.top_right, p.bottom_right});
    std::vector<Wish> all;
    for (const models::Pairing& pairing : models::pairings(limbs, bow.limb.kind)) {
        all.push_back({bow.layout});
        all.back().layout.pairing = pairing;
    }
    const std::vector<models::Setting> settings = models::settings_of(bow, models::thinnest_spacer(bow));
    const auto add = [&](std::initializer_list<const char*> names, double change, LengthRule lengths) {
        Wish wish{bow.layout, lengths};
        for (const char* name : names) {
            const auto setting = std::ranges::find(settings, name, &models::Setting::name);
            if (setting == settings.end()) return;
            setting->set(wish.layout, setting->get(bow.layout) + change);
        }
        all.push_back(std::move(wish));
    };
    for (const double change : {1.0, -1.0}) {
        add({"spacers, top"}, change, LengthRule::re_timed);
        add({"spacers, bottom"}, change, LengthRule::re_timed);
        add({"spacers, top", "spacers, bottom"}, change, LengthRule::re_timed);
        add({"guide, lateral"}, change, LengthRule::kept);
    }
    std::erase_if(all, [&](const Wish& w) { return change_in_words(bow, w.layout) == "as today"; });
    return all;
}

ReportLayout start(std::string name, const models::Bow& bow, const Layout& layout) {
    ReportLayout result;
    result.name = std::move(name);
    result.change = result.name == "today" ? words_of(layout) : change_in_words(bow, layout);
    result.rework = models::to_text(models::rework(bow.layout, layout, bow.limb.kind));
    result.score = none;
    return result;
}

}  // namespace

std::vector<ReportCurve> report_curves(const models::AssembledBow& bow) {
    const std::vector<models::Measure> all = models::state_measures(bow);
    const auto measure = [&](const char* id) { return *models::find(all, id); };
    return {{measure("draw_force"), "Draw force", "draw force", 1},
            {measure("lean_top"), "Cam lean, top", "outer edge to the left", 0.2},
            {measure("lean_bottom"), "Cam lean, bottom", "outer edge to the left", 0.2},
            {measure("nock_travel_lateral"), "Nock travel sideways", "to the left", 0.2},
            {measure("nock_travel_vertical"), "Nock travel up and down", "upward", 0.2}};
}

std::string change_in_words(const models::Bow& bow, const Layout& layout) {
    const Layout& today = bow.layout;
    std::vector<std::string> parts;
    const auto limbs = [&](const char* end, double left, double right, double old_left, double old_right) {
        if (!models::differ(left, old_left) && !models::differ(right, old_right)) return;
        parts.push_back(bow.limb.kind == models::LimbKind::split
                            ? fmt::format("limbs {} {:g} | {:g}", end, left, right)
                            : fmt::format("limb {} {:g}", end, left));
    };
    const models::Pairing &p = layout.pairing, &q = today.pairing;
    limbs("top", p.top_left, p.top_right, q.top_left, q.top_right);
    limbs("bottom", p.bottom_left, p.bottom_right, q.bottom_left, q.bottom_right);
    for (const models::Setting& setting : models::settings_of(bow, models::thinnest_spacer(bow))) {
        const double change = setting.get(layout) - setting.get(today);
        if (!models::differ(change, 0) || setting.name.starts_with("limb number")) continue;
        if (setting.name.starts_with("spacers, "))
            parts.push_back(fmt::format("{} cam {}", setting.name.substr(9), sideways(change)));
        else if (setting.name == "guide, lateral")
            parts.push_back("guide " + sideways(change));
        else if (const std::string unit = unit_of(setting); unit.empty())
            parts.push_back(fmt::format("{} {:+.3g}", setting.name, change));
        else
            parts.push_back(fmt::format("{} {:+.3g} {}", setting.name, in_its_unit(change, setting), unit));
    }
    return parts.empty() ? "as today" : fmt::format("{}", fmt::join(parts, ", "));
}

std::vector<ReportLayout> layouts_at_hand(const models::TuneSolver& solver, int threads) {
    const models::SolvedTune& today = solver.today();
    const models::Bow& bow = today.strung.bow.bow;
    std::vector<ReportLayout> layouts{start("today", bow, bow.layout)};
    add_curves(layouts[0], today.strung.bow, today.draw);
    const std::vector<Wish> all = wishes(bow);
    for (std::size_t i = 0; i < all.size(); ++i)
        layouts.push_back(start(fmt::format("{}", i + 1), bow, all[i].layout));
    std::atomic<std::size_t> next = 0;
    const auto work = [&] {
        for (std::size_t i = next++; i < all.size(); i = next++) {
            models::Tune tune = today.tune;
            tune.layout = all[i].layout;
            const auto answer = solver.solve(tune, all[i].lengths);
            if (const auto* lost = std::get_if<models::NotSolved>(&answer)) {
                layouts[i + 1].failure = lost->reason;
                continue;
            }
            const auto& solved = std::get<models::SolvedTune>(answer);
            add_curves(layouts[i + 1], solved.strung.bow, solved.draw);
        }
    };
    std::vector<std::jthread> team;
    for (int i = 1; i < threads; ++i) team.emplace_back(work);
    work();
    team.clear();
    return layouts;
}

StudiedLayouts layouts_of_study(const models::StudyFile& study, int count, int threads) {
    const models::StudyBase base(study.bow, study.study);
    std::map<std::int64_t, models::LayoutRow> known;  // a search may ask for the same layout again
    const models::SolveLayouts solve = [&](std::span<const std::int64_t> numbers) {
        std::vector<std::int64_t> unknown;
        std::ranges::copy_if(numbers, std::back_inserter(unknown),
                             [&](std::int64_t number) { return !known.contains(number); });
        models::solve_layouts(base, unknown, {.threads = threads},
                              [&](std::span<const models::LayoutRow> rows) {
                                  for (const models::LayoutRow& row : rows) known.emplace(row.number, row);
                              });
        std::vector<models::LayoutRow> rows;
        for (const std::int64_t number : numbers) rows.push_back(known.at(number));
        return rows;
    };
    const models::StudySearch search = models::search(base, study.study, solve, {.threads = threads});
    const std::vector<models::LayoutRow> rows = solve(search.solved);
    const RankingResults results =
        results_of(study, base, rows, models::solve_cold(base, study.bow.layout, -1));

    StudiedLayouts studied{study.study.name, {}, {}};
    const std::vector<FullDraw> draws = full_draws(base, results, count);
    for (std::size_t i = 0; i < draws.size(); ++i) {
        const FullDraw& full = draws[i];
        const RankedLayout& ranked = i == 0 ? results.today : results.best[i - 1];
        ReportLayout layout = start(i == 0 ? "today" : fmt::format("{}", i), study.bow, ranked.layout);
        layout.score = ranked.score.miss;
        layout.broken = ranked.score.broken;
        layout.failure = full.failure;
        if (full.failure.empty()) add_curves(layout, full.strung->bow, full.draw);
        studied.layouts.push_back(std::move(layout));
    }
    const auto add = [&](std::vector<std::string> notes) {
        std::ranges::move(notes, std::back_inserter(studied.notes));
    };
    add(study_notes(base, study.study));
    add(search_notes(base, study.study, search));
    add(failure_notes(rows));
    return studied;
}

}  // namespace limbwright::postproc
