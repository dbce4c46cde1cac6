#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "postproc/output/svg.hpp"

/// A page to print, put together from texts whose places are known before any browser sees them.
namespace limbwright::postproc {

using solver::Vec2;

/// As wide as DejaVu Sans, the widest of the fonts that pages ask for, sets the text [px].
[[nodiscard]] double printed_width(std::string_view text, double size, bool bold = false);

/// Words set into lines no wider than that [px]; a single longer word is a line of its own.
[[nodiscard]] std::vector<std::string> wrapped(std::string_view text, double width, double size,
                                               bool bold = false);

/// A sheet of paper, in pixels of 1/96 in, origin top left, y downward.
class Page {
public:
    /// Where a text stands.
    struct Box {
        double left = 0, top = 0, right = 0, bottom = 0;
        std::string text;
    };

    Page(double width, double height) : width_(width), height_(height) {}

    /// A4, upright.
    static Page a4() { return {210 / 25.4 * 96, 297 / 25.4 * 96}; }

    [[nodiscard]] double width() const { return width_; }
    [[nodiscard]] double height() const { return height_; }

    /// @param at  the baseline's start, middle or end
    void text(const Vec2& at, std::string_view content, const svg::TextStyle& style = {});

    /// Lines of a text one below the other, the first baseline one size below `top`.
    ///
    /// @return  where the next may start
    double paragraph(double left, double top, double width, std::string_view content,
                     const svg::TextStyle& style = {});

    void line(const Vec2& from, const Vec2& to, double line_width = 1, std::string_view dashes = "",
              std::string_view colour = "#222222");
    void rectangle(const Vec2& corner, const Vec2& size, std::string_view fill, double line_width = 1);

    /// Of all texts so far.
    [[nodiscard]] const std::vector<Box>& boxes() const { return boxes_; }

    /// A whole SVG file.
    [[nodiscard]] std::string to_svg(std::string_view title) const;
    /// A whole HTML file that prints the page on one sheet of its size.
    [[nodiscard]] std::string to_html(std::string_view title) const;

private:
    double width_, height_;
    std::string body_;
    std::vector<Box> boxes_;
};

/// Height of a line of text over its size.
inline constexpr double line_height = 1.3;

}  // namespace limbwright::postproc
