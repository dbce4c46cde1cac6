// The lanes' side of `LanePack`. Compiled once for each kind of processor into a library of its own: what a
// compiler makes of a template for one kind must never be called on another.

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>
#include <utility>

#include "solver/beam.hpp"
#include "solver/cable.hpp"
#include "solver/lane_pack.hpp"
#include "solver/lanes.hpp"
#include "solver/spring.hpp"

// Left to itself GCC calls the products of 3×3 matrices as functions; inside, they cost three quarters of it.
// Where a pack takes several registers that would only be slow to compile.
#if defined(__AVX512F__) && defined(__GNUC__)
#define whole_in_one __attribute__((flatten))
#else
#define whole_in_one
#endif

namespace limbwright::solver {
namespace {

static_assert(Lanes::width == LanePack::width);

using LaneVector = ElementVectorOf<Lanes>;
using LaneMatrix = ElementMatrixOf<Lanes>;
using LaneState = StateOf<Lanes>;
using Block = Matrix6<Lanes>;
template <class E>
using OfEach = std::array<const E*, LanePack::width>;

void set(Pose const& from, int lane, PoseOf<Lanes>& to) {
    to.rotation.w.set(lane, from.rotation.w);
    for (int i = 0; i < 3; ++i) {
        to.rotation.v[i].set(lane, from.rotation.v[i]);
        to.position[i].set(lane, from.position[i]);
    }
}

/// Frames that differ in their offsets only.
template <class E, class Get>
FrameOf<Lanes> frame_of(const OfEach<E>& lanes, const Get& get) {
    const Frame& first = get(*lanes[0]);
    FrameOf<Lanes> all;
    all.node = first.node;
    all.point = first.point;
    all.joint_count = first.joint_count;
    for (int lane = 0; lane < LanePack::width; ++lane) {
        const Frame& one = get(*lanes[static_cast<std::size_t>(lane)]);
        set(one.offset, lane, all.offset);
        for (std::size_t j = 0; j < static_cast<std::size_t>(one.joint_count); ++j) {
            all.joints[j].kind = one.joints[j].kind;
            all.joints[j].axis = one.joints[j].axis;
            all.joints[j].scalar = one.joints[j].scalar;
            set(one.joints[j].after, lane, all.joints[j].after);
        }
    }
    return all;
}

/// An element's gradient and Hessian: of a beam between two nodes in the small pair, else in the large one.
struct Derivatives {
    bool small = false;
    Vector12<Lanes> small_g;
    Matrix12<Lanes> small_H;
    LaneVector g;
    LaneMatrix H;
};

/// An element with data in every lane.
class LaneElement {
public:
    virtual ~LaneElement() = default;
    virtual void find(const LaneState& state, Derivatives& d) const = 0;
    /// Back to the data of the elements that it was made from.
    virtual void reset(const OfEach<Element>&) {}
};

class LaneBeam final : public LaneElement {
public:
    explicit LaneBeam(const OfEach<Beam>& lanes)
        : nodes_{lanes[0]->end1().node, lanes[0]->end2().node}, one_(lanes[0]->data()) {
        bool equal = true;
        for (const Beam* beam : lanes)
            equal &= beam->data().stiffness == one_.stiffness && beam->data().rest == one_.rest;
        if (!equal) {
            each_.emplace();
            for (int lane = 0; lane < LanePack::width; ++lane) {
                const BeamDataOf<double>& data = lanes[static_cast<std::size_t>(lane)]->data();
                for (int i = 0; i < 36; ++i) each_->stiffness(i).set(lane, data.stiffness(i));
                for (int i = 0; i < 6; ++i) each_->rest[i].set(lane, data.rest[i]);
            }
        }
        if (lanes[0]->bare()) return;
        ends_.emplace(Ends{frame_of(lanes, [](const Beam& b) -> const Frame& { return b.end1(); }),
                           frame_of(lanes, [](const Beam& b) -> const Frame& { return b.end2(); }),
                           lanes[0]->places1(), lanes[0]->places2(), freedom_count(lanes[0]->touches())});
    }

