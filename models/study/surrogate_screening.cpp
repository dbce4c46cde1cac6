#include "models/study/surrogate_screening.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <stdexcept>

#include "models/study/best_k.hpp"
#include "models/study/parallel_for.hpp"

namespace limbwright::models {
namespace {

using Numbers = std::vector<std::int64_t>;
using Rows = std::vector<std::vector<double>>;

constexpr double infinite = std::numeric_limits<double>::infinity();
/// The worst of a thousand layouts is not the worst of millions. In 20 products of 105,000 layouts each,
/// seven settings, smooth or with a kink, 2 of 8.4 million values lay outside twice what the check had shown,
/// by a factor of 1.6 at most (computed: the functions of this unit's test).
constexpr double safety = 2;
/// Of the largest value: a column that the model meets exactly still has rounding.
constexpr double least_error = 1e-12;
constexpr int fits_per_term = 4, checks_per_term = 8;
constexpr int first_degree = 3, last_degree = 4;
/// A least-squares fit of more terms takes longer than the layouts it would save.
constexpr int most_terms = 800;
/// With more failures than this share the settings' range is not understood, and no model is trusted.
constexpr double most_failures = 0.2;
/// The most promising layouts, per layout wanted, that are solved to bring the threshold down.
constexpr int probes_per_kept = 4;

std::function<void(double)> stage(const ScreeningTask& task, std::string_view name) {
    if (!task.progress) return {};
    return [&task, name](double share) { task.progress(name, share); };
}

/// Calls offer(thread, number, bounds) for every layout.
template <class Offer>
void bound_each(const ScreeningTask& task, const Screening& screening, std::string_view name,
                const Offer& offer) {
    parallel_for(task.space.size,
                 {.threads = task.threads, .block = long_block, .progress = stage(task, name)},
                 [&](int thread, std::int64_t first, std::int64_t last) {
                     Response::Walk walk(screening.model);
                     std::vector<double> point(task.space.variables);
                     for (std::int64_t number = first; number < last; ++number) {
                         task.space.point(number, point.data());
                         offer(thread, number, task.bounds(walk.at(point.data()), screening.errors.data()));
                     }
                 });
}

/// Scores that layouts cannot exceed, and the most promising layouts; of both the best. Each thread fills
/// one, on cache lines of its own.
struct alignas(64) BestScores {
    Leasts sure, promising;
    explicit BestScores(int keep)
        : sure(static_cast<std::size_t>(keep) * (1 + probes_per_kept)),
          promising(static_cast<std::size_t>(keep) * probes_per_kept) {}
};

BestScores rank(const ScreeningTask& task, const Screening& screening) {
    std::vector<BestScores> found(task.threads, BestScores(task.keep));
    bound_each(task, screening, "ranking layouts",
               [&](int thread, std::int64_t number, const ScoreBounds& bounds) {
                   if (!bounds.can_hold || screening.failures.contains(number)) return;
                   if (bounds.must_hold) found[thread].sure.offer({bounds.largest, number});
                   found[thread].promising.offer({bounds.least + bounds.largest, number});
               });
    for (std::size_t t = 1; t < found.size(); ++t) {
        found[0].sure.add(found[t].sure);
        found[0].promising.add(found[t].promising);
    }
    return found[0];
}

/// The score that enough solved layouts meet.
double solved_threshold(const ScreeningTask& task, const Screening& screening) {
    if (screening.scores.size() < static_cast<std::size_t>(task.keep)) return infinite;
    std::vector<double> scores;
    for (const auto& [number, score] : screening.scores) scores.push_back(score);
    std::nth_element(scores.begin(), scores.begin() + task.keep - 1, scores.end());
    return scores[task.keep - 1];
}

/// The score that enough layouts are sure to meet, solved or not, if they can be solved at all.
double sure_threshold(const ScreeningTask& task, const Screening& screening, Leasts& sure) {
    int left = task.keep;
    for (const auto& [largest, number] : sure.sorted())
        if (!screening.failures.contains(number) && --left == 0) return largest;
    return infinite;
}

bool usable(const std::vector<double>& row) {
    return !row.empty() && std::all_of(row.begin(), row.end(), [](double x) { return std::isfinite(x); });
}

/// Notes scores and failures.
void note(const ScreeningTask& task, Screening& screening, std::span<const std::int64_t> numbers,
          const Rows& rows) {
    if (rows.size() != numbers.size()) throw std::invalid_argument("one row of values for each layout");
    const std::vector<double> exact(task.columns, 0.0);
    for (std::size_t k = 0; k < numbers.size(); ++k) {
        if (!usable(rows[k])) {
            screening.failures.insert(numbers[k]);
            continue;
        }
        if (rows[k].size() != static_cast<std::size_t>(task.columns))
            throw std::invalid_argument("a layout needs a value for each column");
        const ScoreBounds score = task.bounds(rows[k].data(), exact.data());
        if (score.must_hold) screening.scores[numbers[k]] = score.largest;
    }
}

/// Largest |value − model| of each column.
std::vector<double> largest_errors(const ScreeningTask& task, const Response& model,
                                   std::span<const std::int64_t> numbers, const Rows& rows) {
    std::vector<double> largest(task.columns, 0.0), point(task.space.variables);
    Response::Walk walk(model);
    for (std::size_t k = 0; k < numbers.size(); ++k) {
        if (!usable(rows[k])) continue;
        task.space.point(numbers[k], point.data());
        const double* modelled = walk.at(point.data());
        for (int c = 0; c < task.columns; ++c)
            largest[c] = std::max(largest[c], std::abs(rows[k][c] - modelled[c]));
    }
    return largest;
}

/// Notes solved layouts and holds them against the model.
///
/// @return whether one lay outside the errors, which have been widened then
bool learn(const ScreeningTask& task, Screening& screening, std::span<const std::int64_t> numbers,
           const Rows& rows) {
    note(task, screening, numbers, rows);
    const std::vector<double> found = largest_errors(task, screening.model, numbers, rows);
    bool widened = false;
    for (int c = 0; c < task.columns; ++c) {
        screening.worst_shares[c] = std::max(screening.worst_shares[c], found[c] / screening.errors[c]);
        if (found[c] <= screening.errors[c]) continue;
        screening.errors[c] = safety * found[c];
        widened = true;
    }
    return widened;
}

/// Brings the threshold up to date; solves the most promising layouts for that, and widens the errors if
/// these show that they must be.
void find_threshold(const ScreeningTask& task, Screening& screening) {
    for (bool again = true; again;) {
        BestScores ranking = rank(task, screening);
        Numbers probes;
        for (const auto& [merit, number] : ranking.promising.sorted())
            if (!screening.scores.contains(number)) probes.push_back(number);
        std::sort(probes.begin(), probes.end());
        again = !probes.empty() && learn(task, screening, probes, task.solve(probes));
        screening.threshold =
            std::min(solved_threshold(task, screening), sure_threshold(task, screening, ranking.sure));
    }
}

/// Evenly spread over [0, 1) and without order: the finaliser of the splitmix64 generator.
double scattered(std::int64_t number) {
    auto bits = static_cast<std::uint64_t>(number) + 0x9e3779b97f4a7c15u;
    bits = (bits ^ (bits >> 30)) * 0xbf58476d1ce4e5b9u;
    bits = (bits ^ (bits >> 27)) * 0x94d049bb133111ebu;
    return std::ldexp(static_cast<double>((bits ^ (bits >> 31)) >> 11), -53);
}

/// Adds the best of those that may be among the best and are no candidates yet.
///
/// @return those added
Numbers add_candidates(const ScreeningTask& task, Screening& screening) {
    struct alignas(64) Found {
        Leasts leasts;
        std::int64_t count = 0;
        double nearest_out = infinite;
    };
    std::vector<Found> found(task.threads, Found{Leasts(static_cast<std::size_t>(task.most_candidates))});
    const auto known = [&](std::int64_t number) {
        return std::binary_search(screening.candidates.begin(), screening.candidates.end(), number);
    };
    const auto take = [&](int thread, std::int64_t number, double merit) {
        if (known(number)) return;
        ++found[thread].count;
        found[thread].leasts.offer({merit, number});
    };
    if (screening.modelled)
        bound_each(task, screening, "choosing candidates",
                   [&](int thread, std::int64_t number, const ScoreBounds& bounds) {
                       if (!bounds.can_hold) return;
                       if (bounds.least <= screening.threshold)
                           take(thread, number, bounds.least);
                       else
                           found[thread].nearest_out = std::min(found[thread].nearest_out, bounds.least);
                   });
    else
        parallel_for(task.space.size, {.threads = task.threads, .block = long_block},
                     [&](int thread, std::int64_t first, std::int64_t last) {
                         for (; first < last; ++first) take(thread, first, scattered(first));
                     });
    for (std::size_t t = 1; t < found.size(); ++t) {
        found[0].leasts.add(found[t].leasts);
        found[0].count += found[t].count;
        found[0].nearest_out = std::min(found[0].nearest_out, found[t].nearest_out);
    }
    Numbers added, all;
    for (const auto& [merit, number] : found[0].leasts.sorted()) added.push_back(number);
    std::sort(added.begin(), added.end());
    std::merge(screening.candidates.begin(), screening.candidates.end(), added.begin(), added.end(),
               std::back_inserter(all));
    screening.candidates = std::move(all);
    screening.waiting = found[0].count - static_cast<std::int64_t>(added.size());
    screening.bounded_out =
        task.space.size - static_cast<std::int64_t>(screening.candidates.size()) - screening.waiting;
    screening.margin =
        found[0].nearest_out < infinite ? found[0].nearest_out - screening.threshold : infinite;
    return added;
}

/// Layouts solved for a fit or a check.
struct Solved {
    Numbers numbers;
    Rows rows;

