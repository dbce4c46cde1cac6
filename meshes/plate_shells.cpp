#include "meshes/plate_shells.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <stdexcept>

#include "meshes/grid_lines.hpp"

namespace limbwright::meshes {
namespace {

using solver::Mat3;

/// The plate's surface as a function of Z of its line and the share of its height.
class RuledPlate {
public:
    struct Section {
        Vec3 middle;
        Vec3 across;  ///< from the −X edge to the other
        double thickness;
    };

    explicit RuledPlate(const std::vector<PlateLine>& line) {
        demand(line.size() >= 2, "a plate's line needs two stations");
        for (std::size_t i = 0; i < line.size(); ++i) {
            demand(line[i].thickness > 0 && line[i].height > 0,
                   fmt::format("the plate has no thickness or no height at Z = {}", line[i].position.z()));
            demand(i == 0 || line[i].position.z() > line[i - 1].position.z(),
                   fmt::format("the plate's line does not rise at Z = {}", line[i].position.z()));
            const Vec3 along =
                line[std::min(i + 1, line.size() - 1)].position - line[i == 0 ? 0 : i - 1].position;
            const Vec3 across = Vec3::UnitY().cross(along).normalized();
            stations_.push_back({line[i].position, line[i].height * across, line[i].thickness});
        }
        // A bilinear patch is folded nowhere if it is not at its four corners.
        for (std::size_t i = 0; i + 1 < stations_.size(); ++i)
            for (const double share : {0., 1.})
                for (const Section& end : {stations_[i], stations_[i + 1]})
                    demand(
                        tangent(i, share).cross(end.across).y() > 0,
                        fmt::format("the plate folds over between Z = {} and {}: its line turns too sharply",
                                    stations_[i].middle.z(), stations_[i + 1].middle.z()));
    }

    [[nodiscard]] double bottom() const { return stations_.front().middle.z(); }
    [[nodiscard]] double top() const { return stations_.back().middle.z(); }

    [[nodiscard]] Section at(double z) const {
        const std::size_t i = segment(z);
        const Section &a = stations_[i], &b = stations_[i + 1];
        const double u = (z - a.middle.z()) / (b.middle.z() - a.middle.z());
        return {a.middle + u * (b.middle - a.middle), a.across + u * (b.across - a.across),
                a.thickness + u * (b.thickness - a.thickness)};
    }

    /// Unit vector along the line in the XZ plane.
    [[nodiscard]] Vec3 slope(double z) const {
        const std::size_t i = segment(z);
        const Vec3 along = stations_[i + 1].middle - stations_[i].middle;
        return Vec3(along.x(), 0, along.z()).normalized();
    }

    [[nodiscard]] Pose node(double z, double share) const {
        const Section section = at(z);
        const std::size_t i = segment(z);
        Vec3 along = tangent(i, share);
        const double near = 1e-9 * (top() - bottom());
        if (i > 0 && std::abs(z - stations_[i].middle.z()) < near) along += tangent(i - 1, share);
        if (i + 2 < stations_.size() && std::abs(z - stations_[i + 1].middle.z()) < near)
            along += tangent(i + 1, share);
        const Vec3 normal = along.cross(section.across);
        Mat3 R;
        R.col(0) = along.normalized();
        R.col(2) = normal.normalized();
        R.col(1) = R.col(2).cross(R.col(0));
        return {solver::rotation_from(R), section.middle + (share - 0.5) * section.across};
    }

private:
    [[nodiscard]] std::size_t segment(double z) const {
        std::size_t i = 0;
        while (i + 2 < stations_.size() && z >= stations_[i + 1].middle.z()) ++i;
        return i;
    }

    /// Of the surface in a segment, unit length.
    [[nodiscard]] Vec3 tangent(std::size_t i, double share) const {
        const Section &a = stations_[i], &b = stations_[i + 1];
        return (b.middle - a.middle + (share - 0.5) * (b.across - a.across)).normalized();
    }

