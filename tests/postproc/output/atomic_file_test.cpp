#include "postproc/output/atomic_file.hpp"

#include <gtest/gtest.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <fstream>
#include <functional>
#include <stdexcept>

#include "tests/postproc/outside.hpp"

namespace limbwright::postproc::atomic_file_test {
namespace {

using tests::content;
using tests::TemporaryFolder;

/// Hears of every path that is synced, just before.
std::function<void(const std::filesystem::path&)> on_sync;

struct Interruption : std::runtime_error {
    Interruption() : std::runtime_error("interrupted") {}
};

TEST(SafeFile, WritesANewFileAndNothingElse) {
    const TemporaryFolder folder;
    write_whole_file(folder / "new", "text\n");
    EXPECT_EQ(content(folder / "new"), "text\n");
    EXPECT_EQ(folder.entries(), 1);
}

TEST(SafeFile, ReplacesAnOldFile) {
    const TemporaryFolder folder;
    write_whole_file(folder / "file", "a long old text");
    write_whole_file(folder / "file", "new");
    EXPECT_EQ(content(folder / "file"), "new");
    EXPECT_EQ(folder.entries(), 1);
}

TEST(SafeFile, KeepsTheOldFileWhenTheWriterIsInterrupted) {
    const TemporaryFolder folder;
    write_whole_file(folder / "file", "old");
    const auto write = [](const std::filesystem::path& path) {
        std::ofstream(path) << "half of the n";
        throw Interruption();
    };
    EXPECT_THROW(write_whole_file(folder / "file", write), Interruption);
    EXPECT_EQ(content(folder / "file"), "old");
    EXPECT_EQ(folder.entries(), 1);
}

/// Paths in the order of their syncs, and what the given file held then.
using Syncs = std::vector<std::pair<std::string, std::string>>;

Syncs syncs_while(const std::filesystem::path& file, const std::function<void()>& write) {
    Syncs syncs;
    on_sync = [&](const std::filesystem::path& path) {
        syncs.emplace_back(path.filename().string(), content(file));
    };
    write();
    on_sync = nullptr;
    return syncs;
}

TEST(SafeFile, ContentIsSyncedBeforeItsNameAndItsNameAfterwards) {
    const TemporaryFolder folder;
    write_whole_file(folder / "file", "old");
    const Syncs syncs = syncs_while(folder / "file", [&] { write_whole_file(folder / "file", "new"); });
    const std::string temporary = fmt::format(".file.{}.partial", ::getpid());
    EXPECT_EQ(syncs, (Syncs{{temporary, "old"}, {folder.path().filename().string(), "new"}}));
}

TEST(SafeFile, WritesThroughASymbolicLink) {
    const TemporaryFolder folder;
    write_whole_file(folder / "file", "old");
    std::filesystem::create_symlink("file", folder / "link");
    write_whole_file(folder / "link", "new");
    EXPECT_TRUE(std::filesystem::is_symlink(folder / "link"));
    EXPECT_EQ(content(folder / "file"), "new");
}

TEST(SafeFile, NeverReplacesAFolderOrADevice) {
    const TemporaryFolder folder;
    std::filesystem::create_directory(folder / "inner");
    EXPECT_THROW(write_whole_file(folder / "inner", "text"), std::runtime_error);
    EXPECT_TRUE(std::filesystem::is_directory(folder / "inner"));
    std::filesystem::create_symlink("/dev/null", folder / "link");
    EXPECT_THROW(write_whole_file(folder / "link", "text"), std::runtime_error);
}

TEST(SafeFile, NamesTheMissingFolder) {
    const TemporaryFolder folder;
    try {
        write_whole_file(folder / "missing/file", "text");
        FAIL() << "nothing thrown";
    } catch (const std::runtime_error& error) {
        EXPECT_NE(std::string(error.what()).find("there is no folder " + (folder / "missing").string()),
                  std::string::npos)
            << error.what();
    }
}

TEST(SafeFile, AcceptsABareNameInTheCurrentFolder) {
    const TemporaryFolder folder;
    const std::filesystem::path before = std::filesystem::current_path();
    std::filesystem::current_path(folder.path());
    write_whole_file("bare", "text");
    std::filesystem::current_path(before);
    EXPECT_EQ(content(folder / "bare"), "text");
}

TEST(SafeFile, ATextIsReadAsItWasWritten) {
    const TemporaryFolder folder;
    const std::string text("a\r\nb\0c", 6);
    write_text(folder / "file", text);
    EXPECT_EQ(read_text(folder / "file"), text);
    EXPECT_THROW((void)read_text(folder / "nowhere"), std::runtime_error);
}

TEST(SafeFolder, ReplacesTheOldFolderWithAllThatIsInIt) {
    const TemporaryFolder folder;
    const auto fill_with = [](const std::string& name) {
        return [name](const std::filesystem::path& path) { std::ofstream(path / name) << name; };
    };
    write_whole_folder(folder / "states", fill_with("old"));
    write_whole_folder(folder / "states", fill_with("new"));
    EXPECT_FALSE(std::filesystem::exists(folder / "states/old"));
    EXPECT_EQ(content(folder / "states/new"), "new");
    EXPECT_EQ(folder.entries(), 1);
}

TEST(SafeFolder, AllThatIsInItIsSyncedBeforeItsName) {
    const TemporaryFolder folder;
    const auto fill = [](const std::filesystem::path& path) {
        std::filesystem::create_directory(path / "inner");
        std::ofstream(path / "inner/file") << "new";
    };
    const Syncs syncs =
        syncs_while(folder / "states/inner/file", [&] { write_whole_folder(folder / "states", fill); });
    const std::string temporary = fmt::format(".states.{}.partial", ::getpid());
    EXPECT_EQ(syncs, (Syncs{{temporary, ""}, {folder.path().filename().string(), "new"}}));
}

TEST(SafeFolder, KeepsTheOldFolderWhenTheWriterIsInterrupted) {
    const TemporaryFolder folder;
    write_whole_folder(folder / "states", [](const auto& path) { std::ofstream(path / "old") << "old"; });
    const auto write = [](const std::filesystem::path& path) {
        std::ofstream(path / "new") << "half";
        throw Interruption();
    };
    EXPECT_THROW(write_whole_folder(folder / "states", write), Interruption);
    EXPECT_EQ(content(folder / "states/old"), "old");
    EXPECT_FALSE(std::filesystem::exists(folder / "states/new"));
    EXPECT_EQ(folder.entries(), 1);
}

}  // namespace
}  // namespace limbwright::postproc::atomic_file_test

namespace {

void tell_of_sync(int descriptor) {
    namespace fs = std::filesystem;
    using limbwright::postproc::atomic_file_test::on_sync;
    if (on_sync) on_sync(fs::read_symlink(fs::path("/proc/self/fd") / std::to_string(descriptor)));
}

}  // namespace

/// These stand before the C library's in this program.
extern "C" int fsync(int descriptor) {
    tell_of_sync(descriptor);
    return static_cast<int>(::syscall(SYS_fsync, descriptor));
}
extern "C" int syncfs(int descriptor) noexcept {
    tell_of_sync(descriptor);
    return static_cast<int>(::syscall(SYS_syncfs, descriptor));
}
