#include "models/study/study_run.hpp"

#include <algorithm>
#include <map>

#include "models/study/reference_solver.hpp"

namespace limbwright::models {
namespace {

/// KnownRows of a study: those that are missing are solved.
class KnownRows {
public:
    KnownRows(const StudyBase& base, const StudyOptions& options) : base_(base), options_(options) {
        add(options.known);
    }

    std::vector<LayoutRow> solve(std::span<const std::int64_t> numbers) {
        std::vector<std::int64_t> missing;
        for (const std::int64_t number : numbers)
            if (!rows_.contains(number)) missing.push_back(number);
        stop_if_asked();
        const bool finished =
            solve_layouts(base_, missing, options_.run, [this](std::span<const LayoutRow> rows) {
                if (options_.sink) options_.sink(rows);
                add(rows);
            });
        if (!finished) throw Stopped{};
        std::vector<LayoutRow> wanted;
        wanted.reserve(numbers.size());
        for (const std::int64_t number : numbers) wanted.push_back(rows_.at(number));
        return wanted;
    }

    [[nodiscard]] SolveLayouts function() {
        return [this](std::span<const std::int64_t> numbers) { return solve(numbers); };
    }
    [[nodiscard]] SearchOptions search_options() const {
        return {.threads = options_.run.threads, .progress = [this](std::string_view work, double share) {
                    stop_if_asked();
                    if (options_.progress) options_.progress(work, share);
                }};
    }
    [[nodiscard]] std::size_t size() const { return rows_.size(); }

private:
    void add(std::span<const LayoutRow> rows) {
        for (const LayoutRow& row : rows) rows_[row.number] = row;
    }
    void stop_if_asked() const {
        if (options_.run.stop && *options_.run.stop) throw Stopped{};
    }

    const StudyBase& base_;
    const StudyOptions& options_;
    std::map<std::int64_t, LayoutRow> rows_;
};

}  // namespace

RankedStudy rank_study(const StudyBase& base, const StudyOptions& options) {
    KnownRows rows(base, options);
    RankedStudy study;
    study.search = search(base, rows.function(), rows.search_options());
    std::vector<std::int64_t> numbers = study.search.solved;
    const Layout& layout = base.today().bow.bow.layout;
    const std::optional<std::int64_t> today = base.product().number_of(layout);
    if (const auto place = std::ranges::lower_bound(numbers, today.value_or(-1));
        today && (place == numbers.end() || *place != *today))
        numbers.insert(place, *today);
    study.rows = rows.solve(numbers);
    study.ranking = ranked(base, study.rows,
                           today ? *std::ranges::lower_bound(study.rows, *today, {}, &LayoutRow::number)
                                 : solve_cold(base, layout, -1));
    return study;
}

std::size_t solve_share(const StudyBase& base, const StudyOptions& options,
                        const std::function<bool(std::int64_t)>& in_share) {
    KnownRows rows(base, options);
    search_share(base, rows.function(), rows.search_options(), in_share);
    return rows.size();
}

}  // namespace limbwright::models
