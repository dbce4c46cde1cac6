#include "models/study/reference_states.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace limbwright::models {
namespace {

using solver::MatX;
using solver::State;
using solver::VecX;

StrungBow strung_today(const Bow& bow, const Study& study) {
    Bow measured = bow;
    if (study.lengths == LengthRule::re_timed) measured.cables.string_above.reset();
    Stringing answer = string_up(assemble(measured));
    if (const auto* no = std::get_if<NotStrung>(&answer))
        throw std::runtime_error(
            fmt::format("{} could not be strung as it is today: {}", bow.name, no->reason));
    return std::get<StrungBow>(std::move(answer));
}

/// Places of the nocking point at which layouts are solved after brace, by rising draw, and which is the
/// peak's.
std::pair<std::vector<double>, std::size_t> draws_of(const Draw& draw, int states) {
    const double brace = draw.states.front().draw, full = draw.states.back().draw;
    const double peak = draw.peak().draw;
    const int steps = std::max(1, states - 2);
    std::vector<double> draws;
    for (int i = 1; i <= steps; ++i) draws.push_back(i == steps ? full : brace + (full - brace) * i / steps);
    const auto near =
        std::find_if(draws.begin(), draws.end(), [&](double d) { return std::abs(d - peak) < 1e-6; });
    if (near == draws.end()) draws.push_back(peak);
    std::sort(draws.begin(), draws.end());
    const auto at =
        std::find_if(draws.begin(), draws.end(), [&](double d) { return std::abs(d - peak) < 1e-6; });
    return {draws, static_cast<std::size_t>(at - draws.begin()) + 1};
}

}  // namespace

StudyBase::StudyBase(const Bow& bow, const Study& study)
    : study_(study),
      product_(bow, study),
      today_(strung_today(bow, study)),
      columns_(columns_of(study, today_.bow)),
      rebuilds_(assemble(today_.bow.bow, bow.layout)) {
    const Draw whole = draw(today_);
    if (whole.failure) throw std::runtime_error("today's bow cannot be drawn: " + *whole.failure);
    energy_scale_ = 1 + std::abs(today_.brace.energy);
    const auto [draws, peak] = draws_of(whole, study.states);
    peak_ = peak;
    std::vector<double> wanted{today_.brace.state.at(today_.bow.nock[0])};
    for (const double d : draws) wanted.push_back(-d);
    const std::vector<int> held = held_while_drawing(today_.bow);
    solver::Workspace workspace(today_.bow.system);
    const solver::Path path =
        trace(today_.bow.system, today_.brace.state, today_.bow.nock[0], wanted, held, workspace);
    if (path.failure) throw std::runtime_error("today's bow cannot be drawn: " + path.failure->cause.reason);
    add_station({}, today_.brace.state, held_at_brace(today_.bow));
    for (std::size_t i = 1; i < path.states.size(); ++i)
        add_station(draws[i - 1], path.states[i].equilibrium.state, held);
    lengths_ = twisted(today_.bow, today_.lengths);
    find_slopes();
    find_bends();
}

void StudyBase::add_station(std::optional<double> draw, const State& state, const std::vector<int>& held) {
    stations_.push_back({draw, state, held, {}, {}, 0});
}

StrungBow StudyBase::rebuilt(const Setting& setting, double change) const {
    Layout layout = today_.bow.layout;
    setting.set(layout, setting.get(layout) + change);
    return rebuilt(layout);
}

StrungBow StudyBase::rebuilt(const Layout& layout) const {
    return rebuilt_from(today_, assemble(today_.bow.bow, layout), today_.lengths);
}

void StudyBase::find_slopes() {
    std::vector<State> drawn;
    for (std::size_t k = 1; k < stations_.size(); ++k) drawn.push_back(stations_[k].state);
    const StateSensitivity sensitivity(today_, drawn, study_.lengths);
    by_lengths_ = sensitivity.by_lengths();
    const std::vector<Setting>& settings = product_.varied();
    const int count = static_cast<int>(settings.size());
    for (std::size_t k = 0; k < stations_.size(); ++k) {
        stations_[k].slopes.resize(today_.bow.system.numbering().size(), count);
        stations_[k].negative_pivots = sensitivity.factored(k).factor().negative_pivots();
    }
    length_slopes_.resize(lengths_.size(), count);
    for (int i = 0; i < count; ++i) {
        const Setting& setting = settings[static_cast<std::size_t>(i)];
        const auto changed = [&](double change) { return rebuilt(setting, change); };
        const StateSlopes by = sensitivity.by(changed, derivative_share * setting.step);
        for (std::size_t k = 0; k < stations_.size(); ++k) stations_[k].slopes.col(i) = by.states[k];
        length_slopes_.col(i) = by.lengths;
    }
}

