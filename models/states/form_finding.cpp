#include "models/states/form_finding.hpp"

#include <fmt/format.h>

#include <Eigen/LU>
#include <cmath>

namespace limbwright::models {
namespace {

using solver::State;

std::vector<End> cams_of(const AssembledBow& bow) {
    std::vector<End> ends;
    for (const End end : {End::top, End::bottom})
        if (bow.axle(end).turn) ends.push_back(end);
    return ends;
}

/// Moment arm of a cable about a cam's axle: length paid out per radian of turn [mm].
double arm(const AssembledBow& bow, const CablePart& part, End end, const State& state) {
    const solver::Cable& cable = bow.cable(part);
    const solver::ElementVector g = cable.length_gradient(state);
    int place = 0;
    for (const solver::Touch& touch : cable.touches()) {
        if (touch.scalar == *bow.axle(end).turn) return g[place];
        place += touch.width();
    }
    return 0;
}

class DeadStringer {
public:
    DeadStringer(const AssembledBow& bow, const StringingGoal& goal)
        : bow_(bow), goal_(goal), workspace_(bow.system), now_{bow.rest, 0, {}} {
        const solver::Numbering& n = bow_.system.numbering();
        for (const solver::ScalarId id : {bow.riser.yaw, bow.riser.pitch, bow.riser.roll, bow.nock[2]})
            held_.push_back(n.first(id));
        for (const End end : cams_of(bow)) held_.push_back(n.first(*bow.axle(end).turn));
        double back = 0;
        for (const AxleParts& axle : bow.axles) back = std::min(back, bow.rest.at(axle.middle).position.x());
        now_.state.at(bow.nock[0]) =
            back - 40;  // somewhere behind both axles; it finds its place on the string
    }

    DeadStringing run() {
        double low = 0, high = 20;  // string tension scale [N]
        double missing_low = 0;
        for (;;) {
            const DeadStrung before = now_;
            if (!settle(high, loose)) {
                now_ = before;
                high = 0.5 * (low + high);
                if (high - low < 0.01) return failure_;
                continue;
            }
            const double missing = goal_.missing(now_);
            if (missing < 0) {
                if (low == 0) return goal_.cause_if_less;
                break;
            }
            low = high;
            missing_low = missing;
            high *= 1.4;
            if (high > 1e5)
                return fmt::format("no tension brings the axles together: {:.1f} mm are missing", missing);
        }
        // The ends again, settled tightly, so that what is missing is one function of the tension.
        if (!settle(low, tight)) return failure_;
        missing_low = goal_.missing(now_);
        if (!settle(high, tight)) return failure_;
        double missing_high = goal_.missing(now_);
        // False position, halving the weight of an end that stays twice (Illinois).
        int stayed = 0;
        for (int round = 0; round < 100; ++round) {
            const double tension = (low * missing_high - high * missing_low) / (missing_high - missing_low);
            if (!settle(tension, tight)) return failure_;
            const double missing = goal_.missing(now_);
            if (std::abs(missing) < 1e-3) return now_;
            if (missing > 0) {
                low = tension;
                missing_low = missing;
                if (stayed == 1) missing_high *= 0.5;
                stayed = 1;
            } else {
                high = tension;
                missing_high = missing;
                if (stayed == -1) missing_low *= 0.5;
                stayed = -1;
            }
        }
        return std::string("the tensions that meet what was asked for were not found");
    }

private:
    static constexpr double loose = 1e-3, tight = 1e-8;

