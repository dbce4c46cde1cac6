#include "models/bow/upside_down_cam.hpp"

#include <gtest/gtest.h>

namespace limbwright::models::upside_down_cam_test {
namespace {

Cam lopsided_cam() {
    Cam cam;
    cam.hub = 26;
    cam.stop = 3.0;
    cam.string.circle = Track::Circle{.centre = Vec2(3, -8), .radius = 40};
    cam.string.anchor = 1.5;
    cam.string.lateral = 4;
    cam.take_up = Track{};
    cam.take_up->traced = Track::Traced{.file = "t.csv", .points = {Vec2(1, 2), Vec2(-3, 4), Vec2(5, -6)}};
    cam.let_out = Track{};
    cam.let_out->support = Track::Support{.file = "s.csv", .direction = {-1, 0, 2}, .distance = {10, 11, 12}};
    return cam;
}

TEST(FlippedCam, ACirclesCentreAndAnAnchorChangeSides) {
    const Cam image = flipped(lopsided_cam());
    EXPECT_EQ(image.string.circle->centre, Vec2(3, 8));
    EXPECT_EQ(image.string.circle->radius, 40);
    EXPECT_EQ(image.string.anchor, -1.5);
}

TEST(FlippedCam, WhatIsNotInThePlaneStays) {
    const Cam image = flipped(lopsided_cam());
    EXPECT_EQ(image.hub, 26);
    EXPECT_EQ(image.stop, 3.0);
    EXPECT_EQ(image.string.lateral, 4);
}

TEST(FlippedCam, PointsRunRoundTheGrooveInTheSameSense) {
    const std::vector<Vec2> wanted{Vec2(5, 6), Vec2(-3, -4), Vec2(1, -2)};
    EXPECT_EQ(flipped(lopsided_cam()).take_up->traced->points, wanted);
}

TEST(FlippedCam, DirectionsStillRiseAndKeepTheirDistances) {
    const Cam image = flipped(lopsided_cam());
    EXPECT_EQ(image.let_out->support->direction, (std::vector<double>{-2, 0, 1}));
    EXPECT_EQ(image.let_out->support->distance, (std::vector<double>{12, 11, 10}));
}

}  // namespace
}  // namespace limbwright::models::upside_down_cam_test
