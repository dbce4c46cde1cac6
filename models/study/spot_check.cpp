#include "models/study/spot_check.hpp"

#include <algorithm>
#include <cmath>

#include "models/study/parallel_for.hpp"
#include "models/study/reference_solver.hpp"

namespace limbwright::models {
namespace {

constexpr std::size_t one_in = 100, at_most = 500;
/// Warm and cold solutions meet the same equations to within rounding, which the limbs' stiffness magnifies.
constexpr double tolerance = 1e-5;

std::vector<const LayoutRow*> chosen_of(std::span<const LayoutRow> rows) {
    std::vector<const LayoutRow*> solved, chosen;
    for (const LayoutRow& row : rows)
        if (row.failure.empty()) solved.push_back(&row);
    const std::size_t count = std::min({solved.size(), (solved.size() + one_in - 1) / one_in, at_most});
    for (std::size_t i = 0; i < count; ++i) chosen.push_back(solved[i * solved.size() / count]);
    return chosen;
}

/// Differences of the columns; none where the layout could not be solved from cold.
std::vector<double> differences(const LayoutRow& row, const LayoutRow& cold) {
    std::vector<double> all;
    for (std::size_t c = 0; c < cold.values.size(); ++c) {
        const double a = row.values[c], b = cold.values[c];
        all.push_back(std::isnan(a) && std::isnan(b) ? 0 : std::abs(a - b));
    }
    return all;
}

bool differs(const LayoutRow& row, const std::vector<double>& differences) {
    for (std::size_t c = 0; c < differences.size(); ++c)
        if (!(differences[c] <= tolerance * (1 + std::abs(row.values[c])))) return true;
    return differences.empty();
}

}  // namespace

ColdCheck compare_with_cold(const StudyBase& base, std::span<const LayoutRow> rows, int threads,
                            const std::atomic<bool>* stop, const std::function<void(double)>& progress) {
    const std::vector<const LayoutRow*> chosen = chosen_of(rows);
    std::vector<LayoutRow> cold(chosen.size());
    const bool finished = parallel_for(
        std::ssize(chosen), {.threads = threads, .stop = stop, .progress = progress},
        [&](int, std::int64_t i, std::int64_t) { cold[i] = solve_cold(base, chosen[i]->number); });
    ColdCheck check;
    check.largest.assign(base.columns().size(), 0);
    check.stopped = !finished;
    if (!finished) return check;
    for (std::size_t i = 0; i < chosen.size(); ++i) {
        const std::vector<double> found = differences(*chosen[i], cold[i]);
        for (std::size_t c = 0; c < found.size(); ++c)
            if (!(found[c] <= check.largest[c])) check.largest[c] = found[c];
        check.compared.push_back(chosen[i]->number);
        if (differs(*chosen[i], found)) check.differing.push_back(chosen[i]->number);
    }
    return check;
}

}  // namespace limbwright::models
