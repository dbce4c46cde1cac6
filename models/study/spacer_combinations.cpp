#include "models/study/spacer_combinations.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <stdexcept>
#include <tuple>
#include <utility>

#include "models/bow/spacers.hpp"
#include "models/input/units.hpp"

namespace limbwright::models {
namespace {

constexpr std::size_t most_ways = 5000;   // at one cam: pairs of them are gone through in a second
constexpr int most_choices = 10'000'000;  // looked at on the way there, about as long

using Counts = std::vector<int>;  // of each thickness in the box

/// Two stacks at one cam.
struct Way {
    Counts left, right;
    double offset = 0;
};

struct Window {
    double least = 0, most = 0;
};

/// What the spacers at a cam may add up to.
Window window(const Bow& bow, const Cam& cam) {
    const double empty = left_over(bow, {}, cam);
    return {empty - bow.play - sum_rounding, empty + sum_rounding};
}

/// By rising thickness, each once.
std::vector<SpacerKind> sorted(std::vector<SpacerKind> box) {
    std::ranges::stable_sort(box, {}, &SpacerKind::thickness);
    std::vector<SpacerKind> merged;
    for (const SpacerKind& kind : box) {
        if (merged.empty() || kind.thickness > merged.back().thickness + sum_rounding)
            merged.push_back(kind);
        else
            merged.back().count += kind.count;
    }
    return merged;
}

SpacerStacks stacks_of(const std::vector<SpacerKind>& box, const Way& way) {
    SpacerStacks stacks;
    for (std::size_t k = 0; k < box.size(); ++k) {
        stacks.left.insert(stacks.left.end(), way.left[k], box[k].thickness);
        stacks.right.insert(stacks.right.end(), way.right[k], box[k].thickness);
    }
    return stacks;
}

/// Goes through the ways to fill the gap at one cam: first what to take, then which of it stands left.
class Filling {
public:
    Filling(const Bow& bow, const Cam& cam, const std::vector<SpacerKind>& box)
        : box_(box), window_(window(bow, cam)), taken_(box.size()), left_(box.size()) {}

    std::vector<Way> all() {
        take(box_.size(), 0);
        return std::move(ways_);
    }

private:
    /// Takes of the kinds below `kinds`, the thickest first: fewest choices at the start.
    void take(std::size_t kinds, double so_far) {
        if (++choices_ > most_choices) throw std::length_error("too many choices of spacers");
        if (kinds == 0) {
            if (so_far >= window_.least) split(box_.size());
            return;
        }
        double rest = 0;
        for (std::size_t k = 0; k < kinds; ++k) rest += box_[k].thickness * box_[k].count;
        if (so_far + rest < window_.least) return;
        const SpacerKind& kind = box_[kinds - 1];
        for (int n = 0; n <= kind.count && so_far + n * kind.thickness <= window_.most; ++n) {
            taken_[kinds - 1] = n;
            take(kinds - 1, so_far + n * kind.thickness);
        }
    }

    void split(std::size_t kinds) {
        if (kinds == 0) {
            if (ways_.size() == most_ways) throw std::length_error("too many ways to stand spacers at a cam");
            Way way{left_, taken_};
            for (std::size_t k = 0; k < box_.size(); ++k) way.right[k] -= left_[k];
            way.offset = cam_offset(stacks_of(box_, way));
            ways_.push_back(std::move(way));
            return;
        }
        for (int n = 0; n <= taken_[kinds - 1]; ++n) {
            left_[kinds - 1] = n;
            split(kinds - 1);
        }
    }

