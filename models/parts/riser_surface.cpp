#include "models/parts/riser_surface.hpp"

#include <algorithm>
#include <cmath>

#include "meshes/plate_shells.hpp"

namespace limbwright::models {
namespace {

/// Cosine of half the angle by which the line turns at a station in the bow's plane: a section that halves
/// the angle is longer by that than one across either side.
double mitre(const std::vector<RiserStation>& line, std::size_t i) {
    if (i == 0 || i + 1 == line.size()) return 1;
    const auto along = [&](std::size_t from) {
        Vec3 side = line[from + 1].position - line[from].position;
        side.y() = 0;
        return side.normalized();
    };
    return std::sqrt(0.5 * (1 + along(i - 1).dot(along(i))));
}

/// The riser as a plate along its line.
meshes::Surface plate_of(const Riser& riser, const std::vector<RiserStation>& line) {
    std::vector<meshes::PlateLine> stations;
    for (std::size_t i = 0; i < line.size(); ++i)
        stations.push_back({line[i].position, line[i].width, line[i].depth / mitre(line, i)});
    std::vector<meshes::Opening> openings;
    for (const CutOut& c : riser.cut_outs) {
        const double depth = (c.front - c.behind) * line.front().depth;
        openings.push_back(
            {c.from, c.to, c.behind, c.front, std::min(6., 0.2 * std::min(c.to - c.from, depth))});
    }
    return plate_surface(stations, openings, riser.shells, riser.shells_across);
}

/// One more station at a height between two that are there.
void put_station(std::vector<RiserStation>& line, double height) {
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const double above_lower = height - line[i].position.z();
        const double below_upper = line[i + 1].position.z() - height;
        if (above_lower >= same_station && below_upper >= same_station) {
            const double share = above_lower / (above_lower + below_upper);
            line.insert(line.begin() + static_cast<std::ptrdiff_t>(i) + 1,
                        between(line[i], line[i + 1], share));
            return;
        }
    }
}

}  // namespace

RiserStation between(const RiserStation& a, const RiserStation& b, double u) {
    return {a.position + u * (b.position - a.position), a.width + u * (b.width - a.width),
            a.depth + u * (b.depth - a.depth)};
}

std::vector<double> mount_heights(const Bow& bow) {
    std::vector<double> heights{bow.pocket_bottom.position.z(), bow.pocket_top.position.z()};
    if (bow.guide.kind != GuideKind::none) heights.push_back(bow.guide.position.z());
    return heights;
}

std::vector<RiserStation> mounted_line(const Riser& riser, const std::vector<double>& heights) {
    std::vector<RiserStation> line = riser.stations;
    put_station(line, 0);
    for (const double height : heights) put_station(line, height);
    return line;
}

meshes::Surface riser_surface(const Riser& riser, const std::vector<double>& heights) {
    return riser.mesh ? *riser.mesh->surface : plate_of(riser, mounted_line(riser, heights));
}

}  // namespace limbwright::models
