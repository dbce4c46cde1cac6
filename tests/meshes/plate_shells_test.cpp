#include "meshes/plate_shells.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "meshes/quality.hpp"
#include "tests/support/surface_check.hpp"

namespace limbwright::meshes::plate_shells_test {
namespace {

/// Lengths of some hundred mm carry rounding of 1e-13.
constexpr double rounding = 1e-10;

/// Upright, 400 long, 40 high, 20 thick.
const std::vector<PlateLine> upright{{Vec3(0, 0, -200), 20, 40}, {Vec3(0, 0, 200), 20, 40}};

/// Bent in the XZ plane and set aside to the right in its middle.
const std::vector<PlateLine> set_aside{{Vec3(10, 0, -200), 20, 30},
                                       {Vec3(0, -12, -60), 16, 40},
                                       {Vec3(0, -12, 60), 16, 40},
                                       {Vec3(12, 0, 200), 22, 34}};

Vec3 upside_down(const Vec3& p) {
    return {p.x(), p.y(), -p.z()};
}

std::string complaint_of(const std::vector<PlateLine>& line, const std::vector<Opening>& openings) {
    try {
        (void)plate_surface(line, openings, 20, 4);
    } catch (const std::invalid_argument& error) {
        return error.what();
    }
    return "none";
}

TEST(PlateSurface, WithoutOpeningsIsTheAskedGrid) {
    const Surface surface = plate_surface(upright, {}, 20, 4);
    EXPECT_EQ(surface.nodes.size(), 21u * 5u);
    EXPECT_EQ(surface.cells.size(), 20u * 4u);
    EXPECT_NEAR(testing::area(surface), 400 * 40, rounding * 400);
    EXPECT_TRUE(quality(surface).complaints.empty());
}

TEST(PlateSurface, RunsUpwardAndFromBehindToTheFrontWithItsNormalToTheLeft) {
    const Surface surface = plate_surface(upright, {}, 20, 4);
    EXPECT_LT((surface.nodes.front().position - Vec3(-20, 0, -200)).norm(), rounding);
    EXPECT_LT((surface.nodes.back().position - Vec3(20, 0, 200)).norm(), rounding);
    for (const Pose& node : surface.nodes) {
        EXPECT_LT((node.rotation * Vec3(Vec3::UnitX()) - Vec3::UnitZ()).norm(), 1e-14);
        EXPECT_LT((node.rotation * Vec3(Vec3::UnitZ()) - Vec3::UnitY()).norm(), 1e-14);
    }
    for (const SurfaceCell& cell : surface.cells) {
        EXPECT_GT(area_vector(surface, cell).y(), 0);
        EXPECT_LT((cell.direction - Vec3::UnitZ()).norm(), 1e-14);
    }
}

TEST(PlateSurface, OfATaperHasItsTrapezoidsAreaAndItsThicknessAtTheCellsMiddle) {
    const std::vector<PlateLine> line{{Vec3(0, 0, 0), 10, 50}, {Vec3(0, 0, 100), 20, 30}};
    const Surface surface = plate_surface(line, {}, 10, 4);
    EXPECT_NEAR(testing::area(surface), 100 * 40, rounding * 100);
    EXPECT_NEAR(surface.cells.front().thickness, 10.5, rounding);
    EXPECT_NEAR(surface.cells.back().thickness, 19.5, rounding);
}

TEST(PlateSurface, OfALeaningLineStandsAcrossTheLine) {
    const Vec3 along = Vec3(3, 0, 4) / 5;
    const Surface surface = plate_surface({{Vec3::Zero(), 20, 40}, {100 * along, 20, 40}}, {}, 10, 4);
    EXPECT_NEAR(testing::area(surface), 100 * 40, rounding * 100);
    EXPECT_LT((surface.nodes.front().position - Vec3(-16, 0, 12)).norm(), rounding);
    EXPECT_LT((surface.cells.front().direction - along).norm(), 1e-14);
}

TEST(PlateSurface, EndRowsAreItsSets) {
    const Surface surface = plate_surface(set_aside, {{-40, 40, 0.3, 0.7, 4}}, 20, 4);
    for (const auto& [set, station] : {std::pair{"bottom", set_aside.front()}, {"top", set_aside.back()}}) {
        const std::vector<int>& row = surface.sets.at(set);
        const Vec3 first = surface.nodes[row.front()].position, last = surface.nodes[row.back()].position;
        EXPECT_LT((0.5 * (first + last) - station.position).norm(), rounding);
        EXPECT_NEAR((last - first).norm(), station.height, rounding);
    }
}

/// At share s and parameter u a segment's surface is (1−u) A + u B + (s−½) ((1−u) a + u b): its tangents are
/// taken here by central differences between nodes, exact for what is linear in u and in s.
TEST(PlateSurface, NormalsAreAcrossBothTangentsWhereItIsWarped) {
    const std::vector<PlateLine> line{
        {Vec3(0, 0, 0), 20, 40}, {Vec3(20, 15, 50), 20, 60}, {Vec3(30, 0, 100), 20, 40}};
    const int columns = 5;
    const Surface surface = plate_surface(line, {}, 20, columns - 1);
    ASSERT_EQ(surface.nodes.size(), 21u * columns);
    for (int i : {1, 2, 5, 9, 11, 15, 19})
        for (int j = 1; j + 1 < columns; ++j) {
            const auto at = [&](int row, int column) -> const Vec3& {
                return surface.nodes[row * columns + column].position;
            };
            const Vec3 along = at(i + 1, j) - at(i - 1, j), across = at(i, j + 1) - at(i, j - 1);
            const Pose& node = surface.nodes[i * columns + j];
            const Vec3 normal = node.rotation * Vec3(Vec3::UnitZ());
            EXPECT_LT((normal - along.cross(across).normalized()).norm(), 1e-12);  // rounding of unit vectors
            EXPECT_LT((node.rotation * Vec3(Vec3::UnitX()) - along.normalized()).norm(), 1e-12);
        }
    EXPECT_LT(testing::largest_normal_error(surface), 1e-14);
}

TEST(PlateSurface, NormalsAtAStationHalveItsFold) {
    const double fold = 0.4;
    const Vec3 up = 50 * Vec3::UnitZ(), aside = 70 * Vec3(0, std::sin(fold), std::cos(fold));
    const Surface surface =
        plate_surface({{-up, 20, 40}, {Vec3::Zero(), 20, 40}, {aside, 20, 40}}, {}, 12, 2);
    const Vec3 half(0, std::cos(fold / 2), -std::sin(fold / 2));
    for (const double x : {-20., 0., 20.}) {
        const std::vector<int> node = nodes_within(surface, Vec3(x, 0, 0), rounding);
        EXPECT_LT((surface.nodes[node.front()].rotation * Vec3(Vec3::UnitZ()) - half).norm(), 1e-12);
    }
}

TEST(PlateSurface, FollowsTheStationsAside) {
    const Surface surface = plate_surface(set_aside, {}, 20, 4);
    for (const PlateLine& station : set_aside) {
        const std::vector<int> nearest = nodes_within(surface, station.position, rounding);
        ASSERT_EQ(nearest.size(), 1u);
        EXPECT_LT((surface.nodes[nearest[0]].position - station.position).norm(), rounding);
    }
    EXPECT_TRUE(quality(surface).complaints.empty());
}

TEST(PlateSurface, WithAnOpeningLosesItsArea) {
    const Surface surface = plate_surface(upright, {{-53, 61, 0.23, 0.71}}, 20, 4);
    EXPECT_NEAR(testing::area(surface), 400 * 40 - 114 * 0.48 * 40, rounding * 400);
    EXPECT_EQ(quality(surface).triangles, 0);
}

TEST(PlateSurface, WithChamferedCornersGainsFourTrianglesOfTheirSize) {
    const Surface surface = plate_surface(upright, {{-53, 61, 0.23, 0.71, 6}}, 20, 4);
    EXPECT_NEAR(testing::area(surface), 400 * 40 - 114 * 0.48 * 40 + 4 * 0.5 * 36, rounding * 400);
    EXPECT_EQ(quality(surface).triangles, 4);
    EXPECT_TRUE(quality(surface).complaints.empty());
}

TEST(PlateSurface, WithANotchHasTwoChamfers) {
    const Surface behind = plate_surface(upright, {{-50, 60, 0, 0.4, 5}}, 20, 4);
    EXPECT_NEAR(testing::area(behind), 400 * 40 - 110 * 16 + 25, rounding * 400);
    const Surface front = plate_surface(upright, {{-50, 60, 0.6, 2, 5}}, 20, 4);
    EXPECT_NEAR(testing::area(front), 400 * 40 - 110 * 16 + 25, rounding * 400);
    EXPECT_EQ(quality(front).triangles, 2);
    EXPECT_EQ(testing::boundary_loops(front), 1);
}

TEST(PlateSurface, ChamfersOfALeaningPlateAreMeasuredAlongAndAcrossIt) {
    const Vec3 end = 100 * Vec3(3, 0, 4) / 5;
    const Surface surface =
        plate_surface({{Vec3::Zero(), 20, 40}, {end, 20, 40}}, {{24, 56, 0.25, 0.75, 5}}, 10, 4);
    EXPECT_NEAR(testing::area(surface), 100 * 40 - 40 * 20 + 4 * 0.5 * 25, rounding * 100);
}

TEST(PlateSurface, IsWatertightWithOneLoopMoreForEveryOpening) {
    const std::vector<Opening> openings{
        {-150, -90, 0.3, 0.7, 4}, {-50, 40, 0.2, 0.45}, {-30, 50, 0.6, 0.8}, {90, 160, 0.3, 0.7, 4}};
    for (std::size_t count = 0; count <= openings.size(); ++count) {
        const std::vector<Opening> some(openings.begin(),
                                        openings.begin() + static_cast<std::ptrdiff_t>(count));
        const Surface surface = plate_surface(set_aside, some, 30, 5);
        EXPECT_TRUE(testing::is_conforming(surface));
        EXPECT_EQ(testing::boundary_loops(surface), 1 + static_cast<int>(count));
        EXPECT_TRUE(quality(surface).complaints.empty());
    }
}

TEST(PlateSurface, MirrorsIfItsLineAndOpeningsDo) {
    const std::vector<PlateLine> line{
        {Vec3(10, 0, -200), 20, 30}, {Vec3(0, -12, 0), 16, 40}, {Vec3(10, 0, 200), 20, 30}};
    const Surface surface = plate_surface(line, {{-150, -80, 0.3, 0.6, 4}, {80, 150, 0.3, 0.6, 4}}, 26, 4);
    EXPECT_TRUE(testing::is_symmetric(surface, upside_down, rounding));
}

TEST(PlateSurface, RefusesOpeningsThatCannotBeAndSaysWhich) {
    const Opening good{-50, 50, 0.2, 0.8, 4};
    EXPECT_EQ(complaint_of(upright, {good}), "none");
    EXPECT_EQ(complaint_of(upright, {good, {70, 90, -1, 1}}), "opening 2 cuts the plate in two");
    EXPECT_EQ(complaint_of(upright, {good, {70, 60, 0.2, 0.4}}), "opening 2 has no area");
    EXPECT_EQ(complaint_of(upright, {{70, 90, 0.4, 0.4}}), "opening 1 has no area");
    EXPECT_EQ(complaint_of(upright, {{-200, 200, 0.2, 0.8}}), "opening 1 reaches past the plate's end");
    EXPECT_EQ(complaint_of(upright, {{0, 10, 1, 1.5}}), "opening 1 lies beside the plate");
    EXPECT_EQ(complaint_of(upright, {{0, 10, 0.2, 0.4, -1}}), "opening 1 has corners of negative size");
    EXPECT_EQ(complaint_of(upright, {{0, 10, 0.2, 0.8, 6}}),
              "the chamfers of opening 1 are larger than half of it");
    EXPECT_EQ(complaint_of(upright, {good, {60, 80, 0.2, 0.4}, {40, 55, 0.3, 0.9}}),
              "openings 1 and 3 overlap or touch");
    EXPECT_EQ(complaint_of(upright, {good, {50, 80, 0.8, 0.9}}), "openings 1 and 2 overlap or touch");
}

TEST(PlateSurface, NamesTheOpeningWhoseCornerAnotherOnesLineCrosses) {
    const std::string complaint = complaint_of(upright, {{60, 100, 0.22, 0.7}, {-50, 50, 0.2, 0.8, 8}});
    EXPECT_NE(complaint.find("corner of opening 2"), std::string::npos) << complaint;
}

TEST(PlateSurface, RefusesALineThatIsNoPlate) {
    EXPECT_THROW((void)plate_surface({upright[0]}, {}, 20, 4), std::invalid_argument);
    EXPECT_THROW((void)plate_surface({upright[1], upright[0]}, {}, 20, 4), std::invalid_argument);
    EXPECT_THROW((void)plate_surface({{Vec3(0, 0, 0), 0, 40}, upright[1]}, {}, 20, 4), std::invalid_argument);
    EXPECT_THROW((void)plate_surface({{Vec3(0, 0, 0), 20, 0}, upright[1]}, {}, 20, 4), std::invalid_argument);
    EXPECT_THROW((void)plate_surface(upright, {}, 0, 4), std::invalid_argument);
}

TEST(PlateSurface, RefusesALineThatTurnsWithinThePlatesHeight) {
    const std::vector<PlateLine> hook{{Vec3(-40, 0, 0), 20, 100},
                                      {Vec3(0, 0, 4), 20, 100},
                                      {Vec3(1, 0, 14), 20, 100},
                                      {Vec3(0, 0, 54), 20, 100}};
    EXPECT_NE(complaint_of(hook, {}).find("folds over between Z = 4 and 14"), std::string::npos);
    EXPECT_THROW((void)plate_surface(hook, {}, 1, 1), std::invalid_argument);  // no row there
}

TEST(NodesWithin, AreThoseInTheRadiusOrElseTheNearest) {
    const Surface surface = plate_surface(upright, {}, 20, 4);  // 20 × 10 mm cells
    EXPECT_EQ(nodes_within(surface, Vec3(-20, 0, -200), 11), (std::vector<int>{0, 1}));
    EXPECT_EQ(nodes_within(surface, Vec3(-20, 0, -200), 21), (std::vector<int>{0, 1, 2, 5}));
    EXPECT_EQ(nodes_within(surface, Vec3(-100, 0, -300), 1), (std::vector<int>{0}));
    EXPECT_THROW((void)nodes_within({}, Vec3::Zero(), 1), std::invalid_argument);
}

}  // namespace
}  // namespace limbwright::meshes::plate_shells_test
