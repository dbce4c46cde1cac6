#include "models/parts/riser_parts.hpp"

#include <algorithm>
#include <cmath>

#include "meshes/plate_shells.hpp"
#include "models/parts/riser_surface.hpp"

namespace limbwright::models {
namespace {

using meshes::Surface;
using solver::Frame;
using solver::Mat3;
using solver::Pose;
using solver::Rotation;

/// The line cut into about `elements` pieces: every station is kept.
std::vector<RiserStation> cut(const std::vector<RiserStation>& line, int elements) {
    double length = 0;
    for (std::size_t i = 0; i + 1 < line.size(); ++i)
        length += (line[i + 1].position - line[i].position).norm();
    std::vector<RiserStation> pieces{line.front()};
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const double share = (line[i + 1].position - line[i].position).norm() / length;
        const int n = std::max(1, static_cast<int>(std::lround(share * elements)));
        for (int k = 1; k <= n; ++k)
            pieces.push_back(between(line[i], line[i + 1], static_cast<double>(k) / n));
    }
    return pieces;
}

/// Axis 1 along a direction, 2 to the left, 3 across.
Rotation axes_along(const Vec3& direction) {
    Mat3 R;
    R.col(0) = direction.normalized();
    R.col(1) = (Vec3::UnitY() - R(1, 0) * R.col(0)).normalized();
    R.col(2) = R.col(0).cross(R.col(1));
    return solver::rotation_from(R);
}

/// Along the line from the station before to the one after.
Pose section_pose(const std::vector<RiserStation>& line, std::size_t i) {
    const Vec3& before = line[i == 0 ? 0 : i - 1].position;
    const Vec3& after = line[std::min(i + 1, line.size() - 1)].position;
    return {axes_along(after - before), line[i].position};
}

/// A section's frame with a straight piece's axes instead. Between two pieces in one line the turn is nothing
/// but rounding: it is left out, because beams between bare nodes cost less.
Frame with_axes(const Frame& section, const Pose& rest, const Rotation& piece) {
    const Rotation turn = rest.rotation.inverse() * piece;
    constexpr double rounding = 1e-12;  // rad; a direction is good to 1e-14
    return solver::log(turn).norm() < rounding ? section : section.then(Pose{turn, Vec3::Zero()});
}

std::size_t nearest_in_height(const std::vector<Pose>& poses, double height) {
    const auto distance = [&](const Pose& X) { return std::abs(X.position.z() - height); };
    return static_cast<std::size_t>(
        std::min_element(poses.begin(), poses.end(),
                         [&](const Pose& a, const Pose& b) { return distance(a) < distance(b); }) -
        poses.begin());
}

}  // namespace

Frame RiserParts::at(const Pose& X) const {
    const std::size_t nearest = nearest_in_height(rest, X.position.z());
    return sections[nearest].then(rest[nearest].inverse() * X);
}

