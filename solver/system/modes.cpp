#include "solver/system/modes.hpp"

#include <Spectra/SymGEigsShiftSolver.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "solver/system/block_matrix.hpp"

namespace limbwright::solver {
namespace {

/// K and M of a state on one plan, and K − σM factored.
class Pencil {
public:
    Pencil(const System& system, const State& state, std::span<const Body> bodies, std::span<const int> held)
        : held_(held.begin(), held.end()) {
        std::vector<std::vector<Touch>> body_touches;
        for (const Body& body : bodies) body_touches.push_back(touches_of(body));
        std::vector<const std::vector<Touch>*> touches;
        for (const auto& element : system.elements()) touches.push_back(&element->touches());
        for (const std::vector<Touch>& one : body_touches) touches.push_back(&one);
        plan_ = std::make_shared<const Plan>(system.numbering(), touches);
        ElementVector g;
        ElementMatrix H;
        for (const auto& element : system.elements()) {
            element->gradient_and_hessian(state, g, H);
            stiffness_.push_back(H);
        }
        for (const Body& body : bodies) masses_.push_back(mass_matrix(body, state));
        mass_.emplace(combined(0, 1));
        factor_.emplace(plan_);
        std::vector<char> is_held(static_cast<std::size_t>(plan_->numbering.used()), 0);
        for (const int f : held_) is_held[static_cast<std::size_t>(f)] = 1;
        for (int f = 0; f < plan_->numbering.used(); ++f)
            if (!is_held[static_cast<std::size_t>(f)]) free_.push_back(f);
    }

    [[nodiscard]] int size() const { return static_cast<int>(free_.size()); }

    /// The freedom without mass, if any.
    std::optional<int> massless() {
        const VecX diagonal = mass_->diagonal();
        for (const int f : free_)
            if (!(diagonal[f] > 0)) return f;
        if (!factor_->factor(*mass_, held_) || factor_->negative_pivots() > 0 ||
            factor_->weakest_ratio() < 1 / hopeless_growth)
            return std::max(factor_->weakest_freedom(), 0);
        return {};
    }

    /// Least K_ii/M_ii [1/s²]: above the lowest eigenvalue, of a size with the system's own.
    [[nodiscard]] double scale() const {
        const VecX k = combined(1, 0).diagonal(), m = mass_->diagonal();
        double least = HUGE_VAL, largest = 0;
        for (const int f : free_) {
            const double ratio = k[f] / m[f];
            if (ratio > 0) least = std::min(least, ratio);
            largest = std::max(largest, std::abs(ratio));
        }
        return std::isfinite(least) ? least : std::max(largest, 1.);
    }

    /// Number of eigenvalues below σ; none if a pivot vanished. Leaves K − σM factored.
    std::optional<int> count_below(double sigma) {
        if (!factor_->factor(combined(1, -sigma), held_)) return {};
        return factor_->negative_pivots();
    }

    /// (K − σM)⁻¹ x and M x on the free freedoms.
    void solve(const double* x, double* y) const { take(factor_->solve(spread(x)), y); }
    void times_mass(const double* x, double* y) const { take(mass_->times(spread(x)), y); }
    [[nodiscard]] VecX spread(const double* x) const {
        VecX all = VecX::Zero(plan_->numbering.size());
        for (std::size_t i = 0; i < free_.size(); ++i) all[free_[i]] = x[i];
        return all;
    }
    [[nodiscard]] double norm(const VecX& x) const { return std::sqrt(x.dot(mass_->times(x))); }

private:
    [[nodiscard]] BlockMatrix combined(double of_stiffness, double of_mass) const {
        BlockMatrix A(plan_);
        std::size_t at = 0;
        for (const ElementMatrix& H : stiffness_) A.add(at++, of_stiffness * H);
        for (const ElementMatrix& M : masses_) A.add(at++, of_mass * M);
        return A;
    }
    void take(const VecX& all, double* y) const {
        for (std::size_t i = 0; i < free_.size(); ++i) y[i] = all[free_[i]];
    }

