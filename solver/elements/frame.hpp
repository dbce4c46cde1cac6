#pragma once

#include <array>
#include <stdexcept>
#include <vector>

#include "solver/numbers/state.hpp"

namespace limbwright::solver {

enum class JointKind { hinge, slide };

/// One scalar freedom inside a frame, about or along a unit axis of the frame before it, then a fixed offset.
template <class T>
struct JointOf {
    JointKind kind = JointKind::hinge;
    Vec3 axis = Vec3::UnitX();
    ScalarId scalar{};
    PoseOf<T> after{};
};
using Joint = JointOf<double>;

/// A frame fixed to the ground, to a node or to a point, moved by a fixed offset and by at most five joints:
///
///     X = X_anchor · offset · joint₀ · after₀ · joint₁ · after₁ …
///
/// Rigid offsets, bores, bearings and sheaves are all frames: no penalty springs, no multipliers.
///
/// T is the scalar of the offsets: with lanes, each lane has its own.
template <class T>
struct FrameOf {
    static constexpr int max_joints =
        5;  ///< three of a ball joint, and one or two more of a hinge or a slide on it

    NodeId node{};    ///< anchor, or
    PointId point{};  ///< anchor; its axes stay the world's; neither: the ground
    PoseOf<T> offset{};
    std::array<JointOf<T>, max_joints> joints{};
    int joint_count = 0;

    [[nodiscard]] static FrameOf on_ground(const PoseOf<T>& offset = {}) { return {.offset = offset}; }
    [[nodiscard]] static FrameOf on(NodeId node, const PoseOf<T>& offset = {}) {
        return {.node = node, .offset = offset};
    }
    [[nodiscard]] static FrameOf on(PointId point) { return {.point = point}; }

