#pragma once

#include <vector>

namespace limbwright::testing {

/// Corners of the four-cornered elements of a mesh with so many nodes across and along.
inline std::vector<std::vector<int>> mesh(int across, int along) {
    std::vector<std::vector<int>> elements;
    for (int i = 0; i + 1 < along; ++i)
        for (int j = 0; j + 1 < across; ++j) {
            const int first = i * across + j;
            elements.push_back({first, first + 1, first + across + 1, first + across});
        }
    return elements;
}

}  // namespace limbwright::testing
