#include "postproc/output/plot.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "postproc/output/svg.hpp"

namespace limbwright::postproc {
namespace {

using svg::Anchor;
using svg::Vec2;

// Okabe and Ito's palette without its yellow, which is lost on white.
constexpr std::array colours{"#0072b2", "#d55e00", "#009e73", "#000000", "#cc79a7", "#e69f00", "#56b4e9"};
// One more than colours, so that the pairs repeat only after 56 curves.
constexpr std::array dashes{"", "9 4", "2 3", "10 3 2 3", "16 4", "5 2", "10 3 2 3 2 3", "4 6"};

constexpr double margin = 12;
constexpr double legend_line = 18;
constexpr double tick_size = 12;
constexpr double sample_width = 34;  ///< of a line in the legend

const char* colour_of(std::size_t curve) {
    return colours[curve % colours.size()];
}
const char* dashes_of(std::size_t curve) {
    return dashes[curve % dashes.size()];
}

struct Rectangle {
    double left, top, right, bottom;
};

std::string axis_title(const Axis& axis) {
    return axis.unit.empty() ? axis.title : fmt::format("{} [{}]", axis.title, axis.unit);
}

std::vector<double> ticks(const Scale& scale) {
    constexpr double rounding = 1e-6;  // of a step: the ends may miss their tick by that
    std::vector<double> values;
    const double first = std::ceil(scale.low / scale.step - rounding);
    const double last = std::floor(scale.high / scale.step + rounding);
    for (double i = first; i <= last; ++i) values.push_back(i * scale.step);
    return values;
}

std::string tick_label(double value, const Scale& scale) {
    const double largest = std::max(std::abs(scale.low), std::abs(scale.high));
    std::string label;
    if (scale.step < 1e-4 || largest >= 1e6) {
        label = std::abs(value) < 1e-6 * scale.step ? "0" : fmt::format("{:.3g}", value);
    } else {
        const int digits = std::max(0, -static_cast<int>(std::floor(std::log10(scale.step) + 1e-9)));
        label = fmt::format("{:.{}f}", std::abs(value) < 1e-6 * scale.step ? 0.0 : value, digits);
    }
    return label.front() == '-' ? "−" + label.substr(1) : label;
}

/// Where a value lands between two pixels.
double placed(double value, const Scale& scale, double from, double to) {
    return from + (value - scale.low) / (scale.high - scale.low) * (to - from);
}

std::string grid(const Panel& panel, const Scale& x, const Scale& y, const Rectangle& area) {
    constexpr const char* faint = "#e2e2e2";
    constexpr const char* strong = "#888888";
    std::string body;
    for (const double tick : ticks(x)) {
        const double at = placed(tick, x, area.left, area.right);
        body += svg::line({at, area.top}, {at, area.bottom}, faint, 1);
        body += svg::text({at, area.bottom + 16}, tick_label(tick, x),
                          {.anchor = Anchor::middle, .size = tick_size});
    }
    for (const double tick : ticks(y)) {
        const double at = placed(tick, y, area.bottom, area.top);
        const bool is_zero = std::abs(tick) < 1e-6 * y.step;
        body += svg::line({area.left, at}, {area.right, at}, is_zero ? strong : faint, 1);
        body += svg::text({area.left - 6, at + 4}, tick_label(tick, y),
                          {.anchor = Anchor::end, .size = tick_size});
    }
    body += svg::line({area.left, area.top}, {area.left, area.bottom}, strong, 1);
    body += svg::line({area.left, area.bottom}, {area.right, area.bottom}, strong, 1);
    body += svg::text({0.5 * (area.left + area.right), area.bottom + 36}, axis_title(panel.x),
                      {.anchor = Anchor::middle});
    return body;
}

/// The unbroken stretches of a curve, in pixels.
std::vector<std::vector<Vec2>> stretches(const Curve& curve, const Scale& x, const Scale& y,
                                         const Rectangle& area) {
    std::vector<std::vector<Vec2>> all(1);
    for (std::size_t i = 0; i < curve.x.size(); ++i) {
        if (std::isfinite(curve.x[i]) && std::isfinite(curve.y[i]))
            all.back().emplace_back(placed(curve.x[i], x, area.left, area.right),
                                    placed(curve.y[i], y, area.bottom, area.top));
        else if (!all.back().empty())
            all.emplace_back();
    }
    if (all.back().empty()) all.pop_back();
    return all;
}

std::string drawn(const std::vector<Vec2>& stretch, std::size_t curve) {
    if (stretch.size() == 1)  // a line of one point would not be seen
        return fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"3\" fill=\"{}\"/>\n", svg::number(stretch[0].x()),
                           svg::number(stretch[0].y()), colour_of(curve));
    const std::string dash =
        *dashes_of(curve) ? fmt::format(" stroke-dasharray=\"{}\"", dashes_of(curve)) : std::string();
    return fmt::format(
        "<polyline points=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"2\" "
        "stroke-linejoin=\"round\"{}/>\n",
        svg::point_list(stretch), colour_of(curve), dash);
}

/// Draws the legend in as many rows as it needs, from `top` down; returns the height used.
double add_legend(std::string& body, const Panel& panel, double left, double right, double top) {
    double x = left;
    double y = top;
    bool any = false;
    for (std::size_t c = 0; c < panel.curves.size(); ++c) {
        const std::string& name = panel.curves[c].name;
        if (name.empty()) continue;
        const double width = sample_width + 6 + svg::text_width(name, tick_size) + 16;
        if (any && x + width > right) {
            x = left;
            y += legend_line;
        }
        any = true;
        body += svg::line({x, y + 9}, {x + sample_width, y + 9}, colour_of(c), 2, dashes_of(c));
        body += svg::text({x + sample_width + 6, y + 13}, name, {.size = tick_size});
        x += width;
    }
    return any ? y + legend_line + 6 - top : 0;
}

std::vector<double> all_values(const Panel& panel, std::vector<double> Curve::*values) {
    std::vector<double> all;
    for (const Curve& curve : panel.curves) {
        if (curve.x.size() != curve.y.size())
            throw std::invalid_argument(
                fmt::format("curve \"{}\" has {} x and {} y", curve.name, curve.x.size(), curve.y.size()));
        all.insert(all.end(), (curve.*values).begin(), (curve.*values).end());
    }
    return all;
}

std::string panel_body(const Panel& panel, const Rectangle& whole) {
    const Scale x = scale_for(all_values(panel, &Curve::x), panel.x.least_span, 6, false);
    const Scale y = scale_for(all_values(panel, &Curve::y), panel.y.least_span, 5, true);
    double label_width = 0;
    for (const double tick : ticks(y))
        label_width = std::max(label_width, svg::text_width(tick_label(tick, y), tick_size));

    std::string body;
    Rectangle area{whole.left + margin + 22 + label_width + 8, whole.top + margin, whole.right - 2 * margin,
                   whole.bottom - 48};
    if (!panel.title.empty()) {
        body += svg::text({area.left, area.top + 12}, panel.title, {.size = 14, .bold = true});
        area.top += legend_line + 6;
    }
    area.top += add_legend(body, panel, area.left, area.right, area.top) + 4;
    body += grid(panel, x, y, area);
    body += svg::text({whole.left + margin + 12, 0.5 * (area.top + area.bottom)}, axis_title(panel.y),
                      {.anchor = Anchor::middle, .upward = true});
    for (std::size_t c = 0; c < panel.curves.size(); ++c)
        for (const std::vector<Vec2>& stretch : stretches(panel.curves[c], x, y, area))
            body += drawn(stretch, c);
    return body;
}

}  // namespace

