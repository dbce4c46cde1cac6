#include "models/parts/shell_parts.hpp"

namespace limbwright::models {

using meshes::Surface;
using meshes::SurfaceCell;
using solver::Frame;
using solver::Pose;

ShellPart add_shells(const Surface& surface, std::span<const Pad> pads,
                     const std::function<solver::WallStiffness(const SurfaceCell&)>& wall, Builder& builder) {
    std::vector<const Pad*> pad_of(surface.nodes.size(), nullptr);
    for (const Pad& pad : pads)
        for (const int node : pad.nodes) pad_of[static_cast<std::size_t>(node)] = &pad;
    ShellPart part;
    for (std::size_t i = 0; i < surface.nodes.size(); ++i) {
        const Pose& rest = surface.nodes[i];
        part.nodes.push_back(pad_of[i]
                                 ? pad_of[i]->frame.then(builder.at_rest(pad_of[i]->frame).inverse() * rest)
                                 : Frame::on(builder.add_node(rest)));
    }
    for (const SurfaceCell& cell : surface.cells) {
        std::vector<Frame> frames;
        std::vector<solver::ShellCorner> corners;
        for (std::size_t k = 0; k < static_cast<std::size_t>(cell.count()); ++k) {
            const auto node = static_cast<std::size_t>(cell.corners[k]);
            frames.push_back(part.nodes[node]);
            corners.push_back({surface.nodes[node], cell.normals[k]});
        }
        part.shells.push_back(
            {builder.add<solver::Shell>(frames, corners, cell.direction, wall(cell)), cell.thickness});
    }
    return part;
}

Surface moved(const Surface& surface, const Pose& X) {
    Surface there = surface;
    for (Pose& node : there.nodes) node = X * node;
    for (SurfaceCell& cell : there.cells) {
        for (solver::Vec3& normal : cell.normals) normal = X.rotation * normal;
        cell.direction = X.rotation * cell.direction;
    }
    return there;
}

}  // namespace limbwright::models
