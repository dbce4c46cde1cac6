#include "models/tuning/rebuild_steps.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "models/input/units.hpp"

namespace limbwright::models {
namespace {

/// A number of a tune that a key, a twist or a hand sets.
struct Dial {
    StepKind kind;
    const char* setting;
    const char* part;         ///< as the text calls it
    const char *more, *less;  ///< words for a rise and a fall
    const char* unit;
    double factor;  ///< a unit inside
    double& (*in)(Tune&);
};
constexpr const char *longer = "longer", *shorter = "shorter";
const std::array dials{
    Dial{StepKind::twist, "twist, string", "both halves of the string", shorter, longer, "turns", 1,
         [](Tune& t) -> double& { return t.layout.twist_string; }},
    Dial{StepKind::twist, "twist, cable 1", "the cable of the top cam's take-up", shorter, longer, "turns", 1,
         [](Tune& t) -> double& { return t.layout.twist_cables[0]; }},
    Dial{StepKind::twist, "twist, cable 2", "the cable of the bottom cam's take-up", shorter, longer, "turns",
         1, [](Tune& t) -> double& { return t.layout.twist_cables[1]; }},
    Dial{StepKind::twist, "twist, yoke 1, left leg", "the left leg of that cable's yoke", shorter, longer,
         "turns", 1, [](Tune& t) -> double& { return t.layout.twist_yoke_left[0]; }},
    Dial{StepKind::twist, "twist, yoke 1, right leg", "the right leg of that cable's yoke", shorter, longer,
         "turns", 1, [](Tune& t) -> double& { return t.layout.twist_yoke_right[0]; }},
    Dial{StepKind::twist, "twist, yoke 2, left leg", "the left leg of the yoke on the top axle", shorter,
         longer, "turns", 1, [](Tune& t) -> double& { return t.layout.twist_yoke_left[1]; }},
    Dial{StepKind::twist, "twist, yoke 2, right leg", "the right leg of the yoke on the top axle", shorter,
         longer, "turns", 1, [](Tune& t) -> double& { return t.layout.twist_yoke_right[1]; }},
    Dial{StepKind::bolt, "limb bolt, top", "the top limb bolt", "out", "in", "turns", 1,
         [](Tune& t) -> double& { return t.layout.bolt_top; }},
    Dial{StepKind::bolt, "limb bolt, bottom", "the bottom limb bolt", "out", "in", "turns", 1,
         [](Tune& t) -> double& { return t.layout.bolt_bottom; }},
    Dial{StepKind::guide, "guide, lateral", "the cable guide", "left", "right", "mm", 1,
         [](Tune& t) -> double& { return t.layout.guide_lateral; }},
    Dial{StepKind::guide, "guide, angle", "the cable guide's left side", "toward the archer",
         "toward the target", "deg", units::degree, [](Tune& t) -> double& { return t.layout.guide_angle; }},
    Dial{StepKind::rest, "rest, lateral", "the arrow rest", "left", "right", "mm", 1,
         [](Tune& t) -> double& { return t.rest_lateral; }},
    Dial{StepKind::rest, "rest, height", "the arrow rest", "up", "down", "mm", 1,
         [](Tune& t) -> double& { return t.rest_height; }},
    Dial{StepKind::nocking_point, "nocking point", "the nocking point", "up", "down", "mm", 1,
         [](Tune& t) -> double& { return t.nocking_point; }},
};

/// The yoke's axle: a cable's yoke hangs on the other end; a single cam has one, on the top axle.
std::string part_of(const Dial& dial, const Bow& bow) {
    std::string text = dial.part;
    const bool single = bow.cables.system == CableSystem::single_cam;
    if (const auto at = text.find("that cable's yoke"); at != std::string::npos)
        text.replace(at, std::string::npos,
                     single ? "the yoke on the top axle" : "the yoke on the bottom axle");
    return text;
}

double& pocket(Tune& tune, End end, Flank flank) {
    Pairing& p = tune.layout.pairing;
    if (end == End::top) return flank == Flank::left ? p.top_left : p.top_right;
    return flank == Flank::left ? p.bottom_left : p.bottom_right;
}

std::vector<double>& stack(Tune& tune, End end, Flank flank) {
    SpacerStacks& stacks = end == End::top ? tune.layout.spacers_top : tune.layout.spacers_bottom;
    return flank == Flank::left ? stacks.left : stacks.right;
}

const char* word(Flank flank) {
    return flank == Flank::left ? "left" : "right";
}

constexpr std::array ends{End::top, End::bottom};
constexpr std::array flanks{Flank::left, Flank::right};

class Writer {
public:
    Writer(const Bow& bow, const Tune& from, const Tune& to, LengthRule lengths)
        : bow_(bow), from_(from), to_(to), lengths_(lengths) {}

