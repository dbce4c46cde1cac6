#pragma once

#include <array>
#include <memory>
#include <span>
#include <string>

#include "solver/lanes/lane_layout.hpp"

namespace limbwright::solver {

/// Eight problems of one topology, solved side by side in the lanes of the processor's registers. What a lane
/// comes to never depends on what the other lanes hold.
///
/// There is no globalisation here: who calls starts near a solution, watches the decrement, and takes a lane
/// that does not come through to `find_equilibrium`.
class LanePack {
public:
    static constexpr int width = 8;
    using Row = std::array<double, width>;  ///< a number for each lane

    virtual ~LanePack() = default;

    /// An element in each lane, none of them null.
    using PerLane = std::array<const std::shared_ptr<const Element>*, width>;

    /// An element's data, one for each lane: beams, cables, springs or shells with the same freedoms, on
    /// frames that differ in their offsets only, cables over the same sheaves, shells of one shape. The pack
    /// keeps the elements, so that it knows them again when they come back.
    ///
    /// @throws std::invalid_argument for other elements, or what lanes share differs
    virtual void set_element(std::size_t element, const PerLane& lanes) = 0;
    virtual void set_natural_length(std::size_t cable, int lane, double length) = 0;  ///< [mm]
    virtual void set_rest(std::size_t spring, int lane, double rest) = 0;             ///< [rad or mm]

    virtual void set_state(int lane, const State& state) = 0;
    virtual void copy_state(int lane, State& state) const = 0;
    virtual void set_scalar(int lane, ScalarId scalar, double value) = 0;

    /// Gradient and tangent at the present states; the tangent factored, L D Lᵀ, with the held freedoms
    /// struck out.
    virtual void factor(std::span<const int> held) = 0;
    /// Newton's step −K⁻¹g from the last factor is made in the lanes that `moves` names.
    ///
    /// @return the decrement g·K⁻¹g of each lane before the step [N mm]; not finite where a pivot is zero
    virtual Row step(std::array<bool, width> moves) = 0;
    /// Number of negative pivots of the last factor.
    virtual std::array<int, width> negative_pivots() const = 0;
    /// K⁻¹ load in every lane, from the last factor: one column a lane.
    [[nodiscard]] Eigen::Matrix<double, Eigen::Dynamic, width> solve(const VecX& load) const {
        Eigen::Matrix<double, Eigen::Dynamic, width> all(load.size(), static_cast<int>(width));
        solve({load.data(), static_cast<std::size_t>(load.size())}, all.data());
        return all;
    }

private:
    /// The same into the caller's memory, one lane after the other. A kernel must not hand out Eigen's
    /// memory: it is got and given back in another way on each kind of processor.
    virtual void solve(std::span<const double> load, double* all) const = 0;
};

/// A kind of processor that there are kernels for.
struct LaneKernel {
    std::string name;     ///< "x86-64-v4" and so on, as compilers call them
    std::string library;  ///< file beside the program
    bool runs_here;       ///< whether this processor has all its instructions
};

/// From the plainest to the most capable.
[[nodiscard]] std::vector<LaneKernel> lane_kernels();

/// @throws std::runtime_error, naming the library, if what a kernel tells of itself is not what this program
/// was compiled with, or it is another kernel
void require_this_layout(const LaneLayout& theirs, const LaneKernel& kernel);

/// Packs made by the most capable kernel that runs here. `kernel` asks for another one by its name.
///
/// @throws std::runtime_error if the kernel's library cannot be opened, with the system's reason, or does not
///         fit this program
[[nodiscard]] std::unique_ptr<LanePack> make_lane_pack(std::shared_ptr<const Plan> plan,
                                                       const std::string& kernel = {});

}  // namespace limbwright::solver
