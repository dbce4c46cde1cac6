#include "solver/system/elimination_order.hpp"

#include <algorithm>
#include <map>
#include <numeric>
#include <set>
#include <utility>

namespace limbwright::solver {
namespace {

using Lists = std::vector<std::vector<int>>;

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// Per slot, the numbers of the elements that touch it.
Lists elements_at(const Lists& elements, int slots) {
    Lists touching(at(slots));
    for (std::size_t e = 0; e < elements.size(); ++e)
        for (const int slot : elements[e]) touching[at(slot)].push_back(static_cast<int>(e));
    return touching;
}

/// Eliminating a slot makes one element of all that touch it (Speelpenning's generalised elements): no pairs
/// of slots need be kept. Slots that the same elements touch are one from then on.
class MinimumFill {
public:
    MinimumFill(const Lists& elements, int nodes, int slots)
        : nodes_(nodes),
          elements_(elements),
          touching_(elements_at(elements, slots)),
          weight_(at(slots), 1),
          together_(at(slots)),
          marks_(at(slots), 0),
          turns_(at(nodes)) {
        for (int slot = 0; slot < nodes; ++slot) {
            together_[at(slot)] = {slot};
            queue(slot);
        }
    }

    std::vector<int> order() {
        std::vector<int> order;
        while (!queue_.empty()) {
            const int slot = queue_.begin()->second;
            queue_.erase(queue_.begin());
            order.insert(order.end(), together_[at(slot)].begin(), together_[at(slot)].end());
            eliminate(slot);
        }
        return order;
    }

private:
    using Turn = std::pair<int, int>;  ///< fill, slot

    void eliminate(int slot) {
        ++mark_;
        weight_[at(slot)] = 0;
        std::vector<int> beside;
        for (const int e : touching_[at(slot)])
            for (const int other : std::exchange(elements_[at(e)], {}))
                if (weight_[at(other)] > 0 && std::exchange(marks_[at(other)], mark_) != mark_)
                    beside.push_back(other);
        absorb_elements_within(beside);
        unite_equals(beside);
        for (const int other : beside) touching_[at(other)].push_back(static_cast<int>(elements_.size()));
        elements_.push_back(beside);
        for (const int other : beside)
            if (other < nodes_) {
                queue_.erase(turns_[at(other)]);
                queue(other);
            }
    }

    /// Empties the elements that touch marked slots only, and forgets the empty ones.
    void absorb_elements_within(const std::vector<int>& beside) {
        std::set<int> around;
        for (const int other : beside)
            around.insert(touching_[at(other)].begin(), touching_[at(other)].end());
        for (const int e : around) {
            std::vector<int>& element = elements_[at(e)];
            if (std::all_of(element.begin(), element.end(),
                            [&](int other) { return marks_[at(other)] == mark_ || weight_[at(other)] == 0; }))
                element.clear();
        }
        for (const int other : beside)
            std::erase_if(touching_[at(other)], [&](int e) { return elements_[at(e)].empty(); });
    }

    void unite_equals(std::vector<int>& beside) {
        std::map<std::vector<int>, int> first_with;
        std::erase_if(beside, [&](int slot) {
            if (slot >= nodes_) return false;
            const int first = first_with.emplace(touching_[at(slot)], slot).first->second;
            if (first == slot) return false;
            weight_[at(first)] += std::exchange(weight_[at(slot)], 0);
            together_[at(first)].insert(together_[at(first)].end(), together_[at(slot)].begin(),
                                        together_[at(slot)].end());
            queue_.erase(turns_[at(slot)]);
            return true;
        });
    }

    void queue(int slot) {
        turns_[at(slot)] = {fill(slot), slot};
        queue_.insert(turns_[at(slot)]);
    }

    int fill(int slot) {
        const int own = weight_[at(slot)];
        ++mark_;
        int all = 0, largest = 0;
        for (const int e : touching_[at(slot)]) {
            int size = 0;
            for (const int other : elements_[at(e)]) {
                size += weight_[at(other)];
                if (std::exchange(marks_[at(other)], mark_) != mark_) all += weight_[at(other)];
            }
            largest = std::max(largest, size);
        }
        all -= own;
        largest -= own;
        return (all * (all - 1) - largest * (largest - 1)) / own;
    }

    int nodes_;
    Lists elements_;           ///< empty once absorbed by another
    Lists touching_;           ///< per slot: elements, rising
    std::vector<int> weight_;  ///< slots that go together with this one; 0 if gone or with another
    Lists together_;
    std::vector<int> marks_;
    int mark_ = 0;
    std::vector<Turn> turns_;
    std::set<Turn> queue_;
};

Lists coupled_later(Lists elements, const std::vector<int>& order) {
    Lists touching = elements_at(elements, static_cast<int>(order.size()));
    Lists later(order.size());
    std::vector<int> met_by(order.size(), -1);
    for (const int slot : order) {
        met_by[at(slot)] = slot;
        std::vector<int> merged;
        for (const int e : touching[at(slot)])
            for (const int other : std::exchange(elements[at(e)], {}))
                if (std::exchange(met_by[at(other)], slot) != slot) merged.push_back(other);
        for (const int other : merged) touching[at(other)].push_back(static_cast<int>(elements.size()));
        later[at(slot)] = merged;
        elements.push_back(std::move(merged));
    }
    return later;
}

}  // namespace

Elimination elimination(const Lists& elements, int nodes, int slots) {
    std::vector<int> order = MinimumFill(elements, nodes, slots).order();
    order.resize(at(slots));
    std::iota(order.begin() + nodes, order.end(), nodes);
    Lists later = coupled_later(elements, order);
    return {std::move(order), std::move(later)};
}

}  // namespace limbwright::solver
