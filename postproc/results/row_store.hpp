#pragma once

#include <filesystem>
#include <map>
#include <optional>

#include "models/study/parallel_solve.hpp"
#include "postproc/files/row_file.hpp"
#include "postproc/files/shard.hpp"

/// The solved rows of a study, in memory and on disk.
namespace limbwright::postproc {

/// All that the values of a study's rows depend on, as a text: the bow, what varies and how it is numbered,
/// the columns, the program's version. Weights, targets and limits may change without a row being solved
/// anew.
[[nodiscard]] std::string row_basis(const models::Bow& bow, const models::Study& study,
                                    const std::vector<models::PlacedMeasure>& columns);

/// Thrown when a person has stopped the run. What was solved is stored.
struct Stopped {};

class StudyRows {
public:
    /// Takes what earlier runs, and runs of other shares, left in the folder.
    ///
    /// @param folder  of row files; made if it is not there
    /// @param store   false: nothing is written
    /// @throws std::runtime_error as `read_rows` and `RowFile`
    StudyRows(const models::StudyBase& base, std::uint64_t study, const std::filesystem::path& folder,
              const Shard& shard, bool store);

    /// Rows of the layouts, in their order; those that are missing are solved and stored.
    ///
    /// @param numbers  by rising number
    /// @throws Stopped if the options' flag was raised
    [[nodiscard]] std::vector<models::LayoutRow> solve(std::span<const std::int64_t> numbers,
                                                       const models::RunOptions& options);
    [[nodiscard]] std::size_t size() const { return rows_.size(); }

private:
    const models::StudyBase& base_;
    std::map<std::int64_t, models::LayoutRow> rows_;
    std::optional<RowFile> file_;
};

}  // namespace limbwright::postproc
