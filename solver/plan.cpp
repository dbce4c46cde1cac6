#include "solver/plan.hpp"

#include <algorithm>
#include <map>
#include <set>

namespace limbwright::solver {
namespace {

/// Slots in order of elimination: nodes by least degree at their turn, the border as it stands.
std::vector<int> elimination_order(std::vector<std::set<int>> neighbours, int node_slots) {
    const int slots = static_cast<int>(neighbours.size());
    std::vector<int> order;
    std::vector<bool> done(neighbours.size(), false);
    for (int step = 0; step < node_slots; ++step) {
        int best = -1;
        for (int s = 0; s < node_slots; ++s)
            if (!done[static_cast<std::size_t>(s)] &&
                (best < 0 || neighbours[static_cast<std::size_t>(s)].size() <
                                 neighbours[static_cast<std::size_t>(best)].size()))
                best = s;
        done[static_cast<std::size_t>(best)] = true;
        order.push_back(best);
        const std::set<int> around = neighbours[static_cast<std::size_t>(best)];
        for (const int a : around) {
            neighbours[static_cast<std::size_t>(a)].erase(best);
            for (const int b : around)
                if (a != b) neighbours[static_cast<std::size_t>(a)].insert(b);
        }
    }
    for (int s = node_slots; s < slots; ++s) order.push_back(s);
    return order;
}

}  // namespace

Plan::Plan(const Numbering& n, const std::vector<const std::vector<Touch>*>& touches)
    : numbering(n), slots(n.slots()), position(static_cast<std::size_t>(n.slots())) {
    std::vector<std::set<int>> neighbours(static_cast<std::size_t>(slots));
    for (const auto* list : touches)
        for (const Touch& a : *list)
            for (const Touch& b : *list)
                if (a.first(n) / 6 != b.first(n) / 6)
                    neighbours[static_cast<std::size_t>(a.first(n) / 6)].insert(b.first(n) / 6);

    slot_at = elimination_order(neighbours, n.nodes);
    for (int k = 0; k < slots; ++k)
        position[static_cast<std::size_t>(slot_at[static_cast<std::size_t>(k)])] = k;

    std::vector<std::set<int>> rows(static_cast<std::size_t>(slots));
    for (int s = 0; s < slots; ++s)
        for (const int t : neighbours[static_cast<std::size_t>(s)]) {
            const int i = position[static_cast<std::size_t>(s)], j = position[static_cast<std::size_t>(t)];
            rows[static_cast<std::size_t>(std::min(i, j))].insert(std::max(i, j));
        }
    for (int k = 0; k < slots; ++k) {
        const std::set<int>& below = rows[static_cast<std::size_t>(k)];
        for (auto i = below.begin(); i != below.end(); ++i)
            rows[static_cast<std::size_t>(*i)].insert(std::next(i), below.end());
    }

    blocks = slots;
    std::map<std::pair<int, int>, int> block_of;  // (row, column), row > column
    columns.resize(static_cast<std::size_t>(slots));
    for (int k = 0; k < slots; ++k) {
        for (const int i : rows[static_cast<std::size_t>(k)]) {
            block_of[{i, k}] = blocks;
            columns[static_cast<std::size_t>(k)].push_back({i, blocks++});
        }
        block_of[{k, k}] = k;
    }
    for (const std::vector<Entry>& column : columns) {
        std::vector<int> targets;
        for (std::size_t i = 0; i < column.size(); ++i)
            for (std::size_t j = 0; j <= i; ++j)
                targets.push_back(block_of.at({column[i].row, column[j].row}));
        updates.push_back(std::move(targets));
    }

    for (const auto* list : touches) {
        std::vector<Scatter> pairs;
        std::vector<int> places;
        int from_row = 0;
        for (const Touch& a : *list) {
            int from_column = 0;
            const int row = position[static_cast<std::size_t>(a.first(n) / 6)];
            for (const Touch& b : *list) {
                const int column = position[static_cast<std::size_t>(b.first(n) / 6)];
                if (row >= column)
                    pairs.push_back({block_of.at({row, column}), a.first(n) % 6, b.first(n) % 6, from_row,
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

}  // namespace limbwright::solver
