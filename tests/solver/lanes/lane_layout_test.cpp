#include "solver/lanes/lane_layout.hpp"

#include "solver/lanes/lane_solver.hpp"
#include "solver/lanes/plugin.hpp"
#include "tests/support/complaint.hpp"

#include <gtest/gtest.h>

namespace limbwright::solver::lane_layout_test {
namespace {

using testing::complaint;

const LaneKernel plain = lane_kernels().front();

TEST(LaneLayout, OfEveryKernelIsThisPrograms) {
    for (const LaneKernel& kernel : lane_kernels()) {
        if (!kernel.runs_here) continue;
        LaneLayout theirs;
        reinterpret_cast<void (*)(LaneLayout&)>(late_symbol(kernel.library, "limbwright_lane_layout"))(
            theirs);
        EXPECT_STREQ(theirs.kind.data(), kernel.name.c_str());
        EXPECT_EQ(theirs.sizes_and_alignments, lane_layout_here(kernel.name).sizes_and_alignments);
        EXPECT_NO_THROW(require_this_layout(theirs, kernel));
    }
}

TEST(LaneLayout, KnowsEveryClassOnceAndFillsItsTable) {
    EXPECT_EQ(lane_layout_here("").sizes_and_alignments.front(), sizeof(Mat6));
    EXPECT_EQ(lane_layout_here("").sizes_and_alignments.back(), alignof(Plan));
}

TEST(LaneLayout, RefusesAKernelWhoseClassesAreLaidOutOtherwise) {
    for (std::size_t i = 0; i < LaneLayout{}.sizes_and_alignments.size(); ++i) {
        LaneLayout other = lane_layout_here(plain.name);
        other.sizes_and_alignments[i] *= 2;
        EXPECT_EQ(complaint<std::runtime_error>([&] { require_this_layout(other, plain); }),
                  "cannot use liblimbwright_lanes_plain.so: its classes are laid out otherwise than this "
                  "program's; "
                  "build both alike");
    }
}

TEST(LaneLayout, RefusesAnotherKernelInAKernelsPlace) {
    EXPECT_EQ(
        complaint<std::runtime_error>([&] { require_this_layout(lane_layout_here("x86-64-v4"), plain); }),
        "cannot use liblimbwright_lanes_plain.so: it holds the kernel x86-64-v4, not plain");
}

}  // namespace
}  // namespace limbwright::solver::lane_layout_test
