#include "postproc/scene/mode_scenes.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace limbwright::postproc {
namespace {

using models::AssembledBow;
using solver::State;
using solver::VecX;

constexpr double farthest = 20, widest = 0.3;  // mm, rad

/// Largest step in millimetres over the farthest, or in radians over the widest.
double size_of(const AssembledBow& bow, const VecX& shape) {
    const solver::Numbering& n = bow.system.numbering();
    double size = 0;
    for (int node = 0; node < n.nodes; ++node)
        size = std::max({size, shape.segment<3>(6 * node).norm() / farthest,
                         shape.segment<3>(6 * node + 3).norm() / widest});
    for (int point = 0; point < n.points; ++point)
        size = std::max(size, shape.segment<3>(6 * n.nodes + 3 * point).norm() / farthest);
    for (int i = 0; i < n.scalars; ++i) {
        const int freedom = n.first(solver::ScalarId(i));
        const bool turns = bow.system.plan().turns[static_cast<std::size_t>(freedom)];
        size = std::max(size, std::abs(shape[freedom]) / (turns ? widest : farthest));
    }
    return size;
}

bool has_paths(const AssembledBow& bow, const State& state) {
    return std::ranges::all_of(bow.all_cables(), [&](const models::CablePart& part) {
        return std::isfinite(bow.cable(part).length(state));
    });
}

}  // namespace

std::vector<Scene> mode_scenes(const models::StrungBow& strung, const models::DrawState& state,
                               const models::BowMode& mode, int phases) {
    VecX step = mode.motion.shape / size_of(strung.bow, mode.motion.shape);
    while (!has_paths(strung.bow, moved(state.state, step)) ||
           !has_paths(strung.bow, moved(state.state, VecX(-step))))
        step *= 0.5;
    std::vector<Scene> scenes;
    for (int phase = 0; phase < phases; ++phase) {
        const double time = static_cast<double>(phase) / phases;
        models::DrawState at = state;
        at.state = moved(state.state, VecX(std::sin(2 * std::numbers::pi * time) * step));
        scenes.push_back(scene_of(strung, at));
        scenes.back().parameter = time;
    }
    return scenes;
}

}  // namespace limbwright::postproc
