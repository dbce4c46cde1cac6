#pragma once

#include <algorithm>
#include <filesystem>
#include <numeric>

#include "models/bow/bow_file.hpp"
#include "models/study/batch_solver.hpp"
#include "models/study/study_file.hpp"

/// A few dozen layouts of the examples' crossed bow.
namespace limbwright::testing {

inline models::Bow crossed_bow() {
    models::Bow bow = models::read_bow(SOURCE_DIR "/examples/crossed.toml");
    bow.shooter.states = 9;  // fewer to draw and to write
    return bow;
}

/// 12 pairings × 3 places of the guide: 36 layouts.
inline models::Study small_study() {
    models::Study study;
    study.name = "small study";
    study.limbs = {51, 49, 50, 50};
    study.ranges = {{"guide, lateral", {-1, 1, 1}}};
    study.aims = {{.quantity = {.measure = "lean_top", .less = "lean_bottom"}, .within = 0.05},
                  {.quantity = {.measure = "nock_travel_lateral", .less = ""}, .within = 0.1}};
    return study;
}

/// Made once for all tests of a program: it takes as long as a hundred layouts.
inline const models::StudyBase& small_base() {
    static const models::StudyBase base(crossed_bow(), small_study());
    return base;
}

/// 0 … count − 1.
inline std::vector<std::int64_t> first_numbers(std::int64_t count) {
    std::vector<std::int64_t> numbers(static_cast<std::size_t>(count));
    std::iota(numbers.begin(), numbers.end(), 0);
    return numbers;
}

inline std::vector<models::LayoutRow> rows_of(const models::StudyBase& base,
                                              std::span<const std::int64_t> numbers) {
    constexpr std::size_t pack = 8;
    models::LayoutSolver solver(base);
    std::vector<models::LayoutRow> rows;
    for (std::size_t i = 0; i < numbers.size(); i += pack)
        std::ranges::move(solver.solve(numbers.subspan(i, std::min(pack, numbers.size() - i))),
                          std::back_inserter(rows));
    return rows;
}

inline std::vector<models::LayoutRow> small_rows(std::int64_t count) {
    return rows_of(small_base(), first_numbers(count));
}

}  // namespace limbwright::testing
