#pragma once

#include <optional>

#include "models/parts/assembled_bow.hpp"
#include "postproc/scene/scene.hpp"

/// The parts that bend, as they are shown: true cross-sections swept along them, with what they carry.
namespace limbwright::postproc {

/// A cross-section: width along axis 2, thickness along axis 3 [mm]; a round one has its diameter as width.
struct BarSection {
    solver::Frame frame;  ///< axis 1 along the bar
    double width = 0;
    double thickness = 0;
};

/// Riser, limb, axle or bending guide rod.
struct Bar {
    std::string name;
    SectionShape shape = SectionShape::rectangle;
    std::vector<BarSection> sections{};
    std::vector<std::optional<std::size_t>>
        beams{};       ///< elements between neighbours; none: a rigid end that carries nothing
    double young = 0;  ///< Young's modulus along the bar, cut-outs in it [MPa]
};

/// "top left limb" becomes "limb top left": pictures tell parts by their first word.
[[nodiscard]] std::string limb_piece_name(const std::string& row);

/// Parts made of beams: "riser", "limb top left" (a forked limb: "limb top", "limb top left prong"), "axle
/// top", "guide rod" if it bends.
[[nodiscard]] std::vector<Bar> bars_of(const models::AssembledBow& bow);

/// A bar in one state, in the world, with these fields on its points:
///
/// - displacement [mm]: from where the point would stand on the unloaded bow, carried rigidly by the grip;
/// world axes
/// - section force [N]: N, V2, V3 in the section's own axes, on the face that looks to the bar's end
/// - section moment [N mm]: M1 (twisting), M2 (flatwise), M3, alike
/// - strain: along the bar, ε = N/EA + M₂ y₃/EI₂ − M₃ y₂/EI₃ at the point's own y₂, y₃; positive: stretched
/// - axis along, axis across: axes 1 and 2 of the section in the world
///
/// Neighbouring beams share a section and each gives its forces there: the field is their mean, so it shows
/// half of a jump on either side of a section at which a load enters (limb pockets on the riser, the cam on
/// its axle).
[[nodiscard]] Piece bar_piece(const models::AssembledBow& bow, const Bar& bar, const solver::State& state);

}  // namespace limbwright::postproc
