#include "postproc/scene/bow_picture.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numeric>
#include <stdexcept>
#include <string_view>

#include "postproc/output/svg.hpp"

namespace limbwright::postproc {
namespace {

using svg::Anchor;
using svg::Vec2;

constexpr double margin = 24;
constexpr double title_size = 16;
constexpr double caption_height = 26;
constexpr double scale_bar_height = 34;
constexpr int digits = 1;  // of coordinates: a picture holds thousands of faces

struct Tint {
    std::string_view word;
    Vec3 colour;  ///< red, green, blue in full light, 0…255
};
const std::array tints{Tint{"riser", {214, 218, 226}}, Tint{"limb", {240, 214, 166}},
                       Tint{"cam", {176, 206, 232}},   Tint{"idler", {176, 206, 232}},
                       Tint{"axle", {190, 190, 190}},  Tint{"string", {90, 90, 90}},
                       Tint{"cable", {170, 110, 70}},  Tint{"yoke", {170, 110, 70}},
                       Tint{"guide", {200, 225, 195}}, Tint{"arrow", {205, 150, 140}}};

Vec3 tint_of(const std::string& name) {
    for (const Tint& tint : tints)
        if (name.starts_with(tint.word)) return tint.colour;
    return {220, 220, 220};
}

std::string hex(const Vec3& colour) {
    const auto channel = [](double c) { return static_cast<int>(std::clamp(std::lround(c), 0L, 255L)); };
    return fmt::format("#{:02x}{:02x}{:02x}", channel(colour.x()), channel(colour.y()), channel(colour.z()));
}

/// Right, up and away from the eye, in the world.
struct Camera {
    Vec3 right, up, away;
    explicit Camera(const View& view) {
        const Vec3 across = view.looking.cross(view.up);
        if (across.norm() < 1e-6 * view.looking.norm() * view.up.norm() || across.norm() == 0)
            throw std::invalid_argument("a view cannot look along its own up");
        right = across.normalized();
        away = view.looking.normalized();
        up = right.cross(away);
    }
    [[nodiscard]] Vec2 seen(const Vec3& p) const {
        return {p.dot(right), p.dot(up)};
    }  // [mm], up is positive
};

/// Within which a scene is seen.
struct Window {
    Vec2 low{INFINITY, INFINITY};
    Vec2 high{-INFINITY, -INFINITY};
    [[nodiscard]] Vec2 size() const { return (high - low).cwiseMax(Vec2(1e-3, 1e-3)); }
    void include(const Vec2& p) {
        low = low.cwiseMin(p);
        high = high.cwiseMax(p);
    }
};

Window frame_of(const Scene& scene, const Camera& camera) {
    Window frame;
    for (const Piece& piece : scene.pieces)
        for (const Vec3& point : piece.points) frame.include(camera.seen(point));
    if (frame.low.x() > frame.high.x()) frame.low = frame.high = Vec2::Zero();
    return frame;
}

/// Millimetres seen by the camera to pixels on the page.
struct Placement {
    Vec2 origin;  ///< of the seen plane, on the page
    double scale;
    [[nodiscard]] Vec2 operator()(const Vec2& p) const {
        return {origin.x() + scale * p.x(), origin.y() - scale * p.y()};
    }
};

struct Face {
    std::vector<int> points;
    Vec3 normal = Vec3::Zero();
    double depth = 0;
};

std::vector<Face> faces_of(const Piece& piece, const Camera& camera) {
    std::vector<Face> faces;
    const auto add = [&](const auto& cell) {
        Face face{.points = {cell.begin(), cell.end()}};
        const Vec3& first = piece.points[cell[0]];
        for (std::size_t i = 1; i + 1 < cell.size(); ++i)
            face.normal += (piece.points[cell[i]] - first).cross(piece.points[cell[i + 1]] - first);
        if (face.normal.norm() < 1e-12) return;
        face.normal.normalize();
        for (const int point : cell) face.depth += piece.points[point].dot(camera.away) / double(cell.size());
        faces.push_back(std::move(face));
    };
    for (const auto& quad : piece.quads) add(quad);
    for (const auto& triangle : piece.triangles) add(triangle);
    return faces;
}

using Edge = std::pair<int, int>;
using Edges = std::map<Edge, std::vector<int>>;  ///< faces on both sides

Edge edge_of(const Face& face, std::size_t i) {
    return std::minmax(face.points[i], face.points[(i + 1) % face.points.size()]);
}

Edges edges_of(const std::vector<Face>& faces) {
    Edges edges;
    for (std::size_t f = 0; f < faces.size(); ++f)
        for (std::size_t i = 0; i < faces[f].points.size(); ++i)
            edges[edge_of(faces[f], i)].push_back(static_cast<int>(f));
    return edges;
}

/// An edge is inked where the surface ends, folds sharply, or turns away from the eye.
bool is_inked(const std::vector<int>& sides, const std::vector<Face>& faces, const Camera& camera) {
    constexpr double sharp = 0.77;  // cosine of 40 degrees
    if (sides.size() != 2) return true;
    const Vec3& a = faces[sides[0]].normal;
    const Vec3& b = faces[sides[1]].normal;
    return a.dot(b) < sharp || (a.dot(camera.away) < 0) != (b.dot(camera.away) < 0);
}

/// A face as SVG, with its distance from the eye.
struct Paint {
    double depth;
    std::string svg;
};

void add_paint(std::vector<Paint>& paints, const Piece& piece, const Camera& camera, const Placement& place) {
    const std::vector<Face> faces = faces_of(piece, camera);
    const Edges edges = edges_of(faces);
    const bool is_closed =
        std::all_of(edges.begin(), edges.end(), [](const auto& e) { return e.second.size() == 2; });
    const Vec3 light = (-camera.away + 0.6 * camera.up - 0.4 * camera.right).normalized();
    for (const Face& face : faces) {
        const double turned_away = face.normal.dot(camera.away);
        if (std::abs(turned_away) < 1e-9) continue;  // seen edge-on
        if (is_closed && turned_away > 0) continue;  // seen from inside
        std::vector<Vec2> outline;
        for (const int point : face.points) outline.push_back(place(camera.seen(piece.points[point])));
        const double shade = 0.7 + 0.3 * std::abs(face.normal.dot(light));
        const std::string fill = hex(shade * tint_of(piece.name));
        // The thin line of its own colour closes the hairline gaps that anti-aliasing leaves between faces.
        std::string svg =
            fmt::format("<polygon points=\"{}\" fill=\"{}\" stroke=\"{}\" stroke-width=\"0.4\"/>\n",
                        svg::point_list(outline, digits), fill, fill);
        std::string ink;
        for (std::size_t i = 0; i < outline.size(); ++i)
            if (is_inked(edges.at(edge_of(face, i)), faces, camera))
                ink += fmt::format("M{}L{}", svg::point_list({outline[i]}, digits),
                                   svg::point_list({outline[(i + 1) % outline.size()]}, digits));
        if (!ink.empty()) svg += fmt::format("<path d=\"{}\"/>\n", ink);
        paints.push_back({face.depth, std::move(svg)});
    }
}

std::string drawn(const Scene& scene, const Camera& camera, const Placement& place) {
    std::vector<Paint> paints;
    for (const Piece& piece : scene.pieces) add_paint(paints, piece, camera, place);
    std::stable_sort(paints.begin(), paints.end(),
                     [](const Paint& a, const Paint& b) { return a.depth > b.depth; });
    std::string body = "<g stroke=\"#333333\" stroke-width=\"0.7\" stroke-linecap=\"round\">\n";
    for (const Paint& paint : paints) body += paint.svg;
    body += "</g>\n";
    for (const Piece& piece : scene.pieces)
        for (const std::vector<int>& line : piece.lines) {
            std::vector<Vec2> points;
            for (const int point : line) points.push_back(place(camera.seen(piece.points[point])));
            body += fmt::format(
                "<polyline points=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"1.3\" "
                "stroke-linejoin=\"round\"/>\n",
                svg::point_list(points, digits), hex(0.75 * tint_of(piece.name)));
        }
    return body;
}

/// A bar of a round length and its caption.
std::string scale_bar(const Vec2& left_end, double scale, double length) {
    const Vec2 right_end = left_end + Vec2(length * scale, 0);
    const Vec2 tick(0, 4);
    return svg::line(left_end, right_end, "#222222", 1) +
           svg::line(left_end - tick, left_end + tick, "#222222", 1) +
           svg::line(right_end - tick, right_end + tick, "#222222", 1) +
           svg::text(right_end + Vec2(8, 4), fmt::format("{} mm", svg::number(length, 3)), {.size = 12});
}

/// 1, 2 or 5 times a power of ten, at most as long as asked for.
double round_length(double longest) {
    const double power = std::pow(10, std::floor(std::log10(longest)));
    return longest / power < 2 ? power : longest / power < 5 ? 2 * power : 5 * power;
}

}  // namespace

std::string to_svg(const BowPicture& picture) {
    const Camera camera(picture.view);
    std::vector<Window> frames;
    Window all;
    double widest = 1e-3;
    for (const CaptionedScene& shown : picture.scenes) {
        frames.push_back(frame_of(shown.scene, camera));
        all.include(frames.back().low);
        all.include(frames.back().high);
        widest = std::max(widest, frames.back().size().x());
    }
    if (picture.scenes.empty()) all.include(Vec2::Zero());
    const double scale = std::min(picture.width / widest, picture.height / all.size().y());
    const double head = picture.title.empty() ? 0 : 34;
    const double bottom = head + margin + scale * all.size().y();
    const double bar = round_length(0.3 * std::max(widest, all.size().y()));

    std::vector<double> columns;
    for (std::size_t i = 0; i < frames.size(); ++i)
        columns.push_back(2 * margin +
                          std::max(scale * frames[i].size().x(), svg::text_width(picture.scenes[i].caption)));
    const double drawings = std::accumulate(columns.begin(), columns.end(), 0.0);
    const double title_width = svg::text_width(picture.title, title_size, true);
    const double width = std::max({drawings, title_width + 2 * margin, scale * bar + 70 + 2 * margin});

    std::string body;
    double left = 0.5 * (width - drawings);
    for (std::size_t i = 0; i < frames.size(); ++i) {
        const CaptionedScene& shown = picture.scenes[i];
        const double middle = left + 0.5 * columns[i];
        const Placement place{
            {middle - 0.5 * scale * (frames[i].low.x() + frames[i].high.x()), bottom + scale * all.low.y()},
            scale};
        body += drawn(shown.scene, camera, place);
        body += svg::text({middle, bottom + caption_height}, shown.caption, {.anchor = Anchor::middle});
        left += columns[i];
    }
    if (!picture.title.empty())
        body += svg::text({0.5 * width, 24}, picture.title,
                          {.anchor = Anchor::middle, .size = title_size, .bold = true});
    body += scale_bar({margin, bottom + caption_height + 0.5 * scale_bar_height}, scale, bar);
    return svg::document(width, bottom + caption_height + scale_bar_height, picture.title, body);
}

}  // namespace limbwright::postproc
