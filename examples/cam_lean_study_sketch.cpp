#include "examples/cam_lean_study_sketch.hpp"

#include <fmt/format.h>

#include <cmath>
#include <vector>

#include "postproc/output/svg.hpp"

namespace cam_lean_study {
namespace {

namespace svg = limbwright::postproc::svg;
using svg::Vec2;

constexpr const char* part = "#444444";
constexpr const char* load = "#d55e00";
constexpr const char* answer = "#0072b2";

std::string polyline(const std::vector<Vec2>& points, const char* colour, double width) {
    return fmt::format("<polyline points=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{}\"/>\n",
                       svg::point_list(points), colour, width);
}

std::string arrow(const Vec2& from, const Vec2& to, const char* colour) {
    const Vec2 along = (to - from).normalized(), aside(-along.y(), along.x());
    const Vec2 neck = to - 10 * along;
    return svg::line(from, neck, colour, 2.5) +
           fmt::format("<polygon points=\"{}\" fill=\"{}\"/>\n",
                       svg::point_list({to, neck + 4.5 * aside, neck - 4.5 * aside}), colour);
}

/// Part of a circle with an arrow's head at its end; angles from the right, clockwise as the eye sees it
/// [rad].
std::string turning(const Vec2& centre, double radius, double from, double to, const char* colour) {
    std::vector<Vec2> points;
    for (int i = 0; i <= 24; ++i) {
        const double angle = from + (to - from) * i / 24;
        points.push_back(centre + radius * Vec2(std::cos(angle), std::sin(angle)));
    }
    const Vec2 along = (points[24] - points[23]).normalized();
    return polyline(points, colour, 2.5) + arrow(points[24] - 2 * along, points[24] + 8 * along, colour);
}

/// A zigzag downward from a point, clamped at its lower end.
std::string spring(const Vec2& from, double length) {
    std::vector<Vec2> points{from, from + Vec2(0, 0.15 * length)};
    for (int i = 0; i < 8; ++i)
        points.push_back(from + Vec2(i % 2 ? 9 : -9, length * (0.15 + 0.7 * (i + 0.5) / 8)));
    points.push_back(from + Vec2(0, 0.85 * length));
    points.push_back(from + Vec2(0, length));
    const Vec2 ground = points.back();
    return polyline(points, answer, 2) + svg::line(ground - Vec2(20, 0), ground + Vec2(20, 0), part, 3);
}

/// Axle, cam and the two tips as springs, seen from behind the bow.
std::string from_behind() {
    const Vec2 hub(215, 130), left(85, 130), right(345, 130);
    std::string body = svg::text({215, 28}, "top cam from behind, at full draw",
                                 {.anchor = svg::Anchor::middle, .bold = true});
    for (const auto& [tip, side] : {std::pair{left, -1.}, std::pair{right, 1.}}) {
        body += spring(tip, 110);
        body += turning(tip, 24, side < 0 ? 4.0 : 0.9, side < 0 ? 2.55 : -0.9, answer);
        body += svg::text(tip + Vec2(side * 18, 68), "k_f",
                          {.anchor = side < 0 ? svg::Anchor::end : svg::Anchor::start});
        body += svg::text(tip + Vec2(side * 34, 5), "k_t",
                          {.anchor = side < 0 ? svg::Anchor::end : svg::Anchor::start});
    }
    body += svg::line(left, right, part, 6) + svg::line({215, 72}, {215, 188}, part, 14);
    body += arrow(hub, {215, 232}, load) + svg::text({226, 226}, "P");
    body += arrow(hub, {285, 130}, load) + svg::text({270, 120}, "−F");
    body += turning(hub, 46, -2.2, -0.85, load) + svg::text({258, 84}, "−M");
    body += svg::line({85, 262}, {215, 262}, part, 1) + svg::line({85, 256}, {85, 268}, part, 1) +
            svg::line({215, 256}, {215, 268}, part, 1) +
            svg::text({150, 280}, "a", {.anchor = svg::Anchor::middle});
    body += svg::text({85, 312}, "left tip", {.anchor = svg::Anchor::middle}) +
            svg::text({345, 312}, "right tip", {.anchor = svg::Anchor::middle});
    return body;
}

/// A bent limb from the archer's left: the side force looks out of the picture at its tip.
std::string bent_limb() {
    const Vec2 root(820, 110);
    const double length = 300, deflection = 90;
    std::string body =
        svg::text({660, 28}, "top limb from the left", {.anchor = svg::Anchor::middle, .bold = true});
    std::vector<Vec2> line;
    for (int i = 0; i <= 30; ++i) {
        const double s = i / 30.;
        line.push_back(root + Vec2(-length * s, deflection * 0.5 * s * s * (3 - s)));
    }
    const Vec2 tip = line.back(), there(tip.x(), root.y());
    body += svg::line(root, there, part, 1, "6 4") + svg::line(there, tip, part, 1);
    body += polyline(line, part, 6) + svg::line(root - Vec2(0, 34), root + Vec2(0, 34), part, 5);
    body += arrow(tip, tip + Vec2(0, 62), load) + svg::text(tip + Vec2(12, 58), "P/2");
    body += fmt::format(
        "<circle cx=\"{0}\" cy=\"{1}\" r=\"11\" fill=\"white\" stroke=\"{2}\" stroke-width=\"2.5\"/>\n"
        "<circle cx=\"{0}\" cy=\"{1}\" r=\"3\" fill=\"{2}\"/>\n",
        tip.x(), tip.y(), load);
    body += svg::text(tip + Vec2(-18, 5), "F/2", {.anchor = svg::Anchor::end}) +
            svg::text(there + Vec2(-12, 50), "w", {.anchor = svg::Anchor::end});
    body += turning(root - Vec2(46, 0), 30, 2.0, 4.2, answer);
    body += svg::text({660, 285}, "F passes the root at the distance w: it twists the limb there",
                      {.anchor = svg::Anchor::middle}) +
            svg::text({660, 305}, "by w F/2, at the tip not at all", {.anchor = svg::Anchor::middle});
    return body;
}

}  // namespace

std::string free_body_sketch() {
    return svg::document(900, 330, "Free body of a cam with its axle", from_behind() + bent_limb());
}

}  // namespace cam_lean_study
