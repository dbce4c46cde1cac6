#pragma once

#include <string>
#include <vector>

/// Line plots as SVG.
namespace limbwright::postproc {

struct Curve {
    std::string name;  ///< in the legend; empty: not in the legend
    std::vector<double> x;
    std::vector<double> y;  ///< as many as x; NaN interrupts the line
};

struct Axis {
    std::string title;
    std::string unit;
    double least_span =
        0;  ///< the axis shows at least so much, or rounding noise about a constant fills the panel
};

struct Panel {
    std::string title;
    Axis x;
    Axis y;
    std::vector<Curve> curves;
};

/// Panels in rows. Curves differ by colour (Okabe and Ito's palette, told apart by colour-blind eyes too) and
/// by dashes (told apart in grey).
struct Plot {
    std::string title;
    std::vector<Panel> panels;
    int panels_across = 1;
    double panel_width = 640;   ///< [px]
    double panel_height = 400;  ///< [px]
};

/// @throws std::invalid_argument if a curve has not as many y as x
[[nodiscard]] std::string to_svg(const Plot& plot);

/// What an axis shows, and where its ticks stand: at whole multiples of `step`, which is 1, 2 or 5 times a
/// power of ten.
struct Scale {
    double low = 0;
    double high = 1;
    double step = 0.2;
};

/// A scale that shows all finite values, with about `intervals` ticks.
///
/// @param rounded_out  low and high are moved outward to ticks
[[nodiscard]] Scale scale_for(const std::vector<double>& values, double least_span, int intervals,
                              bool rounded_out);

}  // namespace limbwright::postproc
