#include "models/states/draw.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "models/input/units.hpp"

namespace limbwright::models {
namespace {

using solver::Path;
using solver::PathState;
using solver::State;
using solver::VecX;

/// What is odd about a state, each in a sentence.
std::vector<std::string> oddities(const AssembledBow& bow, const solver::Equilibrium& s) {
    std::vector<std::string> found;
    for (const CablePart& part : bow.all_cables()) {
        const solver::Cable& cable = bow.cable(part);
        if (!(cable.tension(s.state) > 0)) found.push_back("the " + part.name + " is slack");
    }
    if (s.negative_pivots > 0)
        found.push_back(fmt::format("the state is not stable ({} negative pivots)", s.negative_pivots));
    if (s.is_doubtful())
        found.push_back(
            "the bow is so near to giving way that the state's stiffness cannot be told from rounding");
    return found;
}

/// The cable that has run off the end of its groove, if any.
std::optional<std::string> off_groove(const AssembledBow& bow, const State& state) {
    for (const CablePart& part : bow.all_cables())
        if (bow.cable(part).path(state).off_groove) return part.name;
    return std::nullopt;
}

/// How far a cam has turned past its stop; negative before it meets [rad].
double past_stop(const AssembledBow& bow, const AxleParts& axle, const State& state) {
    const solver::Spring& stop = stop_of(bow, axle);
    return axle.draw_sense * (stop.value(state) - stop.data().rest);
}

/// The later stop's; infinite without stops.
double past_stops(const AssembledBow& bow, const State& state) {
    double least = HUGE_VAL;
    for (const AxleParts& axle : bow.axles)
        if (axle.stop) least = std::min(least, past_stop(bow, axle, state));
    return least;
}

std::vector<double> even(double from, double to, int count) {
    std::vector<double> values;
    for (int i = 0; i < count; ++i) values.push_back(from + (to - from) * i / (count - 1));
    values.back() = to;
    return values;
}

class Drawer {
public:
    Drawer(const StrungBow& strung, const DrawOptions& options)
        : strung_(strung),
          path_options_(options.path),
          options_(options),
          held_(held_while_drawing(strung.bow)),
          workspace_(strung.bow.system) {
        path_options_.loads = {yaw_torque(strung.bow)};
    }

    Draw run() {
        Draw result;
        const double brace = strung_.brace.state.at(nock());
        double full = -full_draw(strung_.bow.bow).value_or(0);
        if (options_.full_draw) full = -*options_.full_draw;
        if (full == 0) {
            const std::variant<double, std::string> found = meeting_of_stops(brace);
            if (const auto* why = std::get_if<std::string>(&found)) {
                result.failure = *why;
                full = last_before_failure_;
            } else {
                full = std::get<double>(found);
            }
        }
        const int count = std::max(2, options_.states.value_or(strung_.bow.bow.shooter.states));
        follow(strung_.brace.state, even(brace, full, count), result);
        add_meetings(result);
        return result;
    }

    void follow(const State& start, const std::vector<double>& wanted, Draw& result) {
        const Path path = trace(strung_.bow.system, start, nock(), wanted, held_, workspace_, path_options_);
        std::vector<std::string> told;
        for (const PathState& p : path.states) {
            if (const auto cable = off_groove(strung_.bow, p.equilibrium.state)) {
                result.failure = fmt::format(
                    "the draw stops at {:.1f} mm: at {:.1f} mm the {} has run off the end of its groove. To "
                    "go on, check the track's anchor and the cams' turn, or draw less far.",
                    result.states.empty() ? -p.parameter : result.states.back().draw, -p.parameter, *cable);
                return;
            }
            result.states.push_back(draw_state(p));
            for (const std::string& odd : oddities(strung_.bow, p.equilibrium))
                if (std::find(told.begin(), told.end(), odd) == told.end()) {
                    told.push_back(odd);
                    result.warnings.push_back(fmt::format("from {:.1f} mm draw on, {}", -p.parameter, odd));
                }
        }
        if (path.failure) result.failure = explained(*path.failure);
    }

private:
    [[nodiscard]] solver::ScalarId nock() const { return strung_.bow.nock[0]; }

