#include "models/bow/bow_checks.hpp"

#include <fmt/format.h>

#include <string>

#include "models/bow/part_checks.hpp"
#include "models/bow/range_checks.hpp"
#include "models/bow/spacers.hpp"

namespace limbwright::models {
namespace {

void check_pockets(const Bow& bow, Complaints& complaints) {
    const double top = bow.pocket_top.position.z(), bottom = bow.pocket_bottom.position.z();
    if (known({top}))
        require(top > 0, complaints, "pocket.top.position", "must be above the pivot point", mm(top));
    if (known({bottom}))
        require(bottom < 0, complaints, "pocket.bottom.position", "must be below the pivot point",
                mm(bottom));
}

void check_spacers(const Bow& bow, Complaints& complaints) {
    const double gap = tip_gap(bow);
    if (!known({gap}) || (!bow.gap && complaints.about("limb.prong_width"))) return;
    require(gap > 0, complaints, "limb.lateral",
            fmt::format("must leave a gap between the limb tips, but leaves {}", mm(gap)));
    if (!(gap > 0)) return;
    const auto fit = [&](const SpacerStacks& stacks, const Cam& cam, const std::string& end) {
        const double left = left_over(bow, stacks, cam);
        if (!known({left, bow.play})) return;
        const std::string sum = fmt::format("spacers of {} and hub of {}", mm(total(stacks)), mm(cam.hub));
        require(left >= -sum_rounding, complaints, "layout.spacers." + end,
                fmt::format("must fit between the limb tips: {} are {} longer than the gap of {}", sum,
                            mm(-left), mm(gap)));
        require(left <= bow.play + sum_rounding, complaints, "layout.spacers." + end,
                fmt::format("must fill the gap between the limb tips within the play of {}: {} are {} short "
                            "of the gap of {}",
                            mm(bow.play), sum, mm(left), mm(gap)));
    };
    fit(bow.layout.spacers_top, bow.cam_top, "top");
    fit(bow.layout.spacers_bottom, bow.cam_bottom, "bottom");
    const auto reach = [&](const Axle& axle, const std::string& end) {
        if (known({axle.length}))
            require(axle.length >= gap, complaints, "axle" + end + ".length",
                    fmt::format("must reach through both limb tips, whose gap is {}", mm(gap)),
                    mm(axle.length));
    };
    const bool alike = bow.axle_top.length == bow.axle_bottom.length;
    reach(bow.axle_top, alike ? "" : ".top");
    if (!alike) reach(bow.axle_bottom, ".bottom");
}

void check_track(const std::optional<Track>& track, const std::string& key, bool needed, const char* system,
                 Complaints& complaints) {
    if (!track) {
        require(!needed, complaints, key, fmt::format("is missing; a {} bow needs it", system));
        return;
    }
    const int shapes = track->circle.has_value() + track->traced.has_value() + track->support.has_value();
    require(shapes == 1, complaints, key, "needs exactly one of circle, traced and support",
            fmt::format("given {} of them", shapes == 0 ? "none" : std::to_string(shapes)));
}

void check_tracks(const Bow& bow, Complaints& complaints) {
    struct Needs {
        const char* name;
        bool top_take_up, top_let_out, bottom_take_up, bottom_let_out;
    };
    const auto needs = [&]() -> Needs {
        switch (bow.cables.system) {
            case CableSystem::crossed:
                return {"crossed", true, true, true, true};
            case CableSystem::yoked:
                return {"yoked", true, false, true, false};
            case CableSystem::mixed:
                return {"mixed", true, false, true, true};
            case CableSystem::single_cam:
                break;
        }
        return {"single_cam", false, false, true, true};
    }();
    const auto check_cam = [&](const Cam& cam, const std::string& key, bool take_up, bool let_out) {
        check_track(cam.string, key + ".string", true, needs.name, complaints);
        check_track(cam.take_up, key + ".take_up", take_up, needs.name, complaints);
        check_track(cam.let_out, key + ".let_out", let_out, needs.name, complaints);
    };
    check_cam(bow.cam_top, "cam.top", needs.top_take_up, needs.top_let_out);
    check_cam(bow.cam_bottom, "cam.bottom", needs.bottom_take_up, needs.bottom_let_out);
    if (bow.cables.system != CableSystem::single_cam) return;
    const std::optional<Track::Circle>& wheel = bow.cam_top.string.circle;
    if (wheel && !known({wheel->centre.x(), wheel->centre.y()})) return;
    require(wheel && wheel->centre == Vec2::Zero(), complaints, "cam.top.string",
            R"(must be a circle centred on the axle, centre = ["0 mm", "0 mm"], because it is the idler's)");
}

void check_guide(const Guide& guide, Complaints& complaints) {
    const bool rod = guide.kind == GuideKind::rod || guide.kind == GuideKind::bending_rod;
    const bool bends = guide.kind == GuideKind::bending_rod;
    require(!rod || !(guide.rod_length <= 0), complaints, "guide.rod_length", "must be given for a rod");
    require(!bends || !(guide.rod_diameter <= 0), complaints, "guide.rod_diameter",
            "must be given for a rod that bends");
    require(!bends || guide.rod_material.along != 0, complaints, "guide.rod_material",
            "must be given for a rod that bends");
}

void check_cables(const Bow& bow, Complaints& complaints) {
    const Cables& cables = bow.cables;
    if (!complaints.about("cable_system")) {
        require(cables.system == CableSystem::crossed || !(cables.yoke_leg <= 0), complaints,
                "cables.yoke_leg", "must be given where there is a yoke");
        const std::size_t count = cables.system == CableSystem::single_cam ? 1 : 2;
        require(cables.cables.empty() || cables.cables.size() == count, complaints, "cables.natural_lengths",
                fmt::format("must hold {}", count == 1 ? "one length" : "two lengths"),
                fmt::format("a list of {}", cables.cables.size()));
    }
    const bool lengths_given = cables.string_above && cables.string_below &&
                               (!cables.cables.empty() || complaints.about("cables.natural_lengths"));
    require(lengths_given || bow.brace.axle_to_axle != 0, complaints, "brace",
            "is missing; it must hold what was measured at brace, or else [cables] must give string_above, "
            "string_below and natural_lengths");
}

void check_lengths(const Bow& bow, Complaints& complaints) {
    const Shooter& shooter = bow.shooter;
    require(shooter.draw_length || bow.cam_top.stop || bow.cam_bottom.stop, complaints, "shooter.draw_length",
            "is missing, and no cam has a stop; one of them must end the draw");
    if (shooter.draw_length && bow.brace.brace_height) {
        const double nock = *shooter.draw_length - draw_length_beyond_pivot, brace = *bow.brace.brace_height;
        if (known({nock, brace}))
            require(nock > brace, complaints, "shooter.draw_length",
                    fmt::format("must draw the nock beyond the brace height of {}: that is above {}",
                                mm(brace), mm(brace + draw_length_beyond_pivot)),
                    mm(*shooter.draw_length));
    }
    if (complaints.about("pocket.top.position") || complaints.about("pocket.bottom.position")) return;
    const double pockets = bow.pocket_top.position.z() - bow.pocket_bottom.position.z();
    const double reach = pockets + 2 * bow.limb.length;
    if (known({reach, bow.brace.axle_to_axle}))
        require(bow.brace.axle_to_axle < reach, complaints, "brace.axle_to_axle",
                fmt::format("must be less than riser and limbs laid out straight, {}", mm(reach)),
                mm(bow.brace.axle_to_axle));
}

}  // namespace

void check(const Bow& bow, Complaints& complaints) {
    check_riser(bow.riser, bow.guide.kind, complaints);
    check_pockets(bow, complaints);
    check_limb(bow.limb, bow.layout.pairing, complaints);
    check_spacers(bow, complaints);
    if (!complaints.about("cable_system")) check_tracks(bow, complaints);
    check_guide(bow.guide, complaints);
    check_cables(bow, complaints);
    check_lengths(bow, complaints);
}

}  // namespace limbwright::models
