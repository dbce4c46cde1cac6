#include "solver/lanes/plugin.hpp"

#include <gtest/gtest.h>

#include "tests/support/complaint.hpp"

namespace limbwright::solver::plugin_test {
namespace {

using testing::complaint;

TEST(LateLibrary, FindsASymbolBesideTheProgram) {
    EXPECT_NE(late_symbol("liblimbwright_lanes_plain.so", "limbwright_lane_pack"), nullptr);
}

TEST(LateLibrary, NamesALibraryThatIsMissing) {
    const std::string said =
        complaint<std::runtime_error>([] { (void)late_symbol("libmissing.so", "entry"); });
    EXPECT_TRUE(said.starts_with("cannot use libmissing.so: ")) << said;
    EXPECT_NE(said.find("No such file"), std::string::npos) << said;
}

TEST(LateLibrary, NamesASymbolThatIsMissing) {
    const std::string said =
        complaint<std::runtime_error>([] { (void)late_symbol("liblimbwright_lanes_plain.so", "no_entry"); });
    EXPECT_NE(said.find("no_entry"), std::string::npos) << said;
}

}  // namespace
}  // namespace limbwright::solver::plugin_test
