#include "postproc/commands/command_rank.hpp"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/wait.h>

#include <algorithm>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <map>
#include <nlohmann/json.hpp>
#include <thread>

#include "tests/postproc/program.hpp"

namespace limbwright::postproc::command_rank_test {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using tests::called;
using tests::Called;
using tests::content;
using tests::says;

const std::string aims = R"(
[[aim]]
measure = "cam lean, top"
less = "cam lean, bottom"
at = "full draw"
want = "target"
target = 0
within = 0.05
weight = 2

[[aim]]
measure = "nock travel, lateral"
at = "full draw"
want = "target"
target = 0
)";
const std::string spacers = R"(
[[spacers]]
thickness = "1.5 mm"
count = 4
[[spacers]]
thickness = "2.5 mm"
count = 4
)";
/// 12 pairings × 81 spacer layouts: about a second's work, so that it can be caught at it.
const std::string many = "drawn = 1\nkeep = 5\n[limbs]\nnumbers = [51, 49, 50, 50]\n" + spacers + aims;
/// Three places of the guide.
const std::string few =
    "drawn = 0\n[[range]]\nsetting = \"guide, lateral\"\nfrom = \"-1 mm\"\nto = \"1 mm\"\nstep = \"1 mm\"\n" +
    aims;

/// A folder with the crossed bow of the examples in it, and studies of it.
struct StudyBench {
    tests::TemporaryFolder folder;
    StudyBench() {
        for (const char* name :
             {"crossed.toml", "crossed_string.csv", "crossed_take_up.csv", "crossed_let_out.csv"})
            fs::copy_file(fs::path(SOURCE_DIR "/examples") / name, folder / name);
        // Fewer states to draw and to write are enough here.
        tests::written(folder / "crossed.toml",
                       tests::replaced(content(folder / "crossed.toml"), "states = 41", "states = 9"));
    }

    [[nodiscard]] std::string study(const std::string& text) const {
        return tests::written(folder / "study.toml", "bow = \"crossed.toml\"\n" + text).string();
    }
    /// Ranks in this process, without a word of progress.
    [[nodiscard]] Called rank(const std::string& text, const std::string& out,
                              const std::vector<std::string>& more = {}) const {
        std::vector<std::string> words{"rank",       study(text), "-o", (folder / out).string(),
                                       "--progress", "never"};
        words.insert(words.end(), more.begin(), more.end());
        return called(words);
    }
};

/// Texts of all files in a folder but the rows.
std::map<std::string, std::string> results_in(const fs::path& folder) {
    std::map<std::string, std::string> texts;
    for (const fs::directory_entry& entry : fs::recursive_directory_iterator(folder))
        if (entry.is_regular_file() && entry.path().extension() != ".bin")
            texts[fs::relative(entry.path(), folder).string()] = content(entry.path());
    return texts;
}

void expect_same_results(const fs::path& folder, const fs::path& other) {
    const std::map<std::string, std::string> a = results_in(folder), b = results_in(other);
    EXPECT_FALSE(a.empty());
    ASSERT_EQ(a.size(), b.size());
    for (const auto& [name, text] : a) EXPECT_TRUE(b.contains(name) && b.at(name) == text) << name;
}

/// `many` with an undisturbed run on one thread, made once.
struct Whole {
    StudyBench bench;
    Called rank = bench.rank(many, "whole", {"--threads", "1"});
};
const Whole& whole() {
    static const Whole made;
    return made;
}

/// The built program, ranking `many` in a process of its own.
class Process {
public:
    explicit Process(const std::string& out) : rows_(whole().bench.folder / out / "rows/rows_1_of_1.bin") {
        const std::string program =
            (fs::read_symlink("/proc/self/exe").parent_path() / "limbwright").string();
        const std::string study = whole().bench.study(many), folder = (whole().bench.folder / out).string(),
                          errors = (whole().bench.folder / (out + ".errors")).string();
        id_ = ::fork();
        if (id_ == 0) {
            for (const int stream : {STDOUT_FILENO, STDERR_FILENO})
                ::dup2(::open(errors.c_str(), O_WRONLY | O_CREAT | O_APPEND, 0600), stream);
            ::execl(program.c_str(), "limbwright", "rank", study.c_str(), "-o", folder.c_str(), "--threads",
                    "1", nullptr);
            ::_exit(99);
        }
    }
    Process(const Process&) = delete;
    Process& operator=(const Process&) = delete;
    ~Process() {
        if (id_ > 0 && !ended_) (void)end_by(SIGKILL);
    }

