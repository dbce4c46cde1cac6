#include "models/study/part_cache.hpp"

#include <algorithm>

namespace limbwright::models {
namespace {

constexpr unsigned limb_bits[2][2] = {{built::top_left_limb, built::top_right_limb},
                                      {built::bottom_left_limb, built::bottom_right_limb}};
constexpr unsigned axle_bits[2] = {built::top_axle, built::bottom_axle};

}  // namespace

Rebuilds::Rebuilds(const AssembledBow& today) : today_(today) {
    for (const End end : {End::top, End::bottom}) {
        add_limbs(end);
        add_axle(end);
    }
    add_cables();
}

Rebuilds::Group Rebuilds::group_of(unsigned parts) const {
    Group group;
    for (Setting& setting : settings_of(today_.bow))
        if (setting.builds & parts) group.settings.push_back(std::move(setting));
    return group;
}

void Rebuilds::add_limbs(End end) {
    const std::size_t e = index(end), rows = today_.limbs[e].rows.size();
    const bool split = today_.bow.limb.kind == LimbKind::split;
    for (std::size_t part = 0; part < (split ? 2u : 1u); ++part) {
        const std::size_t first = split ? part : 0, last = split ? part + 1 : rows;
        Group group = group_of(split ? limb_bits[e][part] : limb_bits[e][0] | limb_bits[e][1]);
        for (std::size_t r = first; r < last; ++r)
            for (const std::size_t element : today_.limbs[e].rows[r].elements())
                group.elements.push_back(element);
        group.fit = [=](AssembledBow& to, const AssembledBow& from) {
            for (std::size_t r = first; r < last; ++r) to.limbs[e].rows[r] = from.limbs[e].rows[r];
        };
        groups_.push_back(std::move(group));
    }
}

void Rebuilds::add_axle(End end) {
    const std::size_t e = index(end);
    Group group = group_of(axle_bits[e]);
    group.elements.assign(today_.axles[e].beams.begin(), today_.axles[e].beams.end());
    group.fit = [=](AssembledBow& to, const AssembledBow& from) {
        to.axles[e].cam_offset = from.axles[e].cam_offset;
    };
    groups_.push_back(std::move(group));
}

void Rebuilds::add_cables() {
    Group group = group_of(built::guide_and_yokes);
    group.elements = today_.guide.rod_beams;
    for (const CablePart& part : today_.all_cables()) group.elements.push_back(part.element);
    group.fit = [](AssembledBow& to, const AssembledBow& from) { to.guide = from.guide; };
    groups_.push_back(std::move(group));
}

std::shared_ptr<const AssembledBow> Rebuilds::built(const Group& group, const Layout& layout) const {
    std::vector<double> key;
    for (const Setting& setting : group.settings) key.push_back(setting.get(layout));
    const std::lock_guard lock(mutex_);
    std::shared_ptr<const AssembledBow>& found = group.built[key];
    if (!found) {
        Layout changed = today_.layout;
        for (const Setting& setting : group.settings) setting.take(changed, layout);
        found = std::make_shared<const AssembledBow>(assemble(today_.bow, changed));
    }
    return found;
}

void Rebuilds::refit(AssembledBow& bow, const Layout& layout) const {
    for (const Group& group : groups_) {
        const std::shared_ptr<const AssembledBow> part = built(group, layout);
        const auto is_there = [&](std::size_t e) {
            return bow.system.elements()[e] == part->system.elements()[e];
        };
        if (std::ranges::all_of(group.elements, is_there)) continue;
        for (const std::size_t e : group.elements) bow.system.replace(e, part->system.elements()[e]);
        group.fit(bow, *part);
    }
    for (const AxleParts& axle : bow.axles)
        if (axle.stop) bow.system.replace(*axle.stop, today_.system.elements()[*axle.stop]);
    if (bow.bow.layout.moved != layout.moved) bow.bow = with_layout(today_.bow, layout);
    bow.layout = layout;
}

}  // namespace limbwright::models
