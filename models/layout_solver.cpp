#include "models/layout_solver.hpp"

#include <fmt/format.h>

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/assembly.hpp"

namespace limbwright::models {
namespace {

using solver::LanePack;
using solver::MatX;
using solver::State;
using solver::VecX;

/// A lane has converged when a step leaves less than this share of the stored energy as its decrement. A step
/// lowers the decrement about as the step before did: left = decrement² / decrement before.
constexpr double converged = 1e-15;
/// Where the tangent itself is read, for it carries the stiff parts' forces: an energy of 1e-10 N mm is 0.02
/// N in the riser.
constexpr double converged_for_tangent = 1e-19;
/// A decrement past this share of the stored energy comes from a start too far off for plain steps.
constexpr double hopeless = 1;
/// Largest miss of what re-timing must meet [mm, rad].
constexpr double timed = 1e-9;
constexpr int most_iterations = 25;

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
    const double peak =
        std::max_element(draw.states.begin(), draw.states.end(), [](const auto& a, const auto& b) {
            return a.force < b.force;
        })->draw;
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

/// What holds the nocking point back along X [N].
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

void set_lengths(AssembledBow& bow, const VecX& lengths) {
    const std::vector<CablePart> parts = cut_parts(bow);
    for (std::size_t i = 0; i < parts.size(); ++i) {
        solver::Cable::Data data = bow.cable(parts[i]).data();
        data.natural_length = lengths[static_cast<int>(i)];
        bow.system.replace(parts[i].element,
                           std::make_shared<const solver::Cable>(bow.cable(parts[i]).with(data)));
    }
}

/// What makes a layout's states of no use; empty if nothing does.
std::string trouble(const AssembledBow& bow, const Draw& draw) {
    const State &brace = draw.states.front().state, &full = draw.states.back().state;
    for (const CablePart& part : bow.all_cables()) {
        if (!(bow.cable(part).tension(brace) > 0)) return "the " + part.name + " is slack at brace";
        if (bow.cable(part).path(full).off_groove)
            return "the " + part.name + " has run off the end of its groove at full draw";
    }
    return {};
}

LayoutRow row_with(const StudyBase& base, std::int64_t number, const StrungBow& strung,
                   const ShortDraw& states) {
    LayoutRow row{number, {}, trouble(strung.bow, states.draw)};
    if (row.failure.empty()) row.values = base.reader().read(strung, states);
    return row;
}

/// Whether a column may be read off a station as brace, peak or full draw, one or two of them.
bool needs_effect(const StudyBase& base, std::size_t station) {
    const ColumnReader& reader = base.reader();
    return (station == 0 && reader.needs_yaw_torque_effect(DrawPlace::brace)) ||
           (station == base.peak() && reader.needs_yaw_torque_effect(DrawPlace::peak)) ||
           (station + 1 == base.stations().size() && reader.needs_yaw_torque_effect(DrawPlace::full_draw));
}

VecX yaw_torque(const AssembledBow& bow) {
    const solver::Numbering& n = bow.system.numbering();
    return VecX::Unit(n.size(), n.first(bow.riser.yaw));
}

}  // namespace

StudyBase::StudyBase(const Bow& bow, const Study& study)
    : product_(bow, study),
      rule_(study.lengths),
      today_(strung_today(bow, study)),
      columns_(columns_of(study, today_.bow)),
      reader_(columns_, today_.bow),
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
    StrungBow strung{assemble(today_.bow.bow, layout), today_.brace, today_.lengths};
    strung.bow.system = with_lengths(strung.bow, twisted(strung.bow, today_.lengths));
    return strung;
}