    /// This frame followed by one more joint.
    ///
    /// @throws std::length_error past `max_joints`
    [[nodiscard]] FrameOf then(const JointOf<T>& joint) const {
        if (joint_count == max_joints) throw std::length_error("a frame holds at most five joints");
        FrameOf f = *this;
        f.joints[static_cast<std::size_t>(f.joint_count++)] = joint;
        return f;
    }
    /// This frame moved by a further fixed offset.
    [[nodiscard]] FrameOf then(const PoseOf<T>& more) const {
        FrameOf f = *this;
        PoseOf<T>& last = joint_count ? f.joints[static_cast<std::size_t>(joint_count - 1)].after : f.offset;
        last = last * more;
        return f;
    }
    /// Whether the frame is a node and nothing else.
    [[nodiscard]] bool is_bare_node() const {
        return node.value >= 0 && joint_count == 0 && offset.position.isZero(0) &&
               offset.rotation.v.isZero(0);
    }
    /// Number of increments: the anchor's, then one a joint.
    [[nodiscard]] int freedom_count() const {
        return (node.value >= 0 ? 6 : point.value >= 0 ? 3 : 0) + joint_count;
    }
};
using Frame = FrameOf<double>;

/// Where the frame stands.
template <class S, class T>
PoseOf<T> pose(const FrameOf<S>& frame, const StateOf<T>& state) {
    PoseOf<T> X = cast<T>(frame.offset);
    if (frame.node.value >= 0)
        X = state.at(frame.node) * X;
    else if (frame.point.value >= 0)
        X.position += state.at(frame.point);
    for (int i = 0; i < frame.joint_count; ++i) {
        const JointOf<S>& joint = frame.joints[static_cast<std::size_t>(i)];
        const Vector3<T> along = state.at(joint.scalar) * joint.axis.template cast<T>();
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
template <class T>
class FrameMotionOf {
public:
    static constexpr int max_freedoms = 6 + FrameOf<T>::max_joints;
    using First = Eigen::Matrix<T, 6, Eigen::Dynamic, Eigen::ColMajor, 6, max_freedoms>;
    using Second = Eigen::Matrix<T, Eigen::Dynamic, Eigen::Dynamic, 0, max_freedoms, max_freedoms>;

    /// @param frame  must live as long
    FrameMotionOf(const FrameOf<T>& frame, const StateOf<T>& state);
    FrameMotionOf(FrameOf<T>&&, const StateOf<T>&) = delete;

    [[nodiscard]] const PoseOf<T>& pose() const { return X_; }
    [[nodiscard]] const First& first() const { return first_; }
    [[nodiscard]] Second second(const Vector3<T>& force, const Vector3<T>& moment) const;

private:
    const FrameOf<T>* frame_;
    PoseOf<T> X_;
    First first_;
    Matrix3<T> R_node_;
    Vector3<T> arm_;                                                  ///< from the node, world
    std::array<Vector3<T>, FrameOf<T>::max_joints> velocity_, spin_;  ///< of the frame by each joint, world
};
using FrameMotion = FrameMotionOf<double>;

template <class T>
FrameMotionOf<T>::FrameMotionOf(const FrameOf<T>& frame, const StateOf<T>& state)
    : frame_(&frame), X_(solver::pose(frame, state)), first_(6, frame.freedom_count()) {
    first_.setZero();
    const Matrix3<T> own = X_.rotation.matrix().transpose();
    int column = 0;
    PoseOf<T> before = frame.offset;
    if (frame.node.value >= 0) {
        const PoseOf<T>& node = state.at(frame.node);
        R_node_ = node.rotation.matrix();
        arm_ = X_.position - node.position;
        first_.template block<3, 3>(0, 0).setIdentity();
        first_.template block<3, 3>(0, 3) = -skew<T>(arm_) * R_node_;
        first_.template block<3, 3>(3, 3) = own * R_node_;
        before = node * before;
        column = 6;
    } else if (frame.point.value >= 0) {
        first_.template block<3, 3>(0, 0).setIdentity();
        before.position += state.at(frame.point);
        column = 3;
    }
    for (std::size_t i = 0; i < static_cast<std::size_t>(frame.joint_count); ++i) {
        const JointOf<T>& joint = frame.joints[i];
        const Vector3<T> own_axis = joint.axis.template cast<T>();
        const Vector3<T> axis = before.rotation * own_axis;
        const T q = state.at(joint.scalar);
        const bool hinge = joint.kind == JointKind::hinge;
        spin_[i] = hinge ? axis : Vector3<T>(Vector3<T>::Zero());
        velocity_[i] = hinge ? cross<T>(axis, X_.position - before.position) : axis;
        first_.col(column).template head<3>() = velocity_[i];
        first_.col(column).template tail<3>() = own * spin_[i];
        before = before *
                 (hinge ? PoseOf<T>{exp<T>(Vector3<T>(q * own_axis)), Vector3<T>::Zero()}
                        : PoseOf<T>{{}, q * own_axis}) *
                 joint.after;
        ++column;
    }
}

template <class T>
typename FrameMotionOf<T>::Second FrameMotionOf<T>::second(const Vector3<T>& force,
                                                           const Vector3<T>& own_moment) const {
    const int n = frame_->freedom_count();
    Second B = Second::Zero(n, n);
    const Vector3<T> moment = X_.rotation * own_moment;
    const bool on_node = frame_->node.value >= 0;
    const int base = on_node ? 6 : frame_->point.value >= 0 ? 3 : 0;
    if (on_node) {
        const Matrix3<T> spread = force * arm_.transpose();
        const Matrix3<T> even =
            T(0.5) * (spread + spread.transpose()) - dot(force, arm_) * Matrix3<T>::Identity();
        B.template block<3, 3>(3, 3) = R_node_.transpose() * even * R_node_;
    }
    const auto add = [&](int i, int j, const T& value) {
        B(i, j) += value;
        if (i != j) B(j, i) += value;
    };
    for (std::size_t j = 0; j < static_cast<std::size_t>(frame_->joint_count); ++j) {
        const int column = base + static_cast<int>(j);
        if (on_node) {
            const Vector3<T> mixed = R_node_.transpose() * Vector3<T>(cross<T>(velocity_[j], force) +
                                                                      T(0.5) * cross<T>(spin_[j], moment));
            for (int k = 0; k < 3; ++k) add(3 + k, column, mixed[k]);
        }
        for (std::size_t i = 0; i < j; ++i)  // spin is zero for a slide, which turns nothing after it
            add(base + static_cast<int>(i), column,
                dot(force, cross<T>(spin_[i], velocity_[j])) +
                    T(0.5) * dot(moment, cross<T>(spin_[i], spin_[j])));
        add(column, column, dot(force, cross<T>(spin_[j], velocity_[j])));
    }
    return B;
}

}  // namespace limbwright::solver
