// Seconds depend on what else a machine does, instructions do not: `valgrind --tool=callgrind` counts them,
// and a count past its budget means that a change has made something slower. Budgets are the counts of the
// day they were taken, with GCC 12 on Debian 12; a change that lowers a count well below its budget lowers
// the budget.

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <string>

namespace limbwright::instruction_budget_test {
namespace {

/// Instructions of the whole program that does the work so many times.
double counted(const std::string& work, int times) {
    const std::string command = fmt::format(
        "valgrind --tool=callgrind --callgrind-out-file=/dev/null {} {} {} 2>&1", COUNTED_WORK, work, times);
    std::FILE* pipe = ::popen(command.c_str(), "r");
    if (!pipe) return -1;
    double count = -1;
    std::array<char, 512> line;
    while (std::fgets(line.data(), line.size(), pipe)) {
        const std::string text = line.data();
        const std::string label = "Collected : ";
        const std::size_t at = text.find(label);
        if (at != std::string::npos) count = std::strtod(text.c_str() + at + label.size(), nullptr);
    }
    return ::pclose(pipe) == 0 ? count : -1;
}

/// What doing it once more costs.
double instructions(const std::string& work) {
    const double once = counted(work, 2), thrice = counted(work, 4);
    EXPECT_GT(once, 0) << "valgrind could not count; it is Debian's package valgrind";
    return (thrice - once) / 2;
}

/// Another libm or standard library changes a few per cent; a lost optimisation much more.
constexpr double allowance = 0.1;

TEST(InstructionBudget, OfOneNewtonIteration) {
    constexpr double budget = 1.640e6;
    const double count = instructions("iteration");
    RecordProperty("instructions", fmt::format("{:.0f}", count));
    EXPECT_LT(count, (1 + allowance) * budget);
    EXPECT_GT(count, (1 - 2 * allowance) * budget) << "much better than the budget: lower it";
}

TEST(InstructionBudget, OfALayoutInTheLanes) {
#if defined(__x86_64__)
    if (!__builtin_cpu_supports("avx2") || !__builtin_cpu_supports("fma"))
        GTEST_SKIP() << "the budget was taken with AVX2";
#else
    GTEST_SKIP() << "the budget was taken with AVX2";
#endif
    constexpr double budget = 7.43e6;  // with four lanes to a register: valgrind knows no wider ones
    const double count = instructions("layouts") / 8;
    RecordProperty("instructions", fmt::format("{:.0f}", count));
    EXPECT_LT(count, (1 + allowance) * budget);
    EXPECT_GT(count, (1 - 2 * allowance) * budget) << "much better than the budget: lower it";
}

}  // namespace
}  // namespace limbwright::instruction_budget_test
