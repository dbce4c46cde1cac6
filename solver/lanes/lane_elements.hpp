#pragma once

#include <algorithm>
#include <optional>
#include <stdexcept>

#include "solver/elements/beam.hpp"
#include "solver/elements/cable.hpp"
#include "solver/elements/shell.hpp"
#include "solver/elements/spring.hpp"
#include "solver/lanes/lane_solver.hpp"
#include "solver/lanes/lanes.hpp"

// Left to itself GCC calls the products of 3×3 matrices as functions; inside, they cost three quarters of it.
// Where a pack takes several registers that would only be slow to compile.
#if defined(__AVX512F__) && defined(__GNUC__)
#define LIMBWRIGHT_WHOLE_IN_ONE __attribute__((flatten))
#else
#define LIMBWRIGHT_WHOLE_IN_ONE
#endif

/// Elements with data in every lane.
namespace limbwright::solver {

using LaneVector = ElementVectorOf<Lanes>;
using LaneMatrix = ElementMatrixOf<Lanes>;
using LaneState = StateOf<Lanes>;
template <class E>
using OfEach = std::array<const E*, LanePack::width>;

inline void set(const Pose& from, int lane, PoseOf<Lanes>& to) {
    to.rotation.w.set(lane, from.rotation.w);
    for (int i = 0; i < 3; ++i) {
        to.rotation.v[i].set(lane, from.rotation.v[i]);
        to.position[i].set(lane, from.position[i]);
    }
}

inline void require_alike(bool alike, const char* what) {
    if (!alike) throw std::invalid_argument(what);
}

/// Frames that differ in their offsets only.
///
/// @throws std::invalid_argument for other differences
template <class E, class Get>
FrameOf<Lanes> frame_of(const OfEach<E>& lanes, const Get& get) {
    const Frame& first = get(*lanes[0]);
    FrameOf<Lanes> all;
    all.node = first.node;
    all.point = first.point;
    all.joint_count = first.joint_count;
    for (std::size_t j = 0; j < static_cast<std::size_t>(first.joint_count); ++j) {
        all.joints[j].kind = first.joints[j].kind;
        all.joints[j].axis = first.joints[j].axis;
        all.joints[j].scalar = first.joints[j].scalar;
    }
    for (int lane = 0; lane < LanePack::width; ++lane) {
        const Frame& one = get(*lanes[static_cast<std::size_t>(lane)]);
        bool alike = one.node == all.node && one.point == all.point && one.joint_count == all.joint_count;
        set(one.offset, lane, all.offset);
        for (std::size_t j = 0; alike && j < static_cast<std::size_t>(one.joint_count); ++j) {
            alike = one.joints[j].kind == all.joints[j].kind && one.joints[j].axis == all.joints[j].axis &&
                    one.joints[j].scalar == all.joints[j].scalar;
            set(one.joints[j].after, lane, all.joints[j].after);
        }
        require_alike(alike, "lanes hold frames that differ in their offsets only");
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
        if (std::ranges::all_of(lanes, &Beam::bare)) return;
        ends_.emplace(Ends{frame_of(lanes, [](const Beam& b) -> const Frame& { return b.end1(); }),
                           frame_of(lanes, [](const Beam& b) -> const Frame& { return b.end2(); }),
                           lanes[0]->places1(), lanes[0]->places2(), freedom_count(lanes[0]->touches())});
    }

    LIMBWRIGHT_WHOLE_IN_ONE void find(const LaneState& state, Derivatives& d) const override {
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

/// Shells of one shape that differ by a factor of their stiffness.
class LaneShell final : public LaneElement {
public:
    /// @throws std::invalid_argument for other differences
    explicit LaneShell(const OfEach<Shell>& lanes)
        : data_(lanes[0]->data()),
          places_(lanes[0]->places()),
          size_(freedom_count(lanes[0]->touches())),
          bare_(std::ranges::all_of(lanes, &Shell::bare)) {
        for (int lane = 0; lane < LanePack::width; ++lane) {
            const ShellData& data = lanes[static_cast<std::size_t>(lane)]->data();
            const double share = data.beta.norm() / data_.beta.norm();
            // The same shape, found again where the part stands at rest in another layout: rounding of its
            // places.
            const auto is_share = [&](const auto& part, const auto& of) {
                return (part - share * of).norm() <= 1e-8 * part.norm();
            };
            require_alike(data.corners == data_.corners && is_share(data.alpha, data_.alpha) &&
                              is_share(data.beta, data_.beta) && is_share(data.rest, data_.rest),
                          "lanes hold shells of one shape only");
            stiffness_.set(lane, share * share);
        }
        for (std::size_t i = 0; i < lanes[0]->corners().size(); ++i)
            corners_.push_back(
                frame_of(lanes, [&](const Shell& s) -> const Frame& { return s.corners()[i]; }));
    }

    void find(const LaneState& state, Derivatives& d) const override {
        d.small = false;
        ShellCornersOf<Lanes> corners;
        for (std::size_t i = 0; i < corners.size(); ++i)
            corners[i] = pose(corners_[i < corners_.size() ? i : 0], state);
        Vector24<Lanes> gradient;
        Matrix24<Lanes> hessian;
        shell_hessian(data_, corners, gradient, hessian);
        for (int j = 0; j < 24; ++j) {
            gradient[j] *= stiffness_;
            for (int i = 0; i < 24; ++i) hessian(i, j) *= stiffness_;
        }
        if (bare_) {
            d.g = gradient.head(size_);
            d.H = hessian.topLeftCorner(size_, size_);
            return;
        }
        d.g = LaneVector::Zero(size_);
        d.H = LaneMatrix::Zero(size_, size_);
        std::vector<FrameMotionOf<Lanes>> motions;
        motions.reserve(corners_.size());
        for (const FrameOf<Lanes>& corner : corners_) motions.emplace_back(corner, state);
        std::array<const FrameMotionOf<Lanes>*, max_shell_corners> motion{};
        std::array<const std::vector<int>*, max_shell_corners> places{};
        for (std::size_t i = 0; i < corners_.size(); ++i) {
            motion[i] = &motions[i];
            places[i] = &places_[i];
        }
        add_pulled_back<Lanes, max_shell_corners>(motion, places, data_.corners, gradient, hessian, d.g, d.H);
    }

private:
    ShellData data_;
    std::array<std::vector<int>, max_shell_corners> places_;
    int size_;
    bool bare_;
    Lanes stiffness_;
    std::vector<FrameOf<Lanes>> corners_;
};

/// Cables over the same sheaves that differ in their offsets, stiffness and natural length.
class LaneCable final : public LaneElement {
public:
    /// @throws std::invalid_argument for other differences, and for dead tensions
    explicit LaneCable(const OfEach<Cable>& lanes)
        : places_(lanes[0]->places()), size_(freedom_count(lanes[0]->touches())) {
        for (const Cable* cable : lanes) {
            require_alike(!cable->data().dead_tension, "lanes hold no cable under a dead tension");
            require_alike(std::ranges::equal(cable->contacts(), lanes[0]->contacts(), {}, &Contact::sheave,
                                             &Contact::sheave),
                          "lanes hold cables over the same sheaves only");
        }
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
            const Spring& spring = *lanes[static_cast<std::size_t>(lane)];
            require_alike(spring.weights() == weights_ && spring.data().side == side_,
                          "lanes hold springs on the same sum of scalars only, that act on the same side");
            const Spring::Data& data = spring.data();
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

}  // namespace limbwright::solver
