#pragma once

#include <functional>

#include "solver/elements/beam_kernel.hpp"
#include "solver/elements/element.hpp"
#include "solver/elements/section.hpp"

namespace limbwright::solver {

/// Stiffness and rest strain of the segment between two poses at rest, joined by the curve of constant
/// strain.
///
/// The stiffness is the inverse of the segment's flexibility, integrated along its rest curve from the
/// section's,
///
///     F = L ∫ Ad(u) C(u)⁻¹ Ad(u)ᵀ du,   K = Mᵀ F⁻¹ M,   M = ∫ Ad(u) du,   u = −1/2 … 1/2,
///
/// Ad(u) carrying a twist from the section at u to the middle: for small displacements the nodes are exact
/// for any taper, curvature and coupling that three Gauss points integrate, and shear does not lock.
///
/// @throws std::invalid_argument unless the length is positive and every section positive definite
/// @param section  stiffness at a share 0 … 1 of the segment, in the axes interpolated between the two poses
[[nodiscard]] BeamDataOf<double> beam_data(const Pose& rest1, const Pose& rest2,
                                           const std::function<SectionStiffness(double)>& section);

/// What a cross-section carries at a segment's end, in the section's own axes: (N, V₂, V₃) [N] and (M₁, M₂,
/// M₃) [N mm], on the face that looks to the segment's end.
struct SectionForces {
    Vec3 force, moment;
};

/// Geometrically exact two-node beam between two frames.
class Beam final : public Element {
public:
    Beam(const Frame& end1, const Frame& end2, const BeamDataOf<double>& data);

    [[nodiscard]] const std::vector<Touch>& touches() const override { return list_.touches(); }
    [[nodiscard]] double energy(const State& state) const override;
    [[nodiscard]] std::complex<double> energy(const StateOf<std::complex<double>>& state) const override;
    void gradient(const State& state, ElementVector& g) const override;
    void gradient_and_hessian(const State& state, ElementVector& g, ElementMatrix& H) const override;

    [[nodiscard]] const Frame& end1() const { return end1_; }
    [[nodiscard]] const Frame& end2() const { return end2_; }
    [[nodiscard]] const BeamDataOf<double>& data() const { return data_; }
    /// Whether both ends are nodes and nothing else.
    [[nodiscard]] bool bare() const { return bare_; }
    /// Where each end's increments stand in the element's vectors.
    [[nodiscard]] const std::vector<int>& places1() const { return places1_; }
    [[nodiscard]] const std::vector<int>& places2() const { return places2_; }
    /// Section forces at both ends.
    [[nodiscard]] std::array<SectionForces, 2> section_forces(const State& state) const;

private:
    Frame end1_, end2_;
    BeamDataOf<double> data_;
    TouchList list_;
    std::vector<int> places1_, places2_;
    bool bare_;
};

}  // namespace limbwright::solver
