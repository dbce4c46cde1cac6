#include "models/states/bow_masses.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "tests/support/strung.hpp"

namespace limbwright::models::bow_masses_test {
namespace {

using std::numbers::pi;

constexpr double rounding = 1e-12;

double mass_of(const BowMasses& masses, const std::string& part) {
    for (const PartMass& p : masses.parts)
        if (p.name == part) return solver::total_mass(p.bodies);
    throw std::runtime_error("no part is called " + part);
}

/// Bodies do not ask for an equilibrium: the bow at rest will do.
BowMasses masses_of(const Bow& bow) {
    const AssembledBow assembled = assemble(bow);
    return bow_masses(assembled, assembled.rest);
}

/// Volume between two rectangles: L (A₀ + 4 Aₘ + A₁)/6.
double volume(double length, double w0, double t0, double w1, double t1) {
    return length / 6 * (w0 * t0 + (w0 + w1) * (t0 + t1) + w1 * t1);
}

TEST(BowMasses, EveryPartHasTheMassOfItsVolume) {
    const BowMasses masses = masses_of(testing::small_bow());
    const double half_riser = volume(std::hypot(141, 300), 46, 34, 28, 46);
    EXPECT_NEAR(mass_of(masses, "riser") / (2 * half_riser * 0.6 * 2.7e-9), 1, rounding);
    const double limb = volume(160, 24, 9, 24, 7.3) + volume(160, 24, 7.3, 24, 5.4);
    EXPECT_NEAR(mass_of(masses, "top limbs") / (2 * limb * 1.9e-9), 1, rounding);
    EXPECT_NEAR(mass_of(masses, "bottom limbs") / (2 * limb * 1.9e-9), 1, rounding);
    const double axle = pi / 4 * 4.8 * 4.8 * 82 * 7.85e-9;
    EXPECT_NEAR(mass_of(masses, "top cam") / (axle + 120e-6), 1, rounding);
}

TEST(BowMasses, StringAndCablesWeighTheirNaturalLengths) {
    const StrungBow strung = testing::strung(testing::small_bow());
    const BowMasses masses = bow_masses(strung.bow, strung.brace.state);
    const NaturalLengths& lengths = strung.lengths;
    EXPECT_NEAR(mass_of(masses, "string") / (4e-9 * (lengths.string_above + lengths.string_below)), 1,
                rounding);
    EXPECT_NEAR(mass_of(masses, "cables") / (4e-9 * (lengths.cables[0] + lengths.cables[1])), 1, rounding);
}

TEST(BowMasses, WhatTheBowGivesIsTakenAndNotNoted) {
    Bow bow = testing::small_bow();
    bow.limb.material.density = 2e-9;
    bow.cam_top.mass = 80e-6;
    const BowMasses masses = masses_of(bow), assumed = masses_of(testing::small_bow());
    EXPECT_NEAR(mass_of(masses, "top limbs") / mass_of(assumed, "top limbs"), 2 / 1.9, rounding);
    EXPECT_NEAR(mass_of(assumed, "top cam") - mass_of(masses, "top cam"), 40e-6, 1e-15);
    EXPECT_EQ(std::ranges::count(assumed.assumed, "limbs: 1900 kg/m3"), 1);
    EXPECT_EQ(std::ranges::count(masses.assumed, "limbs: 1900 kg/m3"), 0);
    EXPECT_EQ(std::ranges::count(assumed.assumed, "top cam: 120 g"), 1);
    EXPECT_EQ(std::ranges::count(masses.assumed, "top cam: 120 g"), 0);
    EXPECT_EQ(std::ranges::count(masses.assumed, "bottom cam: 120 g"), 1);
}

TEST(BowMasses, ACamWithARoundTrackIsADiscAboutTheTracksCentre) {
    // Disc of radius R and thickness b (any handbook): m R²/2 about its axis, m (3 R² + b²)/12 across.
    const AssembledBow bow = assemble(testing::small_bow());
    const BowMasses masses = bow_masses(bow, bow.rest);
    const auto part = std::ranges::find(masses.parts, "top cam", &PartMass::name);
    const solver::Body& cam = part->bodies.back();
    const solver::Pose on_axle = pose(bow.axles[0].cam, bow.rest).inverse() * pose(cam.frame, bow.rest);
    EXPECT_LT((on_axle.position - Vec3(11, -19, 0)).norm(), 1e-9);
    constexpr double polygon = 5e-5;  // of 720 sides: (2π/720)²/3 and less
    EXPECT_NEAR(cam.inertia(2, 2) / (120e-6 * 50 * 50 / 2), 1, polygon);
    EXPECT_NEAR(cam.inertia(0, 0) / (120e-6 * (3 * 50 * 50 + 20 * 20) / 12), 1, polygon);
    EXPECT_NEAR(cam.inertia(1, 1) / (120e-6 * (3 * 50 * 50 + 20 * 20) / 12), 1, polygon);
}

TEST(BowMasses, AnAxleThatEndsInsideTheTipsStillWeighsItsOwn) {
    Bow bow = testing::small_bow();
    bow.axle_top.length = 45;
    bow.cam_top.mass = 0;
    EXPECT_NEAR(mass_of(masses_of(bow), "top cam") / (pi / 4 * 4.8 * 4.8 * 45 * 7.85e-9), 1, rounding);
}

TEST(BowMasses, ARodThatBendsIsAPartOfItsOwn) {
    Bow bow = testing::small_bow();
    bow.guide.kind = GuideKind::bending_rod;
    bow.guide.rod_diameter = 9;
    bow.guide.rod_material = {60000, 24000};
    EXPECT_NEAR(mass_of(masses_of(bow), "guide rod") / (pi / 4 * 81 * 150 * 1.6e-9), 1, rounding);
}

TEST(BowMasses, AnIdlerIsLighterThanACam) {
    const BowMasses masses = masses_of(testing::demo_bow("single_cam"));
    EXPECT_EQ(std::ranges::count(masses.assumed, "top idler: 40 g"), 1);
    EXPECT_LT(mass_of(masses, "top idler"), mass_of(masses, "bottom cam"));
}

}  // namespace
}  // namespace limbwright::models::bow_masses_test
