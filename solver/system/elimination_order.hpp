#pragma once

#include <vector>

namespace limbwright::solver {

/// In which order the slots of a symmetric matrix are eliminated, and what each is coupled to at its turn.
struct Elimination {
    std::vector<int> order;               ///< of slots
    std::vector<std::vector<int>> later;  ///< per slot: the later slots in its column, fill among them
};

/// The slot whose elimination would fill least goes next, of equals the one with the lowest number; slots
/// beside the same others go together. Fill is estimated as the pairs of its neighbours less those that one
/// element covers, per slot that goes [Rothberg & Eisenstat, Node selection strategies for bottom-up sparse
/// matrix ordering, 1998: minimum mean local fill]. Deterministic. Columns of the same rows end up side by
/// side.
///
/// @param elements  slots that each element couples, each once
/// @param nodes     the first slots, which the order may mix; the others come last as they stand
[[nodiscard]] Elimination elimination(const std::vector<std::vector<int>>& elements, int nodes, int slots);

}  // namespace limbwright::solver
