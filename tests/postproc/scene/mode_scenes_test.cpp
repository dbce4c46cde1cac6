#include "postproc/scene/mode_scenes.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/support/piece_check.hpp"
#include "tests/support/small_bow.hpp"

namespace limbwright::postproc::mode_scenes_test {
namespace {

/// The small bow at brace with the film of its second mode.
struct Film {
    models::StrungBow strung = testing::strung(testing::small_uneven_bow());
    models::DrawState brace;
    models::BowModes modes;
    std::vector<Scene> scenes;
    Film() {
        brace.state = strung.brace.state;
        brace.draw = -brace.state.at(strung.bow.nock[0]);
        modes = std::get<models::BowModes>(
            models::bow_modes(strung.bow, brace.state, held_at_brace(strung.bow), 3));
        scenes = mode_scenes(strung, brace, modes.lowest[1], 8);
    }
};
const Film& film() {
    static const Film made;
    return made;
}

/// Farthest that a point of the bars and cables stands from where it stands in the state itself [mm].
double farthest(const Scene& scene) {
    double most = 0;
    for (const char* name : {"riser", "limb top left", "limb bottom right", "nocking point"}) {
        const Piece &here = testing::piece_of(scene.pieces, name),
                    &still = testing::piece_of(film().scenes[0].pieces, name);
        for (std::size_t i = 0; i < here.points.size(); ++i)
            most = std::max(most, (here.points[i] - still.points[i]).norm());
    }
    return most;
}

TEST(ModeScenes, AFilmBeginsInTheStateItselfAndPassesItHalfWay) {
    const Scene still = scene_of(film().strung, film().brace);
    const Vec3 there = testing::piece_of(still.pieces, "limb top left").points.back();
    EXPECT_LT((testing::piece_of(film().scenes[0].pieces, "limb top left").points.back() - there).norm(),
              1e-9);
    EXPECT_LT(farthest(film().scenes[4]), 1e-9);
}

TEST(ModeScenes, TheParameterIsTheShareOfThePeriod) {
    ASSERT_EQ(film().scenes.size(), 8u);
    for (std::size_t i = 0; i < 8; ++i)
        EXPECT_DOUBLE_EQ(film().scenes[i].parameter, static_cast<double>(i) / 8);
}

TEST(ModeScenes, TheFarthestPointMovesFarEnoughToBeSeen) {
    // Sections' corners may move somewhat farther than their centres, whose farthest moves 20 mm unless a
    // turn of 0.3 rad comes first.
    EXPECT_GT(farthest(film().scenes[2]), 4);
    EXPECT_LT(farthest(film().scenes[2]), 35);
}

TEST(ModeScenes, TheBowSwingsBackAsFar) {
    const auto tip = [](std::size_t scene) {
        return testing::piece_of(film().scenes[scene].pieces, "limb top left").points.back();
    };
    const Vec3 out = tip(2) - tip(0), back = tip(6) - tip(0);
    // Turns of up to 0.3 rad leave a second-order rest.
    EXPECT_LT((out + back).norm(), 0.3 * out.norm());
}

}  // namespace
}  // namespace limbwright::postproc::mode_scenes_test
