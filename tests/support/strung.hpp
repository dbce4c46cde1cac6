#pragma once

#include <optional>
#include <stdexcept>

#include "models/bow/bow_file.hpp"
#include "models/states/draw_measures.hpp"
#include "models/states/measure_table.hpp"
#include "tests/support/small_bow.hpp"

/// Bows that are strung and drawn in one call; what goes wrong on the way fails the test with its own
/// sentence.
namespace limbwright::testing {

inline models::StrungBow strung(models::Stringing answer) {
    if (const auto* no = std::get_if<models::NotStrung>(&answer)) throw std::runtime_error(no->reason);
    return std::get<models::StrungBow>(std::move(answer));
}

/// Why a bow could not be strung; empty if it could.
inline std::string why_not(const models::Stringing& answer) {
    const auto* no = std::get_if<models::NotStrung>(&answer);
    return no ? no->reason : "";
}

/// A draw that came through.
inline models::Draw whole(models::Draw draw) {
    if (draw.failure) throw std::runtime_error(*draw.failure);
    return draw;
}

/// Options of a draw to a given place of the nocking point [mm], and in so many states.
inline models::DrawOptions draw_to(std::optional<double> full_draw, std::optional<int> states = {}) {
    models::DrawOptions options;
    options.full_draw = full_draw;
    options.states = states;
    return options;
}
inline models::DrawOptions in_states(int states) {
    return draw_to({}, states);
}

/// A strung and drawn bow with its measures.
struct Drawn {
    models::StrungBow strung;
    models::Draw draw;

    [[nodiscard]] const models::AssembledBow& bow() const { return strung.bow; }
    [[nodiscard]] const solver::State& full_state() const { return draw.states.back().state; }

    /// A state's measure, by its name.
    [[nodiscard]] double at(std::size_t state, const std::string& name) const {
        const std::vector<models::Measure> all = models::state_measures(bow());
        if (const models::Measure* m = models::named(all, name))
            return m->value({bow(), draw, state, models::work(draw)[state]});
        throw std::runtime_error("no measure is called " + name);
    }
    [[nodiscard]] double brace(const std::string& name) const { return at(0, name); }
    [[nodiscard]] double full(const std::string& name) const { return at(draw.states.size() - 1, name); }

    /// A measure of the whole draw, by its name and unit.
    [[nodiscard]] double whole(const std::string& name, const std::string& unit) const {
        for (const models::Measure& m : models::draw_measures())
            if (m.name == name && m.unit == unit) return m.value({bow(), draw});
        throw std::runtime_error("no measure of the draw is called " + name);
    }
};

inline Drawn drawn(const models::StrungBow& bow, const models::DrawOptions& options = {}) {
    return {bow, whole(models::draw(bow, options))};
}
inline Drawn drawn(const models::Bow& bow, const models::DrawOptions& options = {}) {
    return drawn(strung(bow), options);
}

/// The bows of examples/, by name: one of each cable system.
inline constexpr const char* demo_bows[] = {"crossed", "yoked", "mixed", "single_cam"};
inline models::Bow demo_bow(const std::string& name) {
    return models::read_bow(std::string(SOURCE_DIR) + "/examples/" + name + ".toml");
}

/// The small bows, strung and drawn once a test program.
inline const Drawn& even_bow() {
    static const Drawn bow = drawn(small_bow());
    return bow;
}
inline const Drawn& uneven_bow() {
    static const Drawn bow = drawn(small_uneven_bow());
    return bow;
}

}  // namespace limbwright::testing
