#include "postproc/commands/command_line.hpp"

#include <gtest/gtest.h>

#include "tests/postproc/program.hpp"

namespace limbwright::postproc::command_line_test {
namespace {

using tests::called;
using tests::Called;
using tests::says;

TEST(CommandLine, TellsItsVersion) {
    const Called version = called({"--version"});
    EXPECT_EQ(version.status, 0);
    EXPECT_TRUE(version.output.starts_with("limbwright ")) << version.output;
    EXPECT_EQ(version.errors, "");
}

TEST(CommandLine, HelpNamesEveryCommand) {
    const Called help = called({"--help"});
    EXPECT_EQ(help.status, 0);
    for (const char* command : {"\n  start ", "\n  check ", "\n  draw ", "\n  effects ", "\n  rank ",
                                "\n  match ", "\n  cure ", "\n  log "})
        EXPECT_TRUE(says(help.output, command)) << command << help.output;
    EXPECT_EQ(help.errors, "");
}

TEST(CommandLine, HelpOnACommandNamesItsOptions) {
    const std::vector<std::pair<std::string, std::vector<std::string>>> options{
        {"start",
         {"file", "--axle-to-axle", "--brace-height", "--draw-length", "--peak-weight", "--limb-length",
          "--limb-width-root", "--limb-width-tip", "--limb-thickness-root", "--limb-thickness-tip",
          "--left-handed", "--force"}},
        {"check", {"bow", "--json"}},
        {"draw", {"bow", "-o,--folder", "--json", "--no-files", "--let-down", "--draw-length", "--states"}},
        {"effects", {"bow", "--re-timed", "--spacer", "--all", "--json"}},
        {"rank", {"study", "-o,--folder", "--threads", "--shard", "--no-files", "--json", "--progress"}},
        {"match", {"bow", "bench", "--write", "--force", "--json"}},
        {"cure",
         {"bow", "--bench", "--tear", "--tail", "--size", "--distance", "--date", "--remark", "--not-rebuilt",
          "--log", "--bolts", "--limb", "--spacer", "--pick", "--sheet", "--json"}},
        {"log",
         {"bow", "log", "--bench", "--tear", "--tail", "--size", "--date", "--remark", "--not-rebuilt",
          "--bolts", "--limb", "--spacer", "--json"}},
    };
    for (const auto& [command, names] : options) {
        const Called help = called({command, "--help"});
        EXPECT_EQ(help.status, 0);
        for (const std::string& name : names)
            EXPECT_TRUE(says(help.output, "\n  " + name + " ")) << command << " " << name << help.output;
    }
}

TEST(CommandLine, RefusesWhatIsNoCommand) {
    for (const std::vector<std::string>& words :
         {std::vector<std::string>{}, {"paint"}, {"draw"}, {"draw", "a.toml", "--colour"}}) {
        const Called refused = called(words);
        EXPECT_EQ(refused.status, 2);
        EXPECT_EQ(refused.output, "");
        EXPECT_NE(refused.errors, "");
    }
}

TEST(CommandLine, AFileThatIsNotThereIsWrongInput) {
    for (const char* command : {"check", "draw", "effects", "rank"}) {
        const Called refused = called({command, "/nowhere/bow.toml"});
        EXPECT_EQ(refused.status, 2);
        EXPECT_EQ(refused.output, "");
        EXPECT_EQ(refused.errors, "/nowhere/bow.toml: this file cannot be read\n");
    }
}

TEST(CommandLine, AQuantityNeedsItsUnit) {
    const tests::Bench bench;
    for (const char* text : {"28.5", "28.5 lbf", "far"}) {
        const Called refused = called({"draw", bench.bow, "--no-files", "--draw-length", text});
        EXPECT_EQ(refused.status, 2);
        EXPECT_EQ(refused.output, "");
        EXPECT_TRUE(says(refused.errors, "--draw-length: must be a length such as")) << refused.errors;
        EXPECT_TRUE(says(refused.errors, "but is \"" + std::string(text) + "\"")) << refused.errors;
    }
}

TEST(CommandLine, TheProgramHandsItsStatusToTheShell) {
    const std::string program =
        (std::filesystem::read_symlink("/proc/self/exe").parent_path() / "limbwright").string();
    const tests::Outcome version = tests::run(program + " --version");
    EXPECT_TRUE(version.succeeded);
    EXPECT_EQ(version.output, called({"--version"}).output);
    EXPECT_TRUE(tests::run(program + " check /nowhere/bow.toml; test $? = 2").succeeded);
}

}  // namespace
}  // namespace limbwright::postproc::command_line_test
