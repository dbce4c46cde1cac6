#include "models/study/ranking.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "models/bow/spacers.hpp"

namespace limbwright::models {
namespace {

/// Values of ranges and offsets are sums: those that should be equal differ by rounding [mm, rad, turns].
constexpr double value_rounding = 1e-9;

bool same(double a, double b) {
    return std::abs(a - b) < value_rounding;
}

/// Index of the choice that holds; one past the last if none does.
template <class Choice, class Holds>
std::size_t find_choice(const std::vector<Choice>& choices, const Holds& holds) {
    return static_cast<std::size_t>(std::ranges::find_if(choices, holds) - choices.begin());
}

}  // namespace

bool is_better(const Standing& a, const Standing& b) {
    const auto rank = [](const Standing& s) {
        return std::tuple(!s.score.broken.empty(), s.score.miss, s.rework, s.number);
    };
    return rank(a) < rank(b);
}

std::vector<Standing> standings(std::span<const LayoutRow> rows, const Scorer& scorer, const Product& product,
                                const Bow& bow) {
    const std::vector<Setting> settings = settings_of(bow);
    std::vector<Standing> all;
    for (const LayoutRow& row : rows)
        if (row.failure.empty())
            all.push_back({row.number, scorer.score(row.values),
                           rework(settings, bow.layout, product.layout(row.number))});
    return all;
}

std::vector<Standing> best_of(std::vector<Standing> all, std::size_t keep) {
    const std::size_t count = std::min(keep, all.size());
    std::partial_sort(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(count), all.end(), is_better);
    all.resize(count);
    return all;
}

std::optional<std::int64_t> number_of_today(const Bow& bow, const Study& study, const Product& product) {
    const Layout& today = bow.layout;
    std::int64_t number = 0;
    bool found = true;
    const auto add = [&](const auto& choices, const auto& holds) {
        const std::size_t choice = find_choice(choices, holds);
        found &= choice < choices.size();
        number = number * std::ssize(choices) + static_cast<std::int64_t>(choice);
    };
    add(product.pairings(), [&](const Pairing& p) {
        return p.top_left == today.pairing.top_left && p.top_right == today.pairing.top_right &&
               p.bottom_left == today.pairing.bottom_left && p.bottom_right == today.pairing.bottom_right;
    });
    add(product.spacers(), [&](const SpacerPair& s) {
        return same(cam_offset(s.top), cam_offset(today.spacers_top)) &&
               same(cam_offset(s.bottom), cam_offset(today.spacers_bottom));
    });
    const std::vector<Setting> settings = settings_of(bow);
    for (std::size_t i = 0; i < study.ranges.size(); ++i) {
        const auto setting = std::ranges::find(settings, study.ranges[i].setting, &Setting::name);
        add(product.ranges()[i], [&](double value) { return same(value, setting->get(today)); });
    }
    return found ? std::optional(number) : std::nullopt;
}

}  // namespace limbwright::models
