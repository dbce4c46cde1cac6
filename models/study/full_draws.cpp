#include "models/study/full_draws.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "models/study/parallel_for.hpp"
#include "models/study/reference_solver.hpp"

namespace limbwright::models {
namespace {

FullDraw drawn(std::string name, Stringing stringing, double full_draw) {
    FullDraw result{std::move(name), {}, {}, {}};
    if (const auto* lost = std::get_if<NotStrung>(&stringing)) {
        result.failure = lost->reason;
        return result;
    }
    result.strung = std::get<StrungBow>(std::move(stringing));
    result.draw = draw(*result.strung, {.full_draw = full_draw, .states = {}, .path = {}});
    result.failure = result.draw.failure.value_or("");
    return result;
}

}  // namespace

std::vector<FullDraw> full_draws(const StudyBase& base, const Ranking& ranking, int count, int threads) {
    const double full_draw = *base.stations().back().draw;
    const std::int64_t best = std::min<std::int64_t>(count, std::ssize(ranking.best));
    std::vector<FullDraw> draws(static_cast<std::size_t>(best + 1));
    parallel_for(best + 1, {.threads = threads}, [&](int, std::int64_t i, std::int64_t) {
        draws[i] =
            i == 0 ? drawn("today", base.today(), full_draw)
                   : drawn(fmt::format("best {}", i), string_up(base, ranking.best[i - 1].layout), full_draw);
    });
    return draws;
}

}  // namespace limbwright::models
