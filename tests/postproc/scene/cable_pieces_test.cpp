#include "postproc/scene/cable_pieces.hpp"

#include <gtest/gtest.h>

#include "tests/support/piece_check.hpp"
#include "tests/support/small_bow.hpp"

namespace limbwright::postproc::cable_pieces_test {
namespace {

using testing::extent;
using testing::mean_point;
using testing::piece_of;

const models::StrungBow& uneven() {
    static const models::StrungBow bow = testing::strung(testing::small_uneven_bow());
    return bow;
}

TEST(CablePieces, EveryCableShowsItsTensionAllAlong) {
    const std::vector<Piece> pieces = cable_pieces(uneven().bow, uneven().brace.state);
    const std::vector<models::CablePart> parts = uneven().bow.all_cables();
    ASSERT_EQ(pieces.size(), parts.size());
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const double tension = uneven().bow.cable(parts[i]).tension(uneven().brace.state);
        EXPECT_GT(tension, 0);
        EXPECT_EQ(pieces[i].name, parts[i].name);
        EXPECT_EQ(testing::field_of(pieces[i], "tension").values,
                  std::vector<double>(pieces[i].points.size(), tension));
    }
}

TEST(CablePieces, BothHalvesOfTheStringAndTheArrowBeginAtTheNockingPoint) {
    const solver::State& state = uneven().brace.state;
    const Vec3 nock = pose(uneven().bow.nock_frame, state).position;
    const std::vector<Piece> cables = cable_pieces(uneven().bow, state);
    const std::vector<Piece> arrow = arrow_pieces(uneven().bow, state);
    EXPECT_EQ(piece_of(cables, "string above the nock").points.front(), nock);
    EXPECT_EQ(piece_of(cables, "string below the nock").points.front(), nock);
    EXPECT_EQ(piece_of(arrow, "arrow").points.front(), nock);
    EXPECT_LT((mean_point(piece_of(arrow, "nocking point")) - nock).norm(), 1e-9);
}

TEST(CablePieces, TheArrowEndsAtItsRest) {
    const models::AssembledBow& bow = uneven().bow;
    EXPECT_LT((piece_of(arrow_pieces(bow, bow.rest), "arrow").points.back() - bow.bow.shooter.rest).norm(),
              1e-9);
}

TEST(CablePieces, CablesRunThroughTheGuidesSlide) {
    const solver::State& state = uneven().brace.state;
    const Piece slide = piece_of(guide_pieces(uneven().bow, state), "guide slide");
    for (const std::string name : {"cable of the top take-up", "cable of the bottom take-up"}) {
        const std::vector<Piece> cables = cable_pieces(uneven().bow, state);
        EXPECT_TRUE(std::ranges::any_of(piece_of(cables, name).points, [&](const Vec3& point) {
            bool is_inside = true;
            for (int axis = 0; axis < 3; ++axis)
                is_inside &= extent(slide, axis).low < point[axis] && point[axis] < extent(slide, axis).high;
            return is_inside;
        })) << name;
    }
}

TEST(CablePieces, AStiffGuideRodKeepsItsFootOnTheRiserWhileTheSlideMoves) {
    const models::AssembledBow& bow = uneven().bow;
    solver::State slid = bow.rest;
    slid.at(*bow.guide.slide) = 12;
    const double foot = bow.bow.guide.position.x() + bow.bow.guide.rod_length;
    EXPECT_NEAR(extent(piece_of(guide_pieces(bow, slid), "guide rod"), 0).high, foot, 1e-9);
    EXPECT_NEAR(extent(piece_of(guide_pieces(bow, slid), "guide rod"), 0).low,
                bow.bow.guide.position.x() + 12, 1e-9);
}

TEST(CablePieces, WithoutAGuideNoneIsShown) {
    models::Bow bow = testing::small_bow();
    bow.guide = {};
    const models::AssembledBow assembled = assemble(bow);
    EXPECT_TRUE(guide_pieces(assembled, assembled.rest).empty());
}

TEST(CablePieces, RollersAreShownWithoutARod) {
    models::Bow bow = testing::small_bow();
    bow.guide.kind = models::GuideKind::rollers;
    const models::AssembledBow assembled = assemble(bow);
    EXPECT_EQ(testing::names_of(guide_pieces(assembled, assembled.rest)),
              std::vector<std::string>{"guide rollers"});
}

}  // namespace
}  // namespace limbwright::postproc::cable_pieces_test
