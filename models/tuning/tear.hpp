#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "models/bow/bow.hpp"
#include "models/tuning/arrow.hpp"

/// A paper tear: what an arrow shot through a sheet of paper leaves, as plain values and as a file.
namespace limbwright::models {

/// The tail is where the nock's end went through, seen by the archer; its place against the point's hole.
struct Tear {
    double left = 0;  ///< of the nock's end from the point's hole, positive: tail left, negative: right [mm]
    double high = 0;  ///< the same upward, positive: tail high [mm]
    Hand hand = Hand::right;
    double distance = 0;         ///< from the bow to the paper [mm]
    std::optional<Arrow> arrow;  ///< none: the shaft is not checked

    [[nodiscard]] double size() const;  ///< between the two holes [mm]
};

/// By which the arrow stood askew when it went through the paper, to the left and upward [deg], from the
/// arrow's length or, where no arrow is given, from 28 in: asin(size / length).
[[nodiscard]] double tear_angle(const Tear& tear, double along);

/// A tear by one of the names "left", "right", "high", "low", "high left", "high right", "low left", "low
/// right", and its size; a slanted tear goes by equal parts both ways.
///
/// @return  none if the name is none of these
[[nodiscard]] std::optional<Tear> tear_of(std::string_view tail, double size);

/// "tail left, 25 mm", "tail high left, 18 mm to the left and 5 mm up".
[[nodiscard]] std::string to_text(const Tear& tear);

/// Reads a tear's file; examples/tear_left.toml shows every key.
///
/// @param hand  of the bow, which the file may repeat
/// @throws InputError with every complaint about the file
[[nodiscard]] Tear read_tear(const std::filesystem::path& file, Hand hand);

/// The same from text in memory.
///
/// @param file  as messages shall name it
[[nodiscard]] Tear tear_from_toml(std::string_view text, const std::string& file, Hand hand);

}  // namespace limbwright::models
