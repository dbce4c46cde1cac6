#include "models/study/ranking.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace limbwright::models {

bool is_better(const RankedLayout& a, const RankedLayout& b) {
    const auto rank = [](const RankedLayout& l) {
        return std::tuple(!l.score.broken.empty(), l.score.miss, l.rework, l.number);
    };
    return rank(a) < rank(b);
}

Ranking ranked(const StudyBase& base, const std::vector<LayoutRow>& rows, LayoutRow today) {
    const Scorer scorer(base.study(), base.columns());
    const Bow& bow = base.today().bow.bow;
    if (!today.failure.empty()) today.values.assign(base.columns().size(), NAN);
    const Score score = scorer.score(today.values);
    Ranking ranking{{std::move(today), bow.layout, score, {}}, {}, {}};
    for (const LayoutRow& row : rows) {
        if (!row.failure.empty()) {
            ranking.failures.push_back(row);
            continue;
        }
        Layout layout = base.product().layout(row.number);
        const Rework work = rework(bow.layout, layout, bow.limb.kind);
        ranking.rows.push_back({row, std::move(layout), scorer.score(row.values), work});
    }
    std::vector<const RankedLayout*> order;
    for (const RankedLayout& layout : ranking.rows) order.push_back(&layout);
    const auto keep = std::min(std::ssize(order), static_cast<std::ptrdiff_t>(base.study().keep));
    std::partial_sort(order.begin(), order.begin() + keep, order.end(),
                      [](const RankedLayout* a, const RankedLayout* b) { return is_better(*a, *b); });
    for (auto best = order.begin(); best != order.begin() + keep; ++best) ranking.best.push_back(**best);
    return ranking;
}

}  // namespace limbwright::models
