#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <utility>
#include <vector>

namespace limbwright::models {

/// A merit, less is better, and a layout's number: no two are equal, so that their order is one and the same
/// for all threads.
using Ranked = std::pair<double, std::int64_t>;

/// The least of what was offered, kept without keeping all. The order of the offers does not matter.
class Leasts {
public:
    /// @param most  how many are kept; positive
    explicit Leasts(std::size_t most) : most_(most) {}
    void offer(Ranked ranked) {
        if (!(ranked < last_)) return;
        all_.push_back(ranked);
        if (all_.size() >= 2 * most_ + 64) cut();
    }
    void add(const Leasts& other) {
        for (const Ranked& ranked : other.all_) offer(ranked);
    }
    /// The least of all offers, the least of them first.
    [[nodiscard]] const std::vector<Ranked>& sorted() {
        cut();
        std::sort(all_.begin(), all_.end());
        return all_;
    }

private:
    void cut() {
        if (all_.size() <= most_) return;
        const auto end = all_.begin() + static_cast<std::ptrdiff_t>(most_);
        std::nth_element(all_.begin(), end - 1, all_.end());
        last_ = *(end - 1);
        all_.erase(end, all_.end());
    }
    std::size_t most_;
    Ranked last_{std::numeric_limits<double>::infinity(), std::numeric_limits<std::int64_t>::max()};
    std::vector<Ranked> all_;
};

}  // namespace limbwright::models
