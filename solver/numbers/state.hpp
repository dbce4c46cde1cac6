#pragma once

#include <vector>

#include "solver/numbers/pose.hpp"

namespace limbwright::solver {

/// Names of freedoms. A node has a pose (6 increments: displacement in world axes, then turn in its own
/// axes), a point a position (3), a scalar is an angle or a slide (1).
template <class Of>
struct Index {
    int value = -1;
    constexpr Index() = default;
    explicit constexpr Index(int v) : value(v) {}
    auto operator<=>(const Index&) const = default;
};
using NodeId = Index<struct OfNode>;
using PointId = Index<struct OfPoint>;
using ScalarId = Index<struct OfScalar>;

/// One configuration: the pose of every node, every point and scalar.
template <class T>
struct StateOf {
    std::vector<PoseOf<T>> nodes;
    std::vector<Vector3<T>> points;
    std::vector<T> scalars;

    [[nodiscard]] const PoseOf<T>& at(NodeId id) const { return nodes[static_cast<std::size_t>(id.value)]; }
    [[nodiscard]] const Vector3<T>& at(PointId id) const {
        return points[static_cast<std::size_t>(id.value)];
    }
    [[nodiscard]] const T& at(ScalarId id) const { return scalars[static_cast<std::size_t>(id.value)]; }
    [[nodiscard]] PoseOf<T>& at(NodeId id) { return nodes[static_cast<std::size_t>(id.value)]; }
    [[nodiscard]] Vector3<T>& at(PointId id) { return points[static_cast<std::size_t>(id.value)]; }
    [[nodiscard]] T& at(ScalarId id) { return scalars[static_cast<std::size_t>(id.value)]; }
};
using State = StateOf<double>;

/// Where each freedom stands in the system's vectors: nodes six by six, then points, then scalars, in slots
/// of six. Two points share a slot; what is left of the last slot stays empty.
struct Numbering {
    int nodes = 0, points = 0, scalars = 0;

    [[nodiscard]] int first(NodeId id) const { return 6 * id.value; }
    [[nodiscard]] int first(PointId id) const { return 6 * nodes + 3 * id.value; }
    [[nodiscard]] int first(ScalarId id) const { return 6 * nodes + 3 * points + id.value; }
    [[nodiscard]] int used() const { return 6 * nodes + 3 * points + scalars; }
    [[nodiscard]] int slots() const { return (used() + 5) / 6; }
    [[nodiscard]] int size() const { return 6 * slots(); }
};

/// Every freedom moved by its own increment; the given state stays as it was. Turns act in the node's own
/// axes, R ← R exp θ.
template <class T, class V>
[[nodiscard]] StateOf<T> moved(const StateOf<T>& state, const V& step) {
    StateOf<T> m = state;
    int i = 0;
    for (PoseOf<T>& X : m.nodes) {
        X.position += Vector3<T>(step[i], step[i + 1], step[i + 2]);
        X.rotation = (X.rotation * exp<T>(Vector3<T>(step[i + 3], step[i + 4], step[i + 5]))).normalized();
        i += 6;
    }
    for (Vector3<T>& p : m.points) {
        p += Vector3<T>(step[i], step[i + 1], step[i + 2]);
        i += 3;
    }
    for (T& s : m.scalars) s += step[i++];
    return m;
}

/// The step that takes one state to the other: `moved(from, step)` is `to`.
template <class T>
[[nodiscard]] Eigen::Matrix<T, Eigen::Dynamic, 1> step_between(const StateOf<T>& from, const StateOf<T>& to,
                                                               const Numbering& numbering) {
    Eigen::Matrix<T, Eigen::Dynamic, 1> step = Eigen::Matrix<T, Eigen::Dynamic, 1>::Zero(numbering.size());
    int i = 0;
    for (std::size_t n = 0; n < from.nodes.size(); ++n, i += 6) {
        step.template segment<3>(i) = to.nodes[n].position - from.nodes[n].position;
        step.template segment<3>(i + 3) = log(from.nodes[n].rotation.inverse() * to.nodes[n].rotation);
    }
    for (std::size_t n = 0; n < from.points.size(); ++n, i += 3)
        step.template segment<3>(i) = to.points[n] - from.points[n];
    for (std::size_t n = 0; n < from.scalars.size(); ++n, ++i) step[i] = to.scalars[n] - from.scalars[n];
    return step;
}

}  // namespace limbwright::solver