/// By how much the stations' states differ from today's at changed settings; none where the plain engine does
/// not come through.
std::optional<std::vector<VecX>> StudyBase::steps_to(const VecX& point) const {
    const std::vector<Setting>& settings = product_.varied();
    Layout layout = today_.bow.layout;
    for (int i = 0; i < point.size(); ++i) {
        const Setting& setting = settings[static_cast<std::size_t>(i)];
        setting.set(layout, setting.get(layout) + point[i]);
    }
    StrungBow strung = rebuilt(layout);
    if (study_.lengths == LengthRule::re_timed)
        strung.bow.system = with_lengths(strung.bow, lengths_ + length_slopes_ * point);
    solver::Workspace workspace(strung.bow.system);
    std::vector<VecX> steps;
    for (const Station& station : stations_) {
        const solver::FoundEquilibrium found =
            find_equilibrium(strung.bow.system, predicted(station, point), station.held, workspace);
        const auto* state = std::get_if<solver::Equilibrium>(&found);
        if (!state) return std::nullopt;
        steps.push_back(step_between(station.state, state->state, strung.bow.system.numbering()));
        if (steps.size() == 1) place_stops(strung.bow, state->state);
    }
    return steps;
}

/// Second differences over half of what each setting varies by: where they serve best.
void StudyBase::find_bends() {
    const std::vector<Setting>& settings = product_.varied();
    const int count = static_cast<int>(settings.size()), n = today_.bow.system.numbering().size();
    const std::vector<double> reach = [&] {
        std::vector<double> farthest(settings.size(), 0), values(settings.size());
        const std::int64_t stride = std::max<std::int64_t>(1, product_.size() / 20000);
        for (std::int64_t number = 0; number < product_.size(); number += stride) {
            product_.point(number, values.data());
            for (std::size_t i = 0; i < values.size(); ++i)
                farthest[i] = std::max(farthest[i], std::abs(values[i] - settings[i].get(today_.bow.layout)));
        }
        return farthest;
    }();
    const auto along = [&](int i) {
        return VecX(0.5 * reach[static_cast<std::size_t>(i)] * VecX::Unit(count, i));
    };
    std::vector<MatX> bends(stations_.size(), MatX::Zero(n, count * (count + 1) / 2));
    std::vector<std::vector<VecX>> ahead;
    for (int i = 0, column = 0; i < count; ++i) {
        const auto more = steps_to(along(i)), less = steps_to(-along(i));
        if (!more || !less) return;
        ahead.push_back(*more);
        const double hi = 0.5 * reach[static_cast<std::size_t>(i)];
        for (int j = 0; j < i; ++j, ++column) {
            const auto both = steps_to(along(i) + along(j));
            if (!both) return;
            const double hj = 0.5 * reach[static_cast<std::size_t>(j)];
            for (std::size_t k = 0; k < stations_.size(); ++k)
                bends[k].col(column) =
                    ((*both)[k] - (*more)[k] - ahead[static_cast<std::size_t>(j)][k]) / (hi * hj);
        }
        for (std::size_t k = 0; k < stations_.size(); ++k)
            bends[k].col(column) =
                ((*more)[k] + (*less)[k]) / (2 * hi * hi);  // half, as its square comes once
        ++column;
    }
    for (std::size_t k = 0; k < stations_.size(); ++k) stations_[k].bends = std::move(bends[k]);
}

State StudyBase::predicted(const Station& station, const VecX& point) const {
    VecX step = station.slopes * point;
    if (station.bends.size()) {
        VecX squares(station.bends.cols());
        for (int i = 0, column = 0; i < point.size(); ++i)
            for (int j = 0; j <= i; ++j) squares[column++] = point[i] * point[j];
        step += station.bends * squares;
    }
    State state = moved(station.state, step);
    if (station.draw) state.at(today_.bow.nock[0]) = -*station.draw;
    return state;
}

bool StudyBase::needs_yaw_torque_effect(std::size_t station) const {
    // A station may be brace, peak and full draw, one or two of them.
    const auto needed = [&](DrawPlace place) { return needs(columns_, Needs::yaw_torque_effect, place); };
    return (station == 0 && needed(DrawPlace::brace)) || (station == peak_ && needed(DrawPlace::peak)) ||
           (station + 1 == stations_.size() && needed(DrawPlace::full_draw));
}

}  // namespace limbwright::models
