#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <vector>

#include "tests/postproc/outside.hpp"

/// Every snippet of README.md runs as it stands, from top to bottom of the page, for a person in a folder
/// with the crossed demo bow's files and examples/ at hand and the program on the path.
///
/// Left out: the two commands that install, build and test, because they are how this test comes to run;
/// lines that begin with mpirun or sbatch, which need other programs and, the latter, a cluster.
namespace limbwright::postproc::readme_test {
namespace {

namespace fs = std::filesystem;
using Lines = std::vector<std::string>;

const fs::path root = SOURCE_DIR;

/// Blocks of lines that are indented by four.
std::vector<Lines> snippets() {
    std::istringstream text(tests::content(root / "README.md"));
    std::vector<Lines> found;
    bool inside = false;
    for (std::string line; std::getline(text, line);) {
        const bool indented = line.starts_with("    ");
        if (!indented && !line.empty()) inside = false;  // a blank line does not end a block
        if (!indented) continue;
        if (!inside) found.emplace_back();
        inside = true;
        const std::string words = line.substr(4);
        if (!found.back().empty() && found.back().back().ends_with('\\'))
            found.back().back() += "\n" + words;
        else
            found.back().push_back(words);
    }
    return found;
}

bool starts_with_one_of(const std::string& line, const auto& words) {
    return std::ranges::any_of(words, [&](const char* word) { return line.starts_with(word); });
}

constexpr std::array left_out{"sh examples/draw_demo.sh ", "sh tests/run_tests.sh ", "mpirun ", "sbatch "};
constexpr std::array tables{"[limb]", "[riser]"};

class Reader {
public:
    Reader() {
        fs::create_directory_symlink(root / "examples", folder_ / "examples");
        for (const fs::directory_entry& entry : fs::directory_iterator(root / "examples"))
            if (entry.path().filename().string().starts_with("crossed"))
                fs::copy(entry.path(), folder_ / entry.path().filename().string());
    }

    void follow(const Lines& snippet) {
        if (snippet.front().starts_with("bow = "))
            write("study.toml", snippet);  // ranked by a command further down
        else if (starts_with_one_of(snippet.front(), tables))
            check_with(snippet);
        else
            for (const std::string& command : snippet)
                if (!starts_with_one_of(command, left_out)) run(command);
    }

private:
    void write(const std::string& name, const Lines& lines) const {
        std::ofstream stream(folder_ / name);
        for (const std::string& line : lines) stream << line << "\n";
    }

    void run(const std::string& command) const {
        const fs::path programs = fs::read_symlink("/proc/self/exe").parent_path();
        const tests::Outcome outcome = tests::run(
            fmt::format("cd {} && export PATH={}:$PATH\n{}\n", folder_.path().string(), programs.string(), command));
        EXPECT_TRUE(outcome.succeeded) << command << "\n" << outcome.output;
    }

    /// The snippet's keys stand in their tables of the crossed demo bow's file.
    void check_with(const Lines& snippet) const {
        std::string bow = tests::content(root / "examples/crossed.toml");
        std::string table;
        for (const std::string& line : snippet) {
            if (line.starts_with('[')) table = "\n" + line + "\n";
            const std::size_t place = bow.find(table);
            ASSERT_NE(place, std::string::npos) << table;
            if (!line.starts_with('[')) bow.insert(place + table.size(), line + "\n");
        }
        write("with_keys.toml", {bow});
        run("limbwright check with_keys.toml");
    }

    tests::TemporaryFolder folder_;
};

TEST(Readme, EverySnippetRunsAsItStands) {
    const std::vector<Lines> all = snippets();
    ASSERT_FALSE(all.empty());
    Reader reader;
    for (const Lines& snippet : all) reader.follow(snippet);
}

}  // namespace
}  // namespace limbwright::postproc::readme_test
