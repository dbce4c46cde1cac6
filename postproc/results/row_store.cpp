#include "postproc/results/row_store.hpp"

#include <fmt/format.h>

#include "models/bow/bow_writer.hpp"
#include "models/bow/cam_writer.hpp"
#include "postproc/results/draw_files.hpp"

namespace limbwright::postproc {

std::string row_basis(const models::Bow& bow, const models::Study& study,
                      const std::vector<models::PlacedMeasure>& columns) {
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
    for (const models::PlacedMeasure& column : columns)
        text += fmt::format("column {} {}\n", column.measure.id, static_cast<int>(column.at));
    return text;
}

StudyRows::StudyRows(const models::StudyBase& base, std::uint64_t study, const std::filesystem::path& folder,
                     const Shard& shard, bool store)
    : base_(base) {
    const std::size_t columns = base.columns().size();
    if (store) {
        make_folder(folder);
        file_.emplace(folder / fmt::format("rows_{}_of_{}.bin", shard.index, shard.count), study, columns);
    }
    for (models::LayoutRow& row : read_rows(folder, study, columns)) rows_[row.number] = std::move(row);
}

std::vector<models::LayoutRow> StudyRows::solve(std::span<const std::int64_t> numbers,
                                                const models::RunOptions& options) {
    std::vector<std::int64_t> missing;
    for (const std::int64_t number : numbers)
        if (!rows_.contains(number)) missing.push_back(number);
    const bool finished =
        models::solve_layouts(base_, missing, options, [&](std::span<const models::LayoutRow> rows) {
            if (file_) file_->append(rows);
            for (const models::LayoutRow& row : rows) rows_[row.number] = row;
        });
    if (!finished) throw Stopped{};
    std::vector<models::LayoutRow> wanted;
    wanted.reserve(numbers.size());
    for (const std::int64_t number : numbers) wanted.push_back(rows_.at(number));
    return wanted;
}

}  // namespace limbwright::postproc
