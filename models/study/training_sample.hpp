#pragma once

#include <cstdint>
#include <functional>
#include <random>
#include <set>
#include <vector>

#include "models/study/response_surface.hpp"

namespace limbwright::models {

/// Numbered layouts, seen as points of their settings.
struct Space {
    std::int64_t size = 0;
    int variables = 0;
    /// Settings of layout number i. Called from several threads at once; fast if the last setting runs
    /// fastest.
    std::function<void(std::int64_t, double*)> point;
};

/// Chooses layouts that stand for all: the outermost ones, and others at random with extra weight on those
/// far from the middle, where a polynomial errs most. The same space gives the same choice everywhere.
class LayoutSample {
public:
    /// Looks at every layout of the space twice.
    LayoutSample(Space space, int threads);

    /// The range of each setting.
    [[nodiscard]] const Box& box() const { return box_; }
    /// How many values each setting takes, counted up to five.
    [[nodiscard]] const std::vector<int>& value_counts() const { return value_counts_; }

    /// Layouts that were not chosen before, in order of their numbers; the outermost ones that are left make
    /// up at most an eighth.
    ///
    /// @throws std::invalid_argument if more than half of the space would be chosen then
    [[nodiscard]] std::vector<std::int64_t> choose(std::int64_t count);

private:
    void find_box(int threads);
    void find_outermost(int threads);
    [[nodiscard]] std::int64_t draw(int draws);

    Space space_;
    Box box_;
    std::vector<int> value_counts_;
    std::vector<std::int64_t> outermost_;  ///< nearest to corners and to centres of faces; not yet chosen
    std::set<std::int64_t> chosen_;
    std::mt19937_64 random_{20240229};
};

}  // namespace limbwright::models