    /// Solves more of a sample until there are `count`.
    void fill(const ScreeningTask& task, LayoutSample& sample, std::int64_t count) {
        const Numbers more = sample.choose(std::max<std::int64_t>(count - std::ssize(numbers), 0));
        const Rows more_rows = task.solve(more);
        if (more_rows.size() != more.size()) throw std::invalid_argument("one row of values for each layout");
        numbers.insert(numbers.end(), more.begin(), more.end());
        rows.insert(rows.end(), more_rows.begin(), more_rows.end());
    }
    [[nodiscard]] int succeeded() const {
        return static_cast<int>(std::count_if(rows.begin(), rows.end(), usable));
    }
};

/// Points and values of the layouts that did not fail.
Response fit(const ScreeningTask& task, const Box& box, int degree, const std::vector<int>& highest,
             const Solved& solved) {
    const int count = solved.succeeded();
    solver::MatX points(task.space.variables, count), values(task.columns, count);
    Eigen::Index p = 0;
    for (std::size_t k = 0; k < solved.rows.size(); ++k) {
        if (!usable(solved.rows[k])) continue;
        task.space.point(solved.numbers[k], points.col(p).data());
        values.col(p++) = Eigen::Map<const solver::VecX>(solved.rows[k].data(), task.columns);
    }
    return {box, degree, highest, points, values};
}

std::vector<double> largest_values(const ScreeningTask& task, const Rows& rows) {
    std::vector<double> largest(task.columns, std::numeric_limits<double>::min());
    for (const std::vector<double>& row : rows)
        for (int c = 0; usable(row) && c < task.columns; ++c)
            largest[c] = std::max(largest[c], std::abs(row[c]));
    return largest;
}

/// The screening with a model of some degree; not modelled if too many layouts fail. Fits and checks of a
/// lower degree are kept and added to, so that what is checked has never been fitted.
Screening try_degree(const ScreeningTask& task, int degree, const std::vector<int>& highest,
                     LayoutSample& sample, Solved& fits, Solved& checks) {
    Screening screening;
    screening.degree = degree;
    screening.terms = response_terms(degree, highest);
    fits.fill(task, sample, fits_per_term * screening.terms);
    checks.fill(task, sample, checks_per_term * screening.terms);
    note(task, screening, fits.numbers, fits.rows);
    note(task, screening, checks.numbers, checks.rows);
    screening.fitted = fits.succeeded();
    screening.checked = checks.succeeded();
    screening.tried = static_cast<int>(fits.rows.size() + checks.rows.size());
    screening.failed = screening.tried - screening.fitted - screening.checked;
    if (screening.failed > most_failures * screening.tried) return screening;

    screening.model = fit(task, sample.box(), degree, highest, fits);
    screening.errors = largest_errors(task, screening.model, checks.numbers, checks.rows);
    const std::vector<double> sizes = largest_values(task, fits.rows);
    for (int c = 0; c < task.columns; ++c)
        screening.errors[c] = safety * screening.errors[c] + least_error * sizes[c];
    screening.worst_shares.assign(task.columns, 0.0);
    screening.modelled = true;
    find_threshold(task, screening);
    add_candidates(task, screening);
    return screening;
}

}  // namespace

Screening screen(const ScreeningTask& task) {
    if (task.space.size <= 0 || task.space.variables <= 0 || task.columns <= 0 || task.keep <= 0 ||
        task.threads <= 0 || task.most_candidates <= 0)
        throw std::invalid_argument("a screening needs layouts, settings, columns and something to keep");
    LayoutSample sample(task.space, task.threads);
    std::vector<int> highest;
    for (const int count : sample.value_counts()) highest.push_back(count - 1);
    const auto cost = [&](int degree) {
        return (fits_per_term + checks_per_term) * std::int64_t{response_terms(degree, highest)};
    };
    // Past a quarter there is little left to save.
    const auto affordable = [&](int degree) {
        return degree > 0 && response_terms(degree, highest) <= most_terms &&
               4 * cost(degree) <= task.space.size;
    };
    int degree = first_degree;
    while (degree > 0 && !affordable(degree)) --degree;

    Screening best;
    Solved fits, checks;
    for (; affordable(degree); ++degree) {
        Screening tried = try_degree(task, degree, highest, sample, fits, checks);
        const auto open = [](const Screening& s) { return std::ssize(s.candidates) + s.waiting; };
        if (!best.modelled || (tried.modelled && open(tried) < open(best))) best = std::move(tried);
        if (!best.modelled || degree == last_degree || cost(degree + 1) == cost(degree) ||
            open(best) <= cost(degree + 1) - cost(degree))
            break;
    }
    if (!best.modelled) add_candidates(task, best);
    return best;
}

std::vector<std::int64_t> check_candidates(const ScreeningTask& task, Screening& screening,
                                           std::span<const std::int64_t> numbers,
                                           const std::vector<std::vector<double>>& rows) {
    bool again = screening.waiting > 0;
    if (screening.modelled) {
        again |= learn(task, screening, numbers, rows);
        // Failures may have taken away layouts that were counted on.
        again |= solved_threshold(task, screening) > screening.threshold;
    }
    if (!again) {
        if (const double solved = solved_threshold(task, screening);
            screening.modelled && solved < infinite) {
            screening.margin += screening.threshold - solved;
            screening.threshold = solved;
        }
        return {};
    }
    if (screening.modelled) find_threshold(task, screening);
    return add_candidates(task, screening);
}

}  // namespace limbwright::models
