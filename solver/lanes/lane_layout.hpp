#pragma once

#include <array>
#include <string_view>

#include "solver/elements/beam.hpp"
#include "solver/elements/cable.hpp"
#include "solver/elements/shell.hpp"
#include "solver/elements/spring.hpp"
#include "solver/system/symbolic_factor.hpp"

namespace limbwright::solver {

/// How a kernel was compiled: for which processor, and with which sizes and alignments of the classes that
/// the program makes and a kernel reads. A kernel tells its own; `make_lane_pack` compares.
struct LaneLayout {
    std::array<char, 16> kind{};  ///< as `LaneKernel::name`, filled up with zeros
    std::array<std::size_t, 20> sizes_and_alignments{};
};

/// The layout here, wherever this is compiled.
constexpr LaneLayout lane_layout_here(std::string_view kind) {
    LaneLayout layout;
    for (std::size_t i = 0; i < kind.size(); ++i) layout.kind.at(i) = kind[i];
    std::size_t next = 0;
    const auto add = [&]<class... Classes>() {
        ((layout.sizes_and_alignments.at(next++) = sizeof(Classes),
          layout.sizes_and_alignments.at(next++) = alignof(Classes)),
         ...);
    };
    add.template operator()<Mat6, Pose, State, Frame, Groove, Beam, Cable, Shell, Spring, Plan>();
    return layout;
}

}  // namespace limbwright::solver
