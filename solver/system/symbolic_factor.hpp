#pragma once

#include <vector>

#include "solver/elements/element.hpp"

namespace limbwright::solver {

/// Which 6×6 blocks a system's matrix has, in which order its slots are eliminated, and where fill arises.
/// Made once per topology; numbers never change it.
///
/// Node slots go by minimum degree (see `elimination`), so that chains do not fill, loops a few blocks only,
/// and an n × n mesh some n² log n; slots of points and scalars, which cables couple widely, come last as a
/// small border. Only blocks on and below the diagonal, in elimination order, are kept. Made in a time about
/// proportional to `updates`.
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

    /// Stored blocks over those that the elements themselves touch; 1 where elimination fills nothing.
    [[nodiscard]] double fill() const;

    Numbering numbering;
    int slots = 0;
    std::vector<int> position;                ///< slot → place in the elimination
    std::vector<int> slot_at;                 ///< place → slot
    std::vector<std::vector<Entry>> columns;  ///< per place: entries below the diagonal, rising rows
    std::vector<std::vector<int>> updates;    ///< per place: target block of each pair of entries, row by row
    /// Number of blocks. Diagonal ones are 0 … slots−1 by place; the others follow column by column, in
    /// rising rows.
    int blocks = 0;
    std::vector<std::vector<Scatter>> scatter;  ///< per element
    std::vector<std::vector<int>> gather;  ///< per element: its increments' places in the system's vectors
    /// Per freedom whether it is a turn [rad], else a displacement [mm]; a scalar is what frames take it for.
    std::vector<char> turns;
};

}  // namespace limbwright::solver
