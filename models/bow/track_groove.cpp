#include "models/bow/track_groove.hpp"

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

void fit_grooves(Cam& cam, const std::string& key, Complaints& complaints) {
    const auto fit = [&](Track& track, const std::string& name) {
        try {
            track.groove = groove_of(track);
        } catch (const std::invalid_argument& error) {
            const std::string shape = track.traced ? ".traced" : track.support ? ".support" : ".circle";
            complaints.add(key + name + shape, "must make a smooth convex groove", error.what());
        }
    };
    fit(cam.string, ".string");
    if (cam.take_up) fit(*cam.take_up, ".take_up");
    if (cam.let_out) fit(*cam.let_out, ".let_out");
}

}  // namespace limbwright::models
