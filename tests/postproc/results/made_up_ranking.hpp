#pragma once

#include <cmath>

#include "models/bow/spacers.hpp"
#include "models/input/units.hpp"
#include "postproc/results/ranking_results.hpp"
#include "tests/support/small_bow.hpp"

namespace limbwright::testing {

/// Two stacks of at most two spacers that put the cam at an offset [mm, positive left].
inline models::SpacerStacks stacks_at(double offset) {
    return {{0.5, 1 - offset}, {0.5, 1 + offset}};
}

/// A study of one pairing, `across` × `across` pairs of cam offsets in steps of 0.25 mm and two places of the
/// guide, without a bow being solved: lean top is 0.4 × (offset top) + 0.05, lean bottom 0.3 × (offset
/// bottom) − 0.1. Invented. The best layout is the first whose score is least; today's is the first of all.
inline postproc::RankingResults made_up_ranking(int across = 5) {
    using namespace models;
    postproc::RankingResults r;
    r.bow.name = "small bow";
    r.study.name = "both leans to nothing";
    r.bow_file = "name = \"small bow\"\n";
    r.study_file = "name = \"both leans to nothing\"\n";
    const Quantity top{"cam lean, top", "", DrawPlace::full_draw},
        bottom{"cam lean, bottom", "", DrawPlace::full_draw};
    r.study.aims = {{top, Wish::target, 0, 0.05, 1}, {bottom, Wish::target, 0, 0.05, 2}};
    r.columns = {{{"cam lean, top", "deg", DrawPlace::full_draw}, "positive left", 3},
                 {{"cam lean, bottom", "deg", DrawPlace::full_draw}, "positive left", 3},
                 {{"peak weight", "N", DrawPlace::whole}, "largest draw force", 1}};
    const std::vector<Setting> settings = settings_of(testing::small_bow(), 0.25);
    for (const char* key : {"spacers_top", "spacers_bottom", "guide_lateral", "guide_angle"})
        r.settings.push_back(*find(settings, key));
    const double half = 0.125 * (across - 1);
    for (int t = 0; t < across; ++t)
        for (int b = 0; b < across; ++b)
            for (const double guide : {0., 2.}) {
                postproc::RankedLayout l;
                l.number = static_cast<std::int64_t>(r.rows.size());
                l.layout.pairing = {51, 52, 50.5, 50};
                l.layout.spacers_top = stacks_at(0.25 * t - half);
                l.layout.spacers_bottom = stacks_at(0.25 * b - half);
                l.layout.guide_lateral = guide;
                l.layout.guide_angle = units::degree;
                const double x = cam_offset(l.layout.spacers_top), y = cam_offset(l.layout.spacers_bottom);
                l.values = {0.4 * x + 0.05 + 0.1 * guide, 0.3 * y - 0.1, 300};
                const auto miss = [](double lean) { return std::max(0.0, std::abs(lean) - 0.05); };
                l.score.misses = {miss(l.values[0]), miss(l.values[1])};
                l.score.miss = l.score.misses[0] + 2 * l.score.misses[1];
                if (l.number > 0) l.rework = {Work::spacers, 4};
                r.rows.push_back(
                    {l.number, {x, y, guide, units::degree}, l.values, l.score.miss, 0, l.rework});
                if (l.number == 0) r.today = l;
                r.best.push_back(l);
            }
    std::stable_sort(r.best.begin(), r.best.end(),
                     [](const auto& a, const auto& b) { return a.score.miss < b.score.miss; });
    r.best.resize(std::min<std::size_t>(r.best.size(), 8));
    r.best[1].score.broken = {"peak weight 312.4 N, at most 300 N"};
    r.failures = {{1000, "the string ran off its groove at 612 mm"}};
    r.notes = {"Natural lengths were kept as they are on today's bow.",
               "Of 51 layouts 50 were solved; the rest was bounded out, because even with the errors of the "
               "estimate none of them could have come among the best 8."};
    return r;
}

}  // namespace limbwright::testing