    std::vector<Section> stations_;
};

void check(const std::vector<Opening>& openings, double bottom, double top) {
    for (std::size_t k = 0; k < openings.size(); ++k) {
        const Opening& o = openings[k];
        const auto demand_of = [&](bool condition, std::string_view what) {
            demand(condition, fmt::format("opening {} {}", k + 1, what));
        };
        demand_of(o.from < o.to && o.behind < o.front, "has no area");
        demand_of(o.from > bottom && o.to < top, "reaches past the plate's end");
        demand_of(o.behind < 1 && o.front > 0, "lies beside the plate");
        demand_of(o.behind > 0 || o.front < 1, "cuts the plate in two");
        demand_of(o.corner >= 0, "has corners of negative size");
        for (std::size_t j = 0; j < k; ++j) {
            const Opening& p = openings[j];
            demand(o.from > p.to || p.from > o.to || o.behind > p.front || p.behind > o.front,
                   fmt::format("openings {} and {} overlap or touch", j + 1, k + 1));
        }
    }
}

struct Grid {
    std::vector<double> rows;     ///< Z of the line
    std::vector<double> columns;  ///< share of the height
};

Grid make_grid(const RuledPlate& plate, const std::vector<PlateLine>& line,
               const std::vector<Opening>& openings, int along, int across) {
    std::vector<double> rows{plate.bottom(), plate.top()}, columns{0, 1}, stations;
    std::vector<Chamfer> row_chamfers, column_chamfers;
    for (std::size_t k = 0; k < openings.size(); ++k) {
        const Opening& o = openings[k];
        const double behind = std::max(0., o.behind), front = std::min(1., o.front);
        rows.insert(rows.end(), {o.from, o.to});
        columns.insert(columns.end(), {behind, front});
        if (o.corner == 0) continue;
        const int number = static_cast<int>(k) + 1;
        const double middle = 0.5 * (o.from + o.to);
        const double rise = o.corner * plate.slope(middle).z();
        const double share = o.corner / plate.at(middle).across.norm();
        const int closed_sides = (o.behind > 0) + (o.front < 1);
        const double rounding = 1 + 1e-9;
        demand(2 * rise <= (o.to - o.from) * rounding && closed_sides * share <= (front - behind) * rounding,
               fmt::format("the chamfers of opening {} are larger than half of it", number));
        row_chamfers.push_back({o.from, rise, number});
        row_chamfers.push_back({o.to, -rise, number});
        if (o.behind > 0) column_chamfers.push_back({behind, share, number});
        if (o.front < 1) column_chamfers.push_back({front, -share, number});
    }
    for (const PlateLine& station : line) stations.push_back(station.position.z());
    return {grid_lines(rows, row_chamfers, stations, along),
            grid_lines(columns, column_chamfers, {}, across)};
}

/// Corners of a cell of the grid, counted row by row; of a triangle where an opening's chamfer cuts it; none
/// within an opening.
std::optional<std::array<int, 4>> corners(const Grid& grid, std::size_t i, std::size_t j,
                                          const std::vector<Opening>& openings) {
    const int width = static_cast<int>(grid.columns.size());
    const int first = static_cast<int>(i) * width + static_cast<int>(j);
    const std::array<int, 4> all{first, first + width, first + width + 1, first + 1};
    const double z0 = grid.rows[i], z1 = grid.rows[i + 1], s0 = grid.columns[j], s1 = grid.columns[j + 1];
    const double z = 0.5 * (z0 + z1), s = 0.5 * (s0 + s1);
    const auto inside = std::find_if(openings.begin(), openings.end(), [&](const Opening& o) {
        return o.from < z && z < o.to && o.behind < s && s < o.front;
    });
    if (inside == openings.end()) return all;
    const Opening& o = *inside;
    if (o.corner == 0) return std::nullopt;
    const double tiny_z = 1e-8 * (grid.rows.back() - grid.rows.front()), tiny_s = 1e-8;
    const bool lowest = std::abs(z0 - o.from) < tiny_z, highest = std::abs(z1 - o.to) < tiny_z;
    const bool hindmost = o.behind > 0 && std::abs(s0 - o.behind) < tiny_s;
    const bool foremost = o.front < 1 && std::abs(s1 - o.front) < tiny_s;
    if (!(lowest || highest) || !(hindmost || foremost)) return std::nullopt;
    const std::size_t kept = lowest ? (hindmost ? 0 : 3) : (hindmost ? 1 : 2);
    return std::array<int, 4>{all[(kept + 3) % 4], all[kept], all[(kept + 1) % 4], -1};
}

/// Leaves out the nodes of no cell; the others keep their order.
void drop_unused(Surface& surface) {
    std::vector<int> place(surface.nodes.size(), -1);
    for (const SurfaceCell& cell : surface.cells)
        for (int k = 0; k < cell.count(); ++k) place[cell.corners[k]] = 0;
    std::vector<Pose> kept;
    for (std::size_t n = 0; n < surface.nodes.size(); ++n) {
        if (place[n] < 0) continue;
        place[n] = static_cast<int>(kept.size());
        kept.push_back(surface.nodes[n]);
    }
    surface.nodes = std::move(kept);
    for (SurfaceCell& cell : surface.cells)
        for (int k = 0; k < cell.count(); ++k) cell.corners[k] = place[cell.corners[k]];
}

}  // namespace

Surface plate_surface(const std::vector<PlateLine>& line, const std::vector<Opening>& openings, int along,
                      int across) {
    const RuledPlate plate(line);
    check(openings, plate.bottom(), plate.top());
    const Grid grid = make_grid(plate, line, openings, along, across);
    Surface surface;
    for (const double z : grid.rows)
        for (const double share : grid.columns) surface.nodes.push_back(plate.node(z, share));
    for (std::size_t i = 0; i + 1 < grid.rows.size(); ++i) {
        const double z0 = grid.rows[i], z1 = grid.rows[i + 1];
        const Vec3 direction = (plate.at(z1).middle - plate.at(z0).middle).normalized();
        for (std::size_t j = 0; j + 1 < grid.columns.size(); ++j) {
            const auto kept = corners(grid, i, j, openings);
            if (!kept) continue;
            SurfaceCell cell;
            cell.corners = *kept;
            for (int k = 0; k < cell.count(); ++k)
                cell.normals[k] = surface.nodes[cell.corners[k]].rotation * Vec3(Vec3::UnitZ());
            cell.thickness = plate.at(0.5 * (z0 + z1)).thickness;
            cell.direction = direction;
            surface.cells.push_back(cell);
        }
    }
    drop_unused(surface);
    // No opening reaches the ends: their rows are whole.
    const int count = static_cast<int>(surface.nodes.size()), width = static_cast<int>(grid.columns.size());
    for (int j = 0; j < width; ++j) {
        surface.sets["bottom"].push_back(j);
        surface.sets["top"].push_back(count - width + j);
    }
    return surface;
}

std::vector<int> nodes_within(const Surface& surface, const Vec3& centre, double radius) {
    demand(!surface.nodes.empty(), "no node of an empty surface is near a point");
    std::vector<int> found;
    int nearest = 0;
    double least = INFINITY;
    for (std::size_t n = 0; n < surface.nodes.size(); ++n) {
        const double distance = (surface.nodes[n].position - centre).norm();
        if (distance <= radius) found.push_back(static_cast<int>(n));
        if (distance < least) {
            least = distance;
            nearest = static_cast<int>(n);
        }
    }
    return found.empty() ? std::vector<int>{nearest} : found;
}

}  // namespace limbwright::meshes
