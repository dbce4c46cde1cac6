#include "solver/frame.hpp"

#include <cstdlib>

namespace limbwright::solver {

Frame Frame::then(const Joint& joint) const {
    if (joint_count == max_joints) std::abort();
    Frame f = *this;
    f.joints[static_cast<std::size_t>(f.joint_count++)] = joint;
    return f;
}

Frame Frame::then(const Pose& more) const {
    Frame f = *this;
    Pose& last = joint_count ? f.joints[static_cast<std::size_t>(joint_count - 1)].after : f.offset;
    last = last * more;
    return f;
}

bool Frame::is_bare_node() const {
    return node.value >= 0 && joint_count == 0 && offset.position.isZero(0) && offset.rotation.v.isZero(0);
}

FrameMotion::FrameMotion(const Frame& frame, const State& state)
    : frame_(&frame), X_(solver::pose(frame, state)), first_(6, frame.freedom_count()) {
    first_.setZero();
    const Mat3 own = X_.rotation.matrix().transpose();
    int column = 0;
    Pose before = frame.offset;
    if (frame.node.value >= 0) {
        const Pose& node = state.at(frame.node);
        R_node_ = node.rotation.matrix();
        arm_ = X_.position - node.position;
        first_.block<3, 3>(0, 0).setIdentity();
        first_.block<3, 3>(0, 3) = -skew(arm_) * R_node_;
        first_.block<3, 3>(3, 3) = own * R_node_;
        before = node * before;
        column = 6;
    } else if (frame.point.value >= 0) {
        first_.block<3, 3>(0, 0).setIdentity();
        before.position += state.at(frame.point);
        column = 3;
    }
    for (std::size_t i = 0; i < static_cast<std::size_t>(frame.joint_count); ++i) {
        const Joint& joint = frame.joints[i];
        const Vec3 axis = before.rotation * joint.axis;
        const double q = state.at(joint.scalar);
        const bool hinge = joint.kind == JointKind::hinge;
        spin_[i] = hinge ? axis : Vec3(Vec3::Zero());
        velocity_[i] = hinge ? Vec3(axis.cross(X_.position - before.position)) : axis;
        first_.col(column) << velocity_[i], own * spin_[i];
        before = before *
                 (hinge ? Pose{exp<double>(q * joint.axis), Vec3::Zero()} : Pose{{}, q * joint.axis}) *
                 joint.after;
        ++column;
    }
}

FrameMotion::Second FrameMotion::second(const Vec3& force, const Vec3& own_moment) const {
    const int n = frame_->freedom_count();
    Second B = Second::Zero(n, n);
    const Vec3 moment = X_.rotation * own_moment;
    const bool on_node = frame_->node.value >= 0;
    const int base = on_node ? 6 : frame_->point.value >= 0 ? 3 : 0;
    if (on_node) {
        const Mat3 spread = force * arm_.transpose();
        B.block<3, 3>(3, 3) = R_node_.transpose() *
                              (0.5 * (spread + spread.transpose()) - force.dot(arm_) * Mat3::Identity()) *
                              R_node_;
    }
    const auto add = [&](int i, int j, double value) {
        B(i, j) += value;
        if (i != j) B(j, i) += value;
    };
    for (std::size_t j = 0; j < static_cast<std::size_t>(frame_->joint_count); ++j) {
        const int column = base + static_cast<int>(j);
        if (on_node) {
            const Vec3 mixed =
                R_node_.transpose() * (velocity_[j].cross(force) + 0.5 * spin_[j].cross(moment));
            for (int k = 0; k < 3; ++k) add(3 + k, column, mixed[k]);
        }
        for (std::size_t i = 0; i < j; ++i)  // spin is zero for a slide, which turns nothing after it
            add(base + static_cast<int>(i), column,
                force.dot(spin_[i].cross(velocity_[j])) + 0.5 * moment.dot(spin_[i].cross(spin_[j])));
        add(column, column, force.dot(spin_[j].cross(velocity_[j])));
    }
    return B;
}

}  // namespace limbwright::solver
