#include "postproc/output/svg.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace limbwright::postproc::svg {
namespace {

constexpr std::string_view ink = "#222222";

}  // namespace

std::string escaped(std::string_view text) {
    std::string safe;
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        if (c == '&')
            safe += "&amp;";
        else if (c == '<')
            safe += "&lt;";
        else if (c == '>')
            safe += "&gt;";
        else if (c == '"')
            safe += "&quot;";
        else if (c == '\n' || c == '\t')
            safe += ' ';
        else if (byte >= 0x20 && byte != 0x7F)
            safe += c;
    }
    return safe;
}

std::string number(double value, int digits) {
    std::string text = fmt::format("{:.{}f}", value, digits);
    if (text.find('.') != std::string::npos) {
        text.erase(text.find_last_not_of('0') + 1);
        if (text.back() == '.') text.pop_back();
    }
    return text == "-0" ? "0" : text;
}

std::string point_list(const std::vector<Vec2>& points, int digits) {
    std::string list;
    for (const Vec2& p : points) {
        if (!list.empty()) list += ' ';
        list += number(p.x(), digits) + ',' + number(p.y(), digits);
    }
    return list;
}

std::string text(const Vec2& at, std::string_view content, const TextStyle& style) {
    const char* anchor = style.anchor == Anchor::start ? "start"
                         : style.anchor == Anchor::end ? "end"
                                                       : "middle";
    const std::string x = number(at.x());
    const std::string y = number(at.y());
    return fmt::format(
        "<text x=\"{}\" y=\"{}\" text-anchor=\"{}\" font-size=\"{}\"{}{} fill=\"{}\">{}</text>\n", x, y,
        anchor, number(style.size), style.bold ? " font-weight=\"bold\"" : "",
        style.upward ? fmt::format(" transform=\"rotate(-90 {} {})\"", x, y) : "", ink, escaped(content));
}

std::string line(const Vec2& from, const Vec2& to, std::string_view colour, double width,
                 std::string_view dashes) {
    return fmt::format(
        "<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\" stroke=\"{}\" stroke-width=\"{}\"{}/>\n",
        number(from.x()), number(from.y()), number(to.x()), number(to.y()), colour, number(width),
        dashes.empty() ? "" : fmt::format(" stroke-dasharray=\"{}\"", dashes));
}

double text_width(std::string_view content, double size, bool bold) {
    const auto characters =
        std::count_if(content.begin(), content.end(), [](char c) { return (c & '\xC0') != '\x80'; });
    return static_cast<double>(characters) * size * (bold ? 0.6 : 0.55);
}

std::string document(double width, double height, std::string_view title, std::string_view body) {
    const std::string w = number(width);
    const std::string h = number(height);
    return fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{}\" height=\"{}\" viewBox=\"0 0 {} {}\" "
        "role=\"img\" font-family=\"Helvetica, Arial, 'DejaVu Sans', sans-serif\">\n<title>{}</title>\n"
        "<rect width=\"{}\" height=\"{}\" fill=\"#ffffff\"/>\n{}</svg>\n",
        w, h, w, h, escaped(title), w, h, body);
}

}  // namespace limbwright::postproc::svg
