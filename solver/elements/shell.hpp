#pragma once

#include <span>

#include "solver/elements/element.hpp"
#include "solver/elements/plate_stiffness.hpp"
#include "solver/elements/shell_kernel.hpp"

namespace limbwright::solver {

/// A corner of a shell element at rest.
struct ShellCorner {
    Pose frame;  ///< of the frame that carries the corner; its origin is the corner, on the reference surface
    Vec3 normal;  ///< director: unit normal of the surface, toward the wall's top face, in the world
};

/// What a shell element carries at its centre, in the wall's axes; see `WallStiffness` for meaning and units.
struct WallState {
    Vec3 strain, curvature;
    Vec2 shear_strain;
    Vec3 force, moment;
    Vec2 shear_force;
    Mat3 axes;      ///< columns: the wall's axes now, in the world
    Vec3 position;  ///< of the centre now [mm]
};

/// Large-rotation shell element of three or four corners with a laminate's stiffness.
///
/// Positions and directors are interpolated linearly (Reissner–Mindlin; Green–Lagrange strains, linear in the
/// height). Four corners: forces and moments are assumed, 5 parameters each for N and M and 4 for Q, and the
/// two-field energy is stationary by them (Wagner & Gruttmann, Int. J. Numer. Methods Eng. 64 (2005) 635–666;
/// membrane part after Pian & Sumihara, ibid. 20 (1984) 1685–1695), transverse shear is tied at the edges'
/// middles (Dvorkin & Bathe, Eng. Comput. 1 (1984) 77–88): no shear or membrane locking, patch tests
/// pass; a trapezoid is stiff against bending in its plane, as any such element must be (MacNeal, Int. J.
/// Numer. Methods Eng. 24 (1987) 1793–1799). Three corners: constant strain and curvature, tied shear (MITC3:
/// Lee & Bathe, Comput. Struct. 82 (2004) 945–962); stiff in its own plane, meant for gaps.
///
/// Drilling: the mean turn of the corners about the normal follows the turn of the surface in its plane, one
/// condition an element, as in the polar decomposition (Hughes & Brezzi, Comput. Methods Appl. Mech. Eng. 72
/// (1989) 105–121) with the wall's own shear stiffness as weight. It restrains no state of the surface; how
/// the corners' turns differ from their mean carries 1e-5 of that weight, for a turn must have some
/// stiffness. As the sine of a turn says nothing of half turns, the mean of 1 − cos of the turns carries as
/// little, sixteen times over, so that a corner turned half round is in no equilibrium.
class Shell final : public Element {
public:
    /// @param corners    frames of the three or four corners, in order round the element, either way
    /// @param rest       the same corners at rest
    /// @param direction  global direction whose projection on the element is the wall's axis 1; node order
    ///                   never matters
    /// @param drilling   share of the shear stiffness that weighs the drilling condition
    /// @throws std::invalid_argument for other numbers of corners, a direction along the normal, an element
    ///         without area or folded over, or a stiffness that is not positive definite
    Shell(std::span<const Frame> corners, std::span<const ShellCorner> rest, const Vec3& direction,
          const WallStiffness& wall, double drilling = 1);

    [[nodiscard]] const std::vector<Touch>& touches() const override { return list_.touches(); }
    [[nodiscard]] double energy(const State& state) const override;
    [[nodiscard]] std::complex<double> energy(const StateOf<std::complex<double>>& state) const override;
    void gradient(const State& state, ElementVector& g) const override;
    void gradient_and_hessian(const State& state, ElementVector& g, ElementMatrix& H) const override;

    [[nodiscard]] const std::vector<Frame>& corners() const { return corners_; }
    [[nodiscard]] const ShellData& data() const { return data_; }
    /// Where each corner's increments stand in the element's vectors.
    [[nodiscard]] const std::array<std::vector<int>, max_shell_corners>& places() const { return places_; }
    /// Whether the corners are nodes and nothing else, each its own.
    [[nodiscard]] bool bare() const { return bare_; }
    [[nodiscard]] double area() const { return area_; }  ///< of the reference surface at rest [mm²]
    [[nodiscard]] WallState wall_state(const State& state) const;

private:
    template <class T>
    [[nodiscard]] ShellCornersOf<T> poses(const StateOf<T>& state) const {
        ShellCornersOf<T> all;
        for (std::size_t i = 0; i < all.size(); ++i)
            all[i] = pose(corners_[i < corners_.size() ? i : 0], state);
        return all;
    }

    std::vector<Frame> corners_;
    ShellData data_;
    TouchList list_;
    std::array<std::vector<int>, max_shell_corners> places_;
    bool bare_ = false;
    double area_ = 0;
    WallStiffness compliance_;
    Eigen::Matrix<double, 8, max_shell_strains> stress_;  ///< centre's (N, M, Q) from the strains e_k
    std::array<Mat3, max_shell_corners> axes_;            ///< the wall's axes at rest in each corner's frame
};

}  // namespace limbwright::solver
