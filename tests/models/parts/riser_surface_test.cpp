#include "models/parts/riser_surface.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "meshes/quality.hpp"
#include "tests/support/small_bow.hpp"

namespace limbwright::models::riser_surface_test {
namespace {

Riser plate() {
    Riser riser = testing::small_bow().riser;
    riser.model = PartModel::shell;
    return riser;
}

double nearest(const meshes::Surface& surface, const Vec3& point) {
    double least = HUGE_VAL;
    for (const solver::Pose& node : surface.nodes) least = std::min(least, (node.position - point).norm());
    return least;
}

TEST(RiserSurface, HasARowWhereGripAndGuideAreMounted) {
    const Riser riser = plate();
    const meshes::Surface surface = riser_surface(riser, {85});
    for (const double height : {0., 85.}) {
        std::vector<RiserStation> line = mounted_line(riser, {85});
        const auto at = std::find_if(line.begin(), line.end(), [&](const RiserStation& s) {
            return std::abs(s.position.z() - height) < 1e-12;
        });
        ASSERT_NE(at, line.end());
        // The middle of an even number of elements across stands on the line; their places are exact.
        EXPECT_LT(nearest(surface, at->position), 1e-9) << "height " << height;
    }
}

TEST(RiserSurface, LosesItsCutOutsAndFillsTheirCornersWithTriangles) {
    Riser riser = plate();
    const meshes::Surface whole = riser_surface(riser, {});
    riser.cut_outs = {{110, 170, 0.25, 0.75}};
    const meshes::Surface cut = riser_surface(riser, {});
    EXPECT_TRUE(quality(cut).complaints.empty());
    EXPECT_EQ(quality(cut).triangles, 4);
    EXPECT_EQ(quality(whole).triangles, 0);
}

TEST(RiserSurface, IsTheUsersMeshWhereThereIsOne) {
    Riser riser = plate();
    auto mesh = std::make_shared<meshes::Surface>(riser_surface(riser, {}));
    mesh->nodes[0].position.y() += 1;
    riser.mesh = PartMesh{"riser.vtu", mesh};
    EXPECT_EQ(riser_surface(riser, {}).nodes[0].position.y(), mesh->nodes[0].position.y());
}

TEST(MountedLine, HasAStationAtThePivotAndAtEveryHeightGivenOnce) {
    Riser riser = plate();  // from -300 over 0 to 300
    EXPECT_EQ(mounted_line(riser, {}).size(), 3u);
    EXPECT_EQ(mounted_line(riser, {-300, 85, 300}).size(), 4u);
    riser.stations.erase(riser.stations.begin() + 1);
    const std::vector<RiserStation> line = mounted_line(riser, {-200, 85});
    ASSERT_EQ(line.size(), 5u);
    const double heights[] = {-300, -200, 0, 85, 300};
    for (std::size_t i = 0; i < 5; ++i) EXPECT_DOUBLE_EQ(line[i].position.z(), heights[i]);
}

TEST(MountedLine, HasNoPieceTooShortAndNothingPastItsEnds) {
    const Riser riser = plate();
    EXPECT_EQ(mounted_line(riser, {-310, -299.9, 0.2, 299.9, 310}).size(), 3u);
}

TEST(MountHeights, AreThoseOfPocketsAndGuide) {
    Bow bow = testing::small_bow();
    EXPECT_EQ(mount_heights(bow), (std::vector<double>{-300, 300, 85}));
    bow.guide.kind = GuideKind::none;
    EXPECT_EQ(mount_heights(bow), (std::vector<double>{-300, 300}));
}

}  // namespace
}  // namespace limbwright::models::riser_surface_test
