#pragma once

#include <random>

#include "postproc/report/bench_sheet.hpp"
#include "tests/support/strung.hpp"

/// Bench sheets to look at, and what must hold of any page.
namespace limbwright::tests {

/// A demo bow's cures of a tear.
struct Cured {
    models::TuneSolver solver;
    models::Tear tear;
    models::Cures cures;

    Cured(const std::string& bow, const char* tail)
        : solver(testing::demo_bow(bow), 9),
          tear(*models::tear_of(tail, 25)),
          cures(models::find_cures(solver, tear, {.bolts = true})) {}

    [[nodiscard]] const models::Bow& bow() const { return solver.today().strung.bow.bow; }
    [[nodiscard]] const models::Layout& today() const { return solver.today().layout; }
    [[nodiscard]] postproc::BenchSheet sheet(const models::Cure& cure) const {
        return {bow(),
                tear,
                cures.wanted,
                today(),
                cure,
                "limbwright log bows/my_bow.toml bows/my_bow_log.toml --bench sheet_after.toml --tail left "
                "--size "
                "\"5 mm\""};
    }
};

inline const Cured& crossed_cured() {
    static const Cured made("crossed", "left");
    return made;
}
inline const Cured& yoked_cured() {
    static const Cured made("yoked", "right");
    return made;
}

/// A change of everything at once.
inline models::Layout upheaval(models::Layout l) {
    l.pairing = {48.25, 52.75, 53.5, 47.125};
    l.spacers_top = {{0.5, 0.5, 1.25}, {1.5, 1.5, 2.75}};
    l.spacers_bottom = {{0.5, 0.5, 0.5, 0.5, 0.5, 0.5}, {2.5, 2.5}};
    l.guide_lateral = -17.25;
    l.guide_angle = 0.1;
    l.bolt_top = 2.25;
    l.bolt_bottom = 1.75;
    l.twist_string = 3.5;
    l.twist_cables = {-2.5, 2.5};
    l.twist_yoke_left = {-3.5, 3.5};
    l.twist_yoke_right = {3.5, -3.5};
    l.moved = {{"rest_lateral", -1.75}, {"rest_height", 1.25}};
    l.nocking_point = -1.5;
    return l;
}

/// Empty if every text lies on the page and none over another; else what is wrong.
inline std::string faults(const postproc::Page& page) {
    std::string faults;
    const auto& boxes = page.boxes();
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        const auto& a = boxes[i];
        if (a.left < 0 || a.top < 0 || a.right > page.width() || a.bottom > page.height())
            faults += "off the page: " + a.text + "\n";
        for (std::size_t k = i + 1; k < boxes.size(); ++k) {
            const auto& b = boxes[k];
            if (a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom)
                faults += "over each other: \"" + a.text + "\" and \"" + b.text + "\"\n";
        }
    }
    return faults;
}

}  // namespace limbwright::tests
