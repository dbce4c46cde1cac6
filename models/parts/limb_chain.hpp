#pragma once

#include <string>
#include <vector>

#include "models/bow/sides.hpp"
#include "models/parts/limb_stiffness.hpp"
#include "models/parts/shell_parts.hpp"

namespace limbwright::models {

/// A row of beams or shells of one limb, of a solid limb's body or of one prong of its fork: sections from
/// root to tip.
struct LimbRow {
    std::string name;                            ///< "top left limb" and so on
    std::vector<solver::Frame> sections;         ///< of shells: the nodes on the centre line
    std::vector<solver::Pose> rest;              ///< of the sections
    std::vector<meshes::StripStation> stations;  ///< cross-section at each of them
    std::vector<std::size_t> beams;              ///< elements between neighbours, or none
    std::vector<PartShell> shells;               ///< or the row's shells
    LimbStiffness stiffness;                     ///< with the deflection number in it

    /// Every element of the row.
    [[nodiscard]] std::vector<std::size_t> elements() const {
        std::vector<std::size_t> all = beams;
        for (const PartShell& shell : shells) all.push_back(shell.element);
        return all;
    }
};

/// Shares of the limb's length at which it is cut into about so many pieces; a solid limb is cut at its fork.
[[nodiscard]] std::vector<double> limb_shares(const Limb& limb, int pieces);

/// Bottom limbs have their axis 3 toward the target, so their curvature changes sign.
[[nodiscard]] meshes::Strip oriented(meshes::Strip strip, End end);

}  // namespace limbwright::models
