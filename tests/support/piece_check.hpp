#pragma once

#include <algorithm>
#include <stdexcept>
#include <string>
#include <vector>

#include "postproc/scene/scene.hpp"

/// What tests ask of pieces of a scene.
namespace limbwright::testing {

inline const postproc::Piece& piece_of(const std::vector<postproc::Piece>& pieces, const std::string& name) {
    for (const postproc::Piece& piece : pieces)
        if (piece.name == name) return piece;
    throw std::runtime_error("there is no piece " + name);
}

inline const postproc::Field& field_among(const std::vector<postproc::Field>& fields,
                                          const std::string& name) {
    for (const postproc::Field& field : fields)
        if (field.name == name) return field;
    throw std::runtime_error("there is no field " + name);
}

inline const postproc::Field& field_of(const postproc::Piece& piece, const std::string& name) {
    return field_among(piece.point_fields, name);
}

inline const postproc::Field& cell_field_of(const postproc::Piece& piece, const std::string& name) {
    return field_among(piece.cell_fields, name);
}

/// A field of three components at one point or cell.
inline solver::Vec3 vector_at(const postproc::Field& field, std::size_t point) {
    return solver::Vec3::Map(&field.values.at(3 * point));
}

inline std::vector<std::string> names_of(const std::vector<postproc::Piece>& pieces) {
    std::vector<std::string> names;
    for (const postproc::Piece& piece : pieces) names.push_back(piece.name);
    return names;
}

inline solver::Vec3 mean_point(const postproc::Piece& piece) {
    solver::Vec3 sum = solver::Vec3::Zero();
    for (const solver::Vec3& point : piece.points) sum += point;
    return sum / static_cast<double>(piece.points.size());
}

/// Least and largest coordinate of a piece along one axis.
struct Extent {
    double low, high;
};
inline Extent extent(const postproc::Piece& piece, int axis) {
    const auto [low, high] =
        std::ranges::minmax(piece.points, {}, [axis](const solver::Vec3& point) { return point[axis]; });
    return {low[axis], high[axis]};
}

}  // namespace limbwright::testing
