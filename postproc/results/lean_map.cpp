#include "postproc/results/lean_map.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <stdexcept>

#include "models/bow/spacers.hpp"
#include "postproc/output/plot.hpp"
#include "postproc/output/svg.hpp"

namespace limbwright::postproc {
namespace {

using svg::Anchor;
using svg::Vec2;

constexpr double same_offset = 1e-6;  // mm: offsets are sums of spacers
constexpr std::size_t most_printed = 12;
constexpr double small = 12;  // px, as in plots

/// Where an offset stands in a rising list.
std::optional<std::size_t> place_of(double offset, const std::vector<double>& offsets) {
    for (std::size_t i = 0; i < offsets.size(); ++i)
        if (std::abs(offsets[i] - offset) < same_offset) return i;
    return {};
}

void insert(double offset, std::vector<double>& rising) {
    if (!place_of(offset, rising))
        rising.insert(std::upper_bound(rising.begin(), rising.end(), offset), offset);
}

CamOffsets offsets_of(const RankedLayout& layout) {
    return {models::cam_offset(layout.layout.spacers_top), models::cam_offset(layout.layout.spacers_bottom)};
}

LeanMap map_of(const RankingResults& results, LeanMap map,
               const std::function<double(const SolvedLayout&)>& value) {
    std::optional<std::size_t> top, bottom;
    for (std::size_t s = 0; s < results.settings.size(); ++s) {
        if (results.settings[s].key == "spacers_top") top = s;
        if (results.settings[s].key == "spacers_bottom") bottom = s;
    }
    if (results.best.empty() || !top || !bottom) return map;
    const RankedLayout& best = results.best.front();
    const auto differs_by_offsets_alone = [&](const SolvedLayout& row) {
        for (std::size_t s = 0; s < results.settings.size(); ++s) {
            const models::Setting& setting = results.settings[s];
            const double wanted = setting.get(best.layout);
            if (setting.work != models::Work::spacers &&
                std::abs(row.settings.at(s) - wanted) > 1e-9 * std::max(1.0, std::abs(wanted)))
                return false;
        }
        return true;
    };
    std::vector<const SolvedLayout*> shown;
    for (const SolvedLayout& row : results.rows) {
        if (!differs_by_offsets_alone(row)) continue;
        shown.push_back(&row);
        insert(row.settings[*top], map.top);
        insert(row.settings[*bottom], map.bottom);
    }
    map.values.assign(map.bottom.size(), std::vector<double>(map.top.size(), NAN));
    for (const SolvedLayout* row : shown)
        map.values[*place_of(row->settings[*bottom], map.bottom)][*place_of(row->settings[*top], map.top)] =
            value(*row);
    map.best = offsets_of(best);
    map.today = offsets_of(results.today);
    return map;
}

std::string shown(double value, int digits) {
    std::string text = fmt::format("{:.{}f}", value, digits);
    if (text.find_first_of("123456789") == std::string::npos && text.front() == '-') text.erase(0, 1);
    return text.front() == '-' ? "−" + text.substr(1) : text;
}

/// Light sand over light blue to blue: its brightness falls evenly, so that grey shows the same, and dark
/// text stays readable on all of it.
std::string shade(double share) {
    constexpr std::array<std::array<double, 3>, 3> stops{{{252, 246, 226}, {168, 204, 221}, {78, 150, 196}}};
    const double at = std::clamp(share, 0.0, 1.0) * 2;
    const std::size_t i = at < 1 ? 0 : 1;
    std::array<int, 3> rgb{};
    for (std::size_t c = 0; c < 3; ++c)
        rgb[c] = static_cast<int>(
            std::lround(stops[i][c] + (at - static_cast<double>(i)) * (stops[i + 1][c] - stops[i][c])));
    return fmt::format("#{:02x}{:02x}{:02x}", rgb[0], rgb[1], rgb[2]);
}

std::string rectangle(const Vec2& corner, const Vec2& size, const std::string& look) {
    return fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" {}/>\n", svg::number(corner.x()),
                       svg::number(corner.y()), svg::number(size.x()), svg::number(size.y()), look);
}

const std::string today_look = R"(fill="none" stroke="#000000" stroke-width="2" stroke-dasharray="4 3")";
const std::string best_look = R"(fill="none" stroke="#000000" stroke-width="3")";

/// The frame on the page, in pixels. Cells are as many as there are offsets and lie evenly.
struct Grid {
    double left, top, cell_width, cell_height;
    std::size_t rows;
    [[nodiscard]] Vec2 corner(std::size_t column, std::size_t row) const {
        return {left + static_cast<double>(column) * cell_width,
                top + static_cast<double>(rows - 1 - row) * cell_height};
    }
    [[nodiscard]] Vec2 cell() const { return {cell_width, cell_height}; }
};

std::string cells(const LeanMap& map, const Grid& grid, const Scale& scale) {
    const bool printed = map.top.size() <= most_printed && map.bottom.size() <= most_printed;
    std::string body;
    for (std::size_t row = 0; row < map.bottom.size(); ++row)
        for (std::size_t column = 0; column < map.top.size(); ++column) {
            const double value = map.values[row][column];
            const bool there = std::isfinite(value);
            const double share = (value - scale.low) / (scale.high - scale.low);
            const Vec2 corner = grid.corner(column, row);
            body += rectangle(
                corner, grid.cell(),
                fmt::format(R"(fill="{}" stroke="#ffffff" stroke-width="{}" shape-rendering="crispEdges")",
                            there ? shade(share) : "#ffffff", printed ? 1 : 0));
            if (printed)
                body +=
                    svg::text(corner + 0.5 * grid.cell() + Vec2(0, 4), there ? shown(value, map.digits) : "–",
                              {.anchor = Anchor::middle, .size = small});
        }
    return body;
}

std::string axes(const LeanMap& map, const Grid& grid) {
    constexpr double label_room = 44;
    const double right = grid.left + static_cast<double>(map.top.size()) * grid.cell_width;
    const double bottom = grid.top + static_cast<double>(grid.rows) * grid.cell_height;
    std::string body;
    const auto every = [](double room, double cell) {
        return static_cast<std::size_t>(std::max(1.0, std::ceil(room / cell)));
    };
    for (std::size_t i = 0; i < map.top.size(); i += every(label_room, grid.cell_width))
        body += svg::text({grid.corner(i, 0).x() + 0.5 * grid.cell_width, bottom + 16},
                          shown(map.top[i], offset_digits), {.anchor = Anchor::middle, .size = small});
    for (std::size_t i = 0; i < map.bottom.size(); i += every(18, grid.cell_height))
        body += svg::text({grid.left - 6, grid.corner(0, i).y() + 0.5 * grid.cell_height + 4},
                          shown(map.bottom[i], offset_digits), {.anchor = Anchor::end, .size = small});
    body += svg::text({0.5 * (grid.left + right), bottom + 38}, "offset of top cam, positive left [mm]",
                      {.anchor = Anchor::middle});
    body += svg::text({24, 0.5 * (grid.top + bottom)}, "offset of bottom cam, positive left [mm]",
                      {.anchor = Anchor::middle, .upward = true});
    return body;
}

std::string scale_bar(const LeanMap& map, const Scale& scale, double left, double top, double height) {
    constexpr int strips = 50;
    constexpr double width = 18;
    std::string body;
    for (int i = 0; i < strips; ++i)
        // Half a pixel of overlap, or the ground shines through between strips.
        body += rectangle({left, top + height * (strips - 1 - i) / strips}, {width, height / strips + 0.5},
                          fmt::format(R"(fill="{}")", shade((i + 0.5) / strips)));
    const int digits = std::max(0, -static_cast<int>(std::floor(std::log10(scale.step) + 1e-9)));
    const int ticks = static_cast<int>(std::lround((scale.high - scale.low) / scale.step));
    for (int i = 0; i <= ticks; ++i) {
        const double y = top + height * (ticks - i) / ticks;
        body += svg::line({left + width, y}, {left + width + 5, y}, "#222222", 1);
        body +=
            svg::text({left + width + 9, y + 4}, shown(scale.low + i * scale.step, digits), {.size = small});
    }
    if (!map.unit.empty())
        body += svg::text({left, top + height + 22}, fmt::format("[{}]", map.unit), {.size = small});
    return body;
}

/// Frames of small cells are larger than their cell, to be seen.
constexpr double least_mark = 10;

/// Frames the cell of `offsets` and explains the frame in the legend; moves `x` past the legend's entry.
std::string mark(const LeanMap& map, const Grid& grid, const std::optional<CamOffsets>& offsets,
                 const std::string& name, const std::string& look, double inset, double& x, double y) {
    if (!offsets) return "";
    const auto column = place_of(offsets->top, map.top), row = place_of(offsets->bottom, map.bottom);
    std::string body;
    std::string words = fmt::format("{}: top {}, bottom {} mm", name, shown(offsets->top, offset_digits),
                                    shown(offsets->bottom, offset_digits));
    if (column && row) {
        const Vec2 size = (grid.cell() - Vec2(2 * inset, 2 * inset)).cwiseMax(least_mark);
        body += rectangle(grid.corner(*column, *row) + 0.5 * (grid.cell() - size), size, look);
    } else {
        words += " (not in this map)";
    }
    body += rectangle({x, y}, {22, 14}, look) + svg::text({x + 30, y + 11}, words, {.size = small});
    x += 30 + svg::text_width(words, small) + 24;
    return body;
}

void check(const LeanMap& map) {
    bool fits = map.values.size() == map.bottom.size();
    for (const std::vector<double>& row : map.values) fits &= row.size() == map.top.size();
    if (!fits)
        throw std::invalid_argument(fmt::format("map \"{}\": not one value for each pair of {} × {} offsets",
                                                map.title, map.top.size(), map.bottom.size()));
}

}  // namespace

