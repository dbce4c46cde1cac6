#include "models/input/units.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace limbwright::models::units_test {
namespace {

TEST(Units, InchesLeaveInMillimetres) {
    EXPECT_DOUBLE_EQ(quantity_in("33 in", units::length).value(), 838.2);
    EXPECT_DOUBLE_EQ(quantity_in("33\"", units::length).value(), 838.2);
    EXPECT_DOUBLE_EQ(quantity_in("+33inches", units::length).value(), 838.2);
    EXPECT_DOUBLE_EQ(quantity_in(" 838.2  mm ", units::length).value(), 838.2);
}

TEST(Units, PoundsOfForceLeaveInNewtons) {
    EXPECT_DOUBLE_EQ(quantity_in("70 lbf", units::force).value(), 70 * 0.45359237 * 9.80665);
    EXPECT_DOUBLE_EQ(quantity_in("70 lb", units::force).value(), 70 * 0.45359237 * 9.80665);
}

TEST(Units, DegreesLeaveInRadians) {
    EXPECT_DOUBLE_EQ(quantity_in("180 deg", units::angle).value(), std::numbers::pi);
    EXPECT_DOUBLE_EQ(quantity_in("180°", units::angle).value(), std::numbers::pi);
    EXPECT_DOUBLE_EQ(quantity_in("0.5 rad", units::angle).value(), 0.5);
}

TEST(Units, StressesLeaveInMegapascals) {
    EXPECT_DOUBLE_EQ(quantity_in("45 GPa", units::stress).value(), 45000);
    EXPECT_DOUBLE_EQ(quantity_in("45000 N/mm²", units::stress).value(), 45000);
    EXPECT_DOUBLE_EQ(quantity_in("45000 N/mm^2", units::stress).value(), 45000);
    EXPECT_NEAR(quantity_in("1 psi", units::stress).value(), 6894.757293168e-6, 1e-15);  // exact to 13 digits
}

TEST(Units, TorquesAreReadHoweverTheirPartsAreJoined) {
    for (const char* text : {"2 N m", "2 Nm", "2 N*m", "2 N·m", "2000 N mm", "2000 Nmm"})
        EXPECT_DOUBLE_EQ(quantity_in(text, units::torque).value(), 2000) << text;
    EXPECT_DOUBLE_EQ(quantity_in("2 lbf in", units::torque).value(),
                     quantity_in("2 in lbf", units::torque).value());
}

TEST(Units, SpringRatesOfBothWorldsAgree) {
    EXPECT_DOUBLE_EQ(quantity_in("20 N/mm", units::spring_rate).value(), 20);
    EXPECT_DOUBLE_EQ(quantity_in("20000 N/m", units::spring_rate).value(), 20);
    EXPECT_DOUBLE_EQ(quantity_in("10 lbf/in", units::spring_rate).value(), 10 * 4.4482216152605 / 25.4);
}

TEST(Units, TorquePerAngleAndCurvatureAreKnown) {
    EXPECT_DOUBLE_EQ(quantity_in("2 N m/rad", units::turn_rate).value(), 2000);
    EXPECT_DOUBLE_EQ(quantity_in("1 N mm/deg", units::turn_rate).value(), 180 / std::numbers::pi);
    EXPECT_DOUBLE_EQ(quantity_in("1.2 1/m", units::curvature).value(), 0.0012);
}

TEST(Units, MassesLeaveInTonnes) {
    EXPECT_DOUBLE_EQ(quantity_in("120 g", units::mass).value(), 120e-6);
    EXPECT_DOUBLE_EQ(quantity_in("2 lb", units::mass).value(), 2 * 0.45359237e-3);
    EXPECT_DOUBLE_EQ(quantity_in("16 oz", units::mass).value(), 0.45359237e-3);
    EXPECT_DOUBLE_EQ(quantity_in("7000 grains", units::mass).value(), 0.45359237e-3);
}

TEST(Units, DensitiesLeaveInTonnesPerCubicMillimetre) {
    for (const char* text : {"2700 kg/m3", "2700 kg/m³", "2700 kg/m^3", "2.7 g/cm3"})
        EXPECT_DOUBLE_EQ(quantity_in(text, units::density).value(), 2.7e-9) << text;
    EXPECT_NEAR(quantity_in("1 lb/in3", units::density).value(), 27679.904710e-12,
                1e-17);  // exact to 10 digits
}

TEST(Units, MassesPerLengthOfBothWorldsAgree) {
    EXPECT_DOUBLE_EQ(quantity_in("4 g/m", units::line_mass).value(), 4e-9);
    EXPECT_DOUBLE_EQ(quantity_in("12 gr/ft", units::line_mass).value(),
                     quantity_in("1 gr/in", units::line_mass).value());
}

TEST(Units, ABareNumberIsNoQuantity) {
    EXPECT_FALSE(quantity_in("33", units::length));
    EXPECT_TRUE(number_in("33"));
}

TEST(Units, WhatIsNotANumberAndAUnitIsRefused) {
    for (const char* text :
         {"", " ", "in", "33 furlongs", "33 in in", "3,5 mm", "1e999 mm", "33 IN", "+-3 mm", "- 3 mm"})
        EXPECT_FALSE(quantity_in(text, units::length)) << text;
}

TEST(Units, MilliAndMegaAreToldApart) {
    EXPECT_TRUE(quantity_in("1 MPa", units::stress));
    EXPECT_FALSE(quantity_in("1 mPa", units::stress));
}

TEST(Units, TheDimensionOfATextIsFound) {
    EXPECT_EQ(dimension_of("70 lbf"), &units::force);
    EXPECT_EQ(dimension_of("70 N m"), &units::torque);
    EXPECT_EQ(dimension_of("seventy"), nullptr);
}

TEST(Units, WrittenQuantitiesAreShort) {
    EXPECT_EQ(written(quantity_in("2.5 deg", units::angle).value(), units::angle), "2.5 deg");
    EXPECT_EQ(written(838.2, units::length), "838.2 mm");
    EXPECT_EQ(written(-0.0, units::length), "0 mm");
    EXPECT_EQ(written(quantity_in("33 in", units::length).value(), units::length), "838.2 mm");
    EXPECT_EQ(written(310, units::force), "310 N");
}

TEST(Units, WrittenQuantitiesReadBackToTheLastBits) {
    for (const double value : {1.0 / 3, 1e-300, 6.02214076e23, -17.123456789012345})
        EXPECT_DOUBLE_EQ(quantity_in(written(value, units::length), units::length).value(), value);
    for (double value = -3; value < 3; value += 0.0101)
        EXPECT_DOUBLE_EQ(quantity_in(written(value, units::angle), units::angle).value(), value);
}

TEST(Units, LiteralsMeanWhatTheTextMeans) {
    using namespace literals;
    EXPECT_DOUBLE_EQ(33.0_in, quantity_in("33 in", units::length).value());
    EXPECT_DOUBLE_EQ(70.0_lbf, quantity_in("70 lbf", units::force).value());
    EXPECT_DOUBLE_EQ(2.5_deg, quantity_in("2.5 deg", units::angle).value());
    EXPECT_DOUBLE_EQ(4.5_mm, quantity_in("4.5 mm", units::length).value());
}

}  // namespace
}  // namespace limbwright::models::units_test
