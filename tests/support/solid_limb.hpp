#pragma once

#include <cmath>
#include <numbers>
#include <vector>

#include "meshes/strip.hpp"
#include "tests/support/calculix.hpp"

/// A tapered strip, curved at rest, as an elastic solid of bricks.
namespace limbwright::testing {

/// What a limb looks like at a share of its length.
struct LimbShape {
    double curvature = 0;  ///< toward −z [1/mm]

    static constexpr double length = 320;
    [[nodiscard]] static double width(double share) { return 24 - 4 * share; }
    [[nodiscard]] static double thickness(double share) { return 9 - 3.6 * share; }
    [[nodiscard]] Pose pose(double share) const {
        const double angle = curvature * length * share;
        const Vec3 straight(length * share, 0, 0);
        const Vec3 arc = Vec3(std::sin(angle), 0, std::cos(angle) - 1) / (curvature == 0 ? 1 : curvature);
        return {solver::exp<double>(Vec3(0, angle, 0)), curvature == 0 ? straight : arc};
    }
    [[nodiscard]] meshes::Strip strip() const {
        const auto station = [&](double s) {
            return meshes::StripStation{s, width(s), thickness(s), curvature};
        };
        return {length, {station(0), station(1)}};
    }
};

/// Shares of the length, three times as dense at both ends as on average.
inline std::vector<double> graded_shares(int pieces) {
    std::vector<double> shares = meshes::even_shares(0, 1, pieces);
    using std::numbers::pi;
    for (double& s : shares) s -= 0.7 * std::sin(2 * pi * s) / (2 * pi);
    return shares;
}

struct Bricks {
    int along, across, through;
};

/// The solid, and the nodes on each face between bricks across the limb, root to tip.
struct Meshed {
    Solid solid;
    std::vector<std::vector<int>> faces;
};

/// Held at its root, rigid at its tip; without material and loads.
inline Meshed meshed(const LimbShape& limb, const Bricks& count) {
    // Nodes lie on a lattice of half bricks, but not where two of their three numbers are odd.
    const int I = 2 * count.along, J = 2 * count.across, K = 2 * count.through;
    const std::vector<double> shares = graded_shares(count.along);
    Meshed m;
    m.faces.resize(shares.size());
    const auto place = [&](int i, int j, int k) {
        return static_cast<std::size_t>((i * (J + 1) + j) * (K + 1) + k);
    };
    const auto share = [&](int i) {
        const auto before = static_cast<std::size_t>(i / 2), after = before + i % 2;
        return 0.5 * (shares[before] + shares[after]);
    };
    std::vector<int> number(place(I, J, K) + 1, -1);
    for (int i = 0; i <= I; ++i)
        for (int j = 0; j <= J; ++j)
            for (int k = 0; k <= K; ++k) {
                if (i % 2 + j % 2 + k % 2 > 1) continue;
                const double s = share(i);
                const Vec3 in_section(0, limb.width(s) * (1. * j / J - 0.5),
                                      limb.thickness(s) * (1. * k / K - 0.5));
                number[place(i, j, k)] = static_cast<int>(m.solid.nodes.size());
                if (i % 2 == 0) m.faces[static_cast<std::size_t>(i / 2)].push_back(number[place(i, j, k)]);
                m.solid.nodes.push_back(limb.pose(s) * in_section);
            }
    constexpr int steps[20][3] = {{0, 0, 0}, {2, 0, 0}, {2, 2, 0}, {0, 2, 0}, {0, 0, 2}, {2, 0, 2}, {2, 2, 2},
                                  {0, 2, 2}, {1, 0, 0}, {2, 1, 0}, {1, 2, 0}, {0, 1, 0}, {1, 0, 2}, {2, 1, 2},
                                  {1, 2, 2}, {0, 1, 2}, {0, 0, 1}, {2, 0, 1}, {2, 2, 1}, {0, 2, 1}};
    for (int i = 0; i < I; i += 2)
        for (int j = 0; j < J; j += 2)
            for (int k = 0; k < K; k += 2) {
                Brick& brick = m.solid.bricks.emplace_back();
                for (std::size_t n = 0; n < brick.size(); ++n)
                    brick[n] = number[place(i + steps[n][0], j + steps[n][1], k + steps[n][2])];
                m.solid.axes.push_back(limb.pose(share(i + 1)).rotation.matrix());
            }
    m.solid.held = m.faces.front();
    m.solid.rigid = m.faces.back();
    return m;
}

}  // namespace limbwright::testing
