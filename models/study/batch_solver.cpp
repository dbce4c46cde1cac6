#include "models/study/batch_solver.hpp"

#include <algorithm>
#include <cmath>

#include "models/study/layout_evaluation.hpp"
#include "models/study/reference_solver.hpp"
#include "solver/system/assembly.hpp"

namespace limbwright::models {
namespace {

using solver::LanePack;
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

void set_lengths(AssembledBow& bow, const VecX& lengths) {
    const std::vector<CablePart> parts = cut_parts(bow);
    for (std::size_t i = 0; i < parts.size(); ++i) {
        solver::Cable::Data data = bow.cable(parts[i]).data();
        data.natural_length = lengths[static_cast<int>(i)];
        bow.system.replace(parts[i].element,
                           std::make_shared<const solver::Cable>(bow.cable(parts[i]).with(data)));
    }
}

/// Whether one cam has turned much farther from brace than the other. Cams that no cable couples may part in
/// a draw, either of them first, so that there are several states at full draw; which of them a layout's own
/// draw leads to, today's states do not tell.
bool cams_part(const StrungBow& strung, const Draw& draw) {
    constexpr double far = 0.3;  // rad: cams that run together keep within 0.05
    if (!strung.bow.axles[0].turn) return false;
    const auto lead = [&](const State& state) {
        return cam_turn(strung.bow, End::top, state) - cam_turn(strung.bow, End::bottom, state);
    };
    const double at_brace = lead(draw.states.front().state);
    return std::ranges::any_of(draw.states,
                               [&](const DrawState& s) { return std::abs(lead(s.state) - at_brace) > far; });
}

}  // namespace

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
        lane.lengths += base_.by_lengths().meeting(unmet);
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
    const double enough = base_.needs_yaw_torque_effect(k) ? converged_for_tangent : converged;
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
    if (base_.needs_yaw_torque_effect(k)) {
        pack_->factor(station.held);
        ++counts_.iterations;
        effect = pack_->solve(yaw_torque(base_.today().bow));
    }
    for (std::size_t i = 0; i < lanes_.size(); ++i) {
        Lane& lane = lanes_[i];
        const int l = static_cast<int>(i);
        if (lane.lost || i >= count_) continue;
        State state;
        pack_->copy_state(l, state);
        AssembledBow& bow = lane.strung.bow;
        if (k == 0) {
            if (base_.lengths() == LengthRule::re_timed) set_lengths(bow, lane.lengths);
            lane.strung.lengths = untwisted(bow, lane.lengths);
            lane.strung.brace.state = state;
            place_stops(bow, state);
            for (const AxleParts& axle : bow.axles)
                if (axle.stop) pack_->set_rest(*axle.stop, l, stop_of(bow, axle).data().rest);
        }
        DrawState s = draw_state(bow, std::move(state));
        if (needs(base_.columns(), Needs::energy)) s.energy = total_energy(bow.system, s.state);
        if (effect.size()) s.yaw_torque_effect = effect.col(l);
        lane.states.draw.states.push_back(std::move(s));
    }
}

/// Warm from the prediction like the lanes, with the plain engine's safeguards: where a draw stop starts to
/// act plain steps do not come through.
bool LayoutSolver::solve_plain(Lane& lane) const {
    AssembledBow& bow = lane.strung.bow;
    lane.states.draw.states.clear();
    base_.rebuilds().refit(bow, lane.layout);
    set_lengths(bow, twisted(bow, base_.today().lengths));
    const Eigen::Map<const VecX> point(lane.point.data(), static_cast<int>(lane.point.size()));
    solver::Workspace workspace(bow.system);
    for (std::size_t k = 0; k < base_.stations().size(); ++k) {
        const StudyBase::Station& station = base_.stations()[k];
        const solver::FoundEquilibrium answer =
            find_equilibrium(bow.system, base_.predicted(station, point), station.held, workspace);
        const auto* found = std::get_if<solver::Equilibrium>(&answer);
        if (!found || found->negative_pivots != station.negative_pivots) return false;
        if (k == 0) {
            lane.strung.brace = *found;
            place_stops(bow, found->state);
        }
        DrawState s = draw_state(bow, found->state);
        s.energy = found->energy;
        if (base_.needs_yaw_torque_effect(k)) s.yaw_torque_effect = workspace.factor.solve(yaw_torque(bow));
        lane.states.draw.states.push_back(std::move(s));
    }
    return true;
}

LayoutRow LayoutSolver::row_of(Lane& lane) {
    ++counts_.layouts;
    const bool lanes_did = !lane.lost;
    if (lane.lost && base_.lengths() == LengthRule::kept) lane.lost = !solve_plain(lane);
    const bool parted = !lane.lost && cams_part(lane.strung, lane.states.draw);
    if (!lanes_did || parted) ++counts_.plain;
    LayoutRow row;
    if (parted)
        row = follow(base_, lane.strung, lane.number);
    else if (!lane.lost)
        row = row_with(base_, lane.number, lane.strung, lane.states);
    // What is wrong with a layout that fails, stringing it tells best.
    if (lane.lost || (!lanes_did && !row.failure.empty())) row = solve_cold(base_, lane.number);
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

}  // namespace limbwright::models
