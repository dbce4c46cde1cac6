#include "models/study/training_sample.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <unordered_map>

#include "models/study/parallel_for.hpp"

namespace limbwright::models {
namespace {

/// Every second layout is the outermost of this many draws; plain draws hardly ever come near a corner.
constexpr int edge_draws = 8;
/// One in so many is an outermost layout as long as there are some: with more, a first sample leaves none to
/// those that follow, and with none at the corners a check sees too little of a fit's errors.
constexpr std::int64_t outermost_part = 8;
constexpr std::size_t counted_values = 5;
/// Values of a setting nearer than this, on the scale from −1 to 1, are one value and rounding.
constexpr double same_value = 1e-9;

void widen(Box& box, const std::vector<double>& least, const std::vector<double>& largest) {
    for (std::size_t i = 0; i < least.size(); ++i) {
        box.least[i] = std::min(box.least[i], least[i]);
        box.largest[i] = std::max(box.largest[i], largest[i]);
    }
}

/// The layout with the largest merit; of equals, the first.
struct Best {
    double merit = -std::numeric_limits<double>::infinity();
    std::int64_t number = 0;
    void offer(double its_merit, std::int64_t its_number) {
        if (its_merit > merit || (its_merit == merit && its_number < number)) *this = {its_merit, its_number};
    }
};

/// What one thread found.
struct Outermost {
    std::unordered_map<std::uint64_t, Best> corners;  ///< by the signs of the scaled settings
    std::vector<Best> faces;                          ///< low and high face of each setting
    std::vector<std::vector<double>> values;          ///< of each setting

    explicit Outermost(int variables) : faces(2 * variables), values(variables) {}

    void offer(const std::vector<double>& scaled, std::int64_t number) {
        std::uint64_t signs = 0;
        double sum = 0, square = 0;
        for (const double x : scaled) {
            signs = 2 * signs + (x >= 0 ? 1 : 0);
            sum += std::abs(x);
            square += x * x;
        }
        corners[signs].offer(sum, number);
        for (std::size_t i = 0; i < scaled.size(); ++i) {
            // −|x − centre of the face|², constant left out
            faces[2 * i].offer(-2 * scaled[i] - square, number);
            faces[2 * i + 1].offer(2 * scaled[i] - square, number);
            add_value(i, scaled[i]);
        }
    }

    void add_value(std::size_t i, double x) {
        std::vector<double>& known = values[i];
        if (known.size() == counted_values) return;
        const auto same = [x](double y) { return std::abs(x - y) < same_value; };
        if (std::none_of(known.begin(), known.end(), same)) known.push_back(x);
    }

    void add(const Outermost& other) {
        for (const auto& [signs, best] : other.corners) corners[signs].offer(best.merit, best.number);
        for (std::size_t f = 0; f < faces.size(); ++f)
            faces[f].offer(other.faces[f].merit, other.faces[f].number);
        for (std::size_t i = 0; i < values.size(); ++i)
            for (const double x : other.values[i]) add_value(i, x);
    }
};

}  // namespace

LayoutSample::LayoutSample(Space space, int threads) : space_(std::move(space)) {
    find_box(threads);
    find_outermost(threads);
}

void LayoutSample::find_box(int threads) {
    constexpr double infinite = std::numeric_limits<double>::infinity();
    const Box none{std::vector<double>(space_.variables, infinite),
                   std::vector<double>(space_.variables, -infinite)};
    std::vector<Box> found(threads, none);
    parallel_for(space_.size, {.threads = threads, .block = long_block},
                 [&](int thread, std::int64_t first, std::int64_t last) {
                     Box box = none;
                     std::vector<double> point(space_.variables);
                     for (std::int64_t number = first; number < last; ++number) {
                         space_.point(number, point.data());
                         widen(box, point, point);
                     }
                     widen(found[thread], box.least, box.largest);
                 });
    box_ = none;
    for (const Box& box : found) widen(box_, box.least, box.largest);
}

void LayoutSample::find_outermost(int threads) {
    std::vector<Outermost> found(threads, Outermost(space_.variables));
    parallel_for(space_.size, {.threads = threads, .block = long_block},
                 [&](int thread, std::int64_t first, std::int64_t last) {
                     std::vector<double> point(space_.variables);
                     for (std::int64_t number = first; number < last; ++number) {
                         space_.point(number, point.data());
                         for (int i = 0; i < space_.variables; ++i) point[i] = box_.scaled(i, point[i]);
                         found[thread].offer(point, number);
                     }
                 });
    for (std::size_t t = 1; t < found.size(); ++t) found[0].add(found[t]);
    for (const std::vector<double>& values : found[0].values)
        value_counts_.push_back(static_cast<int>(values.size()));

    std::set<std::int64_t> all;
    for (const auto& [signs, best] : found[0].corners) all.insert(best.number);
    for (const Best& best : found[0].faces) all.insert(best.number);
    outermost_.assign(all.begin(), all.end());
    // By hand: what std::shuffle does with the numbers is up to each library.
    for (std::size_t k = outermost_.size(); k > 1; --k)
        std::swap(outermost_[k - 1], outermost_[random_() % k]);
}

std::int64_t LayoutSample::draw(int draws) {
    std::vector<double> point(space_.variables);
    Best best;
    while (draws > 0) {
        const auto number = static_cast<std::int64_t>(random_() % static_cast<std::uint64_t>(space_.size));
        if (chosen_.contains(number)) continue;
        space_.point(number, point.data());
        double square = 0;
        for (int i = 0; i < space_.variables; ++i) square += std::pow(box_.scaled(i, point[i]), 2);
        best.offer(square, number);
        --draws;
    }
    return best.number;
}

std::vector<std::int64_t> LayoutSample::choose(std::int64_t count) {
    if (2 * (static_cast<std::int64_t>(chosen_.size()) + count) > space_.size)
        throw std::invalid_argument("a sample holds at most half of all layouts");
    std::vector<std::int64_t> fresh;
    while (static_cast<std::int64_t>(fresh.size()) < count / outermost_part && !outermost_.empty()) {
        const std::int64_t number = outermost_.back();
        outermost_.pop_back();
        if (chosen_.insert(number).second) fresh.push_back(number);
    }
    while (static_cast<std::int64_t>(fresh.size()) < count) {
        fresh.push_back(draw(fresh.size() % 2 == 0 ? 1 : edge_draws));
        chosen_.insert(fresh.back());
    }
    std::sort(fresh.begin(), fresh.end());
    return fresh;
}

}  // namespace limbwright::models
