#include "models/bow/bow.hpp"

#include <gtest/gtest.h>

#include "models/bow/bow_writer.hpp"
#include "tests/support/small_bow.hpp"

namespace limbwright::models::bow_test {
namespace {

constexpr solver::Lamina glass{45000, 12000, 0.26, 4500, 4500, 4300};

/// Lateral in every member that can be, each with a number of its own.
Bow lateral_bow() {
    Bow bow = testing::small_uneven_bow();
    bow.pocket_top.position.y() = 1;
    bow.pocket_bottom.position.y() = 2;
    bow.shooter.rest.y() = 3;
    bow.cam_bottom.string.lateral = 5;
    bow.cam_bottom.take_up->lateral = 6;
    bow.cam_bottom.let_out->lateral = 7;
    bow.limb.plies = {{glass, "glass", 0.3, {}}};
    Layout& layout = bow.layout;
    layout.pairing = {.top_left = 51, .top_right = 52, .bottom_left = 53, .bottom_right = 54};
    layout.spacers_top = {.left = {1}, .right = {2, 3}};
    layout.spacers_bottom = {.left = {4}, .right = {5, 6}};
    layout.guide_lateral = 8;
    layout.guide_angle = 0.1;
    layout.bolt_top = 1;
    layout.bolt_bottom = 2;
    layout.twist_string = 3;
    layout.twist_cables = {4, 5};
    layout.twist_yoke_left = {6, 7};
    layout.twist_yoke_right = {8, 9};
    layout.hand_yaw_torque = 100;
    layout.moved["rest_lateral"] = 2;
    layout.hand_pitch_torque = 200;
    return bow;
}

/// A four-cornered and a three-cornered cell; nothing in it is its own mirror image.
std::shared_ptr<const meshes::Surface> lateral_surface() {
    meshes::Surface surface;
    for (int i = 0; i < 5; ++i)
        surface.nodes.push_back(
            {solver::exp<double>(Vec3(0.1 * i, 0.2, -0.3)), Vec3(10 * i, i * i + 1, 2 - i)});
    meshes::SurfaceCell four, three;
    four.corners = {0, 1, 2, 3};
    three.corners = {1, 4, 2, -1};
    for (meshes::SurfaceCell* cell : {&four, &three}) {
        for (int i = 0; i < cell->count(); ++i)
            cell->normals[i] = Vec3(0.1 * i, 0.2 + 0.1 * i, 1).normalized();
        cell->thickness = 5;
        cell->direction = Vec3(3, 4, 0) / 5;
    }
    surface.cells = {four, three};
    surface.sets = {{"root", {0}}, {"left tip", {1, 2}}, {"right tip", {3}}};
    return std::make_shared<const meshes::Surface>(surface);
}

meshes::Surface mirror_image(const std::shared_ptr<const meshes::Surface>& surface) {
    Bow bow = testing::small_bow();
    bow.limb.mesh = PartMesh{"limb.vtu", surface};
    return *mirrored(bow).limb.mesh->surface;
}

TEST(Bow, MirroringTurnsEveryNodeOfAMeshIntoItsImage) {
    const auto surface = lateral_surface();
    const meshes::Surface image = mirror_image(surface);
    const solver::Mat3 M = Vec3(1, -1, 1).asDiagonal();
    ASSERT_EQ(image.nodes.size(), surface->nodes.size());
    for (std::size_t i = 0; i < image.nodes.size(); ++i) {
        EXPECT_EQ(image.nodes[i].position, M * surface->nodes[i].position);
        const solver::Mat3 R = surface->nodes[i].rotation.matrix();
        EXPECT_LT((image.nodes[i].rotation.matrix() - M * R * M).norm(),
                  1e-15);  // rounding of numbers of one
    }
}

TEST(Bow, MirroringGoesRoundACellTheOtherWaySoThatItsNormalsStayOnTheirFace) {
    const meshes::Surface image = mirror_image(lateral_surface());
    EXPECT_EQ(image.cells[0].corners, (std::array<int, 4>{0, 3, 2, 1}));
    EXPECT_EQ(image.cells[1].corners, (std::array<int, 4>{1, 2, 4, -1}));
    EXPECT_EQ(image.cells[0].direction, Vec3(3, -4, 0) / 5);
    const meshes::SurfaceCell before = lateral_surface()->cells[1];
    EXPECT_EQ(image.cells[1].normals[1], Vec3(1, -1, 1).cwiseProduct(before.normals[2]));
    EXPECT_EQ(image.cells[1].thickness, 5);
}

TEST(Bow, MirroringSwapsTheTipsOfAMesh) {
    const meshes::Surface image = mirror_image(lateral_surface());
    EXPECT_EQ(image.sets.at("root"), (std::vector<int>{0}));
    EXPECT_EQ(image.sets.at("left tip"), (std::vector<int>{3}));
    EXPECT_EQ(image.sets.at("right tip"), (std::vector<int>{1, 2}));
}

TEST(Bow, AMeshMirroredTwiceIsTheSameMesh) {
    Bow bow = testing::small_bow();
    const auto surface = lateral_surface();
    bow.riser.mesh = PartMesh{"riser.vtu", surface};
    const PartMesh twice = *mirrored(mirrored(bow)).riser.mesh;
    EXPECT_EQ(twice.file, "riser.vtu");
    EXPECT_EQ(twice.surface->sets, surface->sets);
    for (std::size_t i = 0; i < surface->nodes.size(); ++i) {
        EXPECT_EQ(twice.surface->nodes[i].position, surface->nodes[i].position);
        EXPECT_EQ(twice.surface->nodes[i].rotation.w, surface->nodes[i].rotation.w);
        EXPECT_EQ(twice.surface->nodes[i].rotation.v, surface->nodes[i].rotation.v);
    }
    for (std::size_t i = 0; i < surface->cells.size(); ++i) {
        EXPECT_EQ(twice.surface->cells[i].corners, surface->cells[i].corners);
        EXPECT_EQ(twice.surface->cells[i].normals, surface->cells[i].normals);
        EXPECT_EQ(twice.surface->cells[i].direction, surface->cells[i].direction);
    }
}

TEST(Bow, MirroringTurnsTheFibresOfEveryPlyTheOtherWay) {
    Bow bow = testing::small_bow();
    bow.limb.plies = {{glass, "glass", 0.3, 1}, {glass, "glass", -0.2, {}}};
    EXPECT_EQ(mirrored(bow).limb.plies[0].angle, -0.3);
    EXPECT_EQ(mirrored(bow).limb.plies[1].angle, 0.2);
}

TEST(Bow, MirroredTwiceIsTheSameBow) {
    EXPECT_EQ(bow_to_toml(mirrored(mirrored(lateral_bow()))), bow_to_toml(lateral_bow()));
}

TEST(Bow, MirroringAFlatBowChangesTheHandOnly) {
    Bow image = mirrored(testing::small_bow());
    EXPECT_EQ(image.shooter.hand, Hand::left);
    image.shooter.hand = Hand::right;
    EXPECT_EQ(bow_to_toml(image), bow_to_toml(testing::small_bow()));
}

TEST(Bow, MirroringTurnsTheSignOfEveryYAndOfNoXOrZ) {
    const Bow bow = lateral_bow(), image = mirrored(bow);
    const auto opposite = [](const Vec3& v) { return Vec3(v.x(), -v.y(), v.z()); };
    ASSERT_EQ(image.riser.stations.size(), bow.riser.stations.size());
    for (std::size_t i = 0; i < bow.riser.stations.size(); ++i)
        EXPECT_EQ(image.riser.stations[i].position, opposite(bow.riser.stations[i].position));
    EXPECT_EQ(image.pocket_top.position, opposite(bow.pocket_top.position));
    EXPECT_EQ(image.pocket_bottom.position, opposite(bow.pocket_bottom.position));
    EXPECT_EQ(image.guide.position, opposite(bow.guide.position));
    EXPECT_EQ(image.shooter.rest, opposite(bow.shooter.rest));
}

TEST(Bow, MirroringMovesEveryGrooveToTheOtherSideOfItsHub) {
    const Bow bow = lateral_bow(), image = mirrored(bow);
    for (const auto cam : {&Bow::cam_top, &Bow::cam_bottom}) {
        EXPECT_EQ((image.*cam).string.lateral, -(bow.*cam).string.lateral);
        EXPECT_EQ((image.*cam).take_up->lateral, -(bow.*cam).take_up->lateral);
        EXPECT_EQ((image.*cam).let_out->lateral, -(bow.*cam).let_out->lateral);
    }
}

TEST(Bow, MirroringACamWithoutCableTracksGivesItNone) {
    Bow bow = lateral_bow();
    bow.cam_top.take_up.reset();
    bow.cam_top.let_out.reset();
    EXPECT_FALSE(mirrored(bow).cam_top.take_up);
    EXPECT_FALSE(mirrored(bow).cam_top.let_out);
}

TEST(Bow, MirroringSwapsLimbsSpacersAndYokeLegs) {
    const Layout layout = lateral_bow().layout, image = mirrored(lateral_bow()).layout;
    EXPECT_EQ(image.pairing.top_left, layout.pairing.top_right);
    EXPECT_EQ(image.pairing.top_right, layout.pairing.top_left);
    EXPECT_EQ(image.pairing.bottom_left, layout.pairing.bottom_right);
    EXPECT_EQ(image.pairing.bottom_right, layout.pairing.bottom_left);
    EXPECT_EQ(image.spacers_top.left, layout.spacers_top.right);
    EXPECT_EQ(image.spacers_top.right, layout.spacers_top.left);
    EXPECT_EQ(image.spacers_bottom.left, layout.spacers_bottom.right);
    EXPECT_EQ(image.spacers_bottom.right, layout.spacers_bottom.left);
    EXPECT_EQ(image.twist_yoke_left, layout.twist_yoke_right);
    EXPECT_EQ(image.twist_yoke_right, layout.twist_yoke_left);
}

TEST(Bow, MirroringTurnsTheGuideAndTheHandsYawTheOtherWay) {
    const Bow bow = lateral_bow(), image = mirrored(bow);
    EXPECT_EQ(image.guide.spacing, -bow.guide.spacing);
    EXPECT_EQ(image.layout.guide_lateral, -bow.layout.guide_lateral);
    EXPECT_EQ(image.layout.guide_angle, -bow.layout.guide_angle);
    EXPECT_EQ(image.layout.hand_yaw_torque, -bow.layout.hand_yaw_torque);
    EXPECT_EQ(image.layout.moved.at("rest_lateral"), -2);
}

TEST(Bow, MirroringKeepsWhatHasNoSide) {
    const Bow bow = lateral_bow(), image = mirrored(bow);
    EXPECT_EQ(image.limb.lateral, bow.limb.lateral);
    EXPECT_EQ(image.layout.bolt_top, bow.layout.bolt_top);
    EXPECT_EQ(image.layout.bolt_bottom, bow.layout.bolt_bottom);
    EXPECT_EQ(image.layout.twist_string, bow.layout.twist_string);
    EXPECT_EQ(image.layout.twist_cables, bow.layout.twist_cables);
    EXPECT_EQ(image.layout.hand_pitch_torque, bow.layout.hand_pitch_torque);
}

}  // namespace
}  // namespace limbwright::models::bow_test
