#pragma once

#include <string>
#include <variant>
#include <vector>

#include "models/states/draw.hpp"

/// One bow solved as beams and as shells, side by side.
namespace limbwright::models {

/// Which parts are shells, and whether the limbs of beams are held flat at their ends.
struct ModelChoice {
    PartModel limb = PartModel::beam, riser = PartModel::beam;
    Warping warping = Warping::held;

    /// "beams", "shell limbs", "shell riser", "shells", "beams, ends free to warp".
    [[nodiscard]] std::string name() const;
};

/// The bow with the parts that the choice names; nothing else is changed.
[[nodiscard]] Bow with_model(Bow bow, const ModelChoice& choice);

/// One part alone, clamped where the riser or the grip holds it, under small loads at its other end, about
/// the bow at rest. Rates are loads per displacement in their own direction with all others free.
struct PartRates {
    double along_plane = 0;  ///< in the bow's plane across the part: of a limb flatwise [N/mm]
    double sideways = 0;     ///< [N/mm]
    double twist = 0;        ///< about the part's length [N mm/deg]
};

/// @throws std::invalid_argument if the part is free to move
[[nodiscard]] PartRates limb_rates(
    const AssembledBow& bow);  ///< of the top left limb (a solid one: left prong)
[[nodiscard]] PartRates riser_rates(const AssembledBow& bow);  ///< of its upper half, the grip clamped

/// One model, solved.
struct ModelRun {
    ModelChoice choice;
    StrungBow strung;
    Draw draw;
    PartRates limb, riser;
    double string_seconds = 0, draw_seconds = 0;  ///< of the wall clock
    int iterations = 0;                           ///< of the draw
};

/// Solves a bow as it stands or as a choice of models has it; a sentence if it could not be strung.
[[nodiscard]] std::variant<ModelRun, std::string> run_model(const Bow& bow, const ModelChoice& choice);

}  // namespace limbwright::models
