#include "models/study/objective.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace limbwright::models {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

/// How far a value misses an aim; rises or falls with the value, or has one lowest stretch.
double miss(const Aim& aim, double value) {
    switch (aim.wish) {
        case Wish::least:
            return value;
        case Wish::most:
            return -value;
        case Wish::target:
            break;
    }
    return std::max(0.0, std::abs(value - aim.target) - aim.within);
}

bool keeps(const Limit& limit, double value) {
    return value >= limit.at_least && value <= limit.at_most;
}

std::string broken_limit(const Limit& limit, double value, const std::string& name, const std::string& unit) {
    const bool low = !(value >= limit.at_least);
    return fmt::format("{} is {:.4g} {}, {} {:.4g} wanted", name, value, unit, low ? "at least" : "at most",
                       low ? limit.at_least : limit.at_most);
}

}  // namespace

std::size_t index_of(const MeasureKey& key, const std::vector<PlacedMeasure>& columns) {
    const auto found = std::ranges::find(columns, key, &PlacedMeasure::key);
    if (found == columns.end())
        throw std::invalid_argument(fmt::format("no column for {}", in_words(key.id, key.at)));
    return static_cast<std::size_t>(found - columns.begin());
}

std::string in_words(const Quantity& quantity, const std::vector<PlacedMeasure>& columns) {
    const auto name = [&](const std::string& id) {
        return columns[index_of({id, quantity.at}, columns)].measure.name;
    };
    std::string text = name(quantity.measure);
    if (!quantity.less.empty()) text += ", less " + name(quantity.less);
    return in_words(text, quantity.at);
}

Scorer::Scorer(const Study& study, const std::vector<PlacedMeasure>& columns)
    : aims_(study.aims), limits_(study.limits) {
    for (const Aim& aim : aims_) aim_sources_.push_back(source_of(aim.quantity, columns));
    for (const Limit& limit : limits_) {
        limit_sources_.push_back(source_of(limit.quantity, columns));
        limit_names_.push_back(in_words(limit.quantity, columns));
        limit_units_.push_back(columns[limit_sources_.back().column].measure.unit);
    }
    std::ranges::sort(used_);
    used_.erase(std::unique(used_.begin(), used_.end()), used_.end());
}

Scorer::Source Scorer::source_of(const Quantity& quantity, const std::vector<PlacedMeasure>& columns) {
    Source source{.column = index_of({quantity.measure, quantity.at}, columns)};
    used_.push_back(source.column);
    if (!quantity.less.empty()) {
        source.less = index_of({quantity.less, quantity.at}, columns);
        used_.push_back(source.less);
    }
    return source;
}

double Scorer::value_at(const Source& source, const double* values) {
    return values[source.column] - (source.less == Source::none ? 0 : values[source.less]);
}

Scorer::Interval Scorer::interval_at(const Source& source, const double* values, const double* errors) {
    const double value = value_at(source, values);
    const double error = errors[source.column] + (source.less == Source::none ? 0 : errors[source.less]);
    if (std::isnan(value) || std::isnan(error)) return {-infinity, infinity};
    return {value - error, value + error};
}

Score Scorer::score(const std::vector<double>& values) const {
    Score score;
    for (std::size_t i = 0; i < aims_.size(); ++i) {
        const double value = value_at(aim_sources_[i], values.data());
        score.misses.push_back(std::isnan(value) ? infinity : miss(aims_[i], value));
        score.miss += aims_[i].weight * score.misses.back();
    }
    for (std::size_t i = 0; i < limits_.size(); ++i) {
        const double value = value_at(limit_sources_[i], values.data());
        if (!keeps(limits_[i], value))
            score.broken.push_back(broken_limit(limits_[i], value, limit_names_[i], limit_units_[i]));
    }
    return score;
}

Scorer::Bounds Scorer::bounds(const double* values, const double* errors) const {
    Bounds bounds;
    for (std::size_t i = 0; i < aims_.size(); ++i) {
        const Aim& aim = aims_[i];
        const auto [low, high] = interval_at(aim_sources_[i], values, errors);
        const double at_low = miss(aim, low), at_high = miss(aim, high);
        const bool hits = aim.wish == Wish::target && low <= aim.target && aim.target <= high;
        bounds.least += aim.weight * (hits ? 0 : std::min(at_low, at_high));
        bounds.largest += aim.weight * std::max(at_low, at_high);
    }
    for (std::size_t i = 0; i < limits_.size(); ++i) {
        const auto [low, high] = interval_at(limit_sources_[i], values, errors);
        if (high < limits_[i].at_least || low > limits_[i].at_most) bounds.can_hold = false;
        if (!keeps(limits_[i], low) || !keeps(limits_[i], high)) bounds.must_hold = false;
    }
    return bounds;
}

}  // namespace limbwright::models
