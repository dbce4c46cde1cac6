#pragma once

#include <filesystem>
#include <optional>
#include <span>
#include <string_view>

#include "models/study/objective.hpp"
#include "postproc/files/row_file.hpp"
#include "postproc/files/shard.hpp"

/// The solved rows of a study on disk.
namespace limbwright::postproc {

/// Tells programs built of other sources of solver, meshes and models, or by another compiler, apart. The
/// build makes it (see CMakeLists.txt).
extern const std::string_view source_hash;

/// All that the values of a study's rows depend on, as a text: the bow with its grooves and meshes, what
/// varies and how it is numbered, the columns, the sources that the program was built of, and the lanes'
/// kernels that run on this processor. Weights, targets and limits may change without a row being solved
/// anew.
[[nodiscard]] std::string row_basis(const models::Bow& bow, const models::Study& study,
                                    const std::vector<models::PlacedMeasure>& columns);

class RowStore {
public:
    /// Takes what earlier runs, and runs of other shares, left in the folder.
    ///
    /// @param study   fingerprint
    /// @param folder  of row files; made if it is not there
    /// @param store   false: nothing is written
    /// @throws std::runtime_error as `read_rows` and `RowFile`
    RowStore(std::uint64_t study, std::size_t columns, const std::filesystem::path& folder,
             const Shard& shard, bool store);

    [[nodiscard]] const std::vector<models::LayoutRow>& found() const { return found_; }
    /// @throws std::runtime_error if they cannot be written
    void append(std::span<const models::LayoutRow> rows);

private:
    std::vector<models::LayoutRow> found_;
    std::optional<RowFile> file_;
};

}  // namespace limbwright::postproc
