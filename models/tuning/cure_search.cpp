#include "models/tuning/cure_search.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <future>
#include <optional>
#include <tuple>

namespace limbwright::models {
namespace {

constexpr double seen_from = 0.05;   // tail turn that explains a tear [deg]
constexpr double too_little = 0.02;  // share
constexpr double enough = 0.9;
constexpr double worth_a_part = 0.05;  // share by which more parts or a second change must do better
constexpr std::size_t most_of_a_kind = 3, most_pairs = 3;

double share(const Wanted& wanted, const Vec2& turn) {
    const Vec2 missing = wanted.change - turn.cwiseProduct(wanted.directions);
    return 1 - missing.norm() / wanted.change.norm();
}

/// Why a change must not be made, whatever it does to the tear; none where today's bow is no better.
std::optional<std::string> harm_of(const std::vector<CureMeasure>& measures) {
    for (const CureMeasure& m : measures) {
        if (m.name == "clearance, smallest" && m.after < 0 && m.before >= 0)
            return "it would bring the cables into the vanes";
        if (m.name.find("share, largest") != std::string::npos && m.after > 100 && m.before <= 100)
            return "it would load limbs or axles beyond what they may bear";
    }
    return {};
}

bool needs_measuring(Work work) {
    return work >= Work::spacers;
}

/// One or two moves, to be solved together.
struct Candidate {
    std::vector<Move> moves;
    std::optional<Knob> knob;  ///< of a single move that goes by degrees
    [[nodiscard]] Vec2 predicted() const {
        Vec2 turn = Vec2::Zero();
        for (const Move& move : moves) turn += move.turn;
        return turn;
    }
    [[nodiscard]] Work heaviest() const { return std::ranges::max(moves, {}, &Move::work).work; }
};

class Search {
public:
    Search(const TuneSolver& solver, const Tear& tear, const CureOptions& options)
        : solver_(solver), options_(options) {
        cures_.wanted = wanted_of(solver.today(), tear);
    }

    Cures find() {
        std::vector<Candidate> singles = single_candidates();
        solve(singles);
        if (std::ranges::none_of(cures_.ranked, [](const Cure& c) { return c.answered >= enough; })) {
            std::vector<Candidate> pairs = best_pairs(singles);
            solve(pairs);
        }
        const auto key = [](const Cure& c) {
            return std::tuple(c.kinds.back(), c.kinds.size(), c.rework.parts, -c.answered);
        };
        std::ranges::stable_sort(cures_.ranked, {}, key);
        return std::move(cures_);
    }

private:
    [[nodiscard]] const SolvedTune& today() const { return solver_.today(); }
    [[nodiscard]] const Wanted& wanted() const { return cures_.wanted; }

    std::vector<Candidate> single_candidates() {
        std::vector<Candidate> all;
        for (const Knob& knob : knobs(today(), options_)) {
            Move move = knob.nearest_to(wanted().change, wanted().directions);
            if (!move.text.empty() && share(wanted(), move.turn) >= too_little)
                all.push_back({{std::move(move)}, knob});
            else
                cures_.notes.push_back(knob.name() +
                                       ": does nearly nothing for this tear, as far as it may go");
        }
        const Bow& bow = today().strung.bow.bow;
        const LengthRule rule = bow.brace.axle_to_axle > 0 ? LengthRule::re_timed : LengthRule::kept;
        const EffectsTable table = effects_table(today().strung, today().draw, rule, settings_of(bow));
        add_best(all, spacer_moves(today(), table, options_), "spacers");
        add_best(all, limb_moves(today(), table, options_), "limbs");
        return all;
    }

    /// Of many moves the best for each number of parts, as long as more parts do more.
    void add_best(std::vector<Candidate>& all, std::vector<Move> moves, const char* what) {
        const auto key = [&](const Move& m) { return std::pair(m.parts, -share(wanted(), m.turn)); };
        std::ranges::stable_sort(moves, {}, key);
        double best = too_little - worth_a_part;
        std::size_t taken = 0;
        for (const Move& move : moves) {
            const double reached = share(wanted(), move.turn);
            if (reached < best + worth_a_part || taken == most_of_a_kind) continue;
            best = reached;
            ++taken;
            all.push_back({{move}, {}});
        }
        if (taken == 0)
            cures_.notes.push_back(fmt::format("{}: no other places of those at hand help this tear", what));
    }

