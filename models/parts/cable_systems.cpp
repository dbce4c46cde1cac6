#include "models/parts/cable_systems.hpp"

#include <algorithm>
#include <cstdlib>

#include "models/bow/bow_enum_names.hpp"

namespace limbwright::models {
namespace {

///   top cam:    take-up ---.  .--- let-out
///                          guide
///   bottom cam: let-out ---'  '--- take-up
std::vector<CablePart> add_crossed(const Rigging& rig) {
    return {add_cable(rig, "cable of the top take-up", CableKind::cable, 0,
                      track_contact(rig, End::top, TrackKind::take_up),
                      track_contact(rig, End::bottom, TrackKind::let_out)),
            add_cable(rig, "cable of the bottom take-up", CableKind::cable, 1,
                      track_contact(rig, End::bottom, TrackKind::take_up),
                      track_contact(rig, End::top, TrackKind::let_out))};
}

std::vector<CablePart> joined(const std::vector<CablePart>& first, const std::array<CablePart, 3>& second) {
    std::vector<CablePart> all = first;
    all.insert(all.end(), second.begin(), second.end());
    return all;
}

///   top:    take-up ---.  .--- yoke on the axle's two ends
///                      guide
///   bottom: yoke ------'  '--- take-up
std::vector<CablePart> add_yoked(const Rigging& rig) {
    const auto top = add_yoked_cable(rig, "cable of the top take-up", 0, 0,
                                     track_contact(rig, End::top, TrackKind::take_up), End::bottom);
    return joined({top.begin(), top.end()},
                  add_yoked_cable(rig, "cable of the bottom take-up", 1, 1,
                                  track_contact(rig, End::bottom, TrackKind::take_up), End::top));
}

///   top:    take-up ---.  .--- yoke on the axle's two ends
///                      guide
///   bottom: let-out ---'  '--- take-up
std::vector<CablePart> add_mixed(const Rigging& rig) {
    return joined({add_cable(rig, "cable of the top take-up", CableKind::cable, 0,
                             track_contact(rig, End::top, TrackKind::take_up),
                             track_contact(rig, End::bottom, TrackKind::let_out))},
                  add_yoked_cable(rig, "cable of the bottom take-up", 1, 1,
                                  track_contact(rig, End::bottom, TrackKind::take_up), End::top));
}

///   top:    idler (the string passes over it)    yoke on the axle's two ends
///   bottom: string track, let-out (the string's other end), take-up ---'
std::vector<CablePart> add_single_cam(const Rigging& rig) {
    const auto cable = add_yoked_cable(rig, "cable of the take-up", 1, 0,
                                       track_contact(rig, End::bottom, TrackKind::take_up), End::top);
    return {cable.begin(), cable.end()};
}

constexpr std::string_view in_file(CableSystem system) {
    return name_of<CableSystem>(system, cable_system_names);
}

constexpr CableSystemEntry systems[] = {
    {CableSystem::crossed, in_file(CableSystem::crossed),
     "each cable from one cam's take-up to the other cam's let-out", add_crossed},
    {CableSystem::yoked, in_file(CableSystem::yoked),
     "each cable from one cam's take-up to a yoke on the other axle", add_yoked},
    {CableSystem::mixed, in_file(CableSystem::mixed),
     "top take-up to bottom let-out; bottom take-up to a yoke on the top axle", add_mixed},
    {CableSystem::single_cam, in_file(CableSystem::single_cam),
     "one cam at the bottom, an idler at the top, a yoke on its axle", add_single_cam},
};

}  // namespace

std::span<const CableSystemEntry> cable_systems() {
    return systems;
}

const CableSystemEntry& entry_of(CableSystem system) {
    const auto found = std::find_if(std::begin(systems), std::end(systems),
                                    [&](const auto& e) { return e.system == system; });
    if (found == std::end(systems)) std::abort();
    return *found;
}

std::array<CablePart, 2> add_string(const Rigging& rig) {
    const auto add = [&](const std::string& name, const std::vector<solver::Contact>& contacts) {
        return CablePart{name, CableKind::string,
                         rig.builder.add<solver::Cable>(
                             contacts, solver::Cable::Data{rig.bow.cables.string_stiffness, 1, {}})};
    };
    const solver::Contact nock{rig.nock, {}};
    std::vector<solver::Contact> above{nock};
    if (rig.bow.cables.system == CableSystem::single_cam) {
        above.push_back(idler_contact(rig));
        if (rig.guide.eyes[0]) above.push_back({*rig.guide.eyes[0], {}});
        above.push_back(track_contact(rig, End::bottom, TrackKind::let_out));
    } else {
        above.push_back(track_contact(rig, End::top, TrackKind::string));
    }
    return {add("string above the nock", above),
            add("string below the nock", {nock, track_contact(rig, End::bottom, TrackKind::string)})};
}

}  // namespace limbwright::models
