#include "models/track_groove.hpp"

#include <stdexcept>

#include "meshes/curve_fit.hpp"

namespace limbwright::models {

std::shared_ptr<const solver::Groove> groove_of(const Track& track) {
    using solver::Groove;
    if (track.groove) return track.groove;
    if (track.circle)
        return std::make_shared<const Groove>(Groove::circle(track.circle->centre, track.circle->radius));
    if (track.traced) return std::make_shared<const Groove>(meshes::fit_traced(track.traced->points).groove);
    if (track.support)
        return std::make_shared<const Groove>(
            meshes::groove_from_support(track.support->direction, track.support->distance));
    throw std::invalid_argument("has no shape");
}

}  // namespace limbwright::models
