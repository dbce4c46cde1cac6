// The lanes' side of `LanePack`. Compiled once for each kind of processor into a library of its own: what a
// compiler makes of a template for one kind must never be called on another.

#include <algorithm>
#include <stdexcept>

#include "solver/lanes/lane_elements.hpp"
#include "solver/lanes/lane_factor.hpp"
#include "solver/lanes/lane_layout.hpp"

namespace limbwright::solver {
namespace {

static_assert(Lanes::width == LanePack::width);

class Pack final : public LanePack {
public:
    explicit Pack(std::shared_ptr<const Plan> plan)
        : plan_(std::move(plan)),
          factor_(plan_),
          elements_(plan_->scatter.size()),
          kept_(plan_->scatter.size()),
          gradient_(static_cast<std::size_t>(plan_->numbering.size())) {
        const Numbering& n = plan_->numbering;
        state_.nodes.resize(static_cast<std::size_t>(n.nodes));
        state_.points.resize(static_cast<std::size_t>(n.points));
        state_.scalars.resize(static_cast<std::size_t>(n.scalars));
    }

    void set_element(std::size_t element, const PerLane& lanes) override {
        OfEach<Element> plain;
        for (std::size_t lane = 0; lane < width; ++lane) plain[lane] = lanes[lane]->get();
        Kept& kept = kept_[element];
        if (std::equal(plain.begin(), plain.end(), kept.begin(),
                       [](auto* a, auto& b) { return a == b.get(); })) {
            elements_[element]->reset(plain);
            return;
        }
        for (const Element* one : plain)
            if (one->touches() != plain[0]->touches())
                throw std::invalid_argument("lanes hold elements with the same freedoms only");
        if (!(put<Beam, LaneBeam>(element, plain) || put<Cable, LaneCable>(element, plain) ||
              put<Spring, LaneSpring>(element, plain) || put<Shell, LaneShell>(element, plain)))
            throw std::invalid_argument("lanes hold beams, cables, springs and shells only");
        for (std::size_t lane = 0; lane < width; ++lane) kept[lane] = *lanes[lane];
    }
    void set_natural_length(std::size_t cable, int lane, double length) override {
        dynamic_cast<LaneCable&>(*elements_[cable]).set_natural_length(lane, length);
    }
    void set_rest(std::size_t spring, int lane, double rest) override {
        dynamic_cast<LaneSpring&>(*elements_[spring]).set_rest(lane, rest);
    }

    void set_state(int lane, const State& state) override {
        for (std::size_t i = 0; i < state.nodes.size(); ++i) set(state.nodes[i], lane, state_.nodes[i]);
        for (std::size_t i = 0; i < state.points.size(); ++i)
            for (int k = 0; k < 3; ++k) state_.points[i][k].set(lane, state.points[i][k]);
        for (std::size_t i = 0; i < state.scalars.size(); ++i) state_.scalars[i].set(lane, state.scalars[i]);
    }
    void copy_state(int lane, State& state) const override {
        state.nodes.resize(state_.nodes.size());
        state.points.resize(state_.points.size());
        state.scalars.resize(state_.scalars.size());
        for (std::size_t i = 0; i < state.nodes.size(); ++i) {
            const PoseOf<Lanes>& X = state_.nodes[i];
            state.nodes[i].rotation.w = X.rotation.w[lane];
            for (int k = 0; k < 3; ++k) {
                state.nodes[i].rotation.v[k] = X.rotation.v[k][lane];
                state.nodes[i].position[k] = X.position[k][lane];
            }
        }
        for (std::size_t i = 0; i < state.points.size(); ++i)
            for (int k = 0; k < 3; ++k) state.points[i][k] = state_.points[i][k][lane];
        for (std::size_t i = 0; i < state.scalars.size(); ++i) state.scalars[i] = state_.scalars[i][lane];
    }
    void set_scalar(int lane, ScalarId scalar, double value) override { state_.at(scalar).set(lane, value); }

    void factor(std::span<const int> held) override {
        assemble();
        factor_.factor(held);
        for (std::size_t f = 0; f < gradient_.size(); ++f)
            if (factor_.is_held(f)) gradient_[f] = Lanes(0);
    }

