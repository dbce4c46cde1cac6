#include "models/tuning/rules_of_thumb.hpp"

#include <fmt/format.h>

#include <cmath>
#include <functional>

#include "models/tuning/tear_measures.hpp"

namespace limbwright::models {
namespace {

/// A statement for a tear to one side, and the change that stands for it.
struct Tried {
    std::string answer, tried;
    std::function<void(Layout&)> change;
};

const char* word(double left) {
    return left > 0 ? "left" : "right";
}

/// @param left  any offset will do: this cam is moved for the derivative's sake
void move_cam(SpacerStacks& stacks, double left) {
    stacks.left.push_back(-left);
    stacks.right.push_back(left);
}

/// @param side  +1 for tail left, −1 for tail right
std::vector<Tried> statements(const Bow& bow, double side) {
    std::vector<Tried> all;
    all.push_back({fmt::format("both cams farther {}", word(side)),
                   fmt::format("both cams 1 mm {}", word(side)), [=](Layout& l) {
                       move_cam(l.spacers_top, side);
                       move_cam(l.spacers_bottom, side);
                   }});
    if (bow.limb.kind == LimbKind::split)
        all.push_back({fmt::format("the stiffer limbs on the {}, top and bottom", word(-side)),
                       fmt::format("limbs one number stiffer {}, one softer {}", word(-side), word(side)),
                       [=](Layout& l) {
                           l.pairing.top_left -= side;
                           l.pairing.bottom_left -= side;
                           l.pairing.top_right += side;
                           l.pairing.bottom_right += side;
                       }});
    if (bow.guide.kind != GuideKind::none) {
        // Out is away from the arrow: to the right on a right-hander's bow.
        const double out = bow.shooter.hand == Hand::right ? -1 : 1;
        all.push_back({fmt::format("the guide further {}", -side == out ? "out" : "in"),
                       fmt::format("guide 1 mm {}", word(-side)),
                       [=](Layout& l) { l.guide_lateral -= side; }});
    }
    return all;
}

PracticeVerdict verdict_of(double turn, double slope) {
    if (turn < -practice_threshold && slope < practice_threshold) return PracticeVerdict::agrees;
    if (turn > practice_threshold && slope > -practice_threshold) return PracticeVerdict::disagrees;
    return PracticeVerdict::indifferent;
}

/// @param turn, slope  toward the tear's side positive
std::string reason(double turn, double slope) {
    std::string text =
        fmt::format("tail turn goes {:.3f} deg {} the tear, end slope {:.3f} deg {} it", std::abs(turn),
                    turn < 0 ? "against" : "with", std::abs(slope), slope < 0 ? "against" : "with");
    if (std::abs(turn) <= practice_threshold)
        text += fmt::format("; under {} deg is nothing that paper shows", practice_threshold);
    else if (verdict_of(turn, slope) == PracticeVerdict::indifferent)
        text += "; the two contradict each other";
    return text;
}

}  // namespace

std::vector<Practice> check_practice(const TuneSolver& solver, const Tear& tear) {
    std::vector<Practice> all;
    if (tear.left == 0) return all;
    const double side = tear.left > 0 ? 1 : -1;
    const SolvedTune& today = solver.today();
    for (const Tried& t : statements(today.strung.bow.bow, side)) {
        Practice practice;
        practice.statement = fmt::format("a tail-{} tear is answered by {}", word(side), t.answer);
        practice.tried = t.tried;
        Layout tune = today.layout;
        t.change(tune);
        const auto answer = solver.solve(tune, LengthRule::kept);
        if (const auto* no = std::get_if<NotSolved>(&answer)) {
            practice.turn = practice.slope = std::nan("");
            practice.why = "the changed bow could not be solved: " + no->reason;
        } else {
            const SolvedTune& changed = std::get<SolvedTune>(answer);
            const auto change = [&](const char* name) {
                return tear_measure(name, changed.strung, changed.draw) -
                       tear_measure(name, today.strung, today.draw);
            };
            practice.turn = change("tail turn, lateral");
            practice.slope = change("end slope, lateral");
            practice.verdict = verdict_of(side * practice.turn, side * practice.slope);
            practice.why = reason(side * practice.turn, side * practice.slope);
        }
        all.push_back(std::move(practice));
    }
    return all;
}

}  // namespace limbwright::models
