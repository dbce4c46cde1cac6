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

}  // namespace

RiserStation between(const RiserStation& a, const RiserStation& b, double u) {
    return {a.position + u * (b.position - a.position), a.width + u * (b.width - a.width),
            a.depth + u * (b.depth - a.depth)};
}

void put_station(std::vector<RiserStation>& line, double height) {
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const double below = line[i].position.z() - height, above = line[i + 1].position.z() - height;
        if (below < 0 && above > 0) {
            line.insert(line.begin() + static_cast<std::ptrdiff_t>(i) + 1,
                        between(line[i], line[i + 1], -below / (above - below)));
            return;
        }
    }
}

std::optional<double> guide_height(const Bow& bow) {
    return bow.guide.kind == GuideKind::none ? std::nullopt : std::optional(bow.guide.position.z());
}

std::vector<RiserStation> mounted_line(const Riser& riser, std::optional<double> guide_height) {
    std::vector<RiserStation> line = riser.stations;
    put_station(line, 0);
    if (guide_height) put_station(line, *guide_height);
    return line;
}

meshes::Surface riser_surface(const Riser& riser, std::optional<double> guide_height) {
    return riser.mesh ? *riser.mesh->surface : plate_of(riser, mounted_line(riser, guide_height));
}

}  // namespace limbwright::models