    // Left to itself GCC calls the products of 3×3 matrices as functions; inside, they cost three quarters of
    // it.
    [[gnu::flatten]] void find(const LaneState& state, Derivatives& d) const override {
        const auto derivatives = [&](const PoseOf<Lanes>& X1, const PoseOf<Lanes>& X2) {
            if (each_) {
                beam_gradient_and_hessian(*each_, X1, X2, d.small_g, d.small_H);
                return;
            }
            const BeamDataOf<Lanes> data{one_.stiffness.cast<Lanes>(), one_.rest.cast<Lanes>()};
            beam_gradient_and_hessian(data, X1, X2, d.small_g, d.small_H);
        };
        if (!ends_) {
            derivatives(state.at(nodes_[0]), state.at(nodes_[1]));
            d.small = true;
            return;
        }
        const FrameMotionOf<Lanes> motion1(ends_->end1, state), motion2(ends_->end2, state);
        derivatives(motion1.pose(), motion2.pose());
        d.small = false;
        d.g = LaneVector::Zero(ends_->size);
        d.H = LaneMatrix::Zero(ends_->size, ends_->size);
        add_pulled_back<Lanes>(motion1, ends_->places1, motion2, ends_->places2, d.small_g, d.small_H, d.g,
                               d.H);
    }

private:
    struct Ends {
        FrameOf<Lanes> end1, end2;
        std::vector<int> places1, places2;
        int size;
    };
    std::array<NodeId, 2> nodes_;
    BeamDataOf<double> one_;  ///< of all lanes where they are alike
    std::optional<BeamDataOf<Lanes>> each_;
    std::optional<Ends> ends_;  ///< none: two nodes
};

class LaneCable final : public LaneElement {
public:
    explicit LaneCable(const OfEach<Cable>& lanes)
        : places_(lanes[0]->places()), size_(freedom_count(lanes[0]->touches())) {
        for (std::size_t i = 0; i < lanes[0]->contacts().size(); ++i)
            contacts_.push_back(
                {frame_of(lanes, [&](const Cable& c) -> const Frame& { return c.contacts()[i].frame; }),
                 lanes[0]->contacts()[i].sheave});
        for (int lane = 0; lane < LanePack::width; ++lane) {
            const Cable::Data& data = lanes[static_cast<std::size_t>(lane)]->data();
            stiffness_.set(lane, data.stiffness);
            natural_length_.set(lane, data.natural_length);
        }
    }

    void reset(const OfEach<Element>& lanes) override {
        for (int lane = 0; lane < LanePack::width; ++lane)
            natural_length_.set(
                lane,
                static_cast<const Cable&>(*lanes[static_cast<std::size_t>(lane)]).data().natural_length);
    }

    void find(const LaneState& state, Derivatives& d) const override {
        d.small = false;
        LaneVector& g = d.g;
        LaneMatrix& H = d.H;
        const Lanes length = length_derivatives<Lanes>(contacts_, places_, size_, state, g, H);
        const Lanes rate = stiffness_ / natural_length_;
        const Lanes stretch = length - natural_length_;
        const Lanes::Mask slack = stretch < Lanes(0);  // false for NaN, which must be seen
        const Lanes tension = choose(slack, Lanes(0), rate * stretch), taut = choose(slack, Lanes(0), rate);
        for (int j = 0; j < size_; ++j)
            for (int i = 0; i < size_; ++i) H(i, j) = tension * H(i, j) + taut * g[i] * g[j];
        for (int i = 0; i < size_; ++i) g[i] *= tension;
    }

    void set_natural_length(int lane, double length) { natural_length_.set(lane, length); }

private:
    std::vector<ContactOf<Lanes>> contacts_;
    std::vector<std::vector<int>> places_;
    int size_;
    Lanes stiffness_, natural_length_;
};

class LaneSpring final : public LaneElement {
public:
    explicit LaneSpring(const OfEach<Spring>& lanes)
        : weights_(lanes[0]->weights()), side_(lanes[0]->data().side) {
        for (int lane = 0; lane < LanePack::width; ++lane) {
            const Spring::Data& data = lanes[static_cast<std::size_t>(lane)]->data();
            stiffness_.set(lane, data.stiffness);
            rest_.set(lane, data.rest);
            load_.set(lane, data.load);
        }
    }