    std::vector<Step> write() {
        const bool axles = pulls(End::top) || pulls(End::bottom);
        say(StepKind::write_down,
            "Write down what the bow measures today and mark the cams' places against the limbs.");
        const bool press = axles || dials_differ({StepKind::twist});
        if (press)
            say(StepKind::press_on,
                "Put the bow into a press made for it and take the load off string and cables.");
        for (const End end : ends)
            if (pulls(end))
                at_end(StepKind::axle_out, end,
                       fmt::format("Pull the {} axle; keep cam and spacers in order.", name(end)));
        move_limbs();
        for (const End end : ends) place_spacers(end);
        for (const End end : ends)
            if (pulls(end))
                at_end(StepKind::axle_in, end,
                       fmt::format("Put the {} axle back with its clips; the cam turns freely.", name(end)));
        turn({StepKind::twist});
        if (press) say(StepKind::press_off, "Ease the press off; string and cables lie in their grooves.");
        turn({StepKind::bolt, StepKind::guide});
        if (axles && lengths_ == LengthRule::re_timed)
            say(StepKind::timing,
                "Restore axle-to-axle, brace height and timing by twists of string and cables, in the "
                "press.");
        turn({StepKind::rest, StepKind::nocking_point});
        say(StepKind::measure, "Measure, and write the results on this sheet before the first arrow.");
        return std::move(steps_);
    }

private:
    void say(StepKind kind, std::string text) {
        steps_.push_back({kind, std::move(text), {}, 0, End::top, {}, {}});
    }
    void at_end(StepKind kind, End end, std::string text) {
        steps_.push_back({kind, std::move(text), {}, 0, end, {}, {}});
    }

    [[nodiscard]] bool limb_changes(End end, Flank flank) {
        return pocket(from_, end, flank) != pocket(to_, end, flank);
    }
    [[nodiscard]] bool stack_changes(End end, Flank flank) {
        return stack(from_, end, flank) != stack(to_, end, flank);
    }
    [[nodiscard]] bool pulls(End end) {
        return std::ranges::any_of(flanks,
                                   [&](Flank f) { return limb_changes(end, f) || stack_changes(end, f); });
    }
    [[nodiscard]] bool dials_differ(std::initializer_list<StepKind> kinds) {
        return std::ranges::any_of(dials, [&](const Dial& d) {
            return std::ranges::find(kinds, d.kind) != kinds.end() && d.in(from_) != d.in(to_);
        });
    }

    /// "top left"; "top" of a solid limb.
    [[nodiscard]] std::string place(End end, Flank flank) const {
        const bool solid = bow_.limb.kind == LimbKind::solid;
        return solid ? name(end) : fmt::format("{} {}", name(end), word(flank));
    }

