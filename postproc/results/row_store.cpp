#include "postproc/results/row_store.hpp"

#include <fmt/format.h>

#include "models/bow/bow_writer.hpp"
#include "models/bow/cam_writer.hpp"
#include "postproc/results/draw_files.hpp"

namespace limbwright::postproc {

std::string row_basis(const models::Bow& bow, const models::Study& study,
                      const std::vector<models::RecordedMeasure>& columns) {
    std::string text = fmt::format("limbwright {}\n{}", LIMBWRIGHT_VERSION, models::bow_to_toml(bow));
    for (const models::GrooveFile& groove : models::groove_files(bow))
        text += fmt::format("groove {}\n{}", groove.name, groove.text);
    for (const double limb : study.limbs) text += fmt::format("limb {}\n", limb);
    for (const models::SpacerKind& kind : study.spacers)
        text += fmt::format("spacers {} {}\n", kind.thickness, kind.count);
    for (const models::SettingRange& range : study.ranges)
        text += fmt::format("range {} {} {} {}\n", range.setting, range.steps.from, range.steps.to,
                            range.steps.step);
    text += fmt::format("lengths {} states {}\n", static_cast<int>(study.lengths), study.states);
    for (const models::RecordedMeasure& column : columns)
        text += fmt::format("column {} {}\n", column.measure, static_cast<int>(column.at));
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
