#include "postproc/scene/scene.hpp"

#include <fmt/format.h>

#include <cmath>
#include <numbers>
#include <stdexcept>

namespace limbwright::postproc {
namespace {

constexpr int round_sides = 16;

/// Points of a section in its own plane, along width and along thickness, counter-clockwise about the part's
/// direction.
std::vector<solver::Vec2> section_points(const SweptStation& station, SectionShape shape) {
    if (shape == SectionShape::rectangle) {
        const double w = 0.5 * station.width;
        const double t = 0.5 * station.thickness;
        return {{w, t}, {-w, t}, {-w, -t}, {w, -t}};
    }
    std::vector<solver::Vec2> points;
    for (int side = 0; side < round_sides; ++side) {
        const double angle = 2 * std::numbers::pi * side / round_sides;
        points.emplace_back(0.5 * station.width * std::cos(angle), 0.5 * station.width * std::sin(angle));
    }
    return points;
}

void check_fields(const std::string& name, const std::vector<Field>& fields, std::size_t stations) {
    for (const Field& field : fields)
        if (field.values.size() != stations * field.components)
            throw std::invalid_argument(fmt::format("{}: field \"{}\" has {} values for {} stations of {}",
                                                    name, field.name, field.values.size(), stations,
                                                    field.components));
}

/// Each station's value `times` over.
Field repeated(const Field& field, int times) {
    Field all{.name = field.name, .unit = field.unit, .components = field.components, .values = {}};
    all.values.reserve(field.values.size() * times);
    for (std::size_t first = 0; first < field.values.size(); first += field.components)
        for (int time = 0; time < times; ++time)
            all.values.insert(all.values.end(), field.values.begin() + first,
                              field.values.begin() + first + field.components);
    return all;
}

void add_end_caps(Piece& piece, int sides) {
    const int last = static_cast<int>(piece.points.size()) - sides;
    if (sides == 4) {
        piece.quads.push_back({3, 2, 1, 0});
        piece.quads.push_back({last, last + 1, last + 2, last + 3});
        return;
    }
    for (int side = 1; side + 1 < sides; ++side) {
        piece.triangles.push_back({0, side + 1, side});
        piece.triangles.push_back({last, last + side, last + side + 1});
    }
}

}  // namespace

Piece swept(const std::string& name, const std::vector<SweptStation>& stations, SectionShape shape,
            const std::vector<Field>& fields) {
    if (stations.size() < 2) throw std::invalid_argument(name + ": a bar needs two stations");
    check_fields(name, fields, stations.size());
    Piece piece;
    piece.name = name;
    for (const SweptStation& station : stations)
        for (const solver::Vec2& p : section_points(station, shape))
            piece.points.push_back(station.position + station.rotation * Vec3(0, p.x(), p.y()));
    const int sides = static_cast<int>(piece.points.size() / stations.size());
    for (int first = 0; first + 2 * sides <= static_cast<int>(piece.points.size()); first += sides)
        for (int side = 0; side < sides; ++side) {
            const int next = (side + 1) % sides;
            piece.quads.push_back({first + side, first + next, first + sides + next, first + sides + side});
        }
    add_end_caps(piece, sides);
    for (const Field& field : fields) piece.point_fields.push_back(repeated(field, sides));
    return piece;
}

Piece tube(const std::string& name, const std::vector<Vec3>& line, double diameter,
           const std::vector<Field>& fields) {
    check_fields(name, fields, line.size());
    std::vector<std::size_t> kept;
    for (std::size_t i = 0; i < line.size(); ++i)
        if (kept.empty() || line[i] != line[kept.back()]) kept.push_back(i);
    if (kept.size() < 2) throw std::invalid_argument(name + ": a tube needs two different points");

    std::vector<SweptStation> stations;
    std::vector<Field> kept_fields = fields;
    for (Field& field : kept_fields) field.values.clear();
    Vec3 side = Vec3::Zero();
    for (std::size_t k = 0; k < kept.size(); ++k) {
        const Vec3& before = line[kept[k == 0 ? 0 : k - 1]];
        const Vec3& after = line[kept[k + 1 == kept.size() ? k : k + 1]];
        const Vec3 here = line[kept[k]];
        // The line turns back on itself where both neighbours coincide.
        const Vec3 along = (after == before ? Vec3(after - here) : Vec3(after - before)).normalized();
        // Carried along from station to station, so that the tube does not wring.
        side -= along * along.dot(side);
        side = side.norm() > 1e-6 ? side.normalized() : along.unitOrthogonal();
        Mat3 rotation;
        rotation << along, side, along.cross(side);
        stations.push_back({.position = here, .rotation = rotation, .width = diameter, .thickness = 0});
        for (std::size_t f = 0; f < fields.size(); ++f) {
            const auto value = fields[f].values.begin() + kept[k] * fields[f].components;
            kept_fields[f].values.insert(kept_fields[f].values.end(), value, value + fields[f].components);
        }
    }
    return swept(name, stations, SectionShape::round, kept_fields);
}

Piece polyline(const std::string& name, const std::vector<Vec3>& line, const std::vector<Field>& fields) {
    if (line.size() < 2) throw std::invalid_argument(name + ": a line needs two points");
    check_fields(name, fields, line.size());
    Piece piece;
    piece.name = name;
    piece.points = line;
    piece.point_fields = fields;
    std::vector<int>& indices = piece.lines.emplace_back();
    for (std::size_t i = 0; i < line.size(); ++i) indices.push_back(static_cast<int>(i));
    return piece;
}

Piece disc(const std::string& name, const std::vector<Vec3>& outline, const Vec3& thickness) {
    if (outline.size() < 3) throw std::invalid_argument(name + ": an outline needs three points");
    const int n = static_cast<int>(outline.size());
    Vec3 twice_area = Vec3::Zero();
    for (int i = 0; i < n; ++i)
        twice_area += (outline[i] - outline[0]).cross(outline[(i + 1) % n] - outline[0]);
    if (std::abs(twice_area.dot(thickness)) <= 1e-9 * twice_area.norm() * thickness.norm())
        throw std::invalid_argument(name + ": the thickness lies within the outline's plane");
    const Vec3 half = twice_area.dot(thickness) > 0 ? Vec3(0.5 * thickness) : Vec3(-0.5 * thickness);

    Vec3 centroid = Vec3::Zero();  // of the area: of the points, it would lie near the densely traced side
    for (int i = 0; i < n; ++i) {
        const Vec3 a = outline[i] - outline[0];
        const Vec3 b = outline[(i + 1) % n] - outline[0];
        centroid += (a + b) * a.cross(b).dot(twice_area) / (3 * twice_area.squaredNorm());
    }
    centroid += outline[0];

    Piece piece;
    piece.name = name;
    for (const Vec3& side : {Vec3(-half), half}) {
        for (const Vec3& point : outline) piece.points.push_back(point + side);
        piece.points.push_back(centroid + side);
    }
    const int upper = n + 1;
    for (int i = 0; i < n; ++i) {
        const int next = (i + 1) % n;
        piece.triangles.push_back({next, i, n});
        piece.triangles.push_back({upper + i, upper + next, upper + n});
        piece.quads.push_back({i, next, upper + next, upper + i});
    }
    return piece;
}

}  // namespace limbwright::postproc
