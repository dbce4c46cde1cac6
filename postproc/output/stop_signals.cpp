#include "postproc/output/stop_signals.hpp"

namespace limbwright::postproc {
namespace {

std::atomic<bool> raised = false;
static_assert(std::atomic<bool>::is_always_lock_free);  // or a handler must not touch it

extern "C" void raise_flag(int) {
    raised = true;
}

}  // namespace

StopSignals::StopSignals() {
    raised = false;
    struct sigaction action {};
    action.sa_handler = raise_flag;
    action.sa_flags = static_cast<int>(SA_RESETHAND | SA_RESTART);
    sigemptyset(&action.sa_mask);
    sigaction(SIGINT, &action, &interrupt_before_);
    sigaction(SIGTERM, &action, &end_before_);
}

StopSignals::~StopSignals() {
    sigaction(SIGINT, &interrupt_before_, nullptr);
    sigaction(SIGTERM, &end_before_, nullptr);
}

const std::atomic<bool>& StopSignals::stopped() const {
    return raised;
}

}  // namespace limbwright::postproc
