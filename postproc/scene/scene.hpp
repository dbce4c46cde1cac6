#pragma once

#include <array>
#include <string>
#include <vector>

#include "solver/numbers/algebra.hpp"

/// What one state of the bow looks like: plain geometry in the world's axes [mm], with fields on its points
/// and cells.
namespace limbwright::postproc {

using solver::Mat3;
using solver::Vec3;

/// A quantity given at points or cells.
struct Field {
    std::string name;
    std::string unit;            ///< empty for a pure number
    int components = 1;          ///< 1, 3 or, of a symmetric tensor: 11, 22, 33, 12, 23, 13
    std::vector<double> values;  ///< all components of the first point or cell, then of the second, …
};

/// Adds one value of a field of three components.
inline void append(Field& field, const solver::Vec3& value) {
    field.values.insert(field.values.end(), value.begin(), value.end());
}

/// One part. Its cells index its own points.
struct Piece {
    std::string name;
    std::vector<Vec3> points;
    std::vector<std::vector<int>> lines;  ///< polylines
    std::vector<std::array<int, 4>> quads;
    std::vector<std::array<int, 3>> triangles;
    std::vector<Field> point_fields;
    std::vector<Field> cell_fields{};  ///< of the lines first, then of the quads, then of the triangles
};

struct Scene {
    double parameter = 0;  ///< draw, from brace [mm]
    std::vector<Piece> pieces;
};

/// A cross-section of a swept part. The rotation's columns are, in the world: along the part, along the
/// width, along the thickness.
struct SweptStation {
    Vec3 position = Vec3::Zero();  ///< centroid
    Mat3 rotation = Mat3::Identity();
    double width = 0;      ///< of a rectangle; diameter of a round section [mm]
    double thickness = 0;  ///< of a rectangle; a round section has none [mm]
};

enum class SectionShape { rectangle, round };

/// A closed bar through the stations, faces turned outward. A field gives one value (or vector) for each
/// station and is repeated over the points of its section.
///
/// @throws std::invalid_argument for fewer than two stations, or a field that does not give one value for
/// each
[[nodiscard]] Piece swept(const std::string& name, const std::vector<SweptStation>& stations,
                          SectionShape shape, const std::vector<Field>& fields = {});

/// A round bar of one diameter along a line that has no frames of its own: a string, a cable. Coinciding
/// neighbours among the points are skipped.
///
/// @throws std::invalid_argument if fewer than two different points are left, or as `swept`
[[nodiscard]] Piece tube(const std::string& name, const std::vector<Vec3>& line, double diameter,
                         const std::vector<Field>& fields = {});

/// The line itself, for views in which a tube would be too thin to see.
///
/// @throws std::invalid_argument as `swept`
[[nodiscard]] Piece polyline(const std::string& name, const std::vector<Vec3>& line,
                             const std::vector<Field>& fields = {});

/// A closed prism: the outline of a groove, made thick by half of `thickness` to either side, faces turned
/// outward. The outline is plane, closes from its last point to its first, and every point of it is seen from
/// its centroid (true of every convex groove).
///
/// @param thickness  across the outline's plane, its length the whole thickness [mm]
/// @throws std::invalid_argument for fewer than three points, or a thickness within the outline's plane
[[nodiscard]] Piece disc(const std::string& name, const std::vector<Vec3>& outline, const Vec3& thickness);

}  // namespace limbwright::postproc
