#pragma once

#include <string>
#include <vector>

#include "meshes/surface.hpp"

namespace limbwright::meshes {

/// How good the cells of a surface are. With sides L_k from corner k to the next, area A, N the mean normal
/// (along the cross product of a quadrilateral's diagonals) and n_k = L_{k−1} × L_k / |…| the normal at
/// corner k:
///
///     angle at k        between −L_{k−1} and L_k; above π where n_k points against N
///     aspect            max|L| Σ|L| / (4 A), of a triangle max|L| Σ|L| / (4 √3 A)   1: square, equilateral
///     warp              larger of the angles between n_0 and n_2, n_1 and n_3   0: flat
///     Jacobian ratio    least over largest of J_k = N · (L_{k−1} × L_k)   1: parallelogram; ≤ 0: not convex
///
/// (P. M. Knupp, SIAM J. Sci. Comput. 23 (2001) 193–218; C. J. Stimpson et al., The Verdict Geometric Quality
/// Library, SAND2007-1751, 2007.) Cells without area or with missing nodes are counted but not measured.
struct SurfaceQuality {
    double least_angle = 0;              ///< [rad]
    double largest_angle = 0;            ///< [rad]
    double largest_aspect = 0;           ///< at least 1
    double largest_warp = 0;             ///< [rad]
    double least_jacobian_ratio = 0;     ///< at most 1
    double largest_thickness_ratio = 0;  ///< thickness by shortest side
    int cells = 0;                       ///< all of them
    int triangles = 0;                   ///< those of three corners
    int nodes = 0;
    std::vector<std::string> complaints;  ///< what no analysis should start with; each names its cell or node
    std::vector<std::string> notes;       ///< what may be meant: edges of more than two cells
};

/// Measures and complaints: nodes that do not exist, stand twice in a cell or belong to none, positions that
/// are not numbers, cells without area or thickness, folded over or concave, corner normals to different
/// faces, and pieces that no node joins. Corner normals of length 0 are taken as not yet found.
[[nodiscard]] SurfaceQuality quality(const Surface& surface);

}  // namespace limbwright::meshes
