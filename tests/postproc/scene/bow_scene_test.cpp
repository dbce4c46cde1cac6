#include "postproc/scene/bow_scene.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <regex>

#include "tests/support/piece_check.hpp"
#include "tests/support/small_bow.hpp"

namespace limbwright::postproc::bow_scene_test {
namespace {

struct Drawn {
    models::StrungBow strung;
    models::Draw draw;
    explicit Drawn(const models::Bow& bow)
        : strung(testing::strung(bow)),
          draw(models::draw(strung, {.full_draw = {}, .states = 3, .path = {}})) {}
};

const Drawn& uneven() {
    static const Drawn drawn(testing::small_uneven_bow());
    return drawn;
}

TEST(Fields, TheParameterIsTheDrawFromBrace) {
    const std::vector<Scene> scenes = scenes_of(uneven().strung, uneven().draw);
    ASSERT_EQ(scenes.size(), 3U);
    EXPECT_NEAR(scenes[0].parameter, 0, 1e-9);
    EXPECT_NEAR(scenes[2].parameter, 600 - uneven().draw.states[0].draw, 1e-9);
}

TEST(Fields, EveryStateShowsTheSamePiecesInTheSameOrder) {
    const std::vector<Scene> scenes = scenes_of(uneven().strung, uneven().draw);
    const std::vector<std::string> names = testing::names_of(scenes[0].pieces);
    EXPECT_EQ(testing::names_of(scenes[2].pieces), names);
    for (const std::string name : {"riser", "limb bottom left", "axle top", "cam top take-up track",
                                   "cam bottom hub", "spacer top left 1", "string below the nock",
                                   "cable of the bottom take-up", "guide slide", "nocking point", "arrow"})
        EXPECT_EQ(std::ranges::count(names, name), 1) << name;
}

TEST(Fields, ACableEndsInItsTracksGroove) {
    const Scene scene = scene_of(uneven().strung, uneven().draw.states[2]);
    const Vec3 post = testing::piece_of(scene.pieces, "cable of the top take-up").points.front();
    const Piece& track = testing::piece_of(scene.pieces, "cam top take-up track");
    double nearest = INFINITY;
    for (std::size_t i = 0; i < track.points.size() / 2;
         ++i) {  // both faces' rims have their points in one order
        const Vec3 rim = 0.5 * (track.points[i] + track.points[i + track.points.size() / 2]);
        nearest = std::min(nearest, (rim - post).norm());
    }
    // Rim points stand every 3 degrees on a radius of 45 mm: 1.18 mm to the nearest at most.
    EXPECT_LT(nearest, 1.2);
}

std::string with_flanks_exchanged(const std::string& name) {
    if (name.find("left") != std::string::npos) return std::regex_replace(name, std::regex("left"), "right");
    return std::regex_replace(name, std::regex("right"), "left");
}

TEST(Fields, TheMirroredBowGivesTheMirroredScene) {
    const Drawn other(mirrored(testing::small_uneven_bow()));
    const Scene here = scene_of(uneven().strung, uneven().draw.states[1]);
    const Scene there = scene_of(other.strung, other.draw.states[1]);
    // Both states are stationary to 1e-13 of some 5e4 N mm of energy: at 10 N/mm, to some 1e-5 mm.
    constexpr double tolerance = 1e-4;
    ASSERT_EQ(here.pieces.size(), there.pieces.size());
    for (const Piece& piece : here.pieces) {
        const Piece& image = testing::piece_of(there.pieces, with_flanks_exchanged(piece.name));
        ASSERT_EQ(piece.points.size(), image.points.size());
        const auto reflected = [](const Vec3& p) { return Vec3(p.x(), -p.y(), p.z()); };
        EXPECT_LT((testing::mean_point(image) - reflected(testing::mean_point(piece))).norm(), tolerance)
            << piece.name;
        // An axle rolls with the left limb's tip, which changes nothing but where the points of round pieces
        // stand.
        const std::string kind = piece.name.substr(0, piece.name.find(' '));
        if (kind == "axle" || kind == "spacer" || piece.name.ends_with("hub")) continue;
        // The points of a mirrored section come in another order: every point must find its image.
        for (const Vec3& point : piece.points) {
            double nearest = INFINITY;
            for (const Vec3& candidate : image.points)
                nearest = std::min(nearest, (candidate - reflected(point)).norm());
            EXPECT_LT(nearest, tolerance) << piece.name;
        }
    }
}

TEST(Fields, TheCamsOfABowThatLiesInItsPlaneStayUpright) {
    const Drawn plane(testing::small_bow());
    const Scene scene = scene_of(plane.strung, plane.draw.states[2]);
    for (const std::string name : {"cam top string track", "cam bottom take-up track"}) {
        // A disc of one and a half times the cable's 2.4 mm, in the bow's plane.
        const testing::Extent lateral = testing::extent(testing::piece_of(scene.pieces, name), 1);
        EXPECT_NEAR(lateral.low, -1.8, 1e-6) << name;
        EXPECT_NEAR(lateral.high, 1.8, 1e-6) << name;
    }
}

}  // namespace
}  // namespace limbwright::postproc::bow_scene_test
