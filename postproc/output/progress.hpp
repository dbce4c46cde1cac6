#pragma once

#include <chrono>
#include <cstdint>
#include <string>
#include <string_view>

/// How far a long run has come, on standard error.
namespace limbwright::postproc {

enum class ProgressStyle {
    automatic,  ///< one line written over and over on a terminal, else a line every few seconds
    always,     ///< one line written over and over, wherever standard error leads
    never
};

/// "1,024 of 4,860 layouts, 1,300 a second, 3 s left".
[[nodiscard]] std::string progress_text(std::int64_t done, std::int64_t all, double seconds);

/// 4860: "4,860".
[[nodiscard]] std::string grouped(std::int64_t number);

class Progress {
public:
    explicit Progress(ProgressStyle style);
    ~Progress() { finish(); }
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;

    void layouts(std::int64_t done, std::int64_t all, double seconds);
    /// Of other work than solving.
    void share(std::string_view work, double done);
    /// Ends the line, so that other text begins on its own.
    void finish();

private:
    using Clock = std::chrono::steady_clock;
    /// @param last  nothing more comes of this kind
    void show(const std::string& text, bool last);

    bool silent_, rewriting_;
    std::size_t shown_ = 0;  ///< characters of the open line
    Clock::time_point next_;
};

}  // namespace limbwright::postproc
