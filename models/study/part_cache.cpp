#include "models/study/part_cache.hpp"

#include <algorithm>

#include "models/bow/spacers.hpp"

namespace limbwright::models {
namespace {

double& number_in(Pairing& pairing, End end, std::size_t flank) {
    if (end == End::top) return flank == 0 ? pairing.top_left : pairing.top_right;
    return flank == 0 ? pairing.bottom_left : pairing.bottom_right;
}

double number_in(Pairing pairing, End end, std::size_t flank, int) {
    return number_in(pairing, end, flank);
}

}  // namespace

Rebuilds::Rebuilds(const AssembledBow& today) : today_(today) {
    for (const End end : {End::top, End::bottom}) {
        add_limbs(end);
        add_axle(end);
    }
    add_cables();
}

void Rebuilds::add_limbs(End end) {
    const std::size_t e = index(end), rows = today_.limbs[e].rows.size();
    const bool split = today_.bow.limb.kind == LimbKind::split;
    // A solid limb has one number, the mean of the two.
    for (std::size_t part = 0; part < (split ? 2u : 1u); ++part) {
        const std::size_t first = split ? part : 0, last = split ? part + 1 : rows;
        const std::size_t flanks = split ? part + 1 : 2;
        Group group;
        for (std::size_t r = first; r < last; ++r)
            for (const std::size_t element : today_.limbs[e].rows[r].elements())
                group.elements.push_back(element);
        group.key = [=](const Layout& l) {
            Key key{bolt_of(l, end)};
            for (std::size_t f = part; f < flanks; ++f) key.push_back(number_in(l.pairing, end, f, 0));
            return key;
        };
        group.take = [=](Layout& to, const Layout& from) {
            for (std::size_t f = part; f < flanks; ++f)
                number_in(to.pairing, end, f) = number_in(from.pairing, end, f, 0);
            (end == End::top ? to.bolt_top : to.bolt_bottom) = bolt_of(from, end);
        };
        group.fit = [=](AssembledBow& to, const AssembledBow& from) {
            for (std::size_t r = first; r < last; ++r) to.limbs[e].rows[r] = from.limbs[e].rows[r];
        };
        groups_.push_back(std::move(group));
    }
}

void Rebuilds::add_axle(End end) {
    const std::size_t e = index(end);
    Group group;
    group.elements.assign(today_.axles[e].beams.begin(), today_.axles[e].beams.end());
    group.key = [=](const Layout& l) { return Key{cam_offset(spacers_of(l, end))}; };
    group.take = [=](Layout& to, const Layout& from) {
        (end == End::top ? to.spacers_top : to.spacers_bottom) = spacers_of(from, end);
    };
    group.fit = [=](AssembledBow& to, const AssembledBow& from) {
        to.axles[e].cam_offset = from.axles[e].cam_offset;
    };
    groups_.push_back(std::move(group));
}

void Rebuilds::add_cables() {
    Group group;
    group.elements = today_.guide.rod_beams;
    for (const CablePart& part : today_.all_cables()) group.elements.push_back(part.element);
    group.key = [](const Layout& l) {
        return Key{l.guide_lateral,      l.guide_angle,         l.twist_yoke_left[0],
                   l.twist_yoke_left[1], l.twist_yoke_right[0], l.twist_yoke_right[1]};
    };
    group.take = [](Layout& to, const Layout& from) {
        to.guide_lateral = from.guide_lateral;
        to.guide_angle = from.guide_angle;
        to.twist_yoke_left = from.twist_yoke_left;
        to.twist_yoke_right = from.twist_yoke_right;
    };
    group.fit = [](AssembledBow& to, const AssembledBow& from) { to.guide = from.guide; };
    groups_.push_back(std::move(group));
}

std::shared_ptr<const AssembledBow> Rebuilds::built(const Group& group, const Layout& layout) const {
    const std::lock_guard lock(mutex_);
    std::shared_ptr<const AssembledBow>& found = group.built[group.key(layout)];
    if (!found) {
        Layout changed = today_.layout;
        group.take(changed, layout);
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
    bow.layout = layout;
}

}  // namespace limbwright::models
