#pragma once

#include <signal.h>

#include <atomic>

namespace limbwright::postproc {

/// While it lives, the first interrupt (Ctrl-C) or request to end only raises a flag; the second ends the
/// program as usual. One at a time.
class StopSignals {
public:
    StopSignals();
    ~StopSignals();
    StopSignals(const StopSignals&) = delete;
    StopSignals& operator=(const StopSignals&) = delete;

    [[nodiscard]] const std::atomic<bool>& stopped() const;

private:
    struct sigaction interrupt_before_ {
    }, end_before_{};
};

}  // namespace limbwright::postproc
