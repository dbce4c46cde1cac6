#include "models/bow/spacers.hpp"

#include <limits>
#include <numeric>

namespace limbwright::models {
namespace {

double sum(const std::vector<double>& stack) {
    return std::accumulate(stack.begin(), stack.end(), 0.0);
}

}  // namespace

double total(const SpacerStacks& stacks) {
    return sum(stacks.left) + sum(stacks.right);
}

double cam_offset(const SpacerStacks& stacks) {
    return (sum(stacks.right) - sum(stacks.left)) / 2;
}

double tip_gap(const Bow& bow) {
    if (bow.gap) return *bow.gap;
    const Limb& limb = bow.limb;
    if (limb.kind == LimbKind::solid) return 2 * limb.lateral - limb.prong_width;
    if (limb.stations.empty()) return std::numeric_limits<double>::quiet_NaN();
    return 2 * limb.lateral - limb.stations.back().width;
}

double left_over(const Bow& bow, const SpacerStacks& stacks, const Cam& cam) {
    return tip_gap(bow) - cam.hub - total(stacks);
}

}  // namespace limbwright::models
