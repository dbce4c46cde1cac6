#include "postproc/results/row_store.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "models/bow/bow_writer.hpp"
#include "postproc/results/draw_files.hpp"
#include "solver/lanes/lane_solver.hpp"

namespace limbwright::postproc {
namespace {

/// What a part's mesh file says, whatever its name is. Normals follow from it.
std::string text_of(const meshes::Surface& mesh) {
    std::string text;
    for (const meshes::Pose& node : mesh.nodes)
        text += fmt::format("node {}\n", fmt::join(node.position, " "));
    for (const meshes::SurfaceCell& cell : mesh.cells)
        text += fmt::format("cell {} {} {}\n", fmt::join(cell.corners, " "), cell.thickness,
                            fmt::join(cell.direction, " "));
    for (const auto& [name, nodes] : mesh.sets)
        text += fmt::format("set {} {}\n", name, fmt::join(nodes, " "));
    return text;
}

}  // namespace

std::string row_basis(const models::Bow& bow, const models::Study& study,
                      const std::vector<models::PlacedMeasure>& columns) {
    std::string text = fmt::format("sources {}\n{}", source_hash, models::bow_to_toml(bow));
    for (const solver::LaneKernel& kernel : solver::lane_kernels())
        if (kernel.runs_here) text += fmt::format("kernel {}\n", kernel.name);
    for (const std::optional<models::PartMesh>& mesh : {bow.riser.mesh, bow.limb.mesh})
        if (mesh) text += fmt::format("mesh\n{}", text_of(*mesh->surface));
    for (const models::GrooveFile& groove : models::groove_files(bow))
        text += fmt::format("groove {}\n{}", groove.name, groove.text);
    for (const double limb : study.limbs) text += fmt::format("limb {}\n", limb);
    for (const models::SpacerKind& kind : study.spacers)
        text += fmt::format("spacers {} {}\n", kind.thickness, kind.count);
    for (const models::SettingRange& range : study.ranges)
        text += fmt::format("range {} {} {} {}\n", range.setting, range.steps.from, range.steps.to,
                            range.steps.step);
    text += fmt::format("lengths {} states {}\n", static_cast<int>(study.lengths), study.states);
    for (const models::PlacedMeasure& column : columns)
        text += fmt::format("column {} {}\n", column.measure.id, static_cast<int>(column.at));
    return text;
}

RowStore::RowStore(std::uint64_t study, std::size_t columns, const std::filesystem::path& folder,
                   const Shard& shard, bool store) {
    if (store) {
        make_folder(folder);
        file_.emplace(folder / fmt::format("rows_{}_of_{}.bin", shard.index, shard.count), study, columns);
    }
    found_ = read_rows(folder, study, columns);
}

void RowStore::append(std::span<const models::LayoutRow> rows) {
    if (file_) file_->append(rows);
}

}  // namespace limbwright::postproc
