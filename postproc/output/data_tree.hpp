#pragma once

#include <cstddef>
#include <string>
#include <vector>

/// Named numbers and texts in named groups, as a file of results holds them.
namespace limbwright::postproc {

/// An array of any rank, the last index running fastest. Rank 0 (no extents) is a single number.
struct Numbers {
    std::string name;
    std::string unit;        ///< empty for pure numbers
    std::string definition;  ///< one sentence, with its sign and the order of its indices
    std::vector<std::size_t> extents;
    std::vector<double> values;
};

/// A single text, or a list of them.
struct Texts {
    std::string name;
    std::string definition;
    bool is_list = false;
    std::vector<std::string> values;  ///< exactly one unless it is a list
};

struct Attribute {
    std::string name;
    std::string value;
};

struct Group {
    std::string name;  ///< without '/'; ignored at the root
    std::vector<Attribute> attributes;
    std::vector<Numbers> numbers;
    std::vector<Texts> texts;
    std::vector<Group> groups;
};

}  // namespace limbwright::postproc