    [[nodiscard]] std::string explained(const solver::PathFailure& failure) const {
        const AssembledBow& bow = strung_.bow;
        std::string cause, hint = "try more states, or check the part's dimensions";
        for (const CablePart& part : bow.all_cables()) {
            const solver::CablePath path = bow.cable(part).path(failure.cause.best);
            if (!std::isfinite(path.length)) {
                cause = " The " + part.name + " leaves its groove no tangent: its target lies inside.";
            } else if (path.off_groove) {
                cause = " The " + part.name + " has run off the end of its groove.";
                hint = "check the track's anchor and the cams' turn, or draw less far";
            } else if (!(bow.cable(part).tension(failure.cause.best) > 0)) {
                cause = " The " + part.name + " has gone slack.";
                hint = "check its length and the cam's tracks";
            }
        }
        for (const End end : {End::top, End::bottom}) {
            const AxleParts& axle = bow.axle(end);
            const double past = axle.stop ? past_stop(bow, axle, failure.state) : 0;
            if (!(past > 0)) continue;
            cause += fmt::format(" The {} cam stands {:.1f} deg past its draw stop.", name(end),
                                 past / units::degree);
            hint = "draw less far, or set the stops later";
        }
        return fmt::format(
            "the draw stops at {:.1f} mm: no state was found at {:.3f} mm ({}; at the {}).{} To go on, {}.",
            -failure.reached, -failure.tried, failure.cause.reason,
            bow.part_of_freedom(failure.cause.worst_freedom), cause, hint);
    }

    /// Nocking point's X at which the later stop meets.
    std::variant<double, std::string> meeting_of_stops(double brace) {
        const AssembledBow& bow = strung_.bow;
        if (!std::isfinite(past_stops(bow, strung_.brace.state)))
            return std::string("neither a draw length nor a draw stop is given");
        constexpr double stride = 10, longest = 1500;  // mm
        State before = strung_.brace.state;
        double low = brace;
        last_before_failure_ = low;
        for (;;) {
            const double wanted[] = {low, low - stride};
            const Path path = trace(bow.system, before, nock(), wanted, held_, workspace_, path_options_);
            if (path.failure) return explained(*path.failure);
            const State& after = path.states.back().equilibrium.state;
            if (past_stops(bow, after) > 0) break;
            before = after;
            low -= stride;
            last_before_failure_ = low;
            if (brace - low > longest) return std::string("the draw stops never meet");
        }
        const std::variant<DrawState, std::string> found =
            meeting(before, low, low - stride, [&](const State& x) { return past_stops(bow, x); });
        if (const auto* why = std::get_if<std::string>(&found)) return *why;
        return -std::get<DrawState>(found).draw;
    }

    /// The state just before something that rises with the draw turns positive, between two places of the
    /// nocking point; `before` stands at the first. Bisection: a stop's kink spoils faster methods.
    std::variant<DrawState, std::string> meeting(State before, double low, double high,
                                                 const std::function<double(const State&)>& past) {
        std::optional<DrawState> last;
        for (int round = 0; round < 40 && (std::abs(high - low) > 1e-7 || !last); ++round) {
            const double wanted[] = {low, 0.5 * (low + high)};
            const Path path =
                trace(strung_.bow.system, before, nock(), wanted, held_, workspace_, path_options_);
            if (path.failure) return explained(*path.failure);
            const State& middle = path.states.back().equilibrium.state;
            if (past(middle) > 0) {
                high = wanted[1];
            } else {
                low = wanted[1];
                before = middle;
                last = draw_state(path.states.back());
            }
        }
        if (!last) return std::string("a draw stop meets where the draw begins");
        return *last;
    }

    /// Puts a state where each stop meets between two states, so that force and work are smooth on either
    /// side.
    void add_meetings(Draw& result) {
        constexpr double meets = 1e-6;  // rad: found to 1e-7 mm of draw
        std::vector<DrawState> all;
        for (std::size_t i = 0; i < result.states.size(); ++i) {
            const DrawState& a = result.states[i];
            all.push_back(a);
            if (i + 1 == result.states.size()) break;
            const DrawState& b = result.states[i + 1];
            const auto first_met = std::ssize(all);
            for (const AxleParts& axle : strung_.bow.axles) {
                if (!axle.stop) continue;
                const auto past = [&](const State& x) { return past_stop(strung_.bow, axle, x); };
                if (!(past(a.state) < -1e-9 && past(b.state) > 1e-9)) continue;
                std::variant<DrawState, std::string> found = meeting(a.state, -a.draw, -b.draw, past);
                auto* at = std::get_if<DrawState>(&found);
                if (!at || past(at->state) < -meets) continue;
                at->stiffness_beyond = stiffness_with(axle, at->state);
                all.push_back(std::move(*at));
            }
            std::sort(all.begin() + first_met, all.end(),
                      [](const DrawState& x, const DrawState& y) { return x.draw < y.draw; });
        }
        result.states = std::move(all);
    }