    Row step(std::array<bool, width> moves) override {
        const LaneVectorX x = factor_.solved(gradient_);
        Lanes decrement(0), share(0);
        for (std::size_t i = 0; i < x.size(); ++i) decrement += x[i] * gradient_[i];
        for (int lane = 0; lane < width; ++lane)
            share.set(lane, moves[static_cast<std::size_t>(lane)] ? -1. : 0.);
        // A lane that stays keeps its bits, even where its step is not a number.
        const Lanes::Mask goes = share < Lanes(0);
        std::size_t i = 0;
        for (PoseOf<Lanes>& X : state_.nodes) {
            const auto part = [&](std::size_t k) { return choose(goes, -x[i + k], Lanes(0)); };
            X.position += Vector3<Lanes>(part(0), part(1), part(2));
            const RotationOf<Lanes> turned =
                (X.rotation * exp<Lanes>(Vector3<Lanes>(part(3), part(4), part(5)))).normalized();
            X.rotation.w = choose(goes, turned.w, X.rotation.w);
            for (int k = 0; k < 3; ++k) X.rotation.v[k] = choose(goes, turned.v[k], X.rotation.v[k]);
            i += 6;
        }
        for (Vector3<Lanes>& p : state_.points)
            for (int k = 0; k < 3; ++k) p[k] += choose(goes, -x[i++], Lanes(0));
        for (Lanes& s : state_.scalars) s += choose(goes, -x[i++], Lanes(0));
        Row row;
        for (int lane = 0; lane < width; ++lane) row[static_cast<std::size_t>(lane)] = decrement[lane];
        return row;
    }

    std::array<int, width> negative_pivots() const override {
        std::array<int, width> count;
        for (int lane = 0; lane < width; ++lane)
            count[static_cast<std::size_t>(lane)] = static_cast<int>(factor_.negative()[lane]);
        return count;
    }

private:
    using Kept = std::array<std::shared_ptr<const Element>, width>;

    void solve(std::span<const double> load, double* all) const override {
        const LaneVectorX x = factor_.solved(LaneVectorX(load.begin(), load.end()));
        for (int lane = 0; lane < width; ++lane)
            for (const Lanes& xi : x) *all++ = xi[lane];
    }

    template <class E, class InLanes>
    bool put(std::size_t element, const OfEach<Element>& lanes) {
        OfEach<E> typed;
        for (std::size_t lane = 0; lane < width; ++lane) {
            typed[lane] = dynamic_cast<const E*>(lanes[lane]);
            if (!typed[lane]) return false;
        }
        elements_[element] = std::make_unique<InLanes>(typed);
        return true;
    }

    void assemble() {
        factor_.clear();
        std::fill(gradient_.begin(), gradient_.end(), Lanes(0));
        for (std::size_t e = 0; e < elements_.size(); ++e) {
            elements_[e]->find(state_, found_);
            if (found_.small)
                scatter(e, found_.small_g, found_.small_H);
            else
                scatter(e, found_.g, found_.H);
        }
    }

    template <class Gradient, class Hessian>
    void scatter(std::size_t e, const Gradient& g, const Hessian& H) {
        factor_.add(e, H);
        const std::vector<int>& places = plan_->gather[e];
        for (std::size_t i = 0; i < places.size(); ++i)
            gradient_[static_cast<std::size_t>(places[i])] += g[static_cast<int>(i)];
    }

    std::shared_ptr<const Plan> plan_;
    LaneFactor factor_;
    std::vector<std::unique_ptr<LaneElement>> elements_;
    std::vector<Kept> kept_;  ///< alive, so that no other element can stand at their address
    LaneState state_;
    Derivatives found_;
    LaneVectorX gradient_;
};

}  // namespace
}  // namespace limbwright::solver

extern "C" void limbwright_lane_layout(limbwright::solver::LaneLayout& layout);
extern "C" limbwright::solver::LanePack* limbwright_lane_pack(
    std::shared_ptr<const limbwright::solver::Plan> plan);

void limbwright_lane_layout(limbwright::solver::LaneLayout& layout) {
    constexpr limbwright::solver::LaneLayout here = limbwright::solver::lane_layout_here(LANE_KERNEL);
    layout = here;
}

limbwright::solver::LanePack* limbwright_lane_pack(std::shared_ptr<const limbwright::solver::Plan> plan) {
    return new limbwright::solver::Pack(std::move(plan));
}
