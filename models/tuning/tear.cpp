#include "models/tuning/tear.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <fstream>
#include <iterator>
#include <numbers>

#include "models/bow/bow_enum_names.hpp"
#include "models/input/document.hpp"
#include "models/input/table_reader.hpp"
#include "models/input/units.hpp"

namespace limbwright::models {
namespace {

struct Side {
    int left = 0, high = 0;
};
constexpr std::array sides{
    Choice<Side>{"left", {1, 0}},      Choice<Side>{"right", {-1, 0}},
    Choice<Side>{"high", {0, 1}},      Choice<Side>{"low", {0, -1}},
    Choice<Side>{"high left", {1, 1}}, Choice<Side>{"high right", {-1, 1}},
    Choice<Side>{"low left", {1, -1}}, Choice<Side>{"low right", {-1, -1}},
};

/// @param up  part of the size that goes up or down; none: as much as goes aside
Tear tear_to(Side side, double size, std::optional<double> up) {
    Tear tear;
    const double height = side.left == 0   ? size
                          : side.high == 0 ? 0
                                           : up.value_or(size / std::numbers::sqrt2);
    tear.high = side.high * height;
    tear.left = side.left * std::sqrt(std::max(0.0, size * size - height * height));
    return tear;
}

constexpr double usual_length = 28 * units::inch;

/// A file that cannot be read is a mistake of the command line's.
std::string content_of(const std::filesystem::path& file) {
    std::ifstream stream(file, std::ios::binary);
    std::error_code ignored;
    if (!stream || std::filesystem::is_directory(file, ignored))
        throw InputError({{{file.string()}, {}, "the tear's file cannot be read", {}}});
    return {std::istreambuf_iterator<char>(stream), {}};
}

Arrow read_arrow(TableReader table) {
    Arrow arrow;
    arrow.length = table.quantity("length", units::length, {.at_least = 300, .at_most = 1200});
    arrow.spine = table.number("spine", {.at_least = 100, .at_most = 2000});
    arrow.total_weight = table.quantity("total_weight", units::mass, {.at_least = 5e-6, .at_most = 200e-6});
    arrow.point_weight = table.quantity("point_weight", units::mass, {.at_least = 1e-6, .at_most = 100e-6});
    if (arrow.point_weight >= arrow.total_weight)
        table.complain("point_weight", "must be less than the total weight",
                       shown(arrow.point_weight, units::mass));
    return arrow;
}

}  // namespace

double Tear::size() const {
    return std::hypot(left, high);
}

double tear_angle(const Tear& tear, double along) {
    const double length = tear.arrow ? tear.arrow->length : usual_length;
    return std::asin(std::clamp(along / length, -1.0, 1.0)) / units::degree;
}

std::optional<Tear> tear_of(std::string_view tail, double size) {
    for (const auto& side : sides)
        if (side.name == tail) return tear_to(side.value, size, {});
    return {};
}

std::string to_text(const Tear& tear) {
    const std::string vertical = tear.high > 0 ? "high" : "low";
    const std::string lateral = tear.left > 0 ? "left" : "right";
    if (tear.high == 0) return fmt::format("tail {}, {:.3g} mm", lateral, std::abs(tear.left));
    if (tear.left == 0) return fmt::format("tail {}, {:.3g} mm", vertical, std::abs(tear.high));
    return fmt::format("tail {} {}, {:.3g} mm to the {} and {:.3g} mm {}", vertical, lateral,
                       std::abs(tear.left), lateral, std::abs(tear.high), tear.high > 0 ? "up" : "down");
}

Tear tear_from_toml(std::string_view text, const std::string& file, Hand hand) {
    Document document(text, file);
    TableReader top(document);
    const Side side = top.choice<Side>("tail", sides);
    const double size = top.quantity("size", units::length, {.above = 0, .at_most = 300});
    const bool slanted = side.left != 0 && side.high != 0;
    std::optional<double> up = top.optional_quantity("up", units::length, {.above = 0, .at_most = size});
    if (up && !slanted)
        top.complain("up", "must only stand with a slanted tear, such as tail = \"high left\"");
    Tear tear = tear_to(side, size, up);
    tear.hand = top.has("hand") ? top.choice<Hand>("hand", hand_names) : hand;
    if (tear.hand != hand)
        top.complain("hand", fmt::format("must be the bow's, \"{}\"", name_of<Hand>(hand, hand_names)));
    tear.distance = top.quantity_or("distance", tear.distance, units::length, {.above = 0, .at_most = 1e5});
    if (TableReader arrow = top.table_if_any("arrow"); arrow.present()) tear.arrow = read_arrow(arrow);
    document.complain_about_unknown_keys();
    document.complaints().finish();
    return tear;
}

Tear read_tear(const std::filesystem::path& file, Hand hand) {
    return tear_from_toml(content_of(file), file.string(), hand);
}

}  // namespace limbwright::models
