#include "postproc/output/print_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <sstream>

namespace limbwright::postproc {
namespace {

/// Advance widths of DejaVu Sans, thousandths of an em, from blank (32) to tilde (126).
constexpr std::array<int, 95> regular{
    318, 401, 460, 838, 637, 951, 780, 275, 391, 391, 500, 838, 318, 361,  318, 337, 637, 637, 637,
    637, 637, 637, 637, 637, 637, 637, 337, 337, 838, 838, 838, 531, 1000, 685, 687, 699, 771, 632,
    576, 775, 752, 295, 295, 656, 558, 863, 749, 788, 604, 788, 695, 635,  611, 732, 685, 989, 686,
    611, 686, 391, 337, 391, 838, 500, 500, 613, 635, 550, 635, 616, 353,  635, 634, 278, 278, 580,
    278, 975, 634, 612, 635, 635, 412, 521, 393, 634, 592, 818, 592, 592,  525, 637, 337, 637, 838};
constexpr std::array<int, 95> bold_face{
    349, 457,  521, 838, 696, 1002, 873, 307, 458, 458, 523, 838, 380, 416,  380, 366, 696, 696,  696,
    696, 696,  696, 696, 696, 696,  696, 400, 400, 838, 838, 838, 581, 1000, 774, 763, 734, 831,  684,
    684, 821,  837, 373, 373, 775,  638, 996, 837, 851, 733, 851, 771, 721,  683, 813, 774, 1104, 771,
    725, 726,  458, 366, 458, 838,  500, 500, 675, 716, 593, 716, 679, 436,  716, 712, 343, 343,  666,
    343, 1042, 712, 688, 716, 716,  494, 596, 479, 712, 652, 924, 646, 652,  583, 712, 366, 712,  838};

}  // namespace

double printed_width(std::string_view text, double size, bool bold) {
    int thousandths = 0;
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        if (byte >= 32 && byte < 127)
            thousandths += (bold ? bold_face : regular)[byte - 32u];
        else if ((byte & 0xC0) != 0x80)
            thousandths += 1000;  // beyond ASCII nothing that pages use is wider than an em
    }
    return thousandths * 1e-3 * size;
}

std::vector<std::string> wrapped(std::string_view text, double width, double size, bool bold) {
    std::vector<std::string> lines;
    std::istringstream words{std::string(text)};
    for (std::string word; words >> word;) {
        const std::string longer = lines.empty() ? word : lines.back() + " " + word;
        if (!lines.empty() && printed_width(longer, size, bold) <= width)
            lines.back() = longer;
        else
            lines.push_back(word);
    }
    return lines;
}

void Page::text(const Vec2& at, std::string_view content, const svg::TextStyle& style) {
    if (content.empty()) return;
    const double wide = printed_width(content, style.size, style.bold);
    const double left = style.anchor == svg::Anchor::start    ? at.x()
                        : style.anchor == svg::Anchor::middle ? at.x() - wide / 2
                                                              : at.x() - wide;
    // Ascent and descent of usual letters.
    boxes_.push_back(
        {left, at.y() - 0.76 * style.size, left + wide, at.y() + 0.24 * style.size, std::string(content)});
    body_ += svg::text(at, content, style);
}

double Page::paragraph(double left, double top, double width, std::string_view content,
                       const svg::TextStyle& style) {
    for (const std::string& line : wrapped(content, width, style.size, style.bold)) {
        text({left, top + style.size}, line, style);
        top += line_height * style.size;
    }
    return top;
}

void Page::line(const Vec2& from, const Vec2& to, double line_width, std::string_view dashes,
                std::string_view colour) {
    body_ += svg::line(from, to, colour, line_width, dashes);
}

void Page::rectangle(const Vec2& corner, const Vec2& size, std::string_view fill, double line_width) {
    body_ += fmt::format(
        "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"{}\" stroke=\"#222222\" "
        "stroke-width=\"{}\"/>\n",
        svg::number(corner.x()), svg::number(corner.y()), svg::number(size.x()), svg::number(size.y()), fill,
        svg::number(line_width));
}

std::string Page::to_svg(std::string_view title) const {
    return svg::document(width_, height_, title, body_);
}

std::string Page::to_html(std::string_view title) const {
    return fmt::format(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>{}</title>\n"
        "<style>\n@page {{ size: {}mm {}mm; margin: 0; }}\nbody {{ margin: 0; }}\n"
        "svg {{ display: block; width: {}mm; height: {}mm; "
        "}}\n</style>\n</head>\n<body>\n{}</body>\n</html>\n",
        svg::escaped(title), svg::number(width_ / 96 * 25.4), svg::number(height_ / 96 * 25.4),
        svg::number(width_ / 96 * 25.4), svg::number(height_ / 96 * 25.4 - 0.5), to_svg(title));
}

}  // namespace limbwright::postproc