    const std::vector<SpacerKind>& box_;
    Window window_;
    Counts taken_, left_;
    std::vector<Way> ways_;
    int choices_ = 0;
};

/// Ways of equal offset together, by rising offset.
std::vector<std::vector<Way>> by_offset(std::vector<Way> ways) {
    std::ranges::stable_sort(ways, {}, &Way::offset);
    std::vector<std::vector<Way>> groups;
    for (Way& way : ways) {
        if (groups.empty() || way.offset > groups.back().front().offset + sum_rounding) groups.emplace_back();
        groups.back().push_back(std::move(way));
    }
    for (std::vector<Way>& group : groups)
        std::ranges::sort(group, {}, [](const Way& way) { return std::tie(way.left, way.right); });
    return groups;
}

Counts counts_in(const std::vector<double>& stack, const std::vector<SpacerKind>& box) {
    Counts counts(box.size());
    for (const double thickness : stack)
        for (std::size_t k = 0; k < box.size(); ++k)
            counts[k] += std::abs(thickness - box[k].thickness) <= sum_rounding;
    return counts;
}

/// Today's counts: top left, top right, bottom left, bottom right.
using Today = std::array<Counts, 4>;

/// Spacers that move, come in or go out as `rework` counts them, but for today's of thicknesses that the box
/// does not hold: those always go out. No value if the box does not hold both ways.
int moves(const std::vector<SpacerKind>& box, const Today& today, const Way& top, const Way& bottom) {
    int parts = 0;
    for (std::size_t k = 0; k < box.size(); ++k) {
        const std::array counts{top.left[k], top.right[k], bottom.left[k], bottom.right[k]};
        int gains = 0, losses = 0;
        for (std::size_t place = 0; place < counts.size(); ++place) {
            const int gain = counts[place] - today[place][k];
            (gain > 0 ? gains : losses) += std::abs(gain);
        }
        parts += std::max(gains, losses);
    }
    return parts;
}

bool holds(const std::vector<SpacerKind>& box, const Way& top, const Way& bottom) {
    for (std::size_t k = 0; k < box.size(); ++k)
        if (top.left[k] + top.right[k] + bottom.left[k] + bottom.right[k] > box[k].count) return false;
    return true;
}

}  // namespace

std::vector<SpacerStacks> stacks_at(const Bow& bow, const Cam& cam, const std::vector<SpacerKind>& box) {
    const std::vector<SpacerKind> kinds = sorted(box);
    std::vector<SpacerStacks> stacks;
    for (const Way& way : Filling(bow, cam, kinds).all()) stacks.push_back(stacks_of(kinds, way));
    return stacks;
}

std::vector<SpacerPair> spacer_pairs(const Bow& bow, const std::vector<SpacerKind>& box) {
    const std::vector<SpacerKind> kinds = sorted(box);
    const SpacerStacks& top_today = bow.layout.spacers_top;
    const SpacerStacks& bottom_today = bow.layout.spacers_bottom;
    const Today today{counts_in(top_today.left, kinds), counts_in(top_today.right, kinds),
                      counts_in(bottom_today.left, kinds), counts_in(bottom_today.right, kinds)};
    const std::vector<std::vector<Way>> tops = by_offset(Filling(bow, bow.cam_top, kinds).all());
    const std::vector<std::vector<Way>> bottoms = by_offset(Filling(bow, bow.cam_bottom, kinds).all());
    std::vector<SpacerPair> pairs;
    for (const std::vector<Way>& alike_top : tops) {
        for (const std::vector<Way>& alike_bottom : bottoms) {
            const Way *best_top = nullptr, *best_bottom = nullptr;
            int fewest = std::numeric_limits<int>::max();
            for (const Way& top : alike_top)
                for (const Way& bottom : alike_bottom) {
                    if (!holds(kinds, top, bottom)) continue;
                    const int parts = moves(kinds, today, top, bottom);
                    if (parts < fewest) fewest = parts, best_top = &top, best_bottom = &bottom;
                }
            if (best_top) pairs.push_back({stacks_of(kinds, *best_top), stacks_of(kinds, *best_bottom)});
        }
    }
    return pairs;
}

double nearest_miss(const Bow& bow, const Cam& cam, const std::vector<SpacerKind>& box) {
    const Window wanted = window(bow, cam);
    // Every total of the box up to the first one beyond the window, each once but for rounding.
    std::vector<double> totals{0};
    for (const SpacerKind& kind : box) {
        const std::vector<double> before = totals;
        for (int n = 1; n <= kind.count; ++n)
            for (const double total : before)
                if (total + (n - 1) * kind.thickness <= wanted.most)
                    totals.push_back(total + n * kind.thickness);
        std::ranges::sort(totals);
        const auto same = [](double a, double b) { return b - a <= sum_rounding; };
        totals.erase(std::unique(totals.begin(), totals.end(), same), totals.end());
    }
    double nearest = std::numeric_limits<double>::infinity();
    for (const double total : totals) {
        if (total >= wanted.least && total <= wanted.most) return 0;
        // Without the window's allowance for rounding: this is for people to read.
        const double miss =
            total < wanted.least ? wanted.least + sum_rounding - total : wanted.most - sum_rounding - total;
        if (std::abs(miss) < std::abs(nearest)) nearest = miss;
    }
    return nearest;
}

}  // namespace limbwright::models
