#include "postproc/output/progress.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace limbwright::postproc {
namespace {

constexpr std::chrono::milliseconds between_rewrites{200}, between_lines{5000};

std::string time_text(double seconds) {
    const auto whole = static_cast<std::int64_t>(std::ceil(seconds));
    if (whole < 100) return fmt::format("{} s", whole);
    const std::int64_t minutes = (whole + 59) / 60;
    if (minutes < 100) return fmt::format("{} min", minutes);
    return fmt::format("{} h {} min", minutes / 60, minutes % 60);
}

}  // namespace

std::string grouped(std::int64_t number) {
    std::string text = std::to_string(number);
    const std::ptrdiff_t digits_begin = number < 0;
    for (std::ptrdiff_t i = std::ssize(text) - 3; i > digits_begin; i -= 3)
        text.insert(static_cast<std::size_t>(i), 1, ',');
    return text;
}

std::string progress_text(std::int64_t done, std::int64_t all, double seconds) {
    std::string text = fmt::format("{} of {} layouts", grouped(done), grouped(all));
    if (done <= 0 || seconds <= 0) return text;
    const double rate = static_cast<double>(done) / seconds;
    text += rate < 10 ? fmt::format(", {:.1f} a second", rate)
                      : fmt::format(", {} a second", grouped(std::llround(rate)));
    if (done < all) text += fmt::format(", {} left", time_text(static_cast<double>(all - done) / rate));
    return text;
}

Progress::Progress(ProgressStyle style)
    : silent_(style == ProgressStyle::never),
      rewriting_(style == ProgressStyle::always ||
                 (style == ProgressStyle::automatic && ::isatty(STDERR_FILENO) != 0)),
      next_(Clock::now() + (rewriting_ ? between_rewrites : between_lines)) {}

void Progress::layouts(std::int64_t done, std::int64_t all, double seconds) {
    show(progress_text(done, all, seconds), done == all);
}

void Progress::share(std::string_view work, double done) {
    show(fmt::format("{}: {:.0f} %", work, 100 * done), false);
}

void Progress::finish() {
    if (shown_ > 0) fmt::print(stderr, "\n");
    shown_ = 0;
}

void Progress::show(const std::string& text, bool last) {
    if (silent_ || (!last && Clock::now() < next_)) return;
    next_ = Clock::now() + (rewriting_ ? between_rewrites : between_lines);
    if (!rewriting_) {
        fmt::print(stderr, "{}\n", text);
        return;
    }
    // Blanks cover what a longer text left behind.
    fmt::print(stderr, "\r{:<{}}", text, std::max(shown_, text.size()));
    std::fflush(stderr);
    shown_ = text.size();
    if (last) finish();
}

}  // namespace limbwright::postproc
