#include "tests/support/calculix.hpp"

#include <fmt/format.h>

#include <Eigen/SVD>
#include <cmath>
#include <fstream>
#include <iterator>
#include <span>
#include <sstream>
#include <stdexcept>

#include "tests/postproc/outside.hpp"

namespace limbwright::testing {
namespace {

/// Numbered from one, ten to a line: the program reads no more than sixteen.
std::string listed(std::span<const int> nodes) {
    std::string text;
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        const bool last = i + 1 == nodes.size();
        text += fmt::format("{}{}{}", nodes[i] + 1, last ? "" : ",", last || i % 10 == 9 ? "\n" : " ");
    }
    return text;
}

/// Neighbours with the same axes are one set with one orientation.
std::string bricks(const Solid& solid) {
    std::string elements, sections;
    for (std::size_t i = 0; i < solid.bricks.size(); ++i) {
        const Mat3& axes = solid.axes[i];
        if (i == 0 || axes != solid.axes[i - 1]) {
            fmt::format_to(std::back_inserter(elements), "*ELEMENT, TYPE=C3D20R, ELSET=B{}\n", i);
            fmt::format_to(std::back_inserter(sections),
                           "*ORIENTATION, NAME=O{0}, SYSTEM=RECTANGULAR\n{1:.12e}, {2:.12e}, {3:.12e}, "
                           "{4:.12e}, {5:.12e}, {6:.12e}\n"
                           "*SOLID SECTION, ELSET=B{0}, MATERIAL=STUFF, ORIENTATION=O{0}\n",
                           i, axes(0, 0), axes(1, 0), axes(2, 0), axes(0, 1), axes(1, 1), axes(2, 1));
        }
        fmt::format_to(std::back_inserter(elements), "{},\n{}", i + 1, listed(solid.bricks[i]));
    }
    return elements + sections;
}

std::string material(const solver::Lamina& m) {
    const double poisson_23 = m.across / (2 * m.shear_23) - 1;
    return fmt::format(
        "*MATERIAL, NAME=STUFF\n*ELASTIC, TYPE=ENGINEERING CONSTANTS\n"
        "{0}, {1}, {1}, {2}, {2}, {3}, {4}, {4},\n{5}, 20\n",
        m.along, m.across, m.poisson, poisson_23, m.shear, m.shear_23);
}

std::string deck(const Solid& solid) {
    const std::size_t n = solid.nodes.size(), pulled = n + 1, turned = n + 2;
    std::string text;
    const auto out = std::back_inserter(text);
    const auto add_node = [&](std::size_t number, const Vec3& x) {
        fmt::format_to(out, "{}, {:.12e}, {:.12e}, {:.12e}\n", number, x.x(), x.y(), x.z());
    };
    text += "*NODE, NSET=SOLID\n";
    for (std::size_t i = 0; i < n; ++i) add_node(i + 1, solid.nodes[i]);
    text += "*NODE\n";
    add_node(pulled, solid.pulled_at);
    add_node(turned, solid.pulled_at);
    text += bricks(solid) + material(solid.material);
    text += "*NSET, NSET=HELD\n" + listed(solid.held) + "*NSET, NSET=RIGID\n" + listed(solid.rigid);
    fmt::format_to(out, "*RIGID BODY, NSET=RIGID, REF NODE={}, ROT NODE={}\n", pulled, turned);
    text += "*BOUNDARY\nHELD, 1, 3\n";
    text += "*STEP, NLGEOM, INC=200\n*STATIC\n0.25, 1\n*CLOAD\n";
    for (int i = 0; i < 3; ++i) fmt::format_to(out, "{}, {}, {:.12e}\n", pulled, i + 1, solid.force[i]);
    for (int i = 0; i < 3; ++i)
        if (solid.moment[i] != 0) fmt::format_to(out, "{}, {}, {:.12e}\n", turned, i + 1, solid.moment[i]);
    // More increments than there are: only the last is written.
    text += "*NODE PRINT, NSET=SOLID, FREQUENCY=1000\nU\n*END STEP\n";
    return text;
}

/// From the rows "node x y z" of the program's table.
std::vector<Vec3> read_displacements(const std::filesystem::path& file, std::size_t count) {
    std::vector<Vec3> found(count, Vec3::Constant(std::nan("")));
    std::ifstream stream(file);
    std::string line;
    while (std::getline(stream, line)) {
        std::istringstream row(line);
        std::size_t node = 0;
        Vec3 u;
        if (row >> node >> u[0] >> u[1] >> u[2] && node >= 1 && node <= count) found[node - 1] = u;
    }
    for (const Vec3& u : found)
        if (!u.allFinite()) throw std::runtime_error("CalculiX left no displacement for some nodes");
    return found;
}

}  // namespace

std::vector<Vec3> displacements_by_calculix(const Solid& solid) {
    if (!tests::run("command -v ccx").succeeded)
        throw std::runtime_error("The program ccx is missing: install Debian's package calculix-ccx");
    const tests::TemporaryFolder folder;
    std::ofstream(folder / "solid.inp") << deck(solid);
    const tests::Outcome outcome =
        tests::run(fmt::format("cd '{}' && OMP_NUM_THREADS=1 ccx -i solid", folder.path().string()));
    if (!outcome.succeeded) throw std::runtime_error("CalculiX found no answer:\n" + outcome.output);
    return read_displacements(folder / "solid.dat", solid.nodes.size());
}

Pose moved_section(const Solid& solid, const std::vector<Vec3>& displacements, const std::vector<int>& nodes,
                   const Pose& rest) {
    const Eigen::Index count = static_cast<Eigen::Index>(nodes.size());
    Eigen::Matrix3Xd before(3, count), after(3, count);
    for (Eigen::Index i = 0; i < count; ++i) {
        const auto node = static_cast<std::size_t>(nodes[static_cast<std::size_t>(i)]);
        before.col(i) = solid.nodes[node];
        after.col(i) = solid.nodes[node] + displacements[node];
    }
    const Vec3 mean_before = before.rowwise().mean(), mean_after = after.rowwise().mean();
    const Mat3 H = (before.colwise() - mean_before) * (after.colwise() - mean_after).transpose();
    const Eigen::JacobiSVD<Mat3> svd(H, Eigen::ComputeFullU | Eigen::ComputeFullV);
    // The nodes lie in a plane, so the third direction has either sign: that of a rotation is taken.
    Mat3 V = svd.matrixV();
    if ((V * svd.matrixU().transpose()).determinant() < 0) V.col(2) *= -1;
    const Mat3 R = V * svd.matrixU().transpose();
    return {solver::rotation_from(R) * rest.rotation, mean_after + R * (rest.position - mean_before)};
}

}  // namespace limbwright::testing
