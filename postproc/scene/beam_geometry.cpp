#include "postproc/scene/beam_geometry.hpp"

#include <numbers>

namespace limbwright::postproc {
namespace {

using models::AssembledBow;
using solver::Beam;
using solver::Frame;
using solver::Pose;
using solver::SectionForces;
using solver::State;

Bar riser_bar(const AssembledBow& bow) {
    const models::RiserParts& riser = bow.riser;
    Bar bar{.name = "riser", .young = bow.bow.riser.material.along * bow.bow.riser.fill};
    for (std::size_t i = 0; i < riser.sections.size(); ++i)
        bar.sections.push_back({riser.sections[i], riser.stations[i].width, riser.stations[i].depth});
    bar.beams.assign(riser.beams.begin(), riser.beams.end());
    return bar;
}

Bar limb_bar(const models::LimbRow& row) {
    Bar bar{.name = limb_piece_name(row.name), .young = row.stiffness.moduli.young};
    for (std::size_t i = 0; i < row.sections.size(); ++i)
        bar.sections.push_back({row.sections[i], row.stations[i].width, row.stations[i].thickness});
    bar.beams.assign(row.beams.begin(), row.beams.end());
    return bar;
}

/// From right to left, along the sections' axis 1. Beyond the limb tips an axle is rigid.
Bar axle_bar(const AssembledBow& bow, models::End end) {
    const bool top = end == models::End::top;
    const models::AxleParts& parts = bow.axle(end);
    const models::Axle& axle = top ? bow.bow.axle_top : bow.bow.axle_bottom;
    Bar bar{
        .name = top ? "axle top" : "axle bottom", .shape = SectionShape::round, .young = axle.material.along};
    for (const Frame& frame : {parts.ends[1], Frame::on(parts.right), Frame::on(parts.middle),
                               Frame::on(parts.left), parts.ends[0]})
        bar.sections.push_back({frame, axle.diameter, 0});
    bar.beams = {std::nullopt, parts.beams[1], parts.beams[0], std::nullopt};
    return bar;
}

Bar rod_bar(const AssembledBow& bow) {
    const models::Guide& guide = bow.bow.guide;
    Bar bar{.name = "guide rod", .shape = SectionShape::round, .young = guide.rod_material.along};
    for (const Frame& frame : bow.guide.rod) bar.sections.push_back({frame, guide.rod_diameter, 0});
    bar.beams.assign(bow.guide.rod_beams.begin(), bow.guide.rod_beams.end());
    return bar;
}

/// Means over the beams that meet at each section, in its own axes; zero where none does.
///
/// @param sections  where they stand in this state
std::vector<SectionForces> section_forces(const AssembledBow& bow, const Bar& bar,
                                          const std::vector<Pose>& sections, const State& state) {
    std::vector<SectionForces> sums(bar.sections.size(), {Vec3::Zero(), Vec3::Zero()});
    std::vector<int> counts(bar.sections.size(), 0);
    for (std::size_t i = 0; i < bar.beams.size(); ++i) {
        if (!bar.beams[i]) continue;
        const auto& beam = static_cast<const Beam&>(*bow.system.elements()[*bar.beams[i]]);
        const std::array<SectionForces, 2> ends = beam.section_forces(state);
        const std::array<Pose, 2> own{pose(beam.end1(), state), pose(beam.end2(), state)};
        for (std::size_t k = 0; k < 2; ++k) {
            // At a kink of the riser either side has axes of its own.
            const solver::Rotation turn = sections[i + k].rotation.inverse() * own[k].rotation;
            sums[i + k].force += turn * ends[k].force;
            sums[i + k].moment += turn * ends[k].moment;
            ++counts[i + k];
        }
    }
    for (std::size_t i = 0; i < sums.size(); ++i) {
        if (counts[i] == 0) continue;
        sums[i].force /= counts[i];
        sums[i].moment /= counts[i];
    }
    return sums;
}

std::vector<SweptStation> stations_of(const Bar& bar, const std::vector<Pose>& poses) {
    std::vector<SweptStation> stations;
    for (std::size_t i = 0; i < poses.size(); ++i)
        stations.push_back({poses[i].position, poses[i].rotation.matrix(), bar.sections[i].width,
                            bar.sections[i].thickness});
    return stations;
}

/// Strain along the bar at (y₂, y₃) of a section.
double strain_at(const Bar& bar, const BarSection& section, const SectionForces& carried, double y2,
                 double y3) {
    const double w = section.width, t = section.thickness;
    const bool is_round = bar.shape == SectionShape::round;
    const double area = is_round ? std::numbers::pi / 4 * w * w : w * t;
    // I/A of both axes: d²/16 of a circle, side²/12 of a rectangle.
    const double per_area2 = is_round ? w * w / 16 : t * t / 12;
    const double per_area3 = is_round ? w * w / 16 : w * w / 12;
    return (carried.force[0] + carried.moment[1] * y3 / per_area2 - carried.moment[2] * y2 / per_area3) /
           (bar.young * area);
}

}  // namespace

std::string limb_piece_name(const std::string& row) {
    constexpr std::string_view limb = " limb";
    return "limb " + (row.ends_with(limb) ? row.substr(0, row.size() - limb.size()) : row);
}

std::vector<Bar> bars_of(const AssembledBow& bow) {
    std::vector<Bar> bars;
    if (bow.riser.shells.empty()) bars.push_back(riser_bar(bow));
    for (const models::LimbParts& limbs : bow.limbs)
        for (const models::LimbRow& row : limbs.rows)
            if (!row.beams.empty()) bars.push_back(limb_bar(row));
    for (const models::End end : {models::End::top, models::End::bottom}) bars.push_back(axle_bar(bow, end));
    if (!bow.guide.rod.empty()) bars.push_back(rod_bar(bow));
    return bars;
}

Piece bar_piece(const AssembledBow& bow, const Bar& bar, const State& state) {
    const Pose grip = bow_frame(bow, state);
    std::vector<Pose> here, at_rest;
    for (const BarSection& section : bar.sections) {
        here.push_back(pose(section.frame, state));
        at_rest.push_back(grip * pose(section.frame, bow.rest));
    }
    const std::vector<SectionForces> carried = section_forces(bow, bar, here, state);
    Field force{"section force", "N", 3, {}}, moment{"section moment", "N mm", 3, {}};
    Field along{"axis along", "", 3, {}}, across{"axis across", "", 3, {}};
    for (std::size_t i = 0; i < here.size(); ++i) {
        append(force, carried[i].force);
        append(moment, carried[i].moment);
        append(along, here[i].rotation * Vec3(Vec3::UnitX()));
        append(across, here[i].rotation * Vec3(Vec3::UnitY()));
    }
    Piece piece = swept(bar.name, stations_of(bar, here), bar.shape, {force, moment, along, across});
    const Piece rest = swept(bar.name, stations_of(bar, at_rest), bar.shape);

    Field displacement{"displacement", "mm", 3, {}}, strain{"strain", "", 1, {}};
    const std::size_t sides = piece.points.size() / here.size();
    for (std::size_t p = 0; p < piece.points.size(); ++p) {
        append(displacement, piece.points[p] - rest.points[p]);
        const std::size_t i = p / sides;
        const Vec3 y = here[i].inverse() * piece.points[p];
        strain.values.push_back(strain_at(bar, bar.sections[i], carried[i], y[1], y[2]));
    }
    piece.point_fields.insert(piece.point_fields.begin(), {displacement, strain});
    return piece;
}

}  // namespace limbwright::postproc
