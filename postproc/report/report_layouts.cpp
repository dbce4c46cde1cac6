#include "postproc/report/report_layouts.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>

#include "models/bow/settings.hpp"
#include "models/bow/spacers.hpp"
#include "models/input/units.hpp"
#include "models/states/measures.hpp"
#include "models/study/full_draws.hpp"
#include "models/study/rework_effort.hpp"
#include "models/study/study_run.hpp"
#include "postproc/results/study_notes.hpp"

namespace limbwright::postproc {
namespace {

using models::Layout;

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

std::vector<ReportLayout> report_layouts(const models::SolvedTune& today,
                                         const std::vector<models::LayoutAtHand>& others) {
    const models::Bow& bow = today.strung.bow.bow;
    std::vector<ReportLayout> layouts{start("today", bow, bow.layout)};
    add_curves(layouts[0], today.strung.bow, today.draw);
    for (const models::LayoutAtHand& other : others) {
        ReportLayout& layout =
            layouts.emplace_back(start(fmt::format("{}", layouts.size()), bow, other.layout));
        if (const auto* solved = std::get_if<models::SolvedTune>(&other.answer))
            add_curves(layout, solved->strung.bow, solved->draw);
        else
            layout.failure = std::get<models::NotSolved>(other.answer).reason;
    }
    return layouts;
}

StudiedLayouts layouts_of_study(const models::StudyFile& study, int count, int threads) {
    const models::StudyBase base(study.bow, study.study);
    const models::RankedStudy ranked = models::rank_study(base, {.run = {.threads = threads}});
    StudiedLayouts studied{study.study.name, {}, {}};
    const std::vector<models::FullDraw> draws = models::full_draws(base, ranked.ranking, count, threads);
    for (std::size_t i = 0; i < draws.size(); ++i) {
        const models::FullDraw& full = draws[i];
        const models::RankedLayout& row = i == 0 ? ranked.ranking.today : ranked.ranking.best[i - 1];
        ReportLayout layout = start(i == 0 ? "today" : fmt::format("{}", i), study.bow, row.layout);
        layout.score = row.score.miss;
        layout.broken = row.score.broken;
        layout.failure = full.failure;
        if (full.failure.empty()) add_curves(layout, full.strung->bow, full.draw);
        studied.layouts.push_back(std::move(layout));
    }
    const auto add = [&](std::vector<std::string> notes) {
        std::ranges::move(notes, std::back_inserter(studied.notes));
    };
    add(study_notes(base));
    add(search_notes(base, ranked.search));
    add(failure_notes(ranked.rows));
    return studied;
}

}  // namespace limbwright::postproc
