#include "postproc/results/full_draws.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "models/states/measures.hpp"
#include "models/study/reference_solver.hpp"

namespace limbwright::postproc {
namespace {

constexpr std::array shown_measures{"forgiveness_arrow_yaw", "forgiveness_nock_travel"};

std::string name_of_best(std::size_t rank) {
    return fmt::format("best {}", rank);
}

FullDraw drawn(std::string name, models::Stringing stringing, double full_draw) {
    FullDraw result{std::move(name), {}, {}, {}};
    if (const auto* lost = std::get_if<models::NotStrung>(&stringing)) {
        result.failure = lost->reason;
        return result;
    }
    result.strung = std::get<models::StrungBow>(std::move(stringing));
    result.draw = models::draw(*result.strung, {.full_draw = full_draw, .states = {}, .path = {}});
    result.failure = result.draw.failure.value_or("");
    return result;
}

}  // namespace

std::vector<FullDraw> full_draws(const models::StudyBase& base, const RankingResults& results, int count) {
    const double full_draw = *base.stations().back().draw;
    std::vector<FullDraw> draws{drawn("today", base.today(), full_draw)};
    for (std::size_t i = 0; i < std::min(static_cast<std::size_t>(count), results.best.size()); ++i)
        draws.push_back(
            drawn(name_of_best(i + 1), models::string_up(base, results.best[i].layout), full_draw));
    return draws;
}

std::vector<Curve> curves_of(const std::vector<FullDraw>& draws, const std::string& measure) {
    std::vector<Curve> curves;
    for (const FullDraw& full : draws) {
        if (!full.failure.empty()) continue;
        const std::vector<models::Measure> all = models::state_measures(full.strung->bow);
        const models::Measure* found = models::find(all, measure);
        if (!found) continue;
        Curve curve{full.name, {}, models::values({*found}, full.strung->bow, full.draw).front()};
        for (const models::DrawState& state : full.draw.states) curve.x.push_back(state.draw);
        curves.push_back(std::move(curve));
    }
    return curves;
}

Table forgiveness_table(const RankingResults& results, int count) {
    Table table{.title = "Forgiveness at full draw: what a newton-metre of the hand's yaw torque does",
                .columns = {},
                .rows = {{}},
                .text_name = "layout",
                .texts = {"today"}};
    const std::size_t shown = std::min(static_cast<std::size_t>(count), results.best.size());
    for (std::size_t i = 1; i <= shown; ++i) {
        table.texts.push_back(name_of_best(i));
        table.rows.emplace_back();
    }
    for (const char* id : shown_measures) {
        const models::Quantity quantity{id, "", models::DrawPlace::full_draw};
        const models::Measure& measure = measure_of(results, quantity);
        table.columns.push_back({measure.name, measure.unit, measure.definition, measure.digits});
        table.rows[0].push_back(value_of(results, quantity, results.today.values));
        for (std::size_t i = 0; i < shown; ++i)
            table.rows[i + 1].push_back(value_of(results, quantity, results.best[i].values));
    }
    return table;
}

}  // namespace limbwright::postproc
