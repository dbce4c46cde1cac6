#include "models/bow/starter.hpp"

#include <gtest/gtest.h>

#include <limits>

#include "models/bow/bow_file.hpp"
#include "models/input/units.hpp"

namespace limbwright::models::starter_test {
namespace {

using namespace literals;

BenchNumbers common_bow() {
    return {.axle_to_axle = 33.0_in,
            .brace_height = 7.0_in,
            .draw_length = 29.0_in,
            .peak_weight = 60.0_lbf,
            .limb_length = 300,
            .limb_width_root = 22,
            .limb_width_tip = 18,
            .limb_thickness_root = 10,
            .limb_thickness_tip = 8};
}

Bow read(const BenchNumbers& bench) {
    return bow_from_toml(starter_bow(bench), "starter.toml");
}

std::string said(const BenchNumbers& bench) {
    try {
        (void)starter_bow(bench);
    } catch (const InputError& error) {
        return error.what();
    }
    return "nothing";
}

TEST(Starter, BenchNumbersComeBackAsTheyWere) {
    const BenchNumbers bench = common_bow();
    const Bow bow = read(bench);
    EXPECT_DOUBLE_EQ(bow.brace.axle_to_axle, bench.axle_to_axle);
    EXPECT_DOUBLE_EQ(bow.brace.brace_height.value(), bench.brace_height);
    EXPECT_DOUBLE_EQ(bow.shooter.draw_length.value(), bench.draw_length);
    EXPECT_DOUBLE_EQ(bow.limb.length, bench.limb_length);
    EXPECT_DOUBLE_EQ(bow.limb.stations.front().width, bench.limb_width_root);
    EXPECT_DOUBLE_EQ(bow.limb.stations.back().width, bench.limb_width_tip);
    EXPECT_DOUBLE_EQ(bow.limb.stations.front().thickness, bench.limb_thickness_root);
    EXPECT_DOUBLE_EQ(bow.limb.stations.back().thickness, bench.limb_thickness_tip);
    EXPECT_EQ(bow.cables.system, CableSystem::crossed);
}

TEST(Starter, LimbsAreAsStiffAsThePeakWeightAsks) {
    BenchNumbers twice = common_bow();
    twice.peak_weight *= 2;
    const double ratio = read(twice).limb.spring_rate.value() / read(common_bow()).limb.spring_rate.value();
    EXPECT_NEAR(ratio, 2, 0.01);  // both are written with three digits
}

TEST(Starter, CamsAreAsLargeAsThePowerStrokeAsks) {
    BenchNumbers shorter = common_bow();
    const double stroke = shorter.draw_length - 1.75_in - shorter.brace_height;
    shorter.draw_length -= stroke / 2;
    const double ratio =
        read(shorter).cam_top.string.circle->radius / read(common_bow()).cam_top.string.circle->radius;
    EXPECT_NEAR(ratio, 0.5, 0.002);  // both are written to a tenth of a millimetre
}

TEST(Starter, ALeftHandedBowIsTheMirrorImage) {
    BenchNumbers left = common_bow();
    left.hand = Hand::left;
    EXPECT_EQ(bow_to_toml(read(left)), bow_to_toml(mirrored(read(common_bow()))));
}

TEST(Starter, EveryLineWithAValueSaysWhetherItIsBenchOrGuess) {
    const std::string text = starter_bow(common_bow());
    for (const char* line :
         {"axle_to_axle = \"838.2 mm\"  # bench\n", "play = \"0.2 mm\"  # guess", "fill = 0.5  # guess"})
        EXPECT_NE(text.find(line), std::string::npos) << line;
}

TEST(Starter, AnyBowOfCommonSizeReadsBack) {
    for (const double axle_to_axle : {28.0_in, 33.0_in, 40.0_in})
        for (const double limb_length : {220.0, 260.0, 300.0, 400.0})
            for (const double draw_length : {20.0_in, 25.0_in, 32.0_in}) {
                BenchNumbers bench = common_bow();
                bench.axle_to_axle = axle_to_axle;
                bench.limb_length = limb_length;
                bench.draw_length = draw_length;
                EXPECT_NO_THROW((void)read(bench))
                    << axle_to_axle << " " << limb_length << " " << draw_length;
            }
}

TEST(Starter, EveryBenchNumberThatCannotBeIsTold) {
    BenchNumbers bench = common_bow();
    bench.axle_to_axle = 33;
    bench.peak_weight = std::numeric_limits<double>::quiet_NaN();
    bench.limb_thickness_tip = 0;
    EXPECT_EQ(said(bench),
              "axle_to_axle must lie between 400 mm and 1500 mm, but is 33 mm\n"
              "peak_weight must lie between 20 N and 600 N, but is nan N\n"
              "limb_thickness_tip must lie between 2 mm and 25 mm, but is 0 mm");
}

TEST(Starter, ADrawThatBarelyLeavesBraceIsRefused) {
    BenchNumbers bench = common_bow();
    bench.draw_length = 300;
    EXPECT_EQ(said(bench), "draw_length must leave a power stroke: at least 322.25 mm, but is 300 mm");
}

TEST(Starter, LimbsWithoutRoomForARiserAreRefused) {
    BenchNumbers bench = common_bow();
    bench.limb_length = 700;
    EXPECT_EQ(said(bench),
              "limb_length must leave room for a riser in an axle-to-axle of 838.2 mm: at most 527.546 mm, "
              "but is 700 mm");
}

}  // namespace
}  // namespace limbwright::models::starter_test
