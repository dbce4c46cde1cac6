#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "solver/numbers/algebra.hpp"

/// The few SVG elements that pictures here are made of. Lengths in pixels, origin top left, y downward.
namespace limbwright::postproc::svg {

using solver::Vec2;

constexpr double font_size = 13;

/// Text that may stand in XML: &, <, >, quotes escaped, control characters dropped.
[[nodiscard]] std::string escaped(std::string_view text);

/// A coordinate, at most `digits` behind the point and no trailing zeros.
[[nodiscard]] std::string number(double value, int digits = 2);

/// "x,y x,y …"
[[nodiscard]] std::string point_list(const std::vector<Vec2>& points, int digits = 2);

enum class Anchor { start, middle, end };

struct TextStyle {
    Anchor anchor = Anchor::start;
    double size = font_size;
    bool bold = false;
    bool upward = false;  ///< reads from bottom to top
};

[[nodiscard]] std::string text(const Vec2& at, std::string_view content, const TextStyle& style = {});

[[nodiscard]] std::string line(const Vec2& from, const Vec2& to, std::string_view colour, double width,
                               std::string_view dashes = "");

/// About as wide as a browser's sans-serif makes it; there is no measuring it from here.
[[nodiscard]] double text_width(std::string_view content, double size = font_size, bool bold = false);

/// A whole file: white ground, the title for screen readers, then the body.
[[nodiscard]] std::string document(double width, double height, std::string_view title,
                                   std::string_view body);

}  // namespace limbwright::postproc::svg
