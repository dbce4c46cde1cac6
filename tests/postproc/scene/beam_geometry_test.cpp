#include "postproc/scene/beam_geometry.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/piece_check.hpp"
#include "tests/support/small_bow.hpp"

namespace limbwright::postproc::beam_geometry_test {
namespace {

using testing::field_of;
using testing::piece_of;
using testing::vector_at;

constexpr std::size_t corners = 4;  // of a rectangular section
constexpr std::size_t round_sides = 16;

std::vector<Piece> pieces_of(const models::AssembledBow& bow, const solver::State& state) {
    std::vector<Piece> pieces;
    for (const Bar& bar : bars_of(bow)) pieces.push_back(bar_piece(bow, bar, state));
    return pieces;
}

const models::StrungBow& uneven() {
    static const models::StrungBow bow = testing::strung(testing::small_uneven_bow());
    return bow;
}

const std::vector<Piece>& at_brace() {
    static const std::vector<Piece> pieces = pieces_of(uneven().bow, uneven().brace.state);
    return pieces;
}

/// Unloaded, and turned as a whole by the grip's yaw and pitch.
solver::State unloaded_and_turned(const models::AssembledBow& bow) {
    solver::State state = bow.rest;
    state.at(bow.riser.yaw) = 0.2;
    state.at(bow.riser.pitch) = -0.1;
    const solver::Pose turn = bow_frame(bow, state);
    for (solver::Pose& X : state.nodes) X = turn * X;
    return state;
}

/// By how much the strain at a fibre's two ends, in the mean, misses the fibre's stretch from rest: the
/// largest over all fibres from section to section, relative to the largest strain.
///
/// @param left_out  sections at either end of the bar that are not looked at
double stretch_mismatch(const models::StrungBow& strung, const std::string& bar, std::size_t sides,
                        std::size_t left_out = 0) {
    const std::vector<Piece> all_here = pieces_of(strung.bow, strung.brace.state);
    const std::vector<Piece> all_rest = pieces_of(strung.bow, strung.bow.rest);
    const Piece &here = piece_of(all_here, bar), &rest = piece_of(all_rest, bar);
    const std::vector<double>& strain = field_of(here, "strain").values;
    double worst = 0, largest = 0;
    for (std::size_t p = left_out * sides; p + (left_out + 1) * sides < here.points.size(); ++p) {
        const double before = (rest.points[p + sides] - rest.points[p]).norm();
        const double after = (here.points[p + sides] - here.points[p]).norm();
        const double mean = 0.5 * (strain[p] + strain[p + sides]);
        worst = std::max(worst, std::abs(after / before - 1 - mean));
        largest = std::max(largest, std::abs(mean));
    }
    return worst / largest;
}

TEST(BarPieces, ARiserFourLimbsAndTwoAxlesBend) {
    EXPECT_EQ(testing::names_of(at_brace()),
              (std::vector<std::string>{"riser", "limb top left", "limb top right", "limb bottom left",
                                        "limb bottom right", "axle top", "axle bottom"}));
}

TEST(BarPieces, AForkedLimbIsShownWithItsProngsAndABendingGuideRodIsABarToo) {
    models::Bow bow = testing::small_bow();
    bow.limb.kind = models::LimbKind::solid;
    bow.limb.fork = 60;
    bow.limb.prong_width = 12;
    bow.guide.kind = models::GuideKind::bending_rod;
    bow.guide.rod_diameter = 8;
    bow.guide.rod_material = {70000, 26000};
    const models::AssembledBow assembled = assemble(bow);
    EXPECT_EQ(testing::names_of(pieces_of(assembled, assembled.rest)),
              (std::vector<std::string>{"riser", "limb top", "limb top left prong", "limb top right prong",
                                        "limb bottom", "limb bottom left prong", "limb bottom right prong",
                                        "axle top", "axle bottom", "guide rod"}));
}

TEST(BarPieces, EveryFieldHasItsValuesAtEveryPoint) {
    for (const Piece& piece : at_brace()) {
        EXPECT_EQ(piece.point_fields.size(), 6U) << piece.name;
        for (const Field& field : piece.point_fields)
            EXPECT_EQ(field.values.size(), piece.points.size() * field.components)
                << piece.name << ' ' << field.name;
    }
}

TEST(BarPieces, NothingIsDisplacedOnTheUnloadedBowHoweverTheGripIsTurned) {
    for (const Piece& piece : pieces_of(uneven().bow, unloaded_and_turned(uneven().bow)))
        for (const double u : field_of(piece, "displacement").values)
            EXPECT_NEAR(u, 0, 1e-9) << piece.name;  // rounding of 500 mm over a few products
}

TEST(BarPieces, StringingBringsTheLimbTipsBackAndTogether) {
    const auto tip = [](const std::string& limb) {
        const Piece& piece = piece_of(at_brace(), limb);
        return vector_at(field_of(piece, "displacement"), piece.points.size() - 1);
    };
    EXPECT_LT(tip("limb top left").x(), 0);
    EXPECT_LT(tip("limb top left").z(), 0);
    EXPECT_LT(tip("limb bottom right").x(), 0);
    EXPECT_GT(tip("limb bottom right").z(), 0);
}

TEST(BarPieces, TheLimbTipsHoldWhatStringAndCablesPullAtTheAxle) {
    const models::AssembledBow& bow = uneven().bow;
    const models::AxleParts& axle = bow.axle(models::End::top);
    Vec3 pulled = Vec3::Zero();
    double largest = 0;
    for (const models::CablePart& part : bow.all_cables()) {
        const std::vector<solver::Cable::Pull> pulls = bow.cable(part).pulls(uneven().brace.state);
        for (std::size_t i = 0; i < pulls.size(); ++i)
            if (bow.cable(part).contacts()[i].frame.node == axle.middle) {
                pulled += pulls[i].force;
                largest = std::max(largest, pulls[i].force.norm());
            }
    }
    Vec3 held = Vec3::Zero();
    for (const std::string name : {"limb top left", "limb top right"}) {
        const Piece& limb = piece_of(at_brace(), name);
        const std::size_t tip = limb.points.size() - 1;
        Mat3 axes;
        axes.col(0) = vector_at(field_of(limb, "axis along"), tip);
        axes.col(1) = vector_at(field_of(limb, "axis across"), tip);
        axes.col(2) = axes.col(0).cross(axes.col(1));
        held += axes * vector_at(field_of(limb, "section force"), tip);
    }
    EXPECT_LT((held - pulled).norm(),
              1e-6 * largest);  // the state's own residual is 1e-9 of its largest force
    EXPECT_GT(pulled.norm(), 0.1 * largest);
}

TEST(BarPieces, AForceThatStandsBetweenTwoBeamsIsTheirMean) {
    const models::AssembledBow& bow = uneven().bow;
    const models::LimbRow& row = bow.limbs[0].rows[0];
    const auto forces = [&](std::size_t beam) {
        return static_cast<const solver::Beam&>(*bow.system.elements()[row.beams[beam]])
            .section_forces(uneven().brace.state);
    };
    const Vec3 mean = 0.5 * (forces(1)[1].moment + forces(2)[0].moment);
    const Field& moment = field_of(piece_of(at_brace(), "limb top left"), "section moment");
    EXPECT_LT((vector_at(moment, 2 * corners) - mean).norm(), 1e-12 * mean.norm());
}

/// Nothing is mounted at the sight window's kink, so that both sides carry the same there.
TEST(BarPieces, AForceAtAKinkOfTheRiserIsGivenInTheAxesShownThere) {
    const models::AssembledBow& bow = uneven().bow;
    const models::RiserParts& riser = bow.riser;
    std::size_t kink = 0;
    while (riser.stations[kink].position != Vec3(64, -15, 100)) ++kink;
    const auto& below = static_cast<const solver::Beam&>(*bow.system.elements()[riser.beams[kink - 1]]);
    const solver::Rotation own = pose(below.end2(), uneven().brace.state).rotation;
    const solver::SectionForces carried = below.section_forces(uneven().brace.state)[1];
    const Piece& piece = piece_of(at_brace(), "riser");
    Mat3 axes;
    axes.col(0) = vector_at(field_of(piece, "axis along"), kink * corners);
    axes.col(1) = vector_at(field_of(piece, "axis across"), kink * corners);
    axes.col(2) = axes.col(0).cross(axes.col(1));
    const auto difference = [&](const char* field, const Vec3& expected) {
        return (axes * vector_at(field_of(piece, field), kink * corners) - own * expected).norm() /
               expected.norm();
    };
    // What is left is the state's own residual.
    EXPECT_LT(difference("section force", carried.force), 1e-6);
    EXPECT_LT(difference("section moment", carried.moment), 1e-6);
    EXPECT_GT((axes.col(0) - own * Vec3(Vec3::UnitX())).norm(), 0.1);
}

TEST(BarPieces, ALimbIsStretchedOnTheSideAwayFromTheArcher) {
    for (const std::string name :
         {"limb top left", "limb top right", "limb bottom left", "limb bottom right"}) {
        const Piece& limb = piece_of(at_brace(), name);
        const std::vector<double>& strain = field_of(limb, "strain").values;
        const std::size_t middle = 3 * corners;
        Vec3 centre = Vec3::Zero();
        for (std::size_t p = middle; p < middle + corners; ++p) centre += limb.points[p] / corners;
        for (std::size_t p = middle; p < middle + corners; ++p) {
            const bool faces_target = limb.points[p].x() > centre.x();
            EXPECT_EQ(strain[p] > 0, faces_target) << name;
        }
    }
}

TEST(BarPieces, StrainIsTheStretchOfALimbsFibres) {
    models::Bow bow = testing::small_uneven_bow();
    bow.limb.elements = 24;
    // Strain is not linear along a tapered limb; with 6 elements the mean of two ends misses by 3 %, with 24
    // by less.
    EXPECT_LT(stretch_mismatch(testing::strung(bow), "limb top left", corners), 0.005);
}

TEST(BarPieces, StrainIsTheStretchOfAnAxlesFibres) {
    // Without a moment at the bearing, the axle's moment has a kink at the cam but no jump.
    EXPECT_LT(stretch_mismatch(testing::strung(testing::small_bow()), "axle bottom", round_sides, 1), 0.01);
}

/// By the divergence theorem over the piece's faces.
double volume(const Piece& piece) {
    double six = 0;
    const auto add = [&](int a, int b, int c) {
        six += piece.points[static_cast<std::size_t>(a)].dot(
            piece.points[static_cast<std::size_t>(b)].cross(piece.points[static_cast<std::size_t>(c)]));
    };
    for (const auto& q : piece.quads) {
        add(q[0], q[1], q[2]);
        add(q[0], q[2], q[3]);
    }
    for (const auto& t : piece.triangles) add(t[0], t[1], t[2]);
    return six / 6;
}

TEST(BarPieces, ASweptLimbHoldsItsMeanSectionTimesItsLength) {
    // 24 mm wide; thickness 9, 7.3, 5.4 mm at 0, 1/2, 1: mean area 24 · (9 + 2 · 7.3 + 5.4)/4
    const double expected = 24 * 7.25 * 320;
    EXPECT_NEAR(volume(piece_of(at_brace(), "limb top left")), expected, 0.01 * expected);
}

}  // namespace
}  // namespace limbwright::postproc::beam_geometry_test