    /// Change of the draw force with the draw in a state where a stop just meets, as if it had met.
    double stiffness_with(const AxleParts& axle, const State& state) {
        const solver::Spring& stop = stop_of(strung_.bow, axle);
        solver::Spring::Data met = stop.data();
        met.rest = stop.value(state) - axle.draw_sense * 1e-12;
        const solver::System system = strung_.bow.system.with(
            *axle.stop, std::make_shared<const solver::Spring>(turn_against_limbs(axle), met));
        const double here[] = {state.at(nock())};
        const Path path = trace(system, state, nock(), here, held_, workspace_, path_options_);
        return path.states.empty() ? std::nan("") : path.states.back().stiffness;
    }

    const StrungBow& strung_;
    solver::PathOptions path_options_;
    const DrawOptions& options_;
    std::vector<int> held_;
    solver::Workspace workspace_;
    double last_before_failure_ = 0;
};

}  // namespace

std::size_t Draw::peak_index() const {
    return static_cast<std::size_t>(std::ranges::max_element(states, {}, &DrawState::force) - states.begin());
}

double draw_force(const AssembledBow& bow, const State& state) {
    const int freedom = bow.system.numbering().first(bow.nock[0]);
    double gradient = 0;
    solver::ElementVector g;
    for (const CablePart& part : bow.string) {
        bow.cable(part).gradient(state, g);
        const std::vector<int>& places = bow.system.plan().gather[part.element];
        for (std::size_t i = 0; i < places.size(); ++i)
            if (places[i] == freedom) gradient += g[static_cast<int>(i)];
    }
    return -gradient;
}

VecX yaw_torque(const AssembledBow& bow) {
    const solver::Numbering& n = bow.system.numbering();
    return VecX::Unit(n.size(), n.first(bow.riser.yaw));
}

// The nocking point's X is the scalar that is drawn; the draw runs along −X.
DrawState draw_state(const AssembledBow& bow, State state) {
    DrawState s;
    s.draw = -state.at(bow.nock[0]);
    s.force = draw_force(bow, state);
    s.state = std::move(state);
    return s;
}

DrawState draw_state(const PathState& p) {
    const solver::Equilibrium& e = p.equilibrium;
    return {-p.parameter, e.state,      -p.force,          p.stiffness, p.stiffness,        e.energy,
            e.residual,   e.iterations, e.negative_pivots, p.attempts,  p.responses.front()};
}

std::optional<double> full_draw(const Bow& bow) {
    if (!bow.shooter.draw_length) return std::nullopt;
    return *bow.shooter.draw_length - draw_length_beyond_pivot;
}

Draw draw(const StrungBow& strung, const DrawOptions& options) {
    return Drawer(strung, options).run();
}

Draw let_down(const StrungBow& strung, const Draw& drawn, const DrawOptions& options) {
    Draw result;
    std::vector<double> wanted;
    for (auto s = drawn.states.rbegin(); s != drawn.states.rend(); ++s) wanted.push_back(-s->draw);
    Drawer(strung, options).follow(drawn.states.back().state, wanted, result);
    return result;
}

std::vector<double> work(const Draw& draw) {
    std::vector<double> total{0};
    for (std::size_t i = 0; i + 1 < draw.states.size(); ++i) {
        const DrawState &a = draw.states[i], &b = draw.states[i + 1];
        const double h = b.draw - a.draw;
        total.push_back(total.back() + h * 0.5 * (a.force + b.force) -
                        h * h / 12 * (b.stiffness - a.stiffness_beyond));
    }
    return total;
}

}  // namespace limbwright::models
