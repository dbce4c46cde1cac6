#pragma once

#include <functional>
#include <string>
#include <variant>

#include "models/states/draw.hpp"

/// A bow as it stands on the bench: its layout, and what sits on riser and string.
namespace limbwright::models {

/// All that a tuner changes between two shots through paper.
struct Tune {
    Layout layout;
    double rest_lateral = 0;   ///< shift of the arrow rest from the bow file's, positive left [mm]
    double rest_height = 0;    ///< the same, positive up [mm]
    double nocking_point = 0;  ///< shift of the nocking point up the string from the bow file's [mm]
};

/// The bow with that layout and its rest and nocking point moved; with natural lengths given, the string's
/// halves trade what the nocking point moves.
[[nodiscard]] Bow with_tune(Bow bow, const Tune& tune);

/// Where string and cables of a strung bow hold it: its numbers at brace.
[[nodiscard]] Brace brace_of(const StrungBow& strung);

/// A tune, strung and drawn.
struct SolvedTune {
    Tune tune;
    StrungBow strung;
    Draw draw;
};

/// Why a tune could not be strung or drawn, in a sentence.
struct NotSolved {
    std::string reason;
};

/// Solves one tune of a bow after another, each strung and drawn as today's.
class TuneSolver {
public:
    /// What a bow really is whose parts are labelled so, see `Corrections`.
    using Corrected = std::function<Bow(Bow)>;

    /// @param bow  as its parts are labelled: tunes tell limbs by these numbers
    /// @param states  of each draw
    /// @param corrected  none: the labels are right
    /// @throws std::runtime_error with the reason if today's bow cannot be strung or drawn
    explicit TuneSolver(const Bow& bow, int states = 25, Corrected corrected = {});

    [[nodiscard]] const SolvedTune& today() const { return today_; }

    /// The tune, drawn to where today's draw ends. With lengths kept, a nocking point that is moved up takes
    /// from the upper half of the string what the lower half gains. Lengths are kept, too, in a bow whose
    /// file has natural lengths only.
    [[nodiscard]] std::variant<SolvedTune, NotSolved> solve(const Tune& tune, LengthRule rule) const;

private:
    [[nodiscard]] AssembledBow assembled(const Tune& tune) const;

    Bow bow_;
    int states_;
    Corrected corrected_;
    SolvedTune today_;
};

}  // namespace limbwright::models
