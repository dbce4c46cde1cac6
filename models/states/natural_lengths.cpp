#include "models/states/natural_lengths.hpp"

namespace limbwright::models {
namespace {

using solver::Cable;
using solver::MatX;
using solver::State;
using solver::System;
using solver::VecX;

/// By how much the layout's twists and its nocking point shorten each of `cut_parts` [mm].
VecX twisted_away(const AssembledBow& bow) {
    const double per_turn = bow.bow.cables.shortening_per_turn;
    const std::size_t n = cut_parts(bow).size();
    VecX shorter(n);
    for (std::size_t i = 0; i < n; ++i)
        shorter[static_cast<int>(i)] =
            per_turn * (i < 2 ? bow.layout.twist_string : bow.layout.twist_cables[i - 2]);
    shorter[0] += bow.layout.nocking_point;
    shorter[1] -= bow.layout.nocking_point;
    return shorter;
}

}  // namespace

std::vector<CablePart> cut_parts(const AssembledBow& bow) {
    std::vector<CablePart> parts(bow.string.begin(), bow.string.end());
    for (const CablePart& part : main_cables(bow)) parts.push_back(part);
    return parts;
}

VecX twisted(const AssembledBow& bow, const NaturalLengths& lengths) {
    VecX all(2 + lengths.cables.size());
    all[0] = lengths.string_above;
    all[1] = lengths.string_below;
    for (std::size_t i = 0; i < lengths.cables.size(); ++i) all[static_cast<int>(i) + 2] = lengths.cables[i];
    return all - twisted_away(bow);
}

NaturalLengths untwisted(const AssembledBow& bow, const VecX& lengths) {
    const VecX free = lengths + twisted_away(bow);
    NaturalLengths natural{free[0], free[1], {}};
    for (int i = 2; i < free.size(); ++i) natural.cables.push_back(free[i]);
    return natural;
}

System with_lengths(const AssembledBow& bow, const VecX& lengths) {
    System system = bow.system;
    const std::vector<CablePart> parts = cut_parts(bow);
    for (std::size_t i = 0; i < parts.size(); ++i) {
        Cable::Data data = bow.cable(parts[i]).data();
        data.dead_tension.reset();
        data.natural_length = lengths[static_cast<int>(i)];
        system = system.with(parts[i].element, std::make_shared<const Cable>(bow.cable(parts[i]).with(data)));
    }
    return system;
}

MatX loads_of_lengths(const AssembledBow& bow, const System& system, const State& state) {
    const std::vector<CablePart> parts = cut_parts(bow);
    MatX loads = MatX::Zero(system.numbering().size(), static_cast<int>(parts.size()));
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const Cable& cable = AssembledBow::cable(system, parts[i]);
        const solver::ElementVector g = cable.length_gradient(state);
        const double L0 = cable.data().natural_length;
        const double factor = cable.data().stiffness * cable.length(state) / (L0 * L0);
        const std::vector<int>& places = system.plan().gather[parts[i].element];
        for (std::size_t k = 0; k < places.size(); ++k)
            loads(places[k], static_cast<int>(i)) = factor * g[static_cast<int>(k)];
    }
    return loads;
}

void place_stops(AssembledBow& bow, const State& brace) {
    for (const End end : {End::top, End::bottom}) {
        const AxleParts& axle = bow.axle(end);
        if (!axle.stop) continue;
        const Cam& cam = cam_of(bow.bow, end);
        const auto weights = turn_against_limbs(axle);
        const double meets_at = solver::Spring(weights, {}).value(brace) + axle.draw_sense * *cam.stop;
        bow.system = bow.system.with(
            *axle.stop, std::make_shared<const solver::Spring>(weights, stop_data(axle, cam, meets_at)));
    }
}

VecX unmet_at_brace(const AssembledBow& bow, const State& state) {
    const Brace& brace = bow.bow.brace;
    const Vec3 nock = nocking_point(bow, state);
    std::vector<double> values{axle_to_axle(bow, state) - brace.axle_to_axle,
                               nock.z() - brace.nocking_point_height - bow.layout.nocking_point};
    const bool two = bow.axles[0].turn.has_value();
    const double bottom = cam_turn(bow, End::bottom, state) - brace.mark_bottom;
    const double top = two ? cam_turn(bow, End::top, state) - brace.mark_top : 0;
    if (two) values.push_back(top - bottom);
    values.push_back(brace.brace_height ? -nock.x() - *brace.brace_height : bottom);
    return Eigen::Map<const VecX>(values.data(), static_cast<int>(values.size()));
}

}  // namespace limbwright::models
