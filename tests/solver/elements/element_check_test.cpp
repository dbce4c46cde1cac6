#include "tests/support/element_check.hpp"

#include "tests/support/link.hpp"

/// Elements that are wrong in one way each, so that the checks every element must pass are known to see it.
namespace limbwright::testing::element_check_test {
namespace {

constexpr double seen = 1e-3;  // an error of a term, not of rounding: far above every tolerance of the checks

const Pose offset{exp<double>(Vec3(0.4, -0.3, 0.5)), Vec3(3, -4, 2)};

State scene() {
    Random random(5);
    State state;
    state.nodes = {random.pose(1.5, 10), random.pose(1.5, 10)};
    return state;
}

Link sound(const Mat3& weight) {
    return {Frame::on(NodeId(0), offset), Frame::on(NodeId(1), offset), weight};
}

TEST(ElementCheck, PassesASoundElement) {
    const Link link = sound(Mat3::Identity());
    check_derivatives(link, scene());
    EXPECT_LT(rigid_motion_error(link, scene()), 1e-12);
}

/// Forgets the moment of the offset at the second node in both gradients.
class MissesATermOfTheGradient final : public Link {
public:
    MissesATermOfTheGradient() : Link(sound(Mat3::Identity())) {}
    void gradient(const State& state, ElementVector& g) const override {
        Link::gradient(state, g);
        g.tail<3>().setZero();
    }
    void gradient_and_hessian(const State& state, ElementVector& g, ElementMatrix& H) const override {
        Link::gradient_and_hessian(state, g, H);
        g.tail<3>().setZero();
    }
};

TEST(ElementCheck, SeesAMissingTermOfTheGradient) {
    const MissesATermOfTheGradient element;
    EXPECT_GT(gradient_error(element, scene()), seen);
    EXPECT_LT(hessian_error(element, scene()), central_difference_accuracy);
    EXPECT_LT(asymmetry(element, scene()), 1e-14);
    EXPECT_LT(rigid_motion_error(element, scene()), 1e-12);
}

/// Gives another gradient with the Hessian than without.
class HasTwoGradients final : public Link {
public:
    HasTwoGradients() : Link(sound(Mat3::Identity())) {}
    void gradient_and_hessian(const State& state, ElementVector& g, ElementMatrix& H) const override {
        Link::gradient_and_hessian(state, g, H);
        g.tail<3>().setZero();
    }
};

TEST(ElementCheck, SeesAGradientThatDiffersFromTheOneGivenWithTheHessian) {
    EXPECT_GT(gradient_error(HasTwoGradients(), scene()), seen);
}

/// Forgets how the offsets move to second order.
class MissesTheSecondOrderOfItsOffsets final : public Link {
public:
    MissesTheSecondOrderOfItsOffsets() : Link(sound(Mat3::Identity())) {}
    void gradient_and_hessian(const State& state, ElementVector& g, ElementMatrix& H) const override {
        Link::gradient_and_hessian(state, g, H);
        const FrameMotion from(from_, state), to(to_, state);
        const Vec3 force = weight_ * (to.pose().position - from.pose().position);
        H.topLeftCorner<6, 6>() -= from.second(-force, Vec3::Zero());
        H.bottomRightCorner<6, 6>() -= to.second(force, Vec3::Zero());
    }
};

TEST(ElementCheck, SeesAMissingSecondOrderOfTheOffsets) {
    const MissesTheSecondOrderOfItsOffsets element;
    EXPECT_GT(hessian_error(element, scene()), seen);
    EXPECT_LT(gradient_error(element, scene()), complex_step_accuracy);
    EXPECT_LT(asymmetry(element, scene()), 1e-14);
    EXPECT_LT(rigid_motion_error(element, scene()), 1e-12);
}

/// Has an entry on one side of the Hessian's diagonal that the other side lacks: too small for differences to
/// see.
class IsUnsymmetric final : public Link {
public:
    IsUnsymmetric() : Link(sound(Mat3::Identity())) {}
    void gradient_and_hessian(const State& state, ElementVector& g, ElementMatrix& H) const override {
        Link::gradient_and_hessian(state, g, H);
        H(3, 8) += 1e-9 * H.norm();
    }
};

TEST(ElementCheck, SeesAnUnsymmetricHessianBelowWhatDifferencesCanSee) {
    const IsUnsymmetric element;
    EXPECT_GT(asymmetry(element, scene()), 1e-10);  // 1.4e-9 was put in
    EXPECT_LT(hessian_error(element, scene()), central_difference_accuracy);
    EXPECT_LT(gradient_error(element, scene()), complex_step_accuracy);
    EXPECT_LT(rigid_motion_error(element, scene()), 1e-12);
}

TEST(ElementCheck, SeesAnEnergyThatKnowsTheWorldsAxes) {
    const Link element = sound(Vec3(1, 2, 3).asDiagonal());
    EXPECT_GT(rigid_motion_error(element, scene()), seen);
    check_derivatives(element, scene());
}

}  // namespace
}  // namespace limbwright::testing::element_check_test
