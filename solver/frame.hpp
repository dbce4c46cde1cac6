#pragma once

#include <array>
#include <vector>

#include "solver/state.hpp"

namespace limbwright::solver {

enum class JointKind { hinge, slide };

/// One scalar freedom inside a frame, about or along a unit axis of the frame before it, then a fixed offset.
struct Joint {
    JointKind kind = JointKind::hinge;
    Vec3 axis = Vec3::UnitX();
    ScalarId scalar{};
    Pose after{};
};

/// A frame fixed to the ground, to a node or to a point, moved by a fixed offset and by at most five joints:
///
///     X = X_anchor · offset · joint₀ · after₀ · joint₁ · after₁ …
///
/// Rigid offsets, bores, bearings and sheaves are all frames: no penalty springs, no multipliers.
struct Frame {
    static constexpr int max_joints =
        5;  ///< the grip has three, a hinged root or a slide on it one or two more

    NodeId node{};    ///< anchor, or
    PointId point{};  ///< anchor; its axes stay the world's; neither: the ground
    Pose offset{};
    std::array<Joint, max_joints> joints{};
    int joint_count = 0;

    [[nodiscard]] static Frame on_ground(const Pose& offset = {}) { return {.offset = offset}; }
    [[nodiscard]] static Frame on(NodeId node, const Pose& offset = {}) {
        return {.node = node, .offset = offset};
    }
    [[nodiscard]] static Frame on(PointId point) { return {.point = point}; }

    /// This frame followed by one more joint. Past `max_joints` the program stops.
    [[nodiscard]] Frame then(const Joint& joint) const;
    /// This frame moved by a further fixed offset.
    [[nodiscard]] Frame then(const Pose& more) const;
    /// Whether the frame is a node and nothing else.
    [[nodiscard]] bool is_bare_node() const;
    /// Number of increments: the anchor's, then one a joint.
    [[nodiscard]] int freedom_count() const {
        return (node.value >= 0 ? 6 : point.value >= 0 ? 3 : 0) + joint_count;
    }
};

/// Where the frame stands.
template <class T>
PoseOf<T> pose(const Frame& frame, const StateOf<T>& state) {
    PoseOf<T> X = cast<T>(frame.offset);
    if (frame.node.value >= 0)
        X = state.at(frame.node) * X;
    else if (frame.point.value >= 0)
        X.position += state.at(frame.point);
    for (int i = 0; i < frame.joint_count; ++i) {
        const Joint& joint = frame.joints[static_cast<std::size_t>(i)];
        const Vector3<T> along = state.at(joint.scalar) * joint.axis.cast<T>();
        const PoseOf<T> step = joint.kind == JointKind::hinge ? PoseOf<T>{exp<T>(along), Vector3<T>::Zero()}
                                                              : PoseOf<T>{{}, along};
        X = X * step * cast<T>(joint.after);
    }
    return X;
}

/// How a frame's pose follows its freedoms, to second order, at one state.
///
/// First order: (δx world, δθ own axes) = `first` · increments, 6 × n. Second order: for a force f (world)
/// and a moment m (own axes) of an energy's gradient, `second(f, m)` is Σ f·∂²x + m·∂²θ, n × n. With world
/// axes, r and ρ the arms from the node and from a joint to the frame, e the joint's axis and ω a node's
/// turn:
///     x: ω×(ω×r)/2, ω×(e×ρ) q, e₁×(e₂×ρ₂) q₁q₂, e×(e×ρ) q²/2;   θ (Baker–Campbell–Hausdorff): ½ Σ_{i<j}
///     e_i×e_j q_i q_j.
class FrameMotion {
public:
    static constexpr int max_freedoms = 6 + Frame::max_joints;
    using First = Eigen::Matrix<double, 6, Eigen::Dynamic, Eigen::ColMajor, 6, max_freedoms>;
    using Second = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, 0, max_freedoms, max_freedoms>;

    FrameMotion(const Frame& frame, const State& state);

    [[nodiscard]] const Pose& pose() const { return X_; }
    [[nodiscard]] const First& first() const { return first_; }
    [[nodiscard]] Second second(const Vec3& force, const Vec3& moment) const;

private:
    const Frame* frame_;
    Pose X_;
    First first_;
    Mat3 R_node_;
    Vec3 arm_;                                             ///< from the node, world
    std::array<Vec3, Frame::max_joints> velocity_, spin_;  ///< of the frame by each joint, world
};

}  // namespace limbwright::solver
