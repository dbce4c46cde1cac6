#include "postproc/files/row_file.hpp"

#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/wait.h>

#include <bit>
#include <cmath>
#include <csignal>
#include <stdexcept>

#include "tests/postproc/outside.hpp"

namespace limbwright::postproc::row_file_test {
namespace {

namespace fs = std::filesystem;
using models::LayoutRow;
using tests::content;
using tests::TemporaryFolder;

constexpr std::uint64_t study = 0x0123456789abcdef;
constexpr std::size_t columns = 2;

const std::vector<LayoutRow> first_block{{3, {0.1, -2e300}, ""}, {1, {NAN, -0.0}, ""}};
const std::vector<LayoutRow> second_block{{7, {}, "string slack at 312 mm"}};
const std::vector<LayoutRow> third_block{{5, {INFINITY, 5e-324}, ""}};

std::vector<std::int64_t> numbers(const std::vector<LayoutRow>& rows) {
    std::vector<std::int64_t> all;
    for (const LayoutRow& row : rows) all.push_back(row.number);
    return all;
}

/// Three blocks; how long the file is with none, one, two and three of them.
std::vector<std::uintmax_t> write_three_blocks(const fs::path& path) {
    std::vector<std::uintmax_t> sizes;
    RowFile file(path, study, columns);
    sizes.push_back(fs::file_size(path));
    for (const auto& block : {first_block, second_block, third_block}) {
        file.append(block);
        sizes.push_back(fs::file_size(path));
    }
    return sizes;
}

void write(const fs::path& path, const std::string& bytes) {
    std::ofstream(path, std::ios::binary) << bytes;
}

template <class Action>
std::string refusal(const Action& action) {
    try {
        action();
    } catch (const std::runtime_error& error) {
        return error.what();
    }
    return "no refusal";
}

TEST(RowFile, GivesBackTheSameBitsByRisingNumber) {
    const TemporaryFolder folder;
    write_three_blocks(folder / "rows_0.bin");
    const std::vector<LayoutRow> rows = read_rows(folder.path(), study, columns);
    ASSERT_EQ(numbers(rows), (std::vector<std::int64_t>{1, 3, 5, 7}));
    const auto bits = [](double value) { return std::bit_cast<std::uint64_t>(value); };
    EXPECT_EQ(bits(rows[0].values[0]), bits(first_block[1].values[0]));
    EXPECT_EQ(bits(rows[0].values[1]), bits(-0.0));
    EXPECT_EQ(rows[1].values, first_block[0].values);
    EXPECT_EQ(rows[2].values, third_block[0].values);
    EXPECT_TRUE(rows[3].values.empty());
    EXPECT_EQ(rows[3].failure, "string slack at 312 mm");
}

TEST(RowFile, TheSameRowsGiveTheSameBytes) {
    const TemporaryFolder folder;
    write_three_blocks(folder / "a");
    write_three_blocks(folder / "b");
    EXPECT_EQ(content(folder / "a"), content(folder / "b"));
}

TEST(RowFile, CutAtAnyByteItKeepsItsWholeBlocksAndGoesOnBehindThem) {
    const TemporaryFolder folder;
    const std::vector<std::uintmax_t> sizes = write_three_blocks(folder / "whole");
    const std::string whole = content(folder / "whole");
    const std::vector<std::vector<std::int64_t>> kept{{}, {1, 3}, {1, 3, 7}, {1, 3, 5, 7}};
    const fs::path path = folder / "rows_0.bin";
    for (std::size_t length = 0; length <= whole.size(); ++length) {
        std::size_t blocks = 0;
        while (blocks < 3 && sizes[blocks + 1] <= length) ++blocks;
        write(path, whole.substr(0, length));
        EXPECT_EQ(numbers(read_rows(folder.path(), study, columns)), kept[blocks]) << length;
        RowFile(path, study, columns).append(std::vector<LayoutRow>{{9, {1, 2}, ""}});
        std::vector<std::int64_t> with_new = kept[blocks];
        with_new.push_back(9);
        EXPECT_EQ(numbers(read_rows(folder.path(), study, columns)), with_new) << length;
    }
}

TEST(RowFile, AFlippedBitAnywhereIsFound) {
    const TemporaryFolder folder;
    write_three_blocks(folder / "whole");
    const std::string whole = content(folder / "whole");
    for (std::size_t bit = 0; bit < 8 * whole.size(); ++bit) {
        std::string flipped = whole;
        flipped[bit / 8] = static_cast<char>(flipped[bit / 8] ^ (1 << bit % 8));
        write(folder / "rows_0.bin", flipped);
        EXPECT_THROW((void)read_rows(folder.path(), study, columns), std::runtime_error) << bit;
        EXPECT_THROW(RowFile(folder / "rows_0.bin", study, columns), std::runtime_error) << bit;
        EXPECT_EQ(content(folder / "rows_0.bin"), flipped) << "a damaged file is left as it is";
    }
}

TEST(RowFile, AKilledProcessLeavesAllThatItHadAppended) {
    const TemporaryFolder folder;
    const fs::path path = folder / "rows_0.bin";
    const pid_t child = ::fork();
    if (child == 0) {
        RowFile file(path, study, columns);
        file.append(first_block);
        ::raise(SIGKILL);
    }
    int status = 0;
    ::waitpid(child, &status, 0);
    ASSERT_TRUE(WIFSIGNALED(status));
    RowFile(path, study, columns).append(third_block);
    EXPECT_EQ(numbers(read_rows(folder.path(), study, columns)), (std::vector<std::int64_t>{1, 3, 5}));
}

TEST(RowFile, AnotherStudyIsRefusedAndSaysWhatToDo) {
    const TemporaryFolder folder;
    write_three_blocks(folder / "rows_0.bin");
    const std::string before = content(folder / "rows_0.bin");
    for (const std::string& said : {refusal([&] { RowFile(folder / "rows_0.bin", study + 1, columns); }),
                                    refusal([&] { RowFile(folder / "rows_0.bin", study, columns + 1); }),
                                    refusal([&] { (void)read_rows(folder.path(), study + 1, columns); })}) {
        EXPECT_NE(said.find("another study"), std::string::npos) << said;
        EXPECT_NE(said.find("Choose another folder"), std::string::npos) << said;
    }
    EXPECT_EQ(content(folder / "rows_0.bin"), before);
}

TEST(RowFile, AForeignFileOfThatNameIsRefusedAndKept) {
    const TemporaryFolder folder;
    for (const std::string& text : {std::string("notes"), std::string(200, 'x')}) {
        write(folder / "rows_0.bin", text);
        const std::string said = refusal([&] { RowFile(folder / "rows_0.bin", study, columns); });
        EXPECT_NE(said.find("no file of solved rows"), std::string::npos) << said;
        EXPECT_EQ(content(folder / "rows_0.bin"), text);
    }
}

TEST(RowFile, OnlyOneWriterAtATime) {
    const TemporaryFolder folder;
    {
        const RowFile first(folder / "rows_0.bin", study, columns);
        const std::string said = refusal([&] { RowFile(folder / "rows_0.bin", study, columns); });
        EXPECT_NE(said.find("being written by another run"), std::string::npos) << said;
    }
    EXPECT_NO_THROW(RowFile(folder / "rows_0.bin", study, columns));
}

TEST(RowFile, AFullDiskTakesTheBlockBackAndTheNextOneFits) {
    const TemporaryFolder folder;
    const fs::path path = folder / "rows_0.bin";
    RowFile file(path, study, columns);
    file.append(first_block);
    // A limit on the size of files cuts the write short, as a full disk does.
    rlimit limit{};
    ::getrlimit(RLIMIT_FSIZE, &limit);
    const rlimit tight{fs::file_size(path) + 10, limit.rlim_max};
    auto* const handler = std::signal(SIGXFSZ, SIG_IGN);
    ::setrlimit(RLIMIT_FSIZE, &tight);
    const std::string said = refusal([&] { file.append(second_block); });
    ::setrlimit(RLIMIT_FSIZE, &limit);
    std::signal(SIGXFSZ, handler);
    EXPECT_NE(said.find("cannot write"), std::string::npos) << said;
    file.append(third_block);
    EXPECT_EQ(numbers(read_rows(folder.path(), study, columns)), (std::vector<std::int64_t>{1, 3, 5}));
}

TEST(RowFile, RefusesRowsThatAreNeitherSolvedNorFailed) {
    const TemporaryFolder folder;
    RowFile file(folder / "rows_0.bin", study, columns);
    for (const LayoutRow& row : {LayoutRow{1, {}, ""}, LayoutRow{1, {1}, ""}, LayoutRow{1, {1, 2}, "both"}})
        EXPECT_THROW(file.append(std::vector{row}), std::invalid_argument);
    EXPECT_TRUE(read_rows(folder.path(), study, columns).empty());
}

TEST(ReadRows, SeveralFilesGiveEachLayoutOnce) {
    const TemporaryFolder folder;
    RowFile(folder / "rows_0.bin", study, columns).append(first_block);
    RowFile other(folder / "rows_1.bin", study, columns);
    other.append(first_block);
    other.append(second_block);
    write(folder / "notes.txt", "not a row file");
    EXPECT_EQ(numbers(read_rows(folder.path(), study, columns)), (std::vector<std::int64_t>{1, 3, 7}));
}

TEST(ReadRows, ALayoutSolvedTwiceWithDifferentBitsIsAnError) {
    const TemporaryFolder folder;
    RowFile(folder / "rows_0.bin", study, columns).append(std::vector<LayoutRow>{{4, {1, 0.0}, ""}});
    RowFile(folder / "rows_1.bin", study, columns).append(std::vector<LayoutRow>{{4, {1, -0.0}, ""}});
    const std::string said = refusal([&] { (void)read_rows(folder.path(), study, columns); });
    EXPECT_NE(said.find("layout 4 stands twice"), std::string::npos) << said;
}

TEST(ReadRows, NoFolderHoldsNoRows) {
    const TemporaryFolder folder;
    EXPECT_TRUE(read_rows(folder / "not there", study, columns).empty());
}

TEST(Fingerprint, IsFnv1a) {
    // Test vectors published with the FNV hash (Fowler, Noll, Vo; draft-eastlake-fnv, appendix C).
    EXPECT_EQ(fingerprint(""), 0xcbf29ce484222325U);
    EXPECT_EQ(fingerprint("a"), 0xaf63dc4c8601ec8cU);
    EXPECT_EQ(fingerprint("foobar"), 0x85944171f73967e8U);
}

}  // namespace
}  // namespace limbwright::postproc::row_file_test
