#pragma once

#include "models/parts/limb_parts.hpp"
#include "solver/elements/spring.hpp"

namespace limbwright::models {

/// An axle with its cam or idler, and what hangs on it.
///
/// Cam and limb tips turn about the axle, each by its own scalar. Nothing turns the axle itself; it is kept
/// in the middle between its two limb tips, so that a bow and its mirror image move alike. `draw_sense` makes
/// a turn positive in the sense of the draw.
struct AxleParts {
    solver::NodeId left, middle, right;  ///< at the left limb tip, under the cam, at the right limb tip
    std::array<solver::Frame, 2> ends;   ///< where yoke legs hang: left, right
    std::array<std::size_t, 2> beams{};  ///< left tip to cam, cam to right tip
    std::array<solver::ScalarId, 2>
        tip_turns;  ///< of the left and the right limb tip about the axle, opposite and equal
    std::optional<solver::ScalarId> turn;  ///< of the cam on the axle, counter-clockwise as seen from the
                                           ///< archer's right; an idler has none
    solver::Frame cam;  ///< hub's middle; axes u toward the target, v up, w to the archer's right
    std::optional<std::size_t> stop;  ///< the draw stop's element
    double draw_sense = 1;
    double cam_offset = 0;  ///< of the hub's middle from the bow's plane, positive left [mm]
};

/// Adds the axle between two limb tips; limbs come next, by its nodes.
[[nodiscard]] AxleParts add_axle(const Bow& bow, const Layout& layout, End end, Builder& builder);

/// Turn of the cam against the mean of its two limb tips, as a sum of scalars: what a draw stop on a limb
/// sees and pushes.
[[nodiscard]] std::vector<std::pair<solver::ScalarId, double>> turn_against_limbs(const AxleParts& axle);

/// The draw stop, meeting at a value of `turn_against_limbs`.
[[nodiscard]] solver::Spring::Data stop_data(const AxleParts& axle, const Cam& cam, double meets_at);

}  // namespace limbwright::models