    /// Waits until rows are stored.
    [[nodiscard]] bool stores_rows() const {
        constexpr std::uintmax_t more_than_the_header = 1000;
        for (int i = 0; i < 2000; ++i) {
            std::error_code none;
            const std::uintmax_t size = fs::file_size(rows_, none);
            if (!none && size > more_than_the_header) return true;
            std::this_thread::sleep_for(std::chrono::milliseconds(5));
        }
        return false;
    }
    /// What `waitpid` says of its end.
    int end_by(int signal) {
        int status = 0;
        ::kill(id_, signal);
        ::waitpid(id_, &status, 0);
        ended_ = true;
        return status;
    }

private:
    fs::path rows_;
    ::pid_t id_ = -1;
    bool ended_ = false;
};

TEST(CommandRank, PrintsTheRankingAndLeavesItsFiles) {
    ASSERT_EQ(whole().rank.status, 0) << whole().rank.errors;
    for (const char* words :
         {"Layouts ranked by", "\ntoday ", "\n1 ", "\n5 ", "How the best layout is built",
          "The study has 972 layouts: 12 distinct pairings", "10 of the solved layouts were solved again",
          "Forgiveness at full draw", "\nbest 1 "})
        EXPECT_TRUE(says(whole().rank.output, words)) << words << whole().rank.output;
    EXPECT_FALSE(says(whole().rank.output, "Warning"));
    EXPECT_TRUE(says(whole().rank.errors, "qualified technician"));
    for (const char* name :
         {"ranking.h5", "ranking.json", "lean_map_top.svg", "lean_map_bottom.svg", "score_map.svg",
          "nock_travel.svg", "force.svg", "forgiveness.svg", "best_1/crossed.pvd"})
        EXPECT_TRUE(results_in(whole().bench.folder / "whole").contains(name)) << name;
}

TEST(CommandRank, InterruptedAndStartedAgainGivesTheSameFilesByteForByte) {
    Process process("interrupted");
    ASSERT_TRUE(process.stores_rows());
    const int status = process.end_by(SIGINT);
    ASSERT_TRUE(WIFEXITED(status));
    EXPECT_EQ(WEXITSTATUS(status), 130);
    EXPECT_TRUE(says(content(whole().bench.folder / "interrupted.errors"),
                     "Stopped. What was solved is stored: the same command goes on from here."));
    EXPECT_TRUE(results_in(whole().bench.folder / "interrupted").empty());
    EXPECT_EQ(whole().bench.rank(many, "interrupted").status, 0);
    expect_same_results(whole().bench.folder / "whole", whole().bench.folder / "interrupted");
}

TEST(CommandRank, KilledAndStartedAgainGivesTheSameFilesByteForByte) {
    Process process("killed");
    ASSERT_TRUE(process.stores_rows());
    const int status = process.end_by(SIGKILL);
    ASSERT_TRUE(WIFSIGNALED(status));
    EXPECT_TRUE(results_in(whole().bench.folder / "killed").empty());
    EXPECT_EQ(whole().bench.rank(many, "killed", {"--threads", "2"}).status, 0);
    expect_same_results(whole().bench.folder / "whole", whole().bench.folder / "killed");
}

TEST(CommandRank, TwoSharesAndTheirRankingGiveTheSameFilesByteForByte) {
    const Called first = whole().bench.rank(many, "shared", {"--shard", "1/2"});
    EXPECT_EQ(first.status, 0) << first.errors;
    EXPECT_TRUE(says(first.output, "486 rows are in")) << first.output;
    EXPECT_TRUE(says(first.output, "limbwright rank ")) << first.output;
    EXPECT_TRUE(results_in(whole().bench.folder / "shared").empty());
    ::setenv("OMPI_COMM_WORLD_RANK", "1", 1);
    ::setenv("OMPI_COMM_WORLD_SIZE", "2", 1);
    const Called second = whole().bench.rank(many, "shared", {"--shard", "auto"});
    ::unsetenv("OMPI_COMM_WORLD_RANK");
    ::unsetenv("OMPI_COMM_WORLD_SIZE");
    EXPECT_EQ(second.status, 0) << second.errors;
    EXPECT_TRUE(fs::exists(whole().bench.folder / "shared/rows/rows_2_of_2.bin"));
    EXPECT_EQ(whole().bench.rank(many, "shared").status, 0);
    expect_same_results(whole().bench.folder / "whole", whole().bench.folder / "shared");
}

TEST(CommandRank, OtherWeightsUseTheStoredRows) {
    const StudyBench bench;
    ASSERT_EQ(bench.rank(few, "out").status, 0);
    const auto rows = [&] { return content(bench.folder / "out/rows/rows_1_of_1.bin"); };
    const std::string before = rows();
    const std::string other = tests::replaced(few, "weight = 2", "weight = 5");
    const Called again = bench.rank(other, "out");
    EXPECT_EQ(again.status, 0);
    EXPECT_TRUE(says(again.output, "weight 5")) << again.output;
    EXPECT_EQ(rows(), before);
}