    /// Equilibrium under a cable tension scale, cams at their marks and balanced, both to a tolerance [rad,
    /// share].
    bool settle(double scale, double tolerance) {
        solver::VecX ratio_before;
        for (int round = 0; round < 40; ++round) {
            double change = 0;
            for (const End end : cams_of(bow_)) {
                const AxleParts& axle = bow_.axle(end);
                const double mark = mark_of(bow_.bow.brace, end);
                const double turn = axle.draw_sense * mark - axle_roll(bow_, end, now_.state);
                change = std::max(change, std::abs(turn - now_.state.at(*axle.turn)));
                now_.state.at(*axle.turn) = turn;
            }
            const std::optional<solver::VecX> ratio = balanced_tensions();
            if (!ratio) return false;
            if (ratio_before.size())
                change = std::max(change, (*ratio - ratio_before).lpNorm<Eigen::Infinity>());
            const bool settled = ratio_before.size() && change < tolerance;
            ratio_before = *ratio;
            now_.string_tension = scale * (*ratio)[0];
            now_.cable_tensions.clear();
            for (int i = 1; i < ratio->size(); ++i) now_.cable_tensions.push_back(scale * (*ratio)[i]);
            solver::FoundEquilibrium answer =
                solver::find_equilibrium(loaded(), now_.state, held_, workspace_);
            if (const auto* lost = std::get_if<solver::NotConverged>(&answer)) {
                failure_ = fmt::format("with {:.0f} N in the string: {}, at the {}", now_.string_tension,
                                       lost->reason, bow_.part_of_freedom(lost->worst_freedom));
                return false;
            }
            now_.state = std::get<solver::Equilibrium>(answer).state;
            if (settled) return true;
        }
        failure_ = fmt::format("with {:.0f} N in the string the cams do not come to rest at their marks",
                               now_.string_tension);
        return false;
    }

    /// Tensions, the largest of them one, of string and cables for which no cam wants to turn.
    std::optional<solver::VecX> balanced_tensions() {
        const std::vector<CablePart> cables = main_cables(bow_);
        const std::vector<End> cams = cams_of(bow_);
        solver::MatX arms(cams.size(), cables.size() + 1);
        for (std::size_t r = 0; r < cams.size(); ++r) {
            const auto row = static_cast<int>(r);
            arms(row, 0) = arm(bow_, bow_.string[0], cams[r], now_.state) +
                           arm(bow_, bow_.string[1], cams[r], now_.state);
            for (std::size_t c = 0; c < cables.size(); ++c)
                arms(row, static_cast<int>(c) + 1) = arm(bow_, cables[c], cams[r], now_.state);
        }
        const solver::VecX tensions = Eigen::FullPivLU<solver::MatX>(arms).kernel().col(0);
        const double largest = tensions[0] > 0 ? tensions.maxCoeff() : tensions.minCoeff();
        const solver::VecX ratio = tensions / largest;
        if (!ratio.allFinite() || ratio.minCoeff() <= 0) {
            failure_ =
                "the cams cannot be balanced at their marks: some cable would have to push. Check each "
                "track's shape, anchor and place, and [brace] marks";
            return std::nullopt;
        }
        return ratio;
    }

    solver::System loaded() const {
        solver::System system = bow_.system;
        const auto load = [&](const CablePart& part, double tension) {
            solver::Cable::Data data = bow_.cable(part).data();
            data.dead_tension = tension;
            system =
                system.with(part.element, std::make_shared<const solver::Cable>(bow_.cable(part).with(data)));
        };
        for (const CablePart& part : bow_.string) load(part, now_.string_tension);
        const std::vector<CablePart> cables = main_cables(bow_);
        for (std::size_t i = 0; i < cables.size(); ++i) load(cables[i], now_.cable_tensions[i]);
        return system;
    }

    const AssembledBow& bow_;
    const StringingGoal& goal_;
    solver::Workspace workspace_;
    std::vector<int> held_;
    DeadStrung now_;
    std::string failure_;
};

}  // namespace

std::vector<CablePart> main_cables(const AssembledBow& bow) {
    std::vector<CablePart> cables;
    for (const CablePart& part : bow.cables)
        if (part.kind == CableKind::cable) cables.push_back(part);
    return cables;
}

DeadStringing dead_stringing(const AssembledBow& bow, const StringingGoal& goal) {
    return DeadStringer(bow, goal).run();
}

}  // namespace limbwright::models
