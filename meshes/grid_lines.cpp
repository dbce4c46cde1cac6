#include "meshes/grid_lines.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace limbwright::meshes {
namespace {

/// Distance from a chamfer's edge to the nearest line on its inner side, in sizes of the chamfer.
double reach(const Chamfer& chamfer, const std::vector<double>& lines, double tiny) {
    double least = INFINITY;
    for (const double line : lines) {
        const double sizes = (line - chamfer.edge) / chamfer.size;
        if (std::abs(line - chamfer.edge) > tiny && sizes > 0) least = std::min(least, sizes);
    }
    return least;
}

bool any_between(const std::vector<double>& values, double a, double b) {
    return std::any_of(values.begin(), values.end(), [&](double x) { return a < x && x < b; });
}

}  // namespace

std::vector<double> grid_lines(std::vector<double> edges, std::vector<Chamfer> chamfers,
                               const std::vector<double>& wishes, int pieces) {
    if (pieces < 1) throw std::invalid_argument(fmt::format("a grid of {} cells", pieces));
    const double step = (edges[1] - edges[0]) / pieces, tiny = 1e-9 * (edges[1] - edges[0]);
    std::vector<double> lines = std::move(edges);
    std::sort(lines.begin(), lines.end());
    const auto equal = [&](double a, double b) { return b - a < tiny; };
    lines.erase(std::unique(lines.begin(), lines.end(), equal), lines.end());

    // By rising size, so that no chamfer ends within the gap of another.
    std::stable_sort(chamfers.begin(), chamfers.end(),
                     [](const Chamfer& a, const Chamfer& b) { return std::abs(a.size) < std::abs(b.size); });
    std::vector<double> undivided;  // middles of the chamfers' gaps
    for (const Chamfer& chamfer : chamfers) {
        double sizes = reach(chamfer, lines, tiny);
        if (sizes < 0.5)
            throw std::invalid_argument(
                fmt::format("a line of another opening crosses the corner of opening {}: "
                            "let their edges fall together, or leave the chamfer out",
                            chamfer.opening));
        if (sizes > 1.5) {
            sizes = 1;
            lines.push_back(chamfer.edge + chamfer.size);
        }
        undivided.push_back(chamfer.edge + 0.5 * sizes * chamfer.size);
    }
    std::sort(lines.begin(), lines.end());

    for (const double wish : wishes) {
        const auto above = std::upper_bound(lines.begin(), lines.end(), wish);
        if (above == lines.begin() || above == lines.end()) continue;
        const double a = *std::prev(above), b = *above;
        if (std::min(wish - a, b - wish) >= 0.5 * step && !any_between(undivided, a, b))
            lines.insert(above, wish);
    }

    std::vector<double> filled{lines.front()};
    for (std::size_t i = 0; i + 1 < lines.size(); ++i) {
        const double a = lines[i], b = lines[i + 1];
        const int n =
            any_between(undivided, a, b) ? 1 : std::max(1, static_cast<int>(std::lround((b - a) / step)));
        for (int k = 1; k < n; ++k) filled.push_back(a + (b - a) * k / n);
        filled.push_back(b);
    }
    return filled;
}

}  // namespace limbwright::meshes
