#include "postproc/files/shard.hpp"

#include <gtest/gtest.h>

#include <map>

#include "postproc/output/usage_error.hpp"

namespace limbwright::postproc::shard_test {
namespace {

Environment with(std::map<std::string, std::string> variables) {
    return [variables = std::move(variables)](const char* name) -> std::optional<std::string> {
        const auto found = variables.find(name);
        return found == variables.end() ? std::nullopt : std::optional(found->second);
    };
}

std::string complaint(const std::string& text, const Environment& environment = with({})) {
    try {
        (void)shard_from(text, environment);
    } catch (const UsageError& error) {
        return error.sentence;
    }
    return "none";
}

void expect_shard(const Shard& shard, int index, int count) {
    EXPECT_EQ(shard.index, index);
    EXPECT_EQ(shard.count, count);
}

TEST(Shard, IsReadFromTheCommandLine) {
    expect_shard(shard_from("2/8", with({})), 2, 8);
}

TEST(Shard, RefusesWhatIsNoShare) {
    for (const char* text : {"", "2", "2/", "/8", "a/b", "2/8x", "1.5/2"})
        EXPECT_TRUE(complaint(text).starts_with("--shard must be a share such as 2/8")) << text;
    for (const char* text : {"0/8", "9/8", "1/0", "-1/2"})
        EXPECT_TRUE(complaint(text).starts_with("--shard must name one of so many")) << text;
}

TEST(Shard, SharesHoldEveryNumberOnce) {
    for (std::int64_t number = 0; number < 10; ++number) {
        int holders = 0;
        for (int index = 1; index <= 3; ++index) holders += Shard{index, 3, 1}.holds(number);
        EXPECT_EQ(holders, 1);
    }
    EXPECT_TRUE((Shard{1, 3, 1}.holds(0)));
}

TEST(Shard, LaunchersCountFromZero) {
    expect_shard(shard_from("auto", with({{"OMPI_COMM_WORLD_RANK", "0"}, {"OMPI_COMM_WORLD_SIZE", "4"}})), 1,
                 4);
    expect_shard(shard_from("auto", with({{"PMI_RANK", "3"}, {"PMI_SIZE", "4"}})), 4, 4);
    expect_shard(shard_from("auto", with({{"SLURM_PROCID", "1"}, {"SLURM_NTASKS", "2"}})), 2, 2);
}

TEST(Shard, AnArrayCountsFromItsFirstTaskInItsSteps) {
    const std::map<std::string, std::string> job{{"SLURM_PROCID", "0"},
                                                 {"SLURM_NTASKS", "1"},
                                                 {"SLURM_ARRAY_TASK_ID", "14"},
                                                 {"SLURM_ARRAY_TASK_COUNT", "3"},
                                                 {"SLURM_ARRAY_TASK_MIN", "10"}};
    EXPECT_TRUE(complaint("auto", with(job)).starts_with("SLURM_ARRAY_TASK_ID must name one of"));
    std::map<std::string, std::string> stepped = job;
    stepped["SLURM_ARRAY_TASK_STEP"] = "2";
    expect_shard(shard_from("auto", with(stepped)), 3, 3);
}

TEST(Shard, WithoutALauncherTheComplaintNamesWhatItWouldSet) {
    for (const char* name : {"OMPI_COMM_WORLD_RANK", "PMI_RANK", "SLURM_ARRAY_TASK_ID", "SLURM_PROCID"})
        EXPECT_NE(complaint("auto").find(name), std::string::npos) << complaint("auto");
}

TEST(Shard, AVariableThatIsNoNumberIsNamed) {
    EXPECT_EQ(complaint("auto", with({{"PMI_RANK", "one"}, {"PMI_SIZE", "2"}})),
              "PMI_RANK must be a whole number for --shard auto, but is \"one\"");
}

TEST(Shard, SharesOnOneMachineDivideItsCores) {
    const int alone = threads_for({1, 1, 1});
    EXPECT_GE(alone, 1);
    EXPECT_EQ(threads_for({1, 4096, 4096}), 1);
    EXPECT_LE(threads_for({1, 2, 2}), alone);
    EXPECT_EQ(shard_from("auto", with({{"OMPI_COMM_WORLD_RANK", "0"},
                                       {"OMPI_COMM_WORLD_SIZE", "4"},
                                       {"OMPI_COMM_WORLD_LOCAL_SIZE", "2"}}))
                  .ranks_here,
              2);
}

}  // namespace
}  // namespace limbwright::postproc::shard_test
