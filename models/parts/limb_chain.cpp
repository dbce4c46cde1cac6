#include "models/parts/limb_chain.hpp"

#include <algorithm>
#include <cmath>

namespace limbwright::models {

std::vector<double> limb_shares(const Limb& limb, int pieces) {
    if (limb.kind == LimbKind::split) return meshes::even_shares(0, 1, pieces);
    const double fork = 1 - limb.fork / limb.length;
    const int prong = std::max(2, static_cast<int>(std::lround((1 - fork) * pieces)));
    std::vector<double> shares = meshes::even_shares(0, fork, std::max(2, pieces - prong));
    const std::vector<double> rest = meshes::even_shares(fork, 1, prong);
    shares.insert(shares.end(), rest.begin() + 1, rest.end());
    return shares;
}

meshes::Strip oriented(meshes::Strip strip, End end) {
    for (meshes::StripStation& s : strip.stations) s.curvature *= sign(end);
    return strip;
}

}  // namespace limbwright::models
