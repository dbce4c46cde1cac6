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

/// Curves of a draw that came to its end.
void add_curves(ReportLayout& layout, const models::AssembledBow& bow, const models::Draw& draw) {
    const std::vector<models::StateMeasure> all = models::state_measures(bow);
    std::vector<models::StateMeasure> shown;
    for (const ReportCurve& curve : report_curves(bow))
        shown.push_back(*std::ranges::find(all, curve.name, &models::StateMeasure::name));
    layout.curves = models::values(shown, bow, draw);
    for (const models::DrawState& state : draw.states) layout.draw.push_back(state.draw);
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
    const std::vector<models::Setting> settings = models::settings_of(bow);
    const auto add = [&](std::initializer_list<const char*> keys, double change, LengthRule lengths) {
        Wish wish{bow.layout, lengths};
        for (const char* key : keys) {
            const models::Setting* setting = find(settings, key);
            if (!setting) return;
            setting->set(wish.layout, setting->get(bow.layout) + change);
        }
        all.push_back(std::move(wish));
    };
    for (const double change : {1.0, -1.0}) {
        add({"spacers_top"}, change, LengthRule::re_timed);
        add({"spacers_bottom"}, change, LengthRule::re_timed);
        add({"spacers_top", "spacers_bottom"}, change, LengthRule::re_timed);
        add({"guide_lateral"}, change, LengthRule::kept);
    }
    std::erase_if(all,
                  [&](const Wish& w) { return change_in_words(settings, bow.layout, w.layout).empty(); });
    return all;
}

/// What stands in the pockets, as a change from none.
std::string limbs_in_words(std::vector<models::Setting> settings, const Layout& layout) {
    std::erase_if(settings, [](const models::Setting& s) { return s.work != models::Work::limbs; });
    return change_in_words(settings, {}, layout);
}

ReportLayout start(std::string name, const models::Bow& bow, const Layout& layout) {
    const std::vector<models::Setting> settings = models::settings_of(bow);
    ReportLayout result;
    result.name = std::move(name);
    result.change = result.name == "today" ? limbs_in_words(settings, layout)
                                           : change_in_words(settings, bow.layout, layout);
    if (result.change.empty()) result.change = "as today";
    result.rework = models::to_text(models::rework(settings, bow.layout, layout));
    result.score = none;
    return result;
}

}  // namespace

std::vector<ReportCurve> report_curves(const models::AssembledBow& bow) {
    std::vector<ReportCurve> curves{
        {"draw force", "Draw force", "draw force", "", "", 1, 1},
        {"cam lean, top", "Cam lean, top", "outer edge to the left", "", "", 0.2, 3},
        {"cam lean, bottom", "Cam lean, bottom", "outer edge to the left", "", "", 0.2, 3},
        {"nock travel, lateral", "Nock travel sideways", "to the left", "", "", 0.2, 2},
        {"nock travel, vertical", "Nock travel up and down", "upward", "", "", 0.2, 2}};
    const std::vector<models::StateMeasure> all = models::state_measures(bow);
    for (ReportCurve& curve : curves) {
        const auto found = std::ranges::find(all, curve.name, &models::StateMeasure::name);
        curve.unit = found->unit;
        curve.definition = found->definition;
    }
    return curves;
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
            const auto answer = solver.solve(all[i].layout, all[i].lengths);
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