    void find(const LaneState& state, Derivatives& d) const override {
        d.small = false;
        LaneVector& g = d.g;
        LaneMatrix& H = d.H;
        Lanes q(0);
        for (const auto& [scalar, weight] : weights_) q += Lanes(weight) * state.at(scalar);
        Lanes stiffness = stiffness_;
        if (side_ == Side::above) stiffness = choose(q > rest_, stiffness_, Lanes(0));
        if (side_ == Side::below) stiffness = choose(q < rest_, stiffness_, Lanes(0));
        // Where it does not act its rest may be infinitely far.
        const Lanes idle = choose(Lanes(0) < stiffness, Lanes(1), Lanes(0));
        const Lanes stretch = choose(Lanes(0) < idle, q - rest_, Lanes(0));
        const Lanes slope = stiffness * stretch - load_;
        const int n = static_cast<int>(weights_.size());
        g.resize(n);
        H.resize(n, n);
        for (int i = 0; i < n; ++i) {
            const Lanes w = weights_[static_cast<std::size_t>(i)].second;
            g[i] = slope * w;
            for (int j = 0; j < n; ++j)
                H(i, j) = stiffness * w * Lanes(weights_[static_cast<std::size_t>(j)].second);
        }
    }

    void reset(const OfEach<Element>& lanes) override {
        for (int lane = 0; lane < LanePack::width; ++lane)
            rest_.set(lane, static_cast<const Spring&>(*lanes[static_cast<std::size_t>(lane)]).data().rest);
    }
    void set_rest(int lane, double rest) { rest_.set(lane, rest); }

private:
    std::vector<std::pair<ScalarId, double>> weights_;
    Side side_;
    Lanes stiffness_, rest_, load_;
};

/// Column j of C −= A Bᵀ, from row `first` on.
template <int j, int first>
void subtract_column(Block& C, const Block& A, const Block& B) {
    Lanes column[6];
    for (int i = first; i < 6; ++i) column[i] = C(i, j);
    for (int k = 0; k < 6; ++k) {
        const Lanes b = B(j, k);
        for (int i = first; i < 6; ++i) column[i] -= A(i, k) * b;
    }
    for (int i = first; i < 6; ++i) C(i, j) = column[i];
}

/// C −= A Bᵀ.
void subtract_product(Block& C, const Block& A, const Block& B) {
    [&]<int... j>(std::integer_sequence<int, j...>) {
        (subtract_column<j, 0>(C, A, B), ...);
    }
    (std::make_integer_sequence<int, 6>());
}

/// The lower triangle of it, which is all that a diagonal block needs.
void subtract_product_below(Block& C, const Block& A, const Block& B) {
    [&]<int... j>(std::integer_sequence<int, j...>) {
        (subtract_column<j, j>(C, A, B), ...);
    }
    (std::make_integer_sequence<int, 6>());
}

/// y −= B x.
void subtract_times(Lanes* y, const Block& B, const Lanes* x) {
    Lanes sum[6];
    for (int i = 0; i < 6; ++i) sum[i] = y[i];
    for (int j = 0; j < 6; ++j) {
        const Lanes xj = x[j];
        for (int i = 0; i < 6; ++i) sum[i] -= B(i, j) * xj;
    }
    for (int i = 0; i < 6; ++i) y[i] = sum[i];
}

/// y −= Bᵀ x.
void subtract_transposed_times(Lanes* y, const Block& B, const Lanes* x) {
    for (int j = 0; j < 6; ++j) {
        Lanes even = B(0, j) * x[0], odd = B(1, j) * x[1];
        even += B(2, j) * x[2];
        odd += B(3, j) * x[3];
        even += B(4, j) * x[4];
        odd += B(5, j) * x[5];
        y[j] -= even + odd;
    }
}

class Pack final : public LanePack {
public:
    explicit Pack(std::shared_ptr<const Plan> plan)
        : plan_(std::move(plan)),
          blocks_(static_cast<std::size_t>(plan_->blocks)),
          inverse_pivots_(static_cast<std::size_t>(plan_->slots)),
          held_(static_cast<std::size_t>(plan_->numbering.size())),
          elements_(plan_->scatter.size()),
          kept_(plan_->scatter.size()),
          gradient_(static_cast<std::size_t>(plan_->numbering.size())),
          negative_(0) {
        // The first contribution to a block is put there, not added.
        std::vector<char> touched(blocks_.size(), 0);
        for (const std::vector<Plan::Scatter>& pairs : plan_->scatter) {
            std::vector<char> first;
            for (const Plan::Scatter& s : pairs) {
                char& seen = touched[static_cast<std::size_t>(s.block)];
                first.push_back(!seen && s.rows == 6 && s.columns == 6);
                if (!seen && !first.back()) cleared_.push_back(s.block);
                seen = 1;
            }
            first_.push_back(std::move(first));
        }
        for (std::size_t b = 0; b < blocks_.size(); ++b)
            if (!touched[b]) cleared_.push_back(static_cast<int>(b));
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
        if (!(put<Beam, LaneBeam>(element, plain) || put<Cable, LaneCable>(element, plain) ||
              put<Spring, LaneSpring>(element, plain)))
            throw std::invalid_argument("lanes hold beams, cables and springs only");
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
        strike(held);
        eliminate();
    }

