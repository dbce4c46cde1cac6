#include "postproc/results/study_results.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "models/study/ranking.hpp"

namespace limbwright::postproc {
namespace {

/// All solved layouts as numbers.
std::vector<SolvedLayout> solved_layouts(const models::StudyBase& base,
                                         std::span<const models::LayoutRow> rows,
                                         const std::vector<models::Standing>& standings) {
    std::vector<SolvedLayout> all;
    auto row = rows.begin();
    for (const models::Standing& s : standings) {
        while (row->number != s.number) ++row;  // both by rising number, and standings lack what failed
        std::vector<double> settings(base.product().varied().size());
        base.product().point(s.number, settings.data());
        all.push_back({s.number, std::move(settings), row->values, s.score.miss,
                       static_cast<int>(s.score.broken.size()), s.rework});
    }
    return all;
}

}  // namespace

RankingResults results_of(const models::StudyFile& study, const models::StudyBase& base,
                          std::span<const models::LayoutRow> rows, const models::LayoutRow& today) {
    const models::Scorer scorer(study.study, base.columns());
    std::vector<models::Standing> standings = models::standings(rows, scorer, base.product(), study.bow);
    RankingResults results;
    results.bow = study.bow;
    results.study = study.study;
    results.columns = base.columns();
    results.settings = base.product().varied();
    // Nothing is known of a layout that could not be solved.
    const std::vector<double> values =
        today.failure.empty() ? today.values : std::vector<double>(base.columns().size(), NAN);
    results.today = {today.number, study.bow.layout, values, scorer.score(values), {}};
    results.rows = solved_layouts(base, rows, standings);
    for (const models::LayoutRow& row : rows)
        if (!row.failure.empty()) results.failures.emplace_back(row.number, row.failure);
    for (models::Standing& best :
         models::best_of(std::move(standings), static_cast<std::size_t>(study.study.keep))) {
        const auto row = std::ranges::lower_bound(rows, best.number, {}, &models::LayoutRow::number);
        results.best.push_back({best.number, base.product().layout(best.number), row->values,
                                std::move(best.score), best.rework});
    }
    return results;
}

}  // namespace limbwright::postproc
