#include "models/parts/shell_parts.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "meshes/strip_shells.hpp"
#include "solver/elements/laminate.hpp"
#include "solver/system/assembly.hpp"

namespace limbwright::models::shell_parts_test {
namespace {

using solver::Frame;
using solver::Pose;
using solver::State;
using solver::Vec3;

const Pose somewhere{solver::exp<double>(Vec3(0.3, -0.5, 0.8)), Vec3(20, -30, 40)};

/// A curved, tapered strip whose root follows one frame and whose tip another, each with axes of its own.
struct Built {
    meshes::Surface surface = meshes::strip_surface({200, {{0, 30, 8, 1. / 300}, {1, 20, 5, 1. / 300}}},
                                                    somewhere, 0, meshes::even_shares(0, 1, 5), 2);
    Builder builder;
    solver::NodeId root = builder.add_node(somewhere * Pose{solver::exp<double>(Vec3(1, 2, 3)), {5, 6, 7}});
    solver::NodeId tip = builder.add_node({solver::exp<double>(Vec3(-1, 0.5, 0)), Vec3(1, 2, 3)});
    ShellPart part;

    Built() {
        const Pad pads[] = {{Frame::on(root), surface.sets.at("root")},
                            {Frame::on(tip), surface.sets.at("tip")}};
        part = add_shells(
            surface, pads,
            [](const meshes::SurfaceCell& cell) {
                return solver::wall_stiffness({{solver::isotropic({70000, 26000}), 0, cell.thickness}});
            },
            builder);
    }
};

TEST(ShellPart, MakesAShellOfEveryCellInItsOrder) {
    const Built built;
    const solver::System system = built.builder.system();
    ASSERT_EQ(built.part.shells.size(), built.surface.cells.size());
    for (std::size_t i = 0; i < built.part.shells.size(); ++i) {
        EXPECT_EQ(built.part.shells[i].thickness, built.surface.cells[i].thickness);
        const auto& shell =
            dynamic_cast<const solver::Shell&>(*system.elements()[built.part.shells[i].element]);
        for (std::size_t k = 0; k < 4; ++k)
            EXPECT_LT(
                (pose(shell.corners()[k], built.builder.rest()).position -
                 built.surface.nodes[static_cast<std::size_t>(built.surface.cells[i].corners[k])].position)
                    .norm(),
                1e-12);
    }
}

TEST(ShellPart, StandsWhereItsSurfaceDoesAndCarriesNothing) {
    const Built built;
    for (std::size_t i = 0; i < built.surface.nodes.size(); ++i) {
        const Pose change =
            pose(built.part.nodes[i], built.builder.rest()).inverse() * built.surface.nodes[i];
        EXPECT_LT(change.position.norm() + solver::log(change.rotation).norm(), 1e-12);
    }
    EXPECT_LT(total_energy(built.builder.system(), built.builder.rest()), 1e-18);
}

TEST(ShellPart, ItsPadsFollowTheirFramesAndNothingElseDoes) {
    const Built built;
    const Pose motion{solver::exp<double>(Vec3(0.1, 0.2, -0.3)), Vec3(3, -4, 5)};
    State state = built.builder.rest();
    state.at(built.root) = motion * state.at(built.root);
    const std::vector<int>& root = built.surface.sets.at("root");
    for (std::size_t i = 0; i < built.surface.nodes.size(); ++i) {
        const bool carried = std::find(root.begin(), root.end(), static_cast<int>(i)) != root.end();
        const Pose expected = (carried ? motion : Pose{}) * built.surface.nodes[i];
        const Pose change = pose(built.part.nodes[i], state).inverse() * expected;
        EXPECT_LT(change.position.norm() + solver::log(change.rotation).norm(), 1e-12) << i;
    }
}

TEST(ShellPart, AddsNoNodesForItsPads) {
    const Built built;
    const std::size_t carried = built.surface.sets.at("root").size() + built.surface.sets.at("tip").size();
    EXPECT_EQ(built.builder.rest().nodes.size(), 2 + built.surface.nodes.size() - carried);
}

TEST(MovedSurface, TakesNodesNormalsAndDirectionsAlong) {
    const Built built;
    const Pose X{solver::exp<double>(Vec3(0, 0, 1.2)), Vec3(1, 2, 3)};
    const meshes::Surface there = moved(built.surface, X);
    EXPECT_EQ(there.sets, built.surface.sets);
    for (std::size_t i = 0; i < there.nodes.size(); ++i)
        EXPECT_LT((there.nodes[i].position - X * built.surface.nodes[i].position).norm(), 1e-12);
    for (std::size_t i = 0; i < there.cells.size(); ++i) {
        const meshes::SurfaceCell &cell = there.cells[i], &before = built.surface.cells[i];
        EXPECT_LT((cell.direction - X.rotation * before.direction).norm(), 1e-14);
        for (std::size_t k = 0; k < 4; ++k)
            EXPECT_LT((cell.normals[k] - X.rotation * before.normals[k]).norm(), 1e-14);
        EXPECT_EQ(cell.corners, before.corners);
        EXPECT_EQ(cell.thickness, before.thickness);
    }
}

}  // namespace
}  // namespace limbwright::models::shell_parts_test
