#pragma once

#include <vector>

#include "solver/element.hpp"

namespace limbwright::solver {

/// Which 6×6 blocks a system's matrix has, in which order its slots are eliminated, and where fill arises.
/// Made once per topology; numbers never change it.
///
/// Node slots go by least degree, so that chains are eaten from inside and loops fill a few blocks only;
/// slots of points and scalars, which cables couple widely, come last as a small border. Only blocks on and
/// below the diagonal, in elimination order, are kept.
struct Plan {
    /// A block below the diagonal in its column: row's position and the block's number.
    struct Entry {
        int row = 0, block = 0;
    };
    /// Where a pair of an element's touches goes in the matrix: block[row, column] += H[from_row,
    /// from_column].
    struct Scatter {
        int block = 0, row = 0, column = 0;
        int from_row = 0, from_column = 0, rows = 0, columns = 0;
    };

    Plan(const Numbering& numbering, const std::vector<const std::vector<Touch>*>& touches);

    Numbering numbering;
    int slots = 0;
    std::vector<int> position;                ///< slot → place in the elimination
    std::vector<int> slot_at;                 ///< place → slot
    std::vector<std::vector<Entry>> columns;  ///< per place: entries below the diagonal, rising rows
    std::vector<std::vector<int>> updates;    ///< per place: target block of each pair of entries, row by row
    int blocks = 0;                           ///< diagonal blocks are 0 … slots−1 by place
    std::vector<std::vector<Scatter>> scatter;  ///< per element
    std::vector<std::vector<int>> gather;  ///< per element: its increments' places in the system's vectors
};

}  // namespace limbwright::solver