Scale scale_for(const std::vector<double>& values, double least_span, int intervals, bool rounded_out) {
    double low = INFINITY;
    double high = -INFINITY;
    for (const double value : values) {
        if (!std::isfinite(value)) continue;
        low = std::min(low, value);
        high = std::max(high, value);
    }
    if (low > high) return {};
    // A constant still needs a range about it.
    const double constant = std::max(1e-9 * std::max(std::abs(low), std::abs(high)), 1e-300);
    const double span =
        high - low > constant ? least_span : std::max({least_span, 0.1 * std::abs(low), 1e-9});
    if (high - low < span) {
        const double middle = 0.5 * (low + high);
        low = middle - 0.5 * span;
        high = middle + 0.5 * span;
    }
    const double rough = (high - low) / intervals;
    const double power = std::pow(10, std::floor(std::log10(rough)));
    const double factor = rough / power < 1.5 ? 1 : rough / power < 3.5 ? 2 : rough / power < 7.5 ? 5 : 10;
    Scale scale{low, high, factor * power};
    if (rounded_out) {
        scale.low = scale.step * std::floor(low / scale.step + 1e-6);
        scale.high = scale.step * std::ceil(high / scale.step - 1e-6);
    }
    return scale;
}

std::string to_svg(const Plot& plot) {
    const int across = std::max(1, plot.panels_across);
    const int count = static_cast<int>(plot.panels.size());
    const int rows = (count + across - 1) / across;
    const double head = plot.title.empty() ? 0 : 34;
    const double width = across * plot.panel_width;
    std::string body;
    if (!plot.title.empty())
        body +=
            svg::text({0.5 * width, 24}, plot.title, {.anchor = Anchor::middle, .size = 16, .bold = true});
    for (int i = 0; i < count; ++i) {
        const double left = (i % across) * plot.panel_width;
        const double top = head + (i / across) * plot.panel_height;
        body += panel_body(plot.panels[i], {left, top, left + plot.panel_width, top + plot.panel_height});
    }
    return svg::document(width, head + rows * plot.panel_height, plot.title, body);
}

}  // namespace limbwright::postproc
