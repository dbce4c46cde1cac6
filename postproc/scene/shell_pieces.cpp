#include "postproc/scene/shell_pieces.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>

namespace limbwright::postproc {
namespace {

using solver::Frame;
using solver::Laminate;
using solver::PlyState;
using solver::Pose;
using solver::Shell;
using solver::State;

constexpr double percent = 100;

bool are_equal(const Pose& a, const Pose& b) {
    return a.position == b.position && a.rotation.w == b.rotation.w && a.rotation.v == b.rotation.v;
}

bool are_equal(const solver::Joint& a, const solver::Joint& b) {
    return a.kind == b.kind && a.axis == b.axis && a.scalar == b.scalar && are_equal(a.after, b.after);
}

bool are_equal(const Frame& a, const Frame& b) {
    return a.node == b.node && a.point == b.point && are_equal(a.offset, b.offset) &&
           std::ranges::equal(a.joints.begin(), a.joints.begin() + a.joint_count, b.joints.begin(),
                              b.joints.begin() + b.joint_count,
                              [](const auto& x, const auto& y) { return are_equal(x, y); });
}

/// The different frames among those asked for, in the order in which they first came.
class DifferentFrames {
public:
    int place(const Frame& frame) {
        std::vector<int>& on_same_anchor = by_anchor_[{frame.node, frame.point}];
        for (const int place : on_same_anchor)
            if (are_equal(frames_[static_cast<std::size_t>(place)], frame)) return place;
        on_same_anchor.push_back(static_cast<int>(frames_.size()));
        frames_.push_back(frame);
        return on_same_anchor.back();
    }
    [[nodiscard]] const std::vector<Frame>& all() const { return frames_; }

private:
    std::vector<Frame> frames_;
    std::map<std::pair<solver::NodeId, solver::PointId>, std::vector<int>> by_anchor_;
};

struct Cell {
    const Shell* shell;
    Laminate laminate;
    solver::WallState wall;
};

std::vector<Cell> cells_of(const solver::System& system, const ShellPart& part, const State& state) {
    std::vector<Cell> cells;
    for (const std::size_t element : part.elements) {
        const auto* shell = dynamic_cast<const Shell*>(system.elements().at(element).get());
        if (!shell)
            throw std::invalid_argument(fmt::format("{}: element {} is no shell", part.name, element));
        cells.push_back({shell, part.laminate(element), shell->wall_state(state)});
        if (cells.back().laminate.size() != cells.front().laminate.size())
            throw std::invalid_argument(fmt::format("{}: element {} has {} plies, the first one {}",
                                                    part.name, element, cells.back().laminate.size(),
                                                    cells.front().laminate.size()));
    }
    std::ranges::stable_partition(cells, [](const Cell& cell) { return cell.shell->corners().size() == 4; });
    return cells;
}

/// Corners in order round the element, counter-clockwise for who sees the wall's top face.
std::vector<Frame> ordered_corners(const Cell& cell, const State& state) {
    std::vector<Frame> corners = cell.shell->corners();
    const auto from_first = [&](std::size_t i) -> Vec3 {
        return pose(corners[i], state).position - pose(corners[0], state).position;
    };
    const Vec3 normal = from_first(1).cross(from_first(2));
    if (normal.dot(cell.wall.axes.col(2)) < 0) std::reverse(corners.begin() + 1, corners.end());
    return corners;
}

/// Adds the cells to the piece, without points.
DifferentFrames connect(const std::vector<Cell>& cells, const State& state, Piece& piece) {
    DifferentFrames corners;
    for (const Cell& cell : cells) {
        std::array<int, 4> places{};
        const std::vector<Frame> frames = ordered_corners(cell, state);
        std::ranges::transform(frames, places.begin(), [&](const Frame& f) { return corners.place(f); });
        if (frames.size() == 4)
            piece.quads.push_back(places);
        else
            piece.triangles.push_back({places[0], places[1], places[2]});
    }
    return corners;
}

/// The fields of one ply.
struct PlyFields {
    Field stress, strain;

    explicit PlyFields(std::size_t number)
        : stress{fmt::format("stress, ply {}", number), "MPa", 3, {}},
          strain{fmt::format("strain, ply {}", number), "%", 3, {}} {}
};

std::vector<Field> fields_of(const std::vector<Cell>& cells) {
    Field thickness{"thickness", "mm", 1, {}}, force{"membrane force", "N/mm", 3, {}},
        moment{"moment", "N", 3, {}}, shear{"shear force", "N/mm", 3, {}}, axis{"wall axis 1", "", 3, {}},
        outer{"strain, outer", "%", 1, {}};
    std::vector<PlyFields> plies;
    for (const Cell& cell : cells) {
        const solver::WallState& wall = cell.wall;
        const double height = solver::thickness(cell.laminate) / 2;
        thickness.values.push_back(2 * height);
        append(force, wall.force);
        append(moment, wall.moment);
        append(shear, {wall.shear_force[0], wall.shear_force[1], 0});
        append(axis, wall.axes.col(0));
        // max |ε ± h κ| = |ε| + |h κ|
        outer.values.push_back(percent * (std::abs(wall.strain[0]) + std::abs(height * wall.curvature[0])));

        const std::vector<PlyState> states = ply_states(cell.laminate, wall.strain, wall.curvature);
        for (std::size_t k = 0; k < states.size(); ++k) {
            if (plies.size() == k) plies.emplace_back(k + 1);
            const PlyState& ply = states[k];
            const std::size_t face = std::abs(ply.stress[0][0]) > std::abs(ply.stress[1][0]) ? 0 : 1;
            append(plies[k].stress, ply.stress[face]);
            append(plies[k].strain, percent * ply.strain[face]);
        }
    }
    std::vector<Field> fields{thickness, force, moment, shear, axis, outer};
    for (const PlyFields& ply : plies) fields.insert(fields.end(), {ply.stress, ply.strain});
    return fields;
}

Piece make_piece(const solver::System& system, const ShellPart& part, const State& state,
                 const ShellRest* rest) {
    const std::vector<Cell> cells = cells_of(system, part, state);
    Piece piece;
    piece.name = part.name;
    const DifferentFrames corners = connect(cells, state, piece);
    Field displacement{"displacement", "mm", 3, {}};
    for (const Frame& corner : corners.all()) {
        piece.points.push_back(pose(corner, state).position);
        if (rest)
            append(displacement, piece.points.back() - rest->carried * pose(corner, rest->state).position);
    }
    if (rest) piece.point_fields.push_back(displacement);
    piece.cell_fields = fields_of(cells);
    return piece;
}

}  // namespace

Piece shell_piece(const solver::System& system, const ShellPart& part, const State& state) {
    return make_piece(system, part, state, nullptr);
}

Piece shell_piece(const solver::System& system, const ShellPart& part, const State& state,
                  const ShellRest& rest) {
    return make_piece(system, part, state, &rest);
}

}  // namespace limbwright::postproc
