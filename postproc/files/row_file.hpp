#pragma once

#include <cstdint>
#include <filesystem>
#include <span>
#include <string_view>
#include <vector>

#include "models/study/layout_result.hpp"

/// Solved rows of a study on disk: files that are only ever added to, and that a run killed at any moment
/// leaves usable. What was written before stays; the next run goes on behind it.
///
///     header  magic, format version, fingerprint of the study, number of columns, checksum
///     block   length of the payload, number of rows, checksum of these two; payload; its checksum
///     payload row by row: number, count of values, length of the failure's text, values, text
///
/// All numbers are little-endian; values are kept bit by bit, NaN included.
namespace limbwright::postproc {

/// FNV-1a, 64 bits [Fowler, Noll, Vo]: tells studies apart. Every change of a single byte changes it.
[[nodiscard]] std::uint64_t fingerprint(std::string_view text);

/// A row file that this process alone adds to, as long as the object lives.
class RowFile {
public:
    /// Opens the file, or makes it. A block that was cut short at the end of the file is taken off.
    ///
    /// @param study    fingerprint of all that the values depend on
    /// @param columns  values of a solved row
    /// @throws std::runtime_error if the file belongs to another study, is no row file, is damaged, is being
    /// written by another process, or cannot be opened
    RowFile(std::filesystem::path file, std::uint64_t study, std::size_t columns);

    /// Adds a block and hands it to the disk before it returns. A process that is killed meanwhile loses this
    /// block only. No rows: nothing is written.
    ///
    /// @throws std::invalid_argument if a row has neither all values nor a failure, or both
    /// @throws std::runtime_error if the block cannot be written (disk full); the file is as before
    void append(std::span<const models::LayoutRow> rows);

private:
    class Descriptor {
    public:
        explicit Descriptor(const std::filesystem::path& file);
        ~Descriptor();
        Descriptor(const Descriptor&) = delete;
        Descriptor& operator=(const Descriptor&) = delete;
        [[nodiscard]] int number() const { return number_; }

    private:
        int number_;
    };

    void write_at_end(std::string_view bytes);

    std::filesystem::path file_;
    std::size_t columns_;
    Descriptor descriptor_;
    std::uint64_t end_ = 0;  ///< of the last whole block
};

/// Rows of every file "rows_*.bin" in a folder, each layout once, by rising number. A block that is cut short
/// at the end of a file, as by a process that is still writing, is left out. No folder: no rows.
///
/// @throws std::runtime_error if a file belongs to another study, is no row file or is damaged, or if a
/// layout stands there twice and not bit by bit alike
[[nodiscard]] std::vector<models::LayoutRow> read_rows(const std::filesystem::path& folder,
                                                       std::uint64_t study, std::size_t columns);

}  // namespace limbwright::postproc
