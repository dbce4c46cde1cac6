#include "meshes/strip_shells.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace limbwright::meshes {
namespace {

void check(const Strip& strip, const std::vector<double>& shares, int across) {
    demand(shares.size() >= 2, "a strip's surface needs two rows");
    demand(shares.front() >= 0 && shares.back() <= 1, "a strip's rows stand within 0 … 1 of its length");
    for (std::size_t i = 0; i + 1 < shares.size(); ++i)
        demand(shares[i] < shares[i + 1], "a strip's rows must rise from root to tip");
    demand(across >= 2 && across % 2 == 0,
           fmt::format("{} cells across a strip: must be even, for nodes on the centre line", across));
    demand(strip.length > 0 && !strip.stations.empty(), "a strip needs a length and stations");
    for (const StripStation& s : strip.stations)
        demand(s.width > 0 && s.thickness > 0,
               fmt::format("the strip has no width or no thickness at {} of its length", s.at));
}

/// Adds nodes of one section at the given places along its axis 2; returns the first's number.
int add_row(Surface& surface, const Pose& section, const std::vector<double>& places) {
    const int start = static_cast<int>(surface.nodes.size());
    for (const double y : places) surface.nodes.push_back(section * Pose{{}, Vec3(0, y, 0)});
    return start;
}

/// What the cells between two neighbouring rows have in common.
struct Strake {
    Vec3 direction;
    double thickness;
};

Strake strake(const Strip& strip, const std::vector<Pose>& sections, const std::vector<double>& shares,
              std::size_t row) {
    return {(sections[row + 1].position - sections[row].position).normalized(),
            strip.at(0.5 * (shares[row] + shares[row + 1])).thickness};
}

/// Cells between the nodes from `before` on in one row and those from `after` on in the next.
void join(Surface& surface, int before, int after, int cells, const Strake& strake) {
    for (int j = 0; j < cells; ++j) {
        SurfaceCell cell;
        cell.corners = {before + j, after + j, after + j + 1, before + j + 1};
        for (std::size_t k = 0; k < 4; ++k)
            cell.normals[k] = surface.nodes[cell.corners[k]].rotation * Vec3(Vec3::UnitZ());
        cell.thickness = strake.thickness;
        cell.direction = strake.direction;
        surface.cells.push_back(cell);
    }
}

std::vector<int> count_up(int from, int count) {
    std::vector<int> numbers;
    for (int i = 0; i < count; ++i) numbers.push_back(from + i);
    return numbers;
}

std::size_t fork_row(const std::vector<double>& shares, double fork_share) {
    for (std::size_t i = 1; i + 1 < shares.size(); ++i)
        if (std::abs(shares[i] - fork_share) < 1e-9) return i;
    throw std::invalid_argument(
        fmt::format("no row between root and tip stands at the fork, {}", fork_share));
}

/// Even number of cells across a prong that lets the widths of cells in prongs and gap differ least.
int cells_across_prong(int across, double prong, double gap) {
    int best = 2;
    double least = INFINITY;
    for (int n = 2; across - 2 * n >= 2; n += 2) {
        const double difference = std::abs(std::log((prong / n) / (gap / (across - 2 * n))));
        if (difference < least) {
            least = difference;
            best = n;
        }
    }
    return best;
}

std::vector<double> scaled(std::vector<double> places, double factor) {
    for (double& y : places) y *= factor;
    return places;
}

}  // namespace

Surface strip_surface(const Strip& strip, const Pose& first, double lateral,
                      const std::vector<double>& shares, int across) {
    check(strip, shares, across);
    const std::vector<Pose> sections = section_poses(strip, first, shares);
    Surface surface;
    std::vector<int> starts;
    for (std::size_t i = 0; i < shares.size(); ++i) {
        const double half = 0.5 * strip.at(shares[i]).width;
        starts.push_back(add_row(surface, sections[i], even_shares(lateral - half, lateral + half, across)));
        surface.sets["line"].push_back(starts.back() + across / 2);
    }
    for (std::size_t i = 0; i + 1 < shares.size(); ++i)
        join(surface, starts[i], starts[i + 1], across, strake(strip, sections, shares, i));
    surface.sets["root"] = count_up(starts.front(), across + 1);
    surface.sets["tip"] = count_up(starts.back(), across + 1);
    return surface;
}

Surface forked_strip_surface(const Strip& strip, const Pose& first, const std::vector<double>& shares,
                             int across, double fork_share, double prong_width, double prong_lateral) {
    check(strip, shares, across);
    const std::size_t fork = fork_row(shares, fork_share);
    const double inner = prong_lateral - 0.5 * prong_width, outer = prong_lateral + 0.5 * prong_width;
    const double width = strip.at(shares[fork]).width;
    demand(across >= 6, "a forked strip needs 6 cells across: two for each prong and for the gap");
    demand(prong_width > 0, "the prongs have no width");
    demand(inner > 0,
           fmt::format("prongs {} wide, {} from the centre line, overlap", prong_width, prong_lateral));
    demand(2 * outer <= 1.1 * width,
           fmt::format("the prongs reach over {}, but the strip is {} wide at the fork", 2 * outer, width));

    const int prong_cells = cells_across_prong(across, prong_width, 2 * inner);
    const std::vector<double> right = even_shares(-outer, -inner, prong_cells);
    const std::vector<double> gap = even_shares(-inner, inner, across - 2 * prong_cells);
    const std::vector<double> left = even_shares(inner, outer, prong_cells);
    std::vector<double> whole = right;
    whole.insert(whole.end(), gap.begin() + 1, gap.end() - 1);
    whole.insert(whole.end(), left.begin(), left.end());

    const std::vector<Pose> sections = section_poses(strip, first, shares);
    const double blend_length = (shares[fork] - shares.front()) / 3;
    Surface surface;
    std::vector<int> right_starts, left_starts;
    for (std::size_t i = 0; i < shares.size(); ++i) {
        if (i <= fork) {
            const double blend = std::max(0., 1 - (shares[fork] - shares[i]) / blend_length);
            const double half = (1 - blend) * 0.5 * strip.at(shares[i]).width + blend * outer;
            right_starts.push_back(add_row(surface, sections[i], scaled(whole, half / outer)));
            left_starts.push_back(right_starts.back() + across - prong_cells);
            surface.sets["line"].push_back(right_starts.back() + across / 2);
        } else {
            right_starts.push_back(add_row(surface, sections[i], right));
            left_starts.push_back(add_row(surface, sections[i], left));
        }
        if (i >= fork) {
            surface.sets["right line"].push_back(right_starts.back() + prong_cells / 2);
            surface.sets["left line"].push_back(left_starts.back() + prong_cells / 2);
        }
    }
    for (std::size_t i = 0; i + 1 < shares.size(); ++i) {
        const Strake cells = strake(strip, sections, shares, i);
        if (i < fork) {
            join(surface, right_starts[i], right_starts[i + 1], across, cells);
        } else {
            join(surface, right_starts[i], right_starts[i + 1], prong_cells, cells);
            join(surface, left_starts[i], left_starts[i + 1], prong_cells, cells);
        }
    }
    surface.sets["root"] = count_up(0, across + 1);
    surface.sets["right tip"] = count_up(right_starts.back(), prong_cells + 1);
    surface.sets["left tip"] = count_up(left_starts.back(), prong_cells + 1);
    return surface;
}

}  // namespace limbwright::meshes