void StudyBase::find_slopes() {
    const std::vector<Setting>& settings = product_.varied();
    const int n = today_.bow.system.numbering().size(), count = static_cast<int>(settings.size());
    constexpr double share = 1e-3;  // of a practical step; the slopes only say where to start
    std::vector<std::array<StrungBow, 2>> samples;
    for (const Setting& setting : settings)
        samples.push_back({rebuilt(setting, share * setting.step), rebuilt(setting, -share * setting.step)});
    length_slopes_ = MatX::Zero(lengths_.size(), count);
    solver::Workspace w(today_.bow.system);
    for (std::size_t k = 0; k < stations_.size(); ++k) {
        Station& station = stations_[k];
        solver::assemble(today_.bow.system, station.state, w.gradient, w.sizes, w.tangent);
        if (!w.factor.factor(w.tangent, station.held))
            throw std::runtime_error("today's bow is free to move in one of its states");
        station.negative_pivots = w.factor.negative_pivots();
        station.slopes = MatX::Zero(n, count);
        MatX by_lengths;
        if (k == 0 && rule_ == LengthRule::re_timed) {
            const MatX loads = loads_of_lengths(today_.bow, today_.bow.system, station.state);
            by_lengths.resize(n, loads.cols());
            MatX unmet(loads.cols(), loads.cols());
            constexpr double h = 1e-3;  // mm
            for (int i = 0; i < loads.cols(); ++i) {
                by_lengths.col(i) = w.factor.solve(loads.col(i));
                unmet.col(i) =
                    (unmet_at_brace(today_.bow, moved(station.state, VecX(h * by_lengths.col(i)))) -
                     unmet_at_brace(today_.bow, moved(station.state, VecX(-h * by_lengths.col(i))))) /
                    (2 * h);
            }
            lengths_by_unmet_ = unmet.inverse();
        }
        for (int i = 0; i < count; ++i) {
            auto& [more, less] = samples[static_cast<std::size_t>(i)];
            const double h = share * settings[static_cast<std::size_t>(i)].step;
            VecX slope = w.factor.solve((total_gradient(less.bow.system, station.state) -
                                         total_gradient(more.bow.system, station.state)) /
                                        (2 * h));
            if (k == 0) {
                if (rule_ == LengthRule::re_timed) {
                    const VecX unmet = (unmet_at_brace(more.bow, moved(station.state, VecX(h * slope))) -
                                        unmet_at_brace(less.bow, moved(station.state, VecX(-h * slope)))) /
                                       (2 * h);
                    length_slopes_.col(i) = -lengths_by_unmet_ * unmet;
                    slope += by_lengths * length_slopes_.col(i);
                    more.bow.system = with_lengths(more.bow, lengths_ + h * length_slopes_.col(i));
                    less.bow.system = with_lengths(less.bow, lengths_ - h * length_slopes_.col(i));
                }
                place_stops(more.bow, moved(station.state, VecX(h * slope)));
                place_stops(less.bow, moved(station.state, VecX(-h * slope)));
            }
            station.slopes.col(i) = slope;
        }
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
    if (rule_ == LengthRule::re_timed)
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

SolveCounts& SolveCounts::operator+=(const SolveCounts& o) {
    layouts += o.layouts;
    iterations += o.iterations;
    plain += o.plain;
    failed += o.failed;
    return *this;
}

LayoutSolver::LayoutSolver(const StudyBase& base, const std::string& kernel)
    : base_(base),
      pack_(solver::make_lane_pack(base.today().bow.system.shared_plan(), kernel)),
      lanes_{Lane{0, {}, base.today(), {}, {}, {}, false}, Lane{0, {}, base.today(), {}, {}, {}, false},
             Lane{0, {}, base.today(), {}, {}, {}, false}, Lane{0, {}, base.today(), {}, {}, {}, false},
             Lane{0, {}, base.today(), {}, {}, {}, false}, Lane{0, {}, base.today(), {}, {}, {}, false},
             Lane{0, {}, base.today(), {}, {}, {}, false}, Lane{0, {}, base.today(), {}, {}, {}, false}} {}

void LayoutSolver::load(std::span<const std::int64_t> numbers) {
    count_ = numbers.size();
    const std::vector<Setting>& settings = base_.product().varied();
    for (std::size_t i = 0; i < lanes_.size(); ++i) {
        Lane& lane = lanes_[i];
        // Lanes that are left over repeat the first.
        lane.number = numbers[i < count_ ? i : 0];
        lane.layout = base_.product().layout(lane.number);
        lane.lost = false;
        lane.states.draw.states.clear();
        lane.states.peak = base_.peak();
        base_.rebuilds().refit(lane.strung.bow, lane.layout);
        lane.point.resize(settings.size());
        base_.product().point(lane.number, lane.point.data());
        for (std::size_t s = 0; s < settings.size(); ++s)
            lane.point[s] -= settings[s].get(base_.today().bow.layout);
        const Eigen::Map<const VecX> point(lane.point.data(), static_cast<int>(lane.point.size()));
        lane.lengths = base_.lengths() == LengthRule::kept
                           ? twisted(lane.strung.bow, base_.today().lengths)
                           : VecX(base_.length_today() + base_.length_slopes() * point);
    }
    LanePack::PerLane one_per_lane;
    for (std::size_t e = 0; e < lanes_[0].strung.bow.system.elements().size(); ++e) {
        for (std::size_t i = 0; i < lanes_.size(); ++i)
            one_per_lane[i] = &lanes_[i].strung.bow.system.elements()[e];
        pack_->set_element(e, one_per_lane);
    }
    const std::vector<CablePart> parts = cut_parts(base_.today().bow);
    for (std::size_t i = 0; i < lanes_.size(); ++i) {
        set_lengths(lanes_[i].strung.bow, lanes_[i].lengths);
        for (std::size_t p = 0; p < parts.size(); ++p)
            pack_->set_natural_length(parts[p].element, static_cast<int>(i),
                                      lanes_[i].lengths[static_cast<int>(p)]);
    }
}

void LayoutSolver::settle_lengths(std::array<bool, LanePack::width>& active,
                                  const LanePack::Row& decrements) {
    const std::vector<CablePart> parts = cut_parts(base_.today().bow);
    State state;
    for (std::size_t i = 0; i < count_; ++i) {
        Lane& lane = lanes_[i];
        if (lane.lost || !std::isfinite(decrements[i])) continue;
        pack_->copy_state(static_cast<int>(i), state);
        const VecX unmet = unmet_at_brace(lane.strung.bow, state);
        const double miss = unmet.lpNorm<Eigen::Infinity>();
        if (!active[i] && miss < timed) continue;
        active[i] = miss >= timed || active[i];
        lane.lengths -= base_.lengths_by_unmet() * unmet;
        for (std::size_t p = 0; p < parts.size(); ++p)
            pack_->set_natural_length(parts[p].element, static_cast<int>(i),
                                      lane.lengths[static_cast<int>(p)]);
    }
}

void LayoutSolver::find_states(std::size_t k) {
    const StudyBase::Station& station = base_.stations()[k];
    const bool timing = k == 0 && base_.lengths() == LengthRule::re_timed;
    std::array<bool, LanePack::width> active{};
    for (std::size_t i = 0; i < lanes_.size(); ++i) {
        const Eigen::Map<const VecX> point(lanes_[i].point.data(), static_cast<int>(lanes_[i].point.size()));
        pack_->set_state(static_cast<int>(i), base_.predicted(station, point));
        active[i] = i < count_ && !lanes_[i].lost;
    }
    const double scale = base_.energy_scale();
    const double enough = needs_effect(base_, k) ? converged_for_tangent : converged;
    LanePack::Row before;
    before.fill(0);  // the first step promises nothing
    for (int iteration = 0; iteration < most_iterations; ++iteration) {
        if (std::none_of(active.begin(), active.end(), [](bool a) { return a; })) break;
        pack_->factor(station.held);
        const LanePack::Row decrements = pack_->step(active);
        ++counts_.iterations;
        for (std::size_t i = 0; i < count_; ++i) {
            if (!active[i]) continue;
            const double share = std::abs(decrements[i]) / scale;
            if (!(share < hopeless)) lanes_[i].lost = true;
            const double left = share * std::min(1., share / before[i]);
            before[i] = share;
            if (!(left >= enough)) active[i] = false;
            if (!active[i] && pack_->negative_pivots()[i] != station.negative_pivots) lanes_[i].lost = true;
            if (lanes_[i].lost) active[i] = false;
        }
        if (timing) settle_lengths(active, decrements);
    }
    for (std::size_t i = 0; i < count_; ++i)
        if (active[i]) lanes_[i].lost = true;
}

void LayoutSolver::read_states(std::size_t k) {
    const StudyBase::Station& station = base_.stations()[k];
    Eigen::Matrix<double, Eigen::Dynamic, LanePack::width> effect;
    if (needs_effect(base_, k)) {
        pack_->factor(station.held);
        ++counts_.iterations;
        effect = pack_->solve(yaw_torque(base_.today().bow));
    }
    for (std::size_t i = 0; i < lanes_.size(); ++i) {
        Lane& lane = lanes_[i];
        const int l = static_cast<int>(i);
        if (lane.lost || i >= count_) continue;
        DrawState s;
        pack_->copy_state(l, s.state);
        AssembledBow& bow = lane.strung.bow;
        if (k == 0) {
            if (base_.lengths() == LengthRule::re_timed) set_lengths(bow, lane.lengths);
            lane.strung.lengths = untwisted(bow, lane.lengths);
            lane.strung.brace.state = s.state;
            place_stops(bow, s.state);
            for (const AxleParts& axle : bow.axles)
                if (axle.stop) pack_->set_rest(*axle.stop, l, stop_of(bow, axle).data().rest);
        }
        s.draw = -s.state.at(bow.nock[0]);
        s.force = draw_force(bow, s.state);
        if (base_.reader().needs_energy()) s.energy = total_energy(bow.system, s.state);
        if (effect.size()) s.yaw_torque_effect = effect.col(l);
        lane.states.draw.states.push_back(std::move(s));
    }
}

/// Warm from the prediction like the lanes, with the plain engine's safeguards: where a draw stop starts to
/// act plain steps do not come through.
std::optional<LayoutRow> LayoutSolver::solve_plain(Lane& lane) const {
    AssembledBow& bow = lane.strung.bow;
    base_.rebuilds().refit(bow, lane.layout);
    set_lengths(bow, twisted(bow, base_.today().lengths));
    const Eigen::Map<const VecX> point(lane.point.data(), static_cast<int>(lane.point.size()));
    solver::Workspace workspace(bow.system);
    ShortDraw states{{}, base_.peak()};
    for (std::size_t k = 0; k < base_.stations().size(); ++k) {
        const StudyBase::Station& station = base_.stations()[k];
        const solver::FoundEquilibrium answer =
            find_equilibrium(bow.system, base_.predicted(station, point), station.held, workspace);
        const auto* found = std::get_if<solver::Equilibrium>(&answer);
        if (!found || found->negative_pivots != station.negative_pivots) return std::nullopt;
        if (k == 0) {
            lane.strung.brace = *found;
            place_stops(bow, found->state);
        }
        DrawState s;
        s.state = found->state;
        s.draw = -s.state.at(bow.nock[0]);
        s.force = draw_force(bow, s.state);
        s.energy = found->energy;
        if (needs_effect(base_, k)) s.yaw_torque_effect = workspace.factor.solve(yaw_torque(bow));
        states.draw.states.push_back(std::move(s));
    }
    return row_with(base_, lane.number, lane.strung, states);
}

LayoutRow LayoutSolver::row_of(Lane& lane) {
    ++counts_.layouts;
    LayoutRow row;
    if (lane.lost) {
        ++counts_.plain;
        std::optional<LayoutRow> warm;
        if (base_.lengths() == LengthRule::kept) warm = solve_plain(lane);
        // What is wrong with a layout that fails, stringing it tells best.
        row = warm && warm->failure.empty() ? *warm : solve_cold(base_, lane.number);
    } else {
        row = row_with(base_, lane.number, lane.strung, lane.states);
    }
    if (!row.failure.empty()) ++counts_.failed;
    return row;
}

std::vector<LayoutRow> LayoutSolver::solve(std::span<const std::int64_t> numbers) {
    std::vector<LayoutRow> rows;
    if (numbers.empty()) return rows;
    load(numbers);
    for (std::size_t k = 0; k < base_.stations().size(); ++k) {
        find_states(k);
        read_states(k);
    }
    for (std::size_t i = 0; i < count_; ++i) rows.push_back(row_of(lanes_[i]));
    return rows;
}

Stringing string_up(const StudyBase& base, const Layout& layout) {
    const StrungBow& today = base.today();
    const AssembledBow assembled = assemble(today.bow.bow, layout);
    return base.lengths() == LengthRule::kept ? string_up(assembled, today.lengths) : string_up(assembled);
}

LayoutRow solve_cold(const StudyBase& base, std::int64_t number) {
    return solve_cold(base, base.product().layout(number), number);
}

LayoutRow solve_cold(const StudyBase& base, const Layout& layout, std::int64_t number) {
    const Stringing answer = string_up(base, layout);
    if (const auto* no = std::get_if<NotStrung>(&answer)) return {number, {}, no->reason};
    const StrungBow& strung = std::get<StrungBow>(answer);
    std::vector<double> wanted{strung.brace.state.at(strung.bow.nock[0])};
    for (std::size_t k = 1; k < base.stations().size(); ++k) wanted.push_back(-*base.stations()[k].draw);
    solver::Workspace workspace(strung.bow.system);
    solver::PathOptions options;
    options.loads = {yaw_torque(strung.bow)};
    const solver::Path path = trace(strung.bow.system, strung.brace.state, strung.bow.nock[0], wanted,
                                    held_while_drawing(strung.bow), workspace, options);
    if (path.failure)
        return {number,
                {},
                fmt::format("no state was found at {:.1f} mm draw: {}, at the {}", -path.failure->tried,
                            path.failure->cause.reason,
                            strung.bow.part_of_freedom(path.failure->cause.worst_freedom))};
    ShortDraw states{{}, base.peak()};
    for (const solver::PathState& p : path.states) {
        DrawState s;
        s.state = p.equilibrium.state;
        s.draw = -p.parameter;
        s.force = -p.force;
        s.energy = p.equilibrium.energy;
        s.yaw_torque_effect = p.responses.front();
        states.draw.states.push_back(std::move(s));
    }
    return row_with(base, number, strung, states);
}

}  // namespace limbwright::models