TEST(CommandRank, RowsOfAnotherBowAreRefused) {
    const StudyBench bench;
    ASSERT_EQ(bench.rank(few, "out").status, 0);
    tests::written(bench.folder / "crossed.toml",
                   tests::replaced(content(bench.folder / "crossed.toml"), "shortening_per_turn = \"0.2 mm\"",
                                   "shortening_per_turn = \"0.3 mm\""));
    const Called refused = bench.rank(few, "out");
    EXPECT_EQ(refused.status, 1);
    EXPECT_TRUE(says(refused.errors, "holds rows of another study")) << refused.errors;
}

TEST(CommandRank, ALayoutThatCannotBeSolvedIsToldWithItsCause) {
    const StudyBench bench;
    const Called rank = bench.rank(
        "drawn = 0\n[[range]]\nsetting = \"twist, string\"\nfrom = 0\nto = 1500\nstep = 1500\n" + aims,
        "out");
    EXPECT_EQ(rank.status, 0) << rank.errors;
    EXPECT_TRUE(says(rank.output, "Layouts that could not be solved: 1\n  layout 1: ")) << rank.output;
    EXPECT_TRUE(says(rank.output, "1 of 1 layouts that could not be solved, for instance: "));
}

TEST(CommandRank, AScreenedProductHasTheSameBestLayouts) {
    const StudyBench bench;
    const Called screened = bench.rank("solve_all = 0\n" + many, "out", {"--no-files", "--json"});
    ASSERT_EQ(screened.status, 0) << screened.errors;
    EXPECT_TRUE(says(screened.output, "bounded out by a model"));
    EXPECT_EQ(json::parse(screened.output)["best"],
              json::parse(content(whole().bench.folder / "whole/ranking.json"))["best"]);
}

TEST(CommandRank, TodaysLayoutIsShownThoughTheProductLacksIt) {
    const StudyBench bench;
    const std::string elsewhere =
        tests::replaced(tests::replaced(few, "-1 mm", "3 mm"), "\"1 mm\"", "\"4 mm\"");
    const Called rank = bench.rank(elsewhere, "out", {"--no-files"}), with_today = bench.rank(few, "out");
    ASSERT_EQ(rank.status, 0) << rank.errors;
    const auto today_line = [](const std::string& text) {
        const std::vector<std::string> lines = tests::lines_of(text);
        const std::string line =
            *std::ranges::find_if(lines, [](const std::string& l) { return l.starts_with("today"); });
        return line.substr(line.find("51 49"));  // the first column may be wider where it is ranked too
    };
    EXPECT_EQ(today_line(rank.output), today_line(with_today.output));
}

TEST(CommandRank, JsonIsAllThatStandsOnStandardOutput) {
    const StudyBench bench;
    const Called rank = bench.rank(few, "out", {"--json"});
    EXPECT_EQ(rank.status, 0);
    ASSERT_TRUE(json::accept(rank.output)) << rank.output;
    EXPECT_EQ(rank.output, content(bench.folder / "out/ranking.json"));
    EXPECT_TRUE(says(rank.errors, "ranking.h5"));
}

TEST(CommandRank, WithNoFilesTheFolderStaysAsItWas) {
    const StudyBench bench;
    const Called rank = bench.rank(few, "out", {"--no-files"});
    EXPECT_EQ(rank.status, 0);
    EXPECT_FALSE(fs::exists(bench.folder / "out"));
    EXPECT_FALSE(says(rank.output, "Files:"));
}

TEST(CommandRank, TellsItsProgressOnStandardError) {
    const StudyBench bench;
    const Called rank = called({"rank", bench.study(few), "--no-files", "--progress", "always"});
    EXPECT_TRUE(says(rank.errors, "\r3 of 3 layouts, ")) << rank.errors;
    EXPECT_FALSE(says(rank.output, "of 3 layouts, "));
}

TEST(CommandRank, WrongSharesAndOptionsAreWrongInput) {
    const StudyBench bench;
    for (const std::vector<std::string>& more : {std::vector<std::string>{"--shard", "3/2"},
                                                 {"--shard", "auto"},
                                                 {"--shard", "1/2", "--no-files"},
                                                 {"--threads", "0"},
                                                 {"--progress", "loud"}}) {
        const Called refused = bench.rank(few, "out", more);
        EXPECT_EQ(refused.status, 2) << refused.errors;
        EXPECT_EQ(refused.output, "");
        EXPECT_NE(refused.errors, "");
        EXPECT_FALSE(fs::exists(bench.folder / "out"));
    }
}

TEST(CommandRank, ABowThatCannotBeStrungIsToldInASentence) {
    const StudyBench bench;
    tests::written(bench.folder / "crossed.toml",
                   tests::replaced(content(bench.folder / "crossed.toml"), "axle_to_axle = \"33 in\"",
                                   "axle_to_axle = \"47 in\""));
    const Called failed = bench.rank(few, "out");
    EXPECT_EQ(failed.status, 1);
    EXPECT_TRUE(says(failed.errors, "could not be strung as it is today: ")) << failed.errors;
}

}  // namespace
}  // namespace limbwright::postproc::command_rank_test