LeanMap lean_map(const RankingResults& results, std::size_t column) {
    const RankedColumn& shown = results.columns.at(column);
    const std::string words = to_words({.measure = shown.column.measure, .less = "", .at = shown.column.at});
    return map_of(results,
                  {.title = "By the cams' offsets: " + words,
                   .unit = shown.column.unit,
                   .digits = shown.digits,
                   .top = {},
                   .bottom = {},
                   .values = {},
                   .today = {},
                   .best = {}},
                  [&](const SolvedLayout& row) { return row.values.at(column); });
}

LeanMap score_map(const RankingResults& results) {
    return map_of(results,
                  {.title = "By the cams' offsets: score, less is better",
                   .unit = "",
                   .digits = 3,
                   .top = {},
                   .bottom = {},
                   .values = {},
                   .today = {},
                   .best = {}},
                  [](const SolvedLayout& row) { return row.score; });
}

std::string to_svg(const LeanMap& map) {
    check(map);
    constexpr double widest = 660, largest_cell = 64, tallest_cell = 40, left = 96, title_height = 40,
                     legend_height = 28, foot = 52;
    constexpr double least_width = 260, least_height = 200;  // the axes' titles need them
    if (map.values.empty())
        return svg::document(
            640, 80, map.title,
            svg::text({320, 28}, map.title, {.anchor = Anchor::middle, .size = 16, .bold = true}) +
                svg::text({320, 56}, "no layouts to show", {.anchor = Anchor::middle}));
    const auto columns = static_cast<double>(map.top.size()), rows = static_cast<double>(map.bottom.size());
    const Grid grid{left, title_height + legend_height,
                    std::max(std::min(largest_cell, widest / columns), least_width / columns),
                    std::max(std::min(tallest_cell, 480 / rows), least_height / rows), map.bottom.size()};
    std::vector<double> all;
    for (const std::vector<double>& row : map.values) all.insert(all.end(), row.begin(), row.end());
    const Scale scale = scale_for(all, 0, 5, true);
    const double height = rows * grid.cell_height, bar_left = left + columns * grid.cell_width + 24;

    std::string body =
        cells(map, grid, scale) + axes(map, grid) + scale_bar(map, scale, bar_left, grid.top, height);
    double x = left;
    body += mark(map, grid, map.best, "best", best_look, 1, x, title_height);
    body += mark(map, grid, map.today, "today's offsets", today_look, 5, x, title_height);
    const double width = std::max({bar_left + 90, x, svg::text_width(map.title, 16, true) + 40});
    body += svg::text({0.5 * width, 24}, map.title, {.anchor = Anchor::middle, .size = 16, .bold = true});
    return svg::document(width, grid.top + height + foot, map.title, body);
}

}  // namespace limbwright::postproc