    void solve(std::vector<Candidate>& candidates) {
        std::vector<std::string> failures(candidates.size());  // outlives the threads that write to it
        std::vector<std::future<std::optional<Cure>>> running;
        for (std::size_t i = 0; i < candidates.size(); ++i)
            running.push_back(std::async(std::launch::async, [this, &candidates, &failures, i] {
                return solved(candidates[i], failures[i]);
            }));
        for (std::size_t i = 0; i < candidates.size(); ++i) {
            std::optional<Cure> cure = running[i].get();
            if (!cure) {
                cures_.notes.push_back(failures[i]);
                continue;
            }
            // What a pair adds up from is what its moves did when solved.
            if (candidates[i].moves.size() == 1) candidates[i].moves[0].turn = turn_of(*cure);
            if (const std::optional<std::string> harm = harm_of(cure->measures))
                cures_.notes.push_back(cure->text + ": left out, " + *harm);
            else if (cure->answered >= too_little)
                cures_.ranked.push_back(std::move(*cure));
        }
    }

    [[nodiscard]] Vec2 turn_of(const Cure& cure) const {
        Vec2 turn = Vec2::Zero();
        for (const CureMeasure& m : cure.measures) {
            if (m.name == "tail turn, lateral") turn.x() = m.after - m.before;
            if (m.name == "tail turn, vertical") turn.y() = m.after - m.before;
        }
        return turn;
    }

    std::optional<Cure> solved(const Candidate& candidate, std::string& failure) const {
        Cure cure;
        cure.layout = today().layout;
        for (const Move& move : candidate.moves) {
            move.apply(cure.layout);
            cure.kinds.push_back(move.work);
            cure.text += (cure.text.empty() ? "" : "; ") + move.text;
            if (needs_measuring(move.work)) cure.lengths = LengthRule::re_timed;
        }
        const auto answer = solver_.solve(cure.layout, cure.lengths);
        if (const auto* no = std::get_if<NotSolved>(&answer)) {
            failure = cure.text + ": could not be solved: " + no->reason;
            return {};
        }
        cure.measures = compare(today(), std::get<SolvedTune>(answer));
        cure.brace = brace_of(std::get<SolvedTune>(answer).strung);
        cure.answered = share(wanted(), turn_of(cure));
        cure.rework = rework(settings_of(today().strung.bow.bow), today().layout, cure.layout);
        return cure;
    }

    /// For each heaviest kind of work the most promising pair, as long as more work does more. The rest may
    /// go both aside and up.
    [[nodiscard]] std::vector<Candidate> best_pairs(const std::vector<Candidate>& singles) const {
        std::vector<Candidate> pairs;
        for (std::size_t i = 0; i < singles.size(); ++i)
            for (std::size_t k = i + 1; k < singles.size(); ++k) {  // by rising work, as they were made
                const Candidate &a = singles[i], &b = singles[k];
                const Work lighter = a.moves[0].work;
                if (lighter == b.moves[0].work && lighter != Work::rest) continue;
                Candidate pair{{a.moves[0], b.moves[0]}, {}};
                if (a.knob) {  // the lighter change makes up for what the heavier one leaves
                    Move rest = a.knob->nearest_to(wanted().change - b.moves[0].turn, wanted().directions);
                    if (rest.text.empty()) continue;
                    pair.moves[0] = std::move(rest);
                }
                const double alone =
                    std::max(share(wanted(), a.moves[0].turn), share(wanted(), b.moves[0].turn));
                if (share(wanted(), pair.predicted()) >= alone + worth_a_part)
                    pairs.push_back(std::move(pair));
            }
        std::ranges::stable_sort(pairs, {}, [&](const Candidate& c) {
            return std::pair(c.heaviest(), -share(wanted(), c.predicted()));
        });
        std::vector<Candidate> best;
        double reached = 0;
        for (Candidate& pair : pairs) {
            const double now = share(wanted(), pair.predicted());
            if (best.size() == most_pairs || now < reached + worth_a_part) continue;
            reached = now;
            best.push_back(std::move(pair));
        }
        return best;
    }

    const TuneSolver& solver_;
    const CureOptions& options_;
    Cures cures_;
};

}  // namespace

Wanted wanted_of(const SolvedTune& today, const Tear& tear) {
    Wanted wanted;
    wanted.turn = tail_turn(today);
    wanted.angle = {tear_angle(tear, tear.left), tear_angle(tear, tear.high)};
    for (int i = 0; i < 2; ++i) {
        if (wanted.angle[i] == 0) continue;
        wanted.directions[i] = 1;
        const bool seen = wanted.turn[i] * (wanted.angle[i] > 0 ? 1 : -1) > seen_from;
        wanted.change[i] = seen ? -wanted.turn[i] : -wanted.angle[i];
        wanted.seen = wanted.seen && seen;
    }
    return wanted;
}

Cures find_cures(const TuneSolver& solver, const Tear& tear, const CureOptions& options) {
    return Search(solver, tear, options).find();
}

}  // namespace limbwright::models
