#include "postproc/files/row_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>
#include <bit>
#include <cerrno>
#include <cstring>
#include <fstream>
#include <stdexcept>
#include <string>

namespace limbwright::postproc {
namespace {

namespace fs = std::filesystem;
using models::LayoutRow;

static_assert(std::endian::native == std::endian::little, "row files hold numbers as they lie in memory");

constexpr std::string_view magic = "lw-rows\n";
constexpr std::uint64_t format_version = 1;
constexpr std::size_t header_size = 5 * sizeof(std::uint64_t);
constexpr std::size_t block_head_size = 3 * sizeof(std::uint64_t);
constexpr std::size_t checksum_size = sizeof(std::uint64_t);

template <class Number>
void put(std::string& bytes, Number number) {
    char raw[sizeof number];
    std::memcpy(raw, &number, sizeof number);
    bytes.append(raw, sizeof number);
}

void put_checksum(std::string& bytes) {
    put(bytes, fingerprint(bytes));
}

/// The bytes end with the checksum of those before.
bool is_sound(std::string_view bytes) {
    std::uint64_t checksum = 0;
    const std::size_t length = bytes.size() - sizeof checksum;
    std::memcpy(&checksum, bytes.data() + length, sizeof checksum);
    return checksum == fingerprint(bytes.substr(0, length));
}

std::runtime_error damaged(const fs::path& file, std::uint64_t byte) {
    return std::runtime_error(fmt::format(
        "{} is damaged behind byte {}: move it out of its folder, and its layouts are solved again",
        file.string(), byte));
}

/// Takes numbers and texts off the front of a payload.
class Taker {
public:
    explicit Taker(std::string_view bytes) : left_(bytes) {}
    [[nodiscard]] std::string_view bytes(std::size_t count) {
        if (count > left_.size()) throw std::out_of_range("payload");
        const std::string_view taken = left_.substr(0, count);
        left_.remove_prefix(count);
        return taken;
    }
    template <class Number>
    [[nodiscard]] Number number() {
        Number value;
        std::memcpy(&value, bytes(sizeof value).data(), sizeof value);
        return value;
    }

private:
    std::string_view left_;
};

std::string header_of(std::uint64_t study, std::size_t columns) {
    std::string bytes(magic);
    put(bytes, format_version);
    put(bytes, study);
    put(bytes, std::uint64_t{columns});
    put_checksum(bytes);
    return bytes;
}

/// @return  whether the header is whole; false: the file ends within it
bool check_header(std::string_view found, const std::string& wanted, const fs::path& file) {
    if (found == wanted) return true;
    if (wanted.starts_with(found)) return false;
    if (!found.starts_with(magic) || found.size() < header_size)
        throw std::runtime_error(
            fmt::format("{} is no file of solved rows, though it has the name of one: move it away, or "
                        "choose another folder",
                        file.string()));
    if (!is_sound(found)) throw damaged(file, 0);
    Taker taker(found.substr(magic.size()));
    if (const auto version = taker.number<std::uint64_t>(); version != format_version)
        throw std::runtime_error(
            fmt::format("{} has format {}, this program reads format {}: use the program that wrote it, or "
                        "another folder",
                        file.string(), version, format_version));
    throw std::runtime_error(
        fmt::format("{} holds rows of another study: the bow, the study or the program has changed since it "
                    "was written, or "
                    "it was written on another kind of processor. Choose another folder for this study, or "
                    "remove the old "
                    "rows",
                    file.string()));
}

void put_row(std::string& payload, const LayoutRow& row) {
    put(payload, row.number);
    put(payload, static_cast<std::uint32_t>(row.values.size()));
    put(payload, static_cast<std::uint32_t>(row.failure.size()));
    for (const double value : row.values) put(payload, value);
    payload += row.failure;
}

LayoutRow taken_row(Taker& payload) {
    LayoutRow row{.number = payload.number<std::int64_t>(), .values = {}, .failure = {}};
    const auto values = payload.number<std::uint32_t>();
    const auto length = payload.number<std::uint32_t>();
    for (std::uint32_t i = 0; i < values; ++i) row.values.push_back(payload.number<double>());
    row.failure = payload.bytes(length);
    return row;
}

std::string block_of(std::span<const LayoutRow> rows) {
    std::string payload;
    for (const LayoutRow& row : rows) put_row(payload, row);
    std::string block;
    put(block, std::uint64_t{payload.size()});
    put(block, std::uint64_t{rows.size()});
    put_checksum(block);
    put_checksum(payload);
    return block + payload;
}

/// Up to `count` bytes, fewer at the end of the file.
std::string bytes_from(std::istream& stream, std::uint64_t count) {
    std::string bytes(count, '\0');
    stream.read(bytes.data(), static_cast<std::streamsize>(count));
    bytes.resize(static_cast<std::size_t>(stream.gcount()));
    return bytes;
}

/// Passes every row of the whole blocks to `take`.
///
/// @return  where the last whole block ends; 0 if the file ends within its header
template <class Take>
std::uint64_t read_whole_blocks(const fs::path& file, const std::string& header, const Take& take) {
    std::ifstream stream(file, std::ios::binary);
    if (!stream) throw std::runtime_error(fmt::format("cannot read {}", file.string()));
    const std::uint64_t size = fs::file_size(file);
    if (!check_header(bytes_from(stream, header_size), header, file)) return 0;
    std::uint64_t end = header_size;
    for (;;) {
        const std::string head = bytes_from(stream, block_head_size);
        if (head.size() < block_head_size) return end;
        if (!is_sound(head)) throw damaged(file, end);
        Taker numbers(head);
        const auto length = numbers.number<std::uint64_t>() + checksum_size;
        const auto rows = numbers.number<std::uint64_t>();
        if (end + block_head_size + length > size) return end;
        const std::string payload = bytes_from(stream, length);
        if (payload.size() < length) return end;
        if (!is_sound(payload)) throw damaged(file, end);
        Taker taker(payload);
        for (std::uint64_t i = 0; i < rows; ++i) take(taken_row(taker));
        end += block_head_size + length;
    }
}

bool are_alike(const LayoutRow& a, const LayoutRow& b) {
    std::string first, second;
    put_row(first, a);
    put_row(second, b);
    return first == second;
}

std::vector<fs::path> row_files(const fs::path& folder) {
    std::vector<fs::path> files;
    if (!fs::exists(folder)) return files;
    for (const fs::directory_entry& entry : fs::directory_iterator(folder)) {
        const std::string name = entry.path().filename().string();
        if (name.starts_with("rows_") && name.ends_with(".bin")) files.push_back(entry.path());
    }
    std::sort(files.begin(), files.end());
    return files;
}

std::string last_error() {
    return std::strerror(errno);
}

}  // namespace

std::uint64_t fingerprint(std::string_view text) {
    std::uint64_t hash = 14695981039346656037ULL;
    for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
    return hash;
}

RowFile::Descriptor::Descriptor(const fs::path& file)
    : number_(::open(file.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0666)) {
    if (number_ < 0) throw std::runtime_error(fmt::format("cannot open {}: {}", file.string(), last_error()));
}

RowFile::Descriptor::~Descriptor() {
    ::close(number_);
}

RowFile::RowFile(fs::path file, std::uint64_t study, std::size_t columns)
    : file_(std::move(file)), columns_(columns), descriptor_(file_) {
    if (::flock(descriptor_.number(), LOCK_EX | LOCK_NB) != 0)
        throw std::runtime_error(
            errno == EWOULDBLOCK
                ? fmt::format("{} is being written by another run of the program: wait for its end, or give "
                              "this run another folder or another share of the study",
                              file_.string())
                : fmt::format("cannot lock {}: {}", file_.string(), last_error()));
    const std::string header = header_of(study, columns);
    end_ = read_whole_blocks(file_, header, [](const LayoutRow&) {});
    if (::ftruncate(descriptor_.number(), static_cast<off_t>(end_)) != 0)
        throw std::runtime_error(fmt::format("cannot shorten {}: {}", file_.string(), last_error()));
    if (end_ == 0) write_at_end(header);
}

void RowFile::append(std::span<const LayoutRow> rows) {
    for (const LayoutRow& row : rows)
        if (row.failure.empty() ? row.values.size() != columns_ : !row.values.empty())
            throw std::invalid_argument(fmt::format("layout {} has {} values of {} and {} failure",
                                                    row.number, row.values.size(), columns_,
                                                    row.failure.empty() ? "no" : "a"));
    if (!rows.empty()) write_at_end(block_of(rows));
}

void RowFile::write_at_end(std::string_view bytes) {
    // One call, so that a reader sees the block whole or cut short, never with a hole.
    const ssize_t written =
        ::pwrite(descriptor_.number(), bytes.data(), bytes.size(), static_cast<off_t>(end_));
    const bool whole = written == static_cast<ssize_t>(bytes.size());
    if (!whole || ::fdatasync(descriptor_.number()) != 0) {
        const std::string reason = written >= 0 && !whole ? "the disk is full" : last_error();
        // If this fails too, the next opening takes the torn block off.
        [[maybe_unused]] const int ignored = ::ftruncate(descriptor_.number(), static_cast<off_t>(end_));
        throw std::runtime_error(fmt::format("cannot write {}: {}", file_.string(), reason));
    }
    end_ += bytes.size();
}

std::vector<LayoutRow> read_rows(const fs::path& folder, std::uint64_t study, std::size_t columns) {
    const std::string header = header_of(study, columns);
    std::vector<LayoutRow> rows;
    for (const fs::path& file : row_files(folder))
        read_whole_blocks(file, header, [&](LayoutRow&& row) { rows.push_back(std::move(row)); });
    std::stable_sort(rows.begin(), rows.end(),
                     [](const LayoutRow& a, const LayoutRow& b) { return a.number < b.number; });
    for (std::size_t i = 1; i < rows.size(); ++i)
        if (rows[i].number == rows[i - 1].number && !are_alike(rows[i], rows[i - 1]))
            throw std::runtime_error(fmt::format(
                "layout {} stands twice in {} with different values, so one of them is wrong: remove "
                "the folder's row files and solve the study again",
                rows[i].number, folder.string()));
    const auto same = [](const LayoutRow& a, const LayoutRow& b) { return a.number == b.number; };
    rows.erase(std::unique(rows.begin(), rows.end(), same), rows.end());
    return rows;
}

}  // namespace limbwright::postproc
