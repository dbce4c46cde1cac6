#include "models/study/pairings.hpp"

#include <algorithm>
#include <array>

namespace limbwright::models {
namespace {

struct Alike {
    double number = 0;
    int count = 0;
};

/// By rising number.
std::vector<Alike> grouped(std::vector<double> numbers) {
    std::ranges::sort(numbers);
    std::vector<Alike> groups;
    for (const double number : numbers) {
        if (groups.empty() || groups.back().number != number) groups.push_back({number, 0});
        ++groups.back().count;
    }
    return groups;
}

/// Fills the pockets from `pocket` on in every way.
void fill(std::vector<Alike>& stock, std::array<double, 4>& pocket_numbers, std::size_t pocket,
          std::size_t count, std::vector<Pairing>& found) {
    if (pocket == count) {
        const std::array<double, 4>& n = pocket_numbers;
        found.push_back(count == 4 ? Pairing{n[0], n[1], n[2], n[3]} : Pairing{n[0], n[0], n[1], n[1]});
        return;
    }
    for (Alike& alike : stock) {
        if (alike.count == 0) continue;
        --alike.count;
        pocket_numbers[pocket] = alike.number;
        fill(stock, pocket_numbers, pocket + 1, count, found);
        ++alike.count;
    }
}

}  // namespace

std::size_t pockets(LimbKind kind) {
    return kind == LimbKind::solid ? 2 : 4;
}

std::vector<Pairing> pairings(std::vector<double> numbers, LimbKind kind) {
    std::vector<Alike> stock = grouped(std::move(numbers));
    std::array<double, 4> pocket_numbers{};
    std::vector<Pairing> found;
    fill(stock, pocket_numbers, 0, pockets(kind), found);
    return found;
}

std::int64_t count_pairings(std::vector<double> numbers, LimbKind kind) {
    constexpr std::array<std::array<std::int64_t, 5>, 5> choose{
        {{1, 0, 0, 0, 0}, {1, 1, 0, 0, 0}, {1, 2, 1, 0, 0}, {1, 3, 3, 1, 0}, {1, 4, 6, 4, 1}}};
    // Ways to fill so many of the pockets; each further number takes some of those, in any place among them.
    std::array<std::int64_t, 5> ways{1, 0, 0, 0, 0};
    for (const Alike& alike : grouped(std::move(numbers)))
        for (std::size_t filled = 4; filled > 0; --filled)
            for (std::size_t j = 1; j <= filled && static_cast<int>(j) <= alike.count; ++j)
                ways[filled] += choose[filled][j] * ways[filled - j];
    return ways[pockets(kind)];
}

std::int64_t count_arrangements(std::size_t limbs, LimbKind kind) {
    if (limbs < pockets(kind)) return 0;
    std::int64_t count = 1;
    for (std::size_t taken = 0; taken < pockets(kind); ++taken)
        count *= static_cast<std::int64_t>(limbs - taken);
    return count;
}

}  // namespace limbwright::models
