#pragma once

#include <cstddef>

#include "models/bow/bow.hpp"

/// The two ends of a bow, and what each of them has.
namespace limbwright::models {

enum class End { top, bottom };
enum class Flank { left, right };  ///< as the archer sees it

/// +1 at the top, −1 at the bottom.
[[nodiscard]] constexpr double sign(End end) {
    return end == End::top ? 1 : -1;
}
/// Place in arrays of two: top, bottom.
[[nodiscard]] constexpr std::size_t index(End end) {
    return end == End::top ? 0 : 1;
}
/// As messages and measures call it.
[[nodiscard]] constexpr const char* name(End end) {
    return end == End::top ? "top" : "bottom";
}

[[nodiscard]] inline const Pocket& pocket_of(const Bow& bow, End end) {
    return end == End::top ? bow.pocket_top : bow.pocket_bottom;
}
[[nodiscard]] inline const Axle& axle_of(const Bow& bow, End end) {
    return end == End::top ? bow.axle_top : bow.axle_bottom;
}
[[nodiscard]] inline const Cam& cam_of(const Bow& bow, End end) {
    return end == End::top ? bow.cam_top : bow.cam_bottom;
}
[[nodiscard]] inline const SpacerStacks& spacers_of(const Layout& layout, End end) {
    return end == End::top ? layout.spacers_top : layout.spacers_bottom;
}
/// Turns out of the limb bolt.
[[nodiscard]] inline double bolt_of(const Layout& layout, End end) {
    return end == End::top ? layout.bolt_top : layout.bolt_bottom;
}
/// Turn of the cam from its drawn pose at brace, in the sense of the draw [rad].
[[nodiscard]] inline double mark_of(const Brace& brace, End end) {
    return end == End::top ? brace.mark_top : brace.mark_bottom;
}

}  // namespace limbwright::models
