#include "postproc/output/stop_signals.hpp"

#include <gtest/gtest.h>

#include <csignal>

namespace limbwright::postproc::stop_signals_test {
namespace {

TEST(StopSignals, InterruptAndEndRaiseTheFlag) {
    for (const int signal : {SIGINT, SIGTERM}) {
        const StopSignals signals;
        EXPECT_FALSE(signals.stopped());
        std::raise(signal);
        EXPECT_TRUE(signals.stopped());
    }
}

TEST(StopSignals, TheSecondOneEndsTheProgram) {
    EXPECT_EXIT(
        {
            const StopSignals signals;
            std::raise(SIGINT);
            std::raise(SIGINT);
        },
        ::testing::KilledBySignal(SIGINT), "");
}

TEST(StopSignals, AfterwardsSignalsDoWhatTheyDidBefore) {
    static volatile std::sig_atomic_t seen = 0;
    const auto before = std::signal(SIGTERM, [](int) { seen = 1; });
    { const StopSignals signals; }
    std::raise(SIGTERM);
    EXPECT_EQ(seen, 1);
    std::signal(SIGTERM, before);
}

}  // namespace
}  // namespace limbwright::postproc::stop_signals_test
