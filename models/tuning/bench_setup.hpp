#pragma once

#include <functional>
#include <string>
#include <variant>

#include "models/states/draw.hpp"

/// A bow as it stands on the bench, strung and drawn in one layout after another.
namespace limbwright::models {

/// Where string and cables of a strung bow hold it: its numbers at brace, as `Brace` gives them.
[[nodiscard]] Brace brace_of(const StrungBow& strung);

/// A layout, strung and drawn.
struct SolvedTune {
    Layout layout;  ///< as its parts are labelled
    StrungBow strung;
    Draw draw;
};

/// Why a layout could not be strung or drawn, in a sentence.
struct NotSolved {
    std::string reason;
};

/// Solves one layout of a bow after another, each strung and drawn as today's.
class TuneSolver {
public:
    /// What a bow really is whose parts are labelled so, see `Corrections`.
    using Corrected = std::function<Bow(Bow)>;

    /// @param bow  as its parts are labelled: layouts tell limbs by these numbers
    /// @param states  of each draw
    /// @param corrected  none: the labels are right
    /// @throws std::runtime_error with the reason if today's bow cannot be strung or drawn
    explicit TuneSolver(const Bow& bow, int states = 25, Corrected corrected = {});

    [[nodiscard]] const SolvedTune& today() const { return today_; }

    /// The layout, drawn to where today's draw ends. Lengths are kept, too, in a bow whose file has natural
    /// lengths only.
    [[nodiscard]] std::variant<SolvedTune, NotSolved> solve(const Layout& layout, LengthRule rule) const;

private:
    [[nodiscard]] AssembledBow assembled(const Layout& layout) const;

    Bow bow_;
    int states_;
    Corrected corrected_;
    SolvedTune today_;
};

}  // namespace limbwright::models
