#include "solver/elements/element.hpp"

#include "tests/support/element_check.hpp"
#include "tests/support/link.hpp"

namespace limbwright::solver::element_test {
namespace {

using testing::Link;
using testing::Random;

const Pose offset{exp<double>(Vec3(0.4, -0.3, 0.5)), Vec3(3, -4, 2)};

Joint hinge(int scalar) {
    return {JointKind::hinge, Vec3(0.6, 0, 0.8), ScalarId(scalar), offset};
}

State scene() {
    Random random(5);
    State state;
    state.nodes = {random.pose(1.5, 10), random.pose(1.5, 10)};
    state.points = {random.vector(10)};
    state.scalars = {0.7, -1.2};
    return state;
}

TEST(Touch, KnowsItsWidthAndItsPlace) {
    const Numbering n{.nodes = 2, .points = 1, .scalars = 2};
    const Touch node{.node = NodeId(1)}, point{.point = PointId(0)}, scalar{.scalar = ScalarId(1)};
    EXPECT_EQ(node.width(), 6);
    EXPECT_EQ(point.width(), 3);
    EXPECT_EQ(scalar.width(), 1);
    EXPECT_EQ(node.first(n), 6);
    EXPECT_EQ(point.first(n), 12);
    EXPECT_EQ(scalar.first(n), 16);
    EXPECT_EQ(freedom_count({node, point, scalar}), 10);
}

TEST(TouchList, GivesEveryIncrementOfAFrameItsPlace) {
    TouchList list;
    EXPECT_EQ(list.add(Frame::on(PointId(0)).then(hinge(1))), (std::vector<int>{0, 1, 2, 3}));
    EXPECT_EQ(list.add(Frame::on(NodeId(1))), (std::vector<int>{4, 5, 6, 7, 8, 9}));
    EXPECT_EQ(list.size(), 10);
}

TEST(TouchList, ListsWhatTwoFramesShareOnce) {
    TouchList list;
    const std::vector<int> first = list.add(Frame::on(NodeId(1)).then(hinge(0)));
    const std::vector<int> second = list.add(Frame::on(NodeId(1), offset).then(hinge(1)).then(hinge(0)));
    EXPECT_EQ(first, (std::vector<int>{0, 1, 2, 3, 4, 5, 6}));
    EXPECT_EQ(second, (std::vector<int>{0, 1, 2, 3, 4, 5, 7, 6}));
    EXPECT_EQ(list.touches().size(), 3u);
    EXPECT_EQ(list.size(), 8);
}

TEST(TouchList, KnowsASlidesScalarAsALength) {
    TouchList list;
    list.add(Frame::on_ground().then(hinge(0)).then({JointKind::slide, Vec3::UnitX(), ScalarId(1), {}}));
    EXPECT_FALSE(list.touches()[0].slides);
    EXPECT_TRUE(list.touches()[1].slides);
}

TEST(TouchList, RefusesAScalarThatIsAnAngleHereAndALengthThere) {
    TouchList list;
    list.add(Frame::on_ground().then(hinge(0)));
    EXPECT_THROW(list.add(Frame::on_ground().then({JointKind::slide, Vec3::UnitX(), ScalarId(0), {}})),
                 std::invalid_argument);
}

TEST(TouchList, RefusesMoreFreedomsThanAnElementsVectorsHold) {
    TouchList list;
    for (int i = 0; i < max_element_freedoms / 6; ++i) list.add(Frame::on(NodeId(i)));
    EXPECT_THROW(list.add(Frame::on(NodeId(max_element_freedoms))), std::length_error);
}

TEST(TouchList, AFrameOnTheGroundTouchesNothing) {
    TouchList list;
    EXPECT_TRUE(list.add(Frame::on_ground(offset)).empty());
    EXPECT_EQ(list.size(), 0);
}

TEST(PullBack, IsExactBetweenOffsetNodes) {
    testing::check_derivatives(
        Link(Frame::on(NodeId(0), offset), Frame::on(NodeId(1), offset), Mat3::Identity()), scene());
}

TEST(PullBack, IsExactThroughTwoHingesOnEachSide) {
    const Frame from = Frame::on(NodeId(0), offset).then(hinge(0)).then(hinge(1));
    const Frame to = Frame::on(PointId(0)).then(hinge(1)).then(hinge(0));
    testing::check_derivatives(Link(from, to, Mat3::Identity()), scene());
}

TEST(PullBack, IsExactWithBothFramesOnOneNode) {
    const Frame from = Frame::on(NodeId(0), offset);
    const Frame to = Frame::on(NodeId(0)).then(hinge(0)).then(hinge(1));
    testing::check_derivatives(Link(from, to, Vec3(1, 2, 3).asDiagonal()), scene());
}

TEST(PullBack, IsExactFromTheGround) {
    const Frame to = Frame::on(NodeId(1), offset).then(hinge(0));
    testing::check_derivatives(Link(Frame::on_ground(offset), to, Mat3::Identity()), scene());
}

TEST(PullBack, AddsToWhatIsThere) {
    const Frame node = Frame::on(NodeId(0));
    const FrameMotion motion(node, scene());
    ElementVector g = ElementVector::Ones(6);
    add_pulled_back<double>(motion, {0, 1, 2, 3, 4, 5}, Vec6::Constant(2), g);
    EXPECT_LT((g - ElementVector::Constant(6, 3)).norm(), 1e-14);  // rounding of RᵀR
}

}  // namespace
}  // namespace limbwright::solver::element_test
