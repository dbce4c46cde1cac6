#include "models/study/search.hpp"

#include <set>

namespace limbwright::models {
namespace {

using Numbers = std::vector<std::int64_t>;

Numbers all_numbers(const StudyBase& base, const std::function<bool(std::int64_t)>& wanted = {}) {
    Numbers numbers;
    for (std::int64_t i = 0; i < base.product().size(); ++i)
        if (!wanted || wanted(i)) numbers.push_back(i);
    return numbers;
}

/// A screening by the columns that aims and limits look at. Remembers what was solved.
class Screener {
public:
    Screener(const StudyBase& base, const SolveLayouts& solve, const SearchOptions& options)
        : columns_(Scorer(base.study(), base.columns()).used()),
          scorer_(base.study(), used(base)),
          solve_(solve) {
        const Product& product = base.product();
        task_.space = {product.size(), static_cast<int>(product.varied().size()),
                       [&product](std::int64_t number, double* values) { product.point(number, values); }};
        task_.columns = static_cast<int>(columns_.size());
        task_.bounds = [this](const double* values, const double* errors) {
            const Scorer::Bounds b = scorer_.bounds(values, errors);
            return ScoreBounds{b.least, b.largest, b.can_hold, b.must_hold};
        };
        task_.keep = base.study().keep;
        task_.solve = [this](std::span<const std::int64_t> numbers) { return rows(numbers); };
        task_.threads = options.threads;
        task_.progress = options.progress;
    }
    Screener(const Screener&) = delete;
    Screener& operator=(const Screener&) = delete;

    [[nodiscard]] const ScreeningTask& task() const { return task_; }
    [[nodiscard]] const std::vector<std::size_t>& columns() const { return columns_; }
    [[nodiscard]] Numbers solved() const { return {solved_.begin(), solved_.end()}; }

    /// The looked-at values of each layout; an empty row where it could not be solved.
    std::vector<std::vector<double>> rows(std::span<const std::int64_t> numbers) {
        solved_.insert(numbers.begin(), numbers.end());
        std::vector<std::vector<double>> values;
        for (const LayoutRow& row : solve_(numbers)) {
            values.emplace_back();
            if (row.failure.empty())
                for (const std::size_t column : columns_) values.back().push_back(row.values[column]);
        }
        return values;
    }

private:
    [[nodiscard]] std::vector<PlacedMeasure> used(const StudyBase& base) const {
        std::vector<PlacedMeasure> columns;
        for (const std::size_t column : columns_) columns.push_back(base.columns()[column]);
        return columns;
    }

    std::vector<std::size_t> columns_;
    Scorer scorer_;
    const SolveLayouts& solve_;
    ScreeningTask task_;
    std::set<std::int64_t> solved_;
};

}  // namespace

bool is_screened(const StudyBase& base) {
    return base.product().size() > base.study().solve_all && !base.product().varied().empty();
}

StudySearch search(const StudyBase& base, const SolveLayouts& solve, const SearchOptions& options) {
    if (!is_screened(base)) {
        StudySearch all{all_numbers(base), {}, {}};
        (void)solve(all.solved);
        return all;
    }
    Screener screener(base, solve, options);
    Screening screening = screen(screener.task());
    for (Numbers candidates = screening.candidates; !candidates.empty();)
        candidates = check_candidates(screener.task(), screening, candidates, screener.rows(candidates));
    return {screener.solved(), std::move(screening), screener.columns()};
}

void search_share(const StudyBase& base, const SolveLayouts& solve, const SearchOptions& options,
                  const std::function<bool(std::int64_t)>& in_share) {
    if (!is_screened(base)) {
        (void)solve(all_numbers(base, in_share));
        return;
    }
    Screener screener(base, solve, options);
    Numbers candidates = screen(screener.task()).candidates;
    std::erase_if(candidates, [&](std::int64_t number) { return !in_share(number); });
    (void)solve(candidates);
}

}  // namespace limbwright::models
