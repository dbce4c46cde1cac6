#include "models/matching/calibrated_bow.hpp"

#include <algorithm>

namespace limbwright::models {
namespace {

bool is_limb_number(const MatchParameter& parameter) {
    return parameter.work == Work::limbs;
}

}  // namespace

std::vector<int> partners(const Bow& bow, const std::vector<MatchParameter>& parameters, const Bow& other,
                          const std::vector<MatchParameter>& of_other) {
    std::vector<int> places(parameters.size(), -1);
    std::vector<bool> taken(of_other.size(), false);
    const auto look = [&](bool any_pocket) {
        for (std::size_t i = 0; i < parameters.size(); ++i) {
            if (places[i] >= 0) continue;
            const MatchParameter& wanted = parameters[i];
            const bool limb = is_limb_number(wanted);
            for (std::size_t k = 0; k < of_other.size(); ++k) {
                const MatchParameter& there = of_other[k];
                if (taken[k] || limb != is_limb_number(there)) continue;
                if (limb ? wanted.get(bow) != there.get(other) : any_pocket) continue;
                if (!(limb && any_pocket) && wanted.key != there.key) continue;
                places[i] = static_cast<int>(k);
                taken[k] = true;
                break;
            }
        }
    };
    look(false);
    look(true);
    return places;
}

Bow Corrections::applied(Bow labelled) const {
    const std::vector<MatchParameter> there = match_parameters(labelled);
    const std::vector<int> places = partners(bow, parameters, labelled, there);
    for (std::size_t i = 0; i < places.size(); ++i) {
        if (places[i] < 0) continue;
        const MatchParameter& p = there[static_cast<std::size_t>(places[i])];
        p.set(labelled, p.get(labelled) + change[static_cast<Eigen::Index>(i)]);
    }
    return labelled;
}

}  // namespace limbwright::models