    Row step(std::array<bool, width> moves) override {
        const LaneVectorX x = solved(gradient_);
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
            count[static_cast<std::size_t>(lane)] = static_cast<int>(negative_[lane]);
        return count;
    }

private:
    using Kept = std::array<std::shared_ptr<const Element>, width>;
    using LaneVectorX = std::vector<Lanes>;  // Eigen's heap is not aligned for lanes

    void solve(std::span<const double> load, double* all) const override {
        const LaneVectorX x = solved(LaneVectorX(load.begin(), load.end()));
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
        for (const int b : cleared_) blocks_[static_cast<std::size_t>(b)].setZero();
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
        const std::vector<Plan::Scatter>& pairs = plan_->scatter[e];
        for (std::size_t k = 0; k < pairs.size(); ++k) {
            const Plan::Scatter& s = pairs[k];
            Block& block = blocks_[static_cast<std::size_t>(s.block)];
            if (first_[e][k])
                block = H.template block<6, 6>(s.from_row, s.from_column);
            else if (s.rows == 6 && s.columns == 6)
                block += H.template block<6, 6>(s.from_row, s.from_column);
            else
                for (int c = 0; c < s.columns; ++c)
                    for (int r = 0; r < s.rows; ++r)
                        block(s.row + r, s.column + c) += H(s.from_row + r, s.from_column + c);
        }
        const std::vector<int>& places = plan_->gather[e];
        for (std::size_t i = 0; i < places.size(); ++i)
            gradient_[static_cast<std::size_t>(places[i])] += g[static_cast<int>(i)];
    }

    void strike(std::span<const int> held) {
        const Plan& plan = *plan_;
        std::fill(held_.begin(), held_.end(), 0);
        for (const int f : held) held_[static_cast<std::size_t>(f)] = 1;
        for (int f = plan.numbering.used(); f < plan.numbering.size(); ++f)
            held_[static_cast<std::size_t>(f)] = 1;
        for (std::size_t f = 0; f < gradient_.size(); ++f)
            if (held_[f]) gradient_[f] = Lanes(0);
        const auto is_held = [&](int place, int i) {
            return held_[static_cast<std::size_t>(6 * plan.slot_at[static_cast<std::size_t>(place)] + i)] !=
                   0;
        };
        for (int k = 0; k < plan.slots; ++k)
            for (int i = 0; i < 6; ++i) {
                if (!is_held(k, i)) continue;
                Block& block = blocks_[static_cast<std::size_t>(k)];
                block.row(i).setZero();
                block.col(i).setZero();
                block(i, i) = Lanes(1);
                for (const Plan::Entry& entry : plan.columns[static_cast<std::size_t>(k)])
                    blocks_[static_cast<std::size_t>(entry.block)].col(i).setZero();
            }
        for (int k = 0; k < plan.slots; ++k)
            for (const Plan::Entry& entry : plan.columns[static_cast<std::size_t>(k)])
                for (int i = 0; i < 6; ++i)
                    if (is_held(entry.row, i))
                        blocks_[static_cast<std::size_t>(entry.block)].row(i).setZero();
    }

