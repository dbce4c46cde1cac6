#include "solver/system/symbolic_factor.hpp"

#include <algorithm>

#include "solver/system/elimination_order.hpp"

namespace limbwright::solver {
namespace {

using Lists = std::vector<std::vector<int>>;

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

std::vector<char> turns_of(const Numbering& n, const std::vector<const std::vector<Touch>*>& touches) {
    std::vector<char> turns(at(n.used()), 0);
    for (int i = 0; i < 6 * n.nodes; ++i) turns[at(i)] = i % 6 >= 3;
    for (int i = 0; i < n.scalars; ++i) turns[at(n.first(ScalarId(i)))] = 1;
    for (const std::vector<Touch>* list : touches)
        for (const Touch& touch : *list)
            if (touch.slides) turns[at(touch.first(n))] = 0;
    return turns;
}

/// Slots that each element touches, each once.
Lists touched_slots(const Numbering& n, const std::vector<const std::vector<Touch>*>& touches) {
    Lists slots;
    slots.reserve(touches.size());
    for (const std::vector<Touch>* list : touches) {
        std::vector<int>& own = slots.emplace_back();
        for (const Touch& touch : *list) own.push_back(touch.first(n) / 6);
        std::sort(own.begin(), own.end());
        own.erase(std::unique(own.begin(), own.end()), own.end());
    }
    return slots;
}

/// Per column, the block that each pair of its entries changes; all pairs on one target column are found
/// together, so that its rows are looked up in an array.
Lists update_targets(const std::vector<std::vector<Plan::Entry>>& columns) {
    struct Use {
        int column, entry;
    };
    std::vector<std::vector<Use>> uses(columns.size());
    Lists targets(columns.size());
    for (std::size_t k = 0; k < columns.size(); ++k) {
        const std::size_t n = columns[k].size();
        targets[k].resize(n * (n + 1) / 2);
        for (std::size_t j = 0; j < n; ++j)
            uses[at(columns[k][j].row)].push_back({static_cast<int>(k), static_cast<int>(j)});
    }
    std::vector<int> block_in_row(columns.size());
    for (std::size_t c = 0; c < columns.size(); ++c) {
        block_in_row[c] = static_cast<int>(c);
        for (const Plan::Entry& entry : columns[c]) block_in_row[at(entry.row)] = entry.block;
        for (const Use& use : uses[c]) {
            const std::vector<Plan::Entry>& column = columns[at(use.column)];
            const std::size_t j = at(use.entry);
            for (std::size_t i = j; i < column.size(); ++i)
                targets[at(use.column)][i * (i + 1) / 2 + j] = block_in_row[at(column[i].row)];
        }
    }
    return targets;
}

}  // namespace

Plan::Plan(const Numbering& n, const std::vector<const std::vector<Touch>*>& touches)
    : numbering(n),
      slots(n.slots()),
      position(at(n.slots())),
      columns(at(n.slots())),
      blocks(n.slots()),
      turns(turns_of(n, touches)) {
    const auto [order, later] = elimination(touched_slots(n, touches), n.nodes, slots);
    slot_at = order;
    for (int k = 0; k < slots; ++k) position[at(slot_at[at(k)])] = k;

    for (int k = 0; k < slots; ++k) {
        std::vector<Entry>& column = columns[at(k)];
        for (const int slot : later[at(slot_at[at(k)])]) column.push_back({.row = position[at(slot)]});
        std::sort(column.begin(), column.end(), [](const Entry& a, const Entry& b) { return a.row < b.row; });
        for (Entry& entry : column) entry.block = blocks++;
    }
    updates = update_targets(columns);

    const auto block_at = [&](int row, int column) {
        if (row == column) return column;
        const std::vector<Entry>& entries = columns[at(column)];
        return std::lower_bound(entries.begin(), entries.end(), row,
                                [](const Entry& entry, int r) { return entry.row < r; })
            ->block;
    };
    for (const std::vector<Touch>* list : touches) {
        std::vector<Scatter> pairs;
        std::vector<int> places;
        int from_row = 0;
        for (const Touch& a : *list) {
            int from_column = 0;
            const int row = position[at(a.first(n) / 6)];
            for (const Touch& b : *list) {
                const int column = position[at(b.first(n) / 6)];
                if (row >= column)
                    pairs.push_back({block_at(row, column), a.first(n) % 6, b.first(n) % 6, from_row,
                                     from_column, a.width(), b.width()});
                from_column += b.width();
            }
            for (int i = 0; i < a.width(); ++i) places.push_back(a.first(n) + i);
            from_row += a.width();
        }
        scatter.push_back(std::move(pairs));
        gather.push_back(std::move(places));
    }
}

double Plan::fill() const {
    std::vector<char> touched(at(blocks), 0);
    for (const std::vector<Scatter>& pairs : scatter)
        for (const Scatter& pair : pairs) touched[at(pair.block)] = 1;
    return static_cast<double>(blocks) / static_cast<double>(std::count(touched.begin(), touched.end(), 1));
}

}  // namespace limbwright::solver
