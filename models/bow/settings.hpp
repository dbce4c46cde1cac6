#pragma once

#include <cmath>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "models/bow/bow.hpp"
#include "models/input/units.hpp"

/// Everything on a bow that a person can change: one table, which effects, studies, cures, steps at the
/// bench, matches, rebuilds and logs loop over.
namespace limbwright::models {

/// What is worked at, by rising work at the bench.
enum class Work { none, rest, nocking_point, guide, bolts, cables, yokes, spacers, limbs };

/// What that takes: 0 nothing; 1 keys; 2 a press, for twists; 3 a press and axles pulled, for spacers; 4
/// limbs out of their pockets besides.
[[nodiscard]] int tools_for(Work work);
/// "none", "keys", "twists", "spacers", "limbs".
[[nodiscard]] const char* name_of_tools(int tools);

/// Parts of an assembled bow that are built anew for a change, as bits of a number.
namespace built {
inline constexpr unsigned nothing = 0, top_left_limb = 1, top_right_limb = 2, bottom_left_limb = 4,
                          bottom_right_limb = 8, top_axle = 16, bottom_axle = 32, guide_and_yokes = 64;
}  // namespace built

/// A single change that may cure a tear: how far it may go either way and the finest amount that is worth
/// setting, inside.
struct Reach {
    double most = 0;  ///< 0: no cure
    double notch = 0.5;
    std::string against{};  ///< key of a setting that goes the other way by as much; empty: none
};

/// One number that a rebuild, a key, a twist or a hand can change. Inside it is in mm, rad, turns or the
/// limb's number.
struct Setting {
    std::string key;             ///< in files: "guide_lateral", "limb_number_top_left", "spacers_top"
    std::string name;            ///< in tables: "guide, lateral", "limb number, top left", "spacers, top"
    std::string definition;      ///< one sentence, with its sign
    std::string part;            ///< what moves, as sentences call it: "cable guide"; of limbs the pocket
    const char *more, *less;     ///< words for a rise and for a fall: "left", "right"
    const Dimension* dimension;  ///< in which files give it; null: a plain number (limb number, turns)
    double step = 1;             ///< one practical step, inside
    std::string step_name{};     ///< what moves which way by it, for a table: "1 mm left"
    Work work = Work::none;
    double least = -HUGE_VAL;  ///< lowest value: a bolt's seat
    double sigma = 0;          ///< how sure a person is of it: standard deviation, inside; 0: it is counted
    Reach reach{};
    unsigned builds = built::nothing;
    bool in_bow = false;  ///< a number of the bow, which a layout moves by so much: see `Layout::moved`
    std::function<double(const Layout&)> get{};
    /// Spacers are set to any offset of the cam [mm, positive left] by stacks that no box holds: for
    /// derivatives, not for building.
    std::function<void(Layout&, double)> set{};
    /// As in another layout; spacers take over its stacks.
    std::function<void(Layout& to, const Layout& from)> take{};
    std::function<double(const Bow&)> get_of{};  ///< where it stands in today's layout
    std::function<void(Bow&, double)> set_of{};
};

/// The settings that this bow has: no yoke legs where there is no yoke, no guide where there is none; a solid
/// limb is one number.
///
/// @param spacer  thickness of the spacer whose move from the left stack to the right counts as one step; it
/// moves the cam by as much to the left [mm]
[[nodiscard]] std::vector<Setting> settings_of(const Bow& bow, double spacer);
/// The same, with the thinnest spacer that stands in the bow.
[[nodiscard]] std::vector<Setting> settings_of(const Bow& bow);

/// The bow in that layout: what its layout moves of its own numbers stands where the new one has it.
///
/// @throws std::invalid_argument if the layout moves what the bow does not have
[[nodiscard]] Bow with_layout(Bow bow, const Layout& layout);

/// The thinnest spacer that stands in the bow, 0.5 mm where there is none [mm].
[[nodiscard]] double thinnest_spacer(const Bow& bow);

/// Null if there is no such key.
[[nodiscard]] const Setting* find(const std::vector<Setting>& settings, std::string_view key);

/// As a table shows it: in the first unit of its dimension, whose name is empty for a plain number.
[[nodiscard]] double in_its_unit(double inside, const Setting& setting);
[[nodiscard]] std::string unit_of(const Setting& setting);

/// "2 mm left", "1 turn shorter", "0.5 turns in".
[[nodiscard]] std::string amount_in_words(const Setting& setting, double change);
/// What is changed and how far: "cable guide 2 mm left", "limb 51 top left".
[[nodiscard]] std::string change_in_words(const Setting& setting, double from, double to);
/// All of it that differs between two layouts, by commas; empty if nothing does.
[[nodiscard]] std::string change_in_words(const std::vector<Setting>& settings, const Layout& from,
                                          const Layout& to);

}  // namespace limbwright::models
