#include "models/states/state_sensitivity.hpp"

namespace limbwright::models {
namespace {

using solver::State;
using solver::System;
using solver::VecX;

}  // namespace

bool stop_presses(const AssembledBow& bow, const AxleParts& axle, const State& state) {
    // A draw to the stops ends within 1e-7 mm of where one meets, less than 1e-8 rad of a cam's turn: less
    // than 1e-10 N mm in a stop of 2e6 N mm/rad.
    return stop_of(bow, axle).energy(state) > 1e-9;
}

StrungBow rebuilt_from(const StrungBow& strung, AssembledBow bow, const NaturalLengths& lengths) {
    StrungBow rebuilt{std::move(bow), strung.brace, lengths};
    rebuilt.bow.system = with_lengths(rebuilt.bow, twisted(rebuilt.bow, lengths));
    return rebuilt;
}

StateSensitivity::StateSensitivity(const StrungBow& today, const std::vector<State>& drawn, LengthRule rule)
    : rule_(rule), today_{today, {today.brace.state}, {}} {
    const AssembledBow& bow = today.bow;
    today_.states.insert(today_.states.end(), drawn.begin(), drawn.end());
    for (std::size_t i = 0; i < today_.states.size(); ++i) {
        const State& state = today_.states[i];
        std::array<bool, 2>& presses = stop_presses_.emplace_back();
        for (const End end : {End::top, End::bottom})
            if (const AxleParts& axle = bow.axle(end); axle.stop)
                presses[index(end)] = stop_presses(bow, axle, state);
        today_.systems.push_back(acting(bow, i));
        factored_.emplace_back(bow.system, state, i == 0 ? held_at_brace(bow) : held_while_drawing(bow));
    }
    if (rule == LengthRule::re_timed)
        by_lengths_ = brace_by_lengths(bow, bow.system, today.brace.state, factored_[0].factor());
}

/// A bow's system with its stops as they act in one of today's states.
System StateSensitivity::acting(const AssembledBow& bow, std::size_t state) const {
    System system = bow.system;
    for (const End end : {End::top, End::bottom}) {
        const AxleParts& axle = bow.axle(end);
        if (!axle.stop) continue;
        solver::Spring::Data data = stop_of(bow, axle).data();
        data.side = solver::Side::both;
        system = with_stop(system, axle, stop_presses_[state][index(end)] ? data : solver::Spring::Data{});
    }
    return system;
}

/// At brace, where both bows get the lengths that keep what was met.
VecX StateSensitivity::brace_slope(StrungBow& more, StrungBow& less, double h) const {
    const solver::FactoredState& brace = factored_.front();
    const VecX slope = brace.slope(more.bow.system, less.bow.system, h);
    if (rule_ == LengthRule::kept) return slope;
    const VecX unmet =
        (unmet_at_brace(more.bow, brace.along(slope, h)) - unmet_at_brace(less.bow, brace.along(slope, -h))) /
        (2 * h);
    const VecX longer = by_lengths_.meeting(unmet);
    for (const auto& [strung, change] : {std::pair(&more, h), std::pair(&less, -h)}) {
        const VecX lengths = twisted(strung->bow, strung->lengths) + change * longer;
        strung->bow.system = with_lengths(strung->bow, lengths);
        strung->lengths = untwisted(strung->bow, lengths);
    }
    return slope + by_lengths_.state * longer;
}

StateSlopes StateSensitivity::by(const std::function<StrungBow(double)>& rebuilt, double h) const {
    StateSlopes s{{}, {}, {rebuilt(h), {}, {}}, {rebuilt(-h), {}, {}}};
    s.states.push_back(brace_slope(s.more.strung, s.less.strung, h));
    s.lengths = (twisted(s.more.strung.bow, s.more.strung.lengths) -
                 twisted(s.less.strung.bow, s.less.strung.lengths)) /
                (2 * h);
    for (const auto& [bow, change] : {std::pair(&s.more, h), std::pair(&s.less, -h)}) {
        bow->strung.brace.state = factored_.front().along(s.states.front(), change);
        place_stops(bow->strung.bow, bow->strung.brace.state);
        for (std::size_t i = 0; i < factored_.size(); ++i) bow->systems.push_back(acting(bow->strung.bow, i));
    }
    for (std::size_t i = 1; i < factored_.size(); ++i)
        s.states.push_back(factored_[i].slope(s.more.systems[i], s.less.systems[i], h));
    for (const auto& [bow, change] : {std::pair(&s.more, h), std::pair(&s.less, -h)})
        for (std::size_t i = 0; i < factored_.size(); ++i)
            bow->states.push_back(factored_[i].along(s.states[i], change));
    return s;
}

}  // namespace limbwright::models