    /// L D Lᵀ in place, as `BlockFactor` does it.
    void eliminate() {
        const Plan& plan = *plan_;
        negative_ = Lanes(0);
        std::vector<Block> scaled;
        for (int k = 0; k < plan.slots; ++k) {
            Block& L = blocks_[static_cast<std::size_t>(k)];
            Vector6<Lanes>& inverse = inverse_pivots_[static_cast<std::size_t>(k)];
            for (int j = 0; j < 6; ++j) {
                negative_ += choose(L(j, j) < Lanes(0), Lanes(1), Lanes(0));
                inverse[j] = Lanes(1) / L(j, j);
                Lanes below[6];
                for (int i = j + 1; i < 6; ++i) below[i] = L(i, j) * inverse[j];
                for (int c = j + 1; c < 6; ++c) {
                    const Lanes l = L(c, j);
                    for (int i = c; i < 6; ++i) L(i, c) -= below[i] * l;
                }
                for (int i = j + 1; i < 6; ++i) L(i, j) = below[i];
            }
            const std::vector<Plan::Entry>& column = plan.columns[static_cast<std::size_t>(k)];
            scaled.resize(column.size());
            for (std::size_t e = 0; e < column.size(); ++e) {
                Block& B = blocks_[static_cast<std::size_t>(column[e].block)];
                Block& W = scaled[e];
                for (int c = 0; c < 6; ++c) {
                    Lanes w[6];
                    for (int r = 0; r < 6; ++r) w[r] = B(r, c);
                    for (int m = 0; m < c; ++m) {
                        const Lanes l = L(c, m);
                        for (int r = 0; r < 6; ++r) w[r] -= W(r, m) * l;
                    }
                    for (int r = 0; r < 6; ++r) {
                        W(r, c) = w[r];
                        B(r, c) = w[r] * inverse[c];
                    }
                }
            }
            const std::vector<int>& targets = plan.updates[static_cast<std::size_t>(k)];
            std::size_t t = 0;
            for (std::size_t i = 0; i < column.size(); ++i)
                for (std::size_t j = 0; j <= i; ++j) {
                    Block& target = blocks_[static_cast<std::size_t>(targets[t++])];
                    const Block& B = blocks_[static_cast<std::size_t>(column[j].block)];
                    if (i == j)
                        subtract_product_below(target, scaled[i], B);
                    else
                        subtract_product(target, scaled[i], B);
                }
        }
    }

    [[nodiscard]] LaneVectorX solved(LaneVectorX x) const {
        const Plan& plan = *plan_;
        for (std::size_t f = 0; f < x.size(); ++f)
            if (held_[f]) x[f] = Lanes(0);
        const auto at = [&](int place) {
            return 6 * static_cast<std::size_t>(plan.slot_at[static_cast<std::size_t>(place)]);
        };
        for (int k = 0; k < plan.slots; ++k) {
            const Block& L = blocks_[static_cast<std::size_t>(k)];
            Lanes* own = &x[at(k)];
            for (int j = 0; j < 6; ++j)
                for (int i = j + 1; i < 6; ++i) own[i] -= L(i, j) * own[j];
            for (const Plan::Entry& entry : plan.columns[static_cast<std::size_t>(k)])
                subtract_times(&x[at(entry.row)], blocks_[static_cast<std::size_t>(entry.block)], own);
        }
        for (int k = plan.slots - 1; k >= 0; --k) {
            const Block& L = blocks_[static_cast<std::size_t>(k)];
            Lanes* own = &x[at(k)];
            for (int j = 0; j < 6; ++j) own[j] *= inverse_pivots_[static_cast<std::size_t>(k)][j];
            for (const Plan::Entry& entry : plan.columns[static_cast<std::size_t>(k)])
                subtract_transposed_times(own, blocks_[static_cast<std::size_t>(entry.block)],
                                          &x[at(entry.row)]);
            for (int j = 5; j >= 0; --j)
                for (int i = j + 1; i < 6; ++i) own[j] -= L(i, j) * own[i];
        }
        return x;
    }

    std::shared_ptr<const Plan> plan_;
    std::vector<Block> blocks_;
    std::vector<Vector6<Lanes>> inverse_pivots_;
    std::vector<char> held_;
    std::vector<std::unique_ptr<LaneElement>> elements_;
    std::vector<Kept> kept_;  ///< alive, so that no other element can stand at their address
    std::vector<std::vector<char>> first_;
    std::vector<int> cleared_;
    LaneState state_;
    Derivatives found_;
    LaneVectorX gradient_;
    Lanes negative_;
};

}  // namespace
}  // namespace limbwright::solver

extern "C" limbwright::solver::LanePack* limbwright_lane_pack(
    std::shared_ptr<const limbwright::solver::Plan> plan);

limbwright::solver::LanePack* limbwright_lane_pack(std::shared_ptr<const limbwright::solver::Plan> plan) {
    return new limbwright::solver::Pack(std::move(plan));
}