    std::vector<int> held_, free_;
    std::shared_ptr<const Plan> plan_;
    std::vector<ElementMatrix> stiffness_, masses_;
    std::optional<BlockMatrix> mass_;
    std::optional<BlockFactor> factor_;
};

/// What Spectra asks of its operators. The pencil is factored at the shift before.
struct Solve {
    using Scalar = double;
    const Pencil& pencil;
    [[nodiscard]] Eigen::Index rows() const { return pencil.size(); }
    [[nodiscard]] Eigen::Index cols() const { return pencil.size(); }
    void set_shift(double) {}
    void perform_op(const double* x, double* y) const { pencil.solve(x, y); }
};
struct TimesMass {
    using Scalar = double;
    const Pencil& pencil;
    [[nodiscard]] Eigen::Index rows() const { return pencil.size(); }
    [[nodiscard]] Eigen::Index cols() const { return pencil.size(); }
    void perform_op(const double* x, double* y) const { pencil.times_mass(x, y); }
};

/// By rising eigenvalue; fewer than asked for if the iteration did not settle.
std::vector<Mode> lanczos(Pencil& pencil, double sigma, int count, int basis) {
    if (!pencil.count_below(sigma)) return {};
    Solve solve{pencil};
    TimesMass times_mass{pencil};
    Spectra::SymGEigsShiftSolver<Solve, TimesMass, Spectra::GEigsMode::ShiftInvert> solver(
        solve, times_mass, count, basis, sigma);
    solver.init();
    solver.compute(Spectra::SortRule::LargestAlge, 1000, 1e-12);
    if (solver.info() != Spectra::CompInfo::Successful) return {};
    const VecX values = solver.eigenvalues();
    const MatX vectors = solver.eigenvectors();
    std::vector<Mode> modes;
    for (int i = 0; i < values.size(); ++i) {
        VecX shape = pencil.spread(vectors.col(i).data());
        int largest = 0;
        shape.cwiseAbs().maxCoeff(&largest);
        shape /= std::copysign(pencil.norm(shape), shape[largest]);
        modes.push_back({values[i], std::move(shape)});
    }
    std::sort(modes.begin(), modes.end(),
              [](const Mode& a, const Mode& b) { return a.eigenvalue < b.eigenvalue; });
    return modes;
}

}  // namespace

double Mode::frequency() const {
    return eigenvalue < 0 ? std::nan("") : std::sqrt(eigenvalue) / (2 * std::numbers::pi);
}

double Mode::growth_rate() const {
    return eigenvalue < 0 ? std::sqrt(-eigenvalue) : 0;
}

std::variant<Modes, NoModes> find_modes(const System& system, const State& state,
                                        std::span<const Body> bodies, std::span<const int> held, int count) {
    Pencil pencil(system, state, bodies, held);
    const int size = pencil.size();
    if (size < 2) return NoModes{fmt::format("only {} freedom is free to move", size)};
    if (const std::optional<int> freedom = pencil.massless())
        return NoModes{fmt::format("freedom {} has no mass", *freedom), *freedom};
    count = std::clamp(count, 1, size - 1);

    // Near enough to zero for the lowest modes to stand out, far enough for a singular tangent to be
    // factored.
    const double scale = pencil.scale();
    double sigma = -1e-6 * scale;
    for (int raised = 0; pencil.count_below(sigma) != 0; ++raised) {
        if (raised == 40) return NoModes{"no shift below all eigenvalues was found"};
        sigma *= 10;
    }
    int wanted = count, basis = std::max(2 * count + 1, 20);
    for (int attempt = 0; attempt < 4; ++attempt) {
        std::vector<Mode> modes = lanczos(pencil, sigma, wanted, std::min(basis, size));
        basis *= 2;
        if (static_cast<int>(modes.size()) < count) continue;
        const double under = modes.back().eigenvalue - 1e-6 * (modes.back().eigenvalue - sigma);
        const auto found =
            std::count_if(modes.begin(), modes.end(), [&](const Mode& m) { return m.eigenvalue < under; });
        const int there = pencil.count_below(under).value_or(-1);
        if (there == found) {
            modes.resize(static_cast<std::size_t>(count));
            // A singular tangent's zeros are zeros but for rounding.
            return Modes{std::move(modes), pencil.count_below(-1e-8 * scale).value_or(0)};
        }
        wanted = std::clamp(wanted + 2, 1, size - 1);
        basis = std::max(basis, 2 * wanted + 1);
    }
    return NoModes{fmt::format("the {} lowest modes were not found for certain", count)};
}

}  // namespace limbwright::solver
