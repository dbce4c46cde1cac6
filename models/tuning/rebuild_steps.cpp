#include "models/tuning/rebuild_steps.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "models/bow/settings.hpp"

namespace limbwright::models {
namespace {

constexpr unsigned builds_at[2] = {built::top_left_limb | built::top_right_limb | built::top_axle,
                                   built::bottom_left_limb | built::bottom_right_limb | built::bottom_axle};

double& pocket(Layout& tune, End end, Flank flank) {
    Pairing& p = tune.pairing;
    if (end == End::top) return flank == Flank::left ? p.top_left : p.top_right;
    return flank == Flank::left ? p.bottom_left : p.bottom_right;
}

std::vector<double>& stack(Layout& tune, End end, Flank flank) {
    SpacerStacks& stacks = end == End::top ? tune.spacers_top : tune.spacers_bottom;
    return flank == Flank::left ? stacks.left : stacks.right;
}

const char* word(Flank flank) {
    return flank == Flank::left ? "left" : "right";
}

constexpr std::array ends{End::top, End::bottom};
constexpr std::array flanks{Flank::left, Flank::right};

class Writer {
public:
    Writer(const Bow& bow, const Layout& from, const Layout& to, LengthRule lengths)
        : bow_(bow), settings_(settings_of(bow)), from_(from), to_(to), lengths_(lengths) {}

    std::vector<Step> write() {
        const bool axles = pulls(End::top) || pulls(End::bottom);
        say(StepKind::write_down,
            "Write down what the bow measures today and mark the cams' places against the limbs.");
        const bool press = axles || differs(Work::cables) || differs(Work::yokes);
        if (press)
            say(StepKind::press_on,
                "Put the bow into a press made for it and take the load off string and cables.");
        for (const End end : ends)
            if (pulls(end))
                at_end(StepKind::axle_out, end,
                       fmt::format("Pull the {} axle; keep cam and spacers in order.", name(end)));
        move_limbs();
        for (const End end : ends) place_spacers(end);
        set(Work::spacers);
        set(Work::limbs);
        for (const End end : ends)
            if (pulls(end))
                at_end(StepKind::axle_in, end,
                       fmt::format("Put the {} axle back with its clips; the cam turns freely.", name(end)));
        set(Work::cables);
        set(Work::yokes);
        if (press) say(StepKind::press_off, "Ease the press off; string and cables lie in their grooves.");
        set(Work::bolts);
        set(Work::guide);
        if (axles && lengths_ == LengthRule::re_timed)
            say(StepKind::timing,
                "Restore axle-to-axle, brace height and timing by twists of string and cables, in the "
                "press.");
        set(Work::rest);
        set(Work::nocking_point);
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
    [[nodiscard]] bool differs(const Setting& setting) const {
        return setting.get(from_) != setting.get(to_);
    }
    [[nodiscard]] bool differs(Work work) const {
        return std::ranges::any_of(settings_, [&](const Setting& s) { return s.work == work && differs(s); });
    }
    [[nodiscard]] bool pulls(End end) {
        return std::ranges::any_of(flanks, [&](Flank f) { return stack_changes(end, f); }) ||
               std::ranges::any_of(settings_, [&](const Setting& s) {
                   return s.work >= Work::spacers && (s.builds & builds_at[index(end)]) && differs(s);
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

    /// What is one number; limbs and stacks of spacers have steps of their own.
    void set(Work work) {
        const bool twisted = work >= Work::bolts && work <= Work::yokes;
        for (const Setting& setting : settings_) {
            if (setting.work != work || (work >= Work::spacers && !setting.in_bow) || !differs(setting))
                continue;
            const double to = setting.get(to_);
            steps_.push_back({StepKind::set,
                              fmt::format("{} the {}.", twisted ? "Turn" : "Move",
                                          change_in_words(setting, setting.get(from_), to)),
                              setting.key,
                              to,
                              End::top,
                              {},
                              {}});
        }
    }

    const Bow& bow_;
    const std::vector<Setting> settings_;
    Layout from_, to_;
    LengthRule lengths_;
    std::vector<Step> steps_;
};

void move_limb(const Step& step, Layout& tune) {
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

std::vector<Step> bench_steps(const Bow& bow, const Layout& from, const Layout& to, LengthRule lengths) {
    return Writer(bow, from, to, lengths).write();
}

void apply(const Bow& bow, const Step& step, Layout& layout) {
    if (step.kind == StepKind::limb_out || step.kind == StepKind::limb_in) move_limb(step, layout);
    if (step.kind == StepKind::spacers)
        stack(layout, step.end, step.flank.value_or(Flank::left)) = step.stack;
    const std::vector<Setting> settings = settings_of(bow);
    if (const Setting* setting = find(settings, step.setting)) setting->set(layout, step.to);
}

}  // namespace limbwright::models