namespace {

void add_riser_beams(const Riser& riser, const std::vector<double>& heights, RiserParts& parts,
                     Builder& builder) {
    parts.stations = cut(mounted_line(riser, heights), riser.elements);
    for (std::size_t i = 0; i < parts.stations.size(); ++i)
        parts.rest.push_back(section_pose(parts.stations, i));
    const std::size_t grip = nearest_in_height(parts.rest, 0);
    for (std::size_t i = 0; i < parts.stations.size(); ++i)
        parts.sections.push_back(i == grip ? parts.grip.then(parts.rest[i])
                                           : Frame::on(builder.add_node(parts.rest[i])));
    const solver::Moduli moduli{riser.material.along * riser.fill, riser.material.shear * riser.fill};
    for (std::size_t i = 0; i + 1 < parts.sections.size(); ++i) {
        const RiserStation &below = parts.stations[i], &above = parts.stations[i + 1];
        const Rotation piece = axes_along(above.position - below.position);
        const Frame bottom = with_axes(parts.sections[i], parts.rest[i], piece);
        const Frame top = with_axes(parts.sections[i + 1], parts.rest[i + 1], piece);
        const auto section = [&](double u) {
            const RiserStation s = between(below, above, u);
            return solver::rectangle(moduli, s.width, s.depth);
        };
        parts.beams.push_back(builder.add<solver::Beam>(
            bottom, top, solver::beam_data(builder.at_rest(bottom), builder.at_rest(top), section)));
    }
}

/// Nodes of the row across the plate that stands nearest to a section.
std::vector<int> row_at(const Surface& surface, const Pose& section) {
    const Vec3 along = section.rotation * Vec3(Vec3::UnitX());
    const auto height = [&](const Pose& node) { return along.dot(node.position - section.position); };
    const Pose& nearest =
        surface.nodes[static_cast<std::size_t>(nodes_within(surface, section.position, 0).front())];
    std::vector<int> row;
    for (std::size_t i = 0; i < surface.nodes.size(); ++i)
        if (std::abs(height(surface.nodes[i]) - height(nearest)) < same_station)
            row.push_back(static_cast<int>(i));
    return row;
}

struct Mount {
    RiserStation station;
    Pose rest;
    std::vector<int> nodes;
    bool grip;
};

/// What carries something, bottom to top: pockets, grip and guide.
std::vector<Mount> mounts_of(const Riser& riser, const std::vector<RiserStation>& line,
                             const std::vector<double>& heights, const Surface& surface) {
    std::vector<Mount> mounts;
    if (riser.mesh) {
        for (const char* name : {"pocket bottom", "grip", "guide", "pocket top"}) {
            const auto set = surface.sets.find(name);
            if (set == surface.sets.end() || set->second.empty()) continue;
            Vec3 middle = Vec3::Zero();
            for (const int node : set->second)
                middle += surface.nodes[static_cast<std::size_t>(node)].position / double(set->second.size());
            mounts.push_back({{middle, 0, 0}, {{}, middle}, set->second, set->first == "grip"});
        }
        return mounts;
    }
    for (std::size_t i = 0; i < line.size(); ++i) {
        const bool end = i == 0 || i + 1 == line.size();
        const auto is_at = [&](double z) { return std::abs(line[i].position.z() - z) < same_station; };
        const bool grip = is_at(0);
        if (!end && !grip && std::ranges::none_of(heights, is_at)) continue;
        const Pose rest = section_pose(line, i);
        const char* set = i == 0 ? "bottom" : "top";
        mounts.push_back({line[i], rest, end ? surface.sets.at(set) : row_at(surface, rest), grip});
    }
    return mounts;
}

void add_riser_shells(const Riser& riser, const std::vector<double>& heights, RiserParts& parts,
                      Builder& builder) {
    const Surface surface = riser_surface(riser, heights);
    const std::vector<Mount> mounts = mounts_of(riser, mounted_line(riser, heights), heights, surface);
    std::vector<Pad> pads;
    for (const Mount& mount : mounts) {
        parts.stations.push_back(mount.station);
        parts.rest.push_back(mount.rest);
        parts.sections.push_back(mount.grip ? parts.grip.then(mount.rest)
                                            : Frame::on(builder.add_node(mount.rest)));
        pads.push_back({parts.sections.back(), mount.nodes});
    }
    parts.shells = add_shells(
                       surface, pads,
                       [&](const meshes::SurfaceCell& cell) {
                           return wall_stiffness(riser_laminate(riser, cell.thickness));
                       },
                       builder)
                       .shells;
}

}  // namespace

RiserParts add_riser(const Riser& riser, const std::vector<double>& heights, Builder& builder) {
    RiserParts parts;
    parts.yaw = builder.add_scalar();
    parts.pitch = builder.add_scalar();
    parts.roll = builder.add_scalar();
    using solver::JointKind;
    parts.grip = Frame::on_ground()
                     .then({JointKind::hinge, Vec3::UnitZ(), parts.yaw, {}})
                     .then({JointKind::hinge, Vec3::UnitY(), parts.pitch, {}})
                     .then({JointKind::hinge, Vec3::UnitX(), parts.roll, {}});
    if (riser.model == PartModel::shell)
        add_riser_shells(riser, heights, parts, builder);
    else
        add_riser_beams(riser, heights, parts, builder);
    return parts;
}

}  // namespace limbwright::models