    void move_limbs() {
        const bool solid = bow_.limb.kind == LimbKind::solid;
        struct Loose {
            double number;
            std::string from;
        };
        std::vector<Loose> loose;
        const auto each = [&](const auto& work) {
            for (const End end : ends)
                for (const Flank flank : flanks)
                    if (limb_changes(end, flank) && !(solid && flank == Flank::right)) work(end, flank);
        };
        const auto flank_of = [&](Flank flank) { return solid ? std::nullopt : std::optional(flank); };
        each([&](End end, Flank flank) {
            const double number = pocket(from_, end, flank);
            loose.push_back({number, place(end, flank)});
            steps_.push_back(
                {StepKind::limb_out,
                 fmt::format("Take limb {:.4g} out of the {} pocket.", number, place(end, flank)),
                 {},
                 number,
                 end,
                 flank_of(flank),
                 {}});
        });
        each([&](End end, Flank flank) {
            const double number = pocket(to_, end, flank);
            const auto source = std::ranges::find(loose, number, &Loose::number);
            const std::string where =
                source == loose.end() ? "from the shelf" : "from the " + source->from + " pocket";
            if (source != loose.end()) loose.erase(source);
            steps_.push_back(
                {StepKind::limb_in,
                 fmt::format("Put limb {:.4g}, {}, into the {} pocket.", number, where, place(end, flank)),
                 {},
                 number,
                 end,
                 flank_of(flank),
                 {}});
        });
    }

    void place_spacers(End end) {
        for (const Flank flank : flanks) {
            if (!stack_changes(end, flank)) continue;
            const std::vector<double>& to = stack(to_, end, flank);
            std::vector<std::string> sizes;
            for (const double thickness : to) sizes.push_back(fmt::format("{:.4g}", thickness));
            const std::string text =
                to.empty() ? std::string("no spacer") : fmt::format("spacers {} mm", fmt::join(sizes, " + "));
            steps_.push_back(
                {StepKind::spacers,
                 fmt::format("{} cam, {} side: {}.", end == End::top ? "Top" : "Bottom", word(flank), text),
                 {},
                 0,
                 end,
                 flank,
                 to});
        }
    }

    void turn(std::initializer_list<StepKind> kinds) {
        for (const Dial& dial : dials) {
            const double from = dial.in(from_), to = dial.in(to_);
            if (std::ranges::find(kinds, dial.kind) == kinds.end() || from == to) continue;
            const double change = (to - from) / dial.factor;
            const bool one = std::abs(std::abs(change) - 1) < 1e-9 && std::string(dial.unit) == "turns";
            const char* verb = dial.kind == StepKind::twist || dial.kind == StepKind::bolt ? "Turn" : "Move";
            steps_.push_back({dial.kind,
                              fmt::format("{} {} {:.4g} {} {}.", verb, part_of(dial, bow_), std::abs(change),
                                          one ? "turn" : dial.unit, change > 0 ? dial.more : dial.less),
                              dial.setting,
                              to,
                              End::top,
                              {},
                              {}});
        }
    }

    const Bow& bow_;
    Tune from_, to_;
    LengthRule lengths_;
    std::vector<Step> steps_;
};

void move_limb(const Step& step, Tune& tune) {
    const bool in = step.kind == StepKind::limb_in;
    for (const Flank flank : flanks) {
        if (step.flank && *step.flank != flank) continue;
        double& number = pocket(tune, step.end, flank);
        if ((number == 0) != in)
            throw std::logic_error(step.text + " The pocket is " + (in ? "full." : "empty."));
        number = in ? step.to : 0;
    }
}

}  // namespace

std::vector<Step> bench_steps(const Bow& bow, const Tune& from, const Tune& to, LengthRule lengths) {
    return Writer(bow, from, to, lengths).write();
}

void apply(const Step& step, Tune& tune) {
    if (step.kind == StepKind::limb_out || step.kind == StepKind::limb_in) move_limb(step, tune);
    if (step.kind == StepKind::spacers) stack(tune, step.end, step.flank.value_or(Flank::left)) = step.stack;
    for (const Dial& dial : dials)
        if (step.setting == dial.setting) dial.in(tune) = step.to;
}

}  // namespace limbwright::models
