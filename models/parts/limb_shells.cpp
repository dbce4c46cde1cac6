#include "models/parts/limb_shells.hpp"

#include <algorithm>
#include <numbers>

#include "meshes/strip_shells.hpp"

namespace limbwright::models {
namespace {

using meshes::Surface;
using solver::Frame;
using solver::Pose;

/// The user's surface in its place. It is drawn as a top limb; at the bottom the same limb is turned about
/// its length.
Surface placed(const Surface& surface, const LimbPlace& place) {
    Pose root = place.root;
    root.position += place.lateral * Vec3::UnitY();
    if (place.end == End::bottom)
        root = root * Pose{solver::exp<double>(Vec3(std::numbers::pi * Vec3::UnitX())), Vec3::Zero()};
    return moved(surface, root);
}

/// A bottom limb's axis 3 looks to the target; the wall's top face is the archer's side all the same.
Surface facing_the_archer(Surface surface, End end) {
    if (end == End::bottom)
        for (meshes::SurfaceCell& cell : surface.cells)
            for (Vec3& normal : cell.normals) normal = -normal;
    return surface;
}

ShellPart add(const Surface& surface, const LimbStiffness& stiffness, const std::vector<Pad>& pads,
              Builder& builder) {
    return add_shells(
        surface, pads,
        [&](const meshes::SurfaceCell& cell) { return wall_stiffness(stiffness.laminate(cell.thickness)); },
        builder);
}

/// A row whose sections are the nodes of a line at given shares of the limb's length.
LimbRow row_along(const std::string& name, const Surface& surface, const ShellPart& part,
                  const std::vector<int>& line, std::span<const double> shares, const meshes::Strip& strip,
                  const LimbStiffness& stiffness) {
    LimbRow row;
    row.name = name;
    row.stiffness = stiffness;
    for (std::size_t i = 0; i < line.size(); ++i) {
        const auto node = static_cast<std::size_t>(line[i]);
        row.sections.push_back(part.nodes[node]);
        row.rest.push_back(surface.nodes[node]);
        row.stations.push_back(strip.at(shares[i]));
    }
    return row;
}

/// A row of which only the ends are known.
LimbRow row_between(const std::string& name, const Frame& from, const Frame& to, double from_share,
                    const meshes::Strip& strip, const LimbStiffness& stiffness, const Builder& builder) {
    LimbRow row;
    row.name = name;
    row.stiffness = stiffness;
    row.sections = {from, to};
    row.rest = {builder.at_rest(from), builder.at_rest(to)};
    row.stations = {strip.at(from_share), strip.at(1)};
    return row;
}

/// The sets of a mesh, by name.
std::vector<int> nodes_of(const Surface& surface, const std::string& set) {
    const auto found = surface.sets.find(set);
    return found == surface.sets.end() ? std::vector<int>{} : found->second;
}

/// Which of the shares is the fork of a solid limb.
std::size_t fork_of(const Limb& limb, const std::vector<double>& shares) {
    const double share = 1 - limb.fork / limb.length;
    const auto at = std::find_if(shares.begin(), shares.end(), [&](double s) { return s >= share - 1e-9; });
    return static_cast<std::size_t>(at - shares.begin());
}

}  // namespace

Surface limb_surface(const Limb& limb, const LimbPlace& place) {
    if (limb.mesh) return placed(*limb.mesh->surface, place);
    const meshes::Strip strip = oriented(limb_strip(limb), place.end);
    const std::vector<double> shares = limb_shares(limb, limb.shells);
    return facing_the_archer(
        limb.kind == LimbKind::split
            ? strip_surface(strip, place.root, place.lateral, shares, limb.shells_across)
            : forked_strip_surface(strip, place.root, shares, limb.shells_across,
                                   shares[fork_of(limb, shares)], limb.prong_width, limb.lateral),
        place.end);
}

LimbRow add_split_limb_shells(const Limb& limb, const LimbStiffness& stiffness, const LimbPlace& place,
                              Builder& builder) {
    const meshes::Strip strip = oriented(limb_strip(limb), place.end);
    const std::vector<double> shares = limb_shares(limb, limb.shells);
    const Surface surface =
        limb.mesh
            ? placed(*limb.mesh->surface, place)
            : facing_the_archer(strip_surface(strip, place.root, place.lateral, shares, limb.shells_across),
                                place.end);
    const ShellPart part =
        add(surface, stiffness,
            {{place.root_frame, nodes_of(surface, "root")}, {place.tip_frames[0], nodes_of(surface, "tip")}},
            builder);
    LimbRow row =
        limb.mesh
            ? row_between(place.name, place.root_frame, place.tip_frames[0], 0, strip, stiffness, builder)
            : row_along(place.name, surface, part, nodes_of(surface, "line"), shares, strip, stiffness);
    row.shells = part.shells;
    return row;
}

std::vector<LimbRow> add_solid_limb_shells(const Limb& limb, const LimbStiffness& stiffness,
                                           const LimbPlace& place, Builder& builder) {
    meshes::Strip strip = oriented(limb_strip(limb), place.end);
    const std::vector<double> shares = limb_shares(limb, limb.shells);
    const std::size_t fork = fork_of(limb, shares);
    const Surface surface = limb_surface(limb, place);
    // The user's limb is turned about its length at the bottom, so that its left prong comes to the right.
    const bool swapped = limb.mesh && place.end == End::bottom;
    const std::array<std::string, 2> sides{swapped ? "right" : "left", swapped ? "left" : "right"};
    std::vector<Pad> pads{{place.root_frame, nodes_of(surface, "root")}};
    for (std::size_t flank = 0; flank < 2; ++flank)
        pads.push_back({place.tip_frames[flank], nodes_of(surface, sides[flank] + " tip")});
    const ShellPart part = add(surface, stiffness, pads, builder);

    std::vector<LimbRow> rows;
    const std::span<const double> all(shares);
    const std::array<std::string, 2> prongs{place.name + " left prong", place.name + " right prong"};
    if (limb.mesh) {
        rows.push_back(row_between(place.name + " limb", place.root_frame, place.tip_frames[0], 0, strip,
                                   stiffness, builder));
        for (std::size_t flank = 0; flank < 2; ++flank)
            rows.push_back(row_between(prongs[flank], place.root_frame, place.tip_frames[flank], shares[fork],
                                       strip, stiffness, builder));
        rows[0].shells = part.shells;
        return rows;
    }
    rows.push_back(row_along(place.name + " limb", surface, part, nodes_of(surface, "line"),
                             all.first(fork + 1), strip, stiffness));
    for (meshes::StripStation& s : strip.stations) s.width = limb.prong_width;
    for (std::size_t flank = 0; flank < 2; ++flank)
        rows.push_back(row_along(prongs[flank], surface, part, nodes_of(surface, sides[flank] + " line"),
                                 all.subspan(fork), strip, stiffness));
    const double root_to_fork = (rows[0].rest.back().position - place.root.position).norm();
    for (std::size_t i = 0; i < surface.cells.size(); ++i) {
        Vec3 centre = Vec3::Zero();
        for (int k = 0; k < surface.cells[i].count(); ++k)
            centre +=
                surface.nodes[static_cast<std::size_t>(surface.cells[i].corners[static_cast<std::size_t>(k)])]
                    .position /
                surface.cells[i].count();
        Vec3 in_plane = centre;
        in_plane.y() = place.root.position.y();
        const bool body = (in_plane - place.root.position).norm() < root_to_fork;
        rows[body ? 0 : centre.y() > 0 ? 1 : 2].shells.push_back(part.shells[i]);
    }
    return rows;
}

}  // namespace limbwright::models
