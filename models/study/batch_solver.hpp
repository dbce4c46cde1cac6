#pragma once

#include <array>
#include <span>

#include "models/study/layout_result.hpp"
#include "models/study/reference_states.hpp"
#include "solver/lanes/lane_solver.hpp"

namespace limbwright::models {

/// How a solver of layouts has fared.
struct SolveCounts {
    std::int64_t layouts = 0, iterations = 0;  ///< iterations of whole packs
    std::int64_t plain = 0;  ///< layouts that the plain engine took over: lanes gave them up, or cams part
    std::int64_t failed = 0;
    SolveCounts& operator+=(const SolveCounts& o);
};

/// Solves layouts of a study, eight at a time, warm from today's states. One for each thread. A layout's row
/// never depends on the other layouts that are solved with it.
class LayoutSolver {
public:
    explicit LayoutSolver(const StudyBase& base, const std::string& kernel = {});

    /// @param numbers  at most eight
    [[nodiscard]] std::vector<LayoutRow> solve(std::span<const std::int64_t> numbers);
    [[nodiscard]] const SolveCounts& counts() const { return counts_; }

private:
    struct Lane {
        std::int64_t number = 0;
        Layout layout;
        StrungBow strung;           ///< the layout's bow
        solver::VecX lengths;       ///< of `cut_parts` [mm]
        std::vector<double> point;  ///< changes of the varied settings from today
        ShortDraw states;
        bool lost = false;
    };

    void load(std::span<const std::int64_t> numbers);
    void find_states(std::size_t station);
    void read_states(std::size_t station);
    void settle_lengths(std::array<bool, solver::LanePack::width>& active,
                        const solver::LanePack::Row& decrements);
    [[nodiscard]] bool solve_plain(Lane& lane) const;
    [[nodiscard]] LayoutRow row_of(Lane& lane);

    const StudyBase& base_;
    std::unique_ptr<solver::LanePack> pack_;
    std::array<Lane, solver::LanePack::width> lanes_;
    std::size_t count_ = 0;
    SolveCounts counts_;
};

}  // namespace limbwright::models
