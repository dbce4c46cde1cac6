#pragma once

#include <functional>
#include <initializer_list>

#include "solver/elements/shell.hpp"
#include "solver/elements/spring.hpp"
#include "tests/support/found.hpp"

/// Shells of one wall on grids over parametric surfaces, their supports and their loads.
namespace limbwright::testing {

using namespace limbwright::solver;

/// Homogeneous wall, shear coefficient 5/6; its reference surface is its middle.
inline WallStiffness isotropic_wall(double young, double poisson, double thickness) {
    const double membrane = young * thickness / (1 - poisson * poisson);
    WallStiffness wall = WallStiffness::Zero();
    for (const int k : {0, 3}) {
        const double scale = membrane * (k == 0 ? 1 : thickness * thickness / 12);
        wall(k, k) = wall(k + 1, k + 1) = scale;
        wall(k, k + 1) = wall(k + 1, k) = poisson * scale;
        wall(k + 2, k + 2) = 0.5 * (1 - poisson) * scale;
    }
    wall(6, 6) = wall(7, 7) = 5. / 6 * young / (2 * (1 + poisson)) * thickness;
    return wall;
}

/// Increments of a node: displacements along the world's axes, turns about its own, which are the world's at
/// rest.
enum Freedom { along_x, along_y, along_z, about_x, about_y, about_z };
using Freedoms = std::initializer_list<Freedom>;
inline constexpr Freedoms all_freedoms{along_x, along_y, along_z, about_x, about_y, about_z};

/// A state halves across a plane: what a mirror image holds on the plane with this normal (0: x, 1: y, 2: z).
inline std::array<Freedom, 3> mirrored(int normal) {
    const auto turn = [&](int k) { return static_cast<Freedom>(3 + (normal + k) % 3); };
    return {static_cast<Freedom>(normal), turn(1), turn(2)};
}

struct SurfacePoint {
    Vec3 position, normal;
};
/// Over the unit square.
using Surface = std::function<SurfacePoint(double, double)>;

/// Every corner is a node unless its frame is replaced before the system is made.
struct ShellScene {
    WallStiffness wall;
    Vec3 direction = Vec3::UnitX();  ///< of the wall's axis 1
    double drilling = 1;
    State rest{};
    std::vector<ShellCorner> corners{};
    std::vector<Frame> frames{};
    std::vector<std::vector<int>> cells{};  ///< corners of each element
    std::vector<int> held{};
    std::vector<Vec6> loads{};  ///< force and moment on each node [N, N mm]

    int add_corner(const SurfacePoint& at) {
        const int corner = static_cast<int>(corners.size());
        corners.push_back({{{}, at.position}, at.normal});
        frames.push_back(Frame::on(NodeId(corner)));
        rest.nodes.push_back(corners.back().frame);
        loads.push_back(Vec6::Zero());
        return corner;
    }
    template <class Some>
    void hold(int corner, const Some& freedoms) {
        for (const Freedom f : freedoms) held.push_back(6 * corner + f);
    }
    void hold(int corner, Freedoms freedoms) { hold<Freedoms>(corner, freedoms); }
    /// The corner moves with a frame that stands on it at rest; its own node is left out.
    void tie(int corner, const Frame& frame) {
        frames[static_cast<std::size_t>(corner)] = frame;
        hold(corner, all_freedoms);
    }
    void push(int corner, const Vec3& force) { loads[static_cast<std::size_t>(corner)].head<3>() += force; }
    [[nodiscard]] const Vec3& place(int corner) const {
        return corners[static_cast<std::size_t>(corner)].frame.position;
    }
    /// Linear along each side of a chain of corners, force per length.
    void push_line(const std::vector<int>& chain, const Vec3& force) {
        for (std::size_t i = 0; i + 1 < chain.size(); ++i)
            for (const std::size_t end : {i, i + 1})
                push(chain[end], 0.5 * (place(chain[i + 1]) - place(chain[i])).norm() * force);
    }
    /// Force per area, shared as the four-cornered elements' shape functions do.
    void push_surface(const Vec3& force) {
        const double p = 1 / std::sqrt(3.);
        for (const std::vector<int>& cell : cells)
            for (const auto& [r, s] : {std::pair{-p, -p}, {p, -p}, {p, p}, {-p, p}}) {
                const auto x = [&](std::size_t i) { return place(cell[i]); };
                const Vec3 by_r = 0.25 * ((1 - s) * (x(1) - x(0)) + (1 + s) * (x(2) - x(3)));
                const Vec3 by_s = 0.25 * ((1 - r) * (x(3) - x(0)) + (1 + r) * (x(2) - x(1)));
                const Vec3 here = by_r.cross(by_s).norm() * force;
                push(cell[0], 0.25 * (1 - r) * (1 - s) * here);
                push(cell[1], 0.25 * (1 + r) * (1 - s) * here);
                push(cell[2], 0.25 * (1 + r) * (1 + s) * here);
                push(cell[3], 0.25 * (1 - r) * (1 + s) * here);
            }
    }

    [[nodiscard]] Numbering numbering() const {
        return {.nodes = static_cast<int>(rest.nodes.size()),
                .scalars = static_cast<int>(rest.scalars.size())};
    }
    [[nodiscard]] Shell shell(std::size_t cell) const {
        std::vector<Frame> own_frames;
        std::vector<ShellCorner> own_corners;
        for (const int corner : cells[cell]) {
            own_frames.push_back(frames[static_cast<std::size_t>(corner)]);
            own_corners.push_back(corners[static_cast<std::size_t>(corner)]);
        }
        return Shell(own_frames, own_corners, direction, wall, drilling);
    }
    [[nodiscard]] System::Elements shells() const {
        System::Elements all;
        for (std::size_t i = 0; i < cells.size(); ++i) all.push_back(std::make_shared<Shell>(shell(i)));
        return all;
    }
};

/// A grid of nu × nv elements; corner (i, j) lies at (i/nu, j/nv).
struct ShellGrid : ShellScene {
    int nu = 0, nv = 0;

    [[nodiscard]] int at(int i, int j) const { return i * (nv + 1) + j; }
    [[nodiscard]] std::vector<int> row(int i) const {  ///< at constant u
        std::vector<int> all;
        for (int j = 0; j <= nv; ++j) all.push_back(at(i, j));
        return all;
    }
    [[nodiscard]] std::vector<int> column(int j) const {  ///< at constant v
        std::vector<int> all;
        for (int i = 0; i <= nu; ++i) all.push_back(at(i, j));
        return all;
    }
    template <class Some>
    void hold_all(const std::vector<int>& chain, const Some& freedoms) {
        for (const int corner : chain) hold(corner, freedoms);
    }
    void hold_all(const std::vector<int>& chain, Freedoms freedoms) { hold_all<Freedoms>(chain, freedoms); }
};

inline ShellGrid make_grid(int nu, int nv, const WallStiffness& wall, const Surface& surface) {
    ShellGrid grid{{.wall = wall}, nu, nv};
    for (int i = 0; i <= nu; ++i)
        for (int j = 0; j <= nv; ++j)
            grid.add_corner(surface(static_cast<double>(i) / nu, static_cast<double>(j) / nv));
    for (int i = 0; i < nu; ++i)
        for (int j = 0; j < nv; ++j)
            grid.cells.push_back(
                {grid.at(i, j), grid.at(i + 1, j), grid.at(i + 1, j + 1), grid.at(i, j + 1)});
    return grid;
}

/// In the x-y plane, u along x.
inline Surface flat(double length, double width) {
    return [=](double u, double v) { return SurfacePoint{{u * length, v * width, 0}, Vec3::UnitZ()}; };
}

/// Increments of all freedoms under the loads and under increments given to held freedoms, to first order.
inline VecX linear_response(const ShellScene& scene, const VecX& given = {}) {
    const System system(scene.numbering(), scene.shells());
    Workspace w(system);
    assemble(system, scene.rest, w.gradient, w.sizes, w.tangent);
    if (!w.factor.factor(w.tangent, scene.held)) throw std::runtime_error("free to move");
    VecX force = VecX::Zero(system.numbering().size());
    for (std::size_t i = 0; i < scene.loads.size(); ++i)
        force.segment<6>(6 * static_cast<int>(i)) = scene.loads[i];
    if (!given.size()) return w.factor.solve(force);
    return given + w.factor.solve(force - w.tangent.times(given));
}

inline Vec3 displacement(const VecX& response, int corner) {
    return response.segment<3>(6 * corner);
}

/// A scene with its forces (no moments) as dead loads times a factor.
class LoadedShells {
public:
    explicit LoadedShells(const ShellScene& scene, System::Elements more = {})
        : scene_(scene), system_(make(scene, std::move(more))), workspace_(system_), state_(scene.rest) {}

    /// The equilibrium under another factor, from the one before.
    const Equilibrium& under(double factor) {
        std::size_t place = scene_.cells.size();
        for (std::size_t i = 0; i < scene_.loads.size(); ++i)
            if (!scene_.loads[i].isZero(0))
                system_.replace(place++, std::make_shared<DeadForce>(
                                             scene_.frames[i], Vec3(factor * scene_.loads[i].head<3>())));
        last_ = found(find_equilibrium(system_, state_, scene_.held, workspace_));
        state_ = last_.state;
        return last_;
    }
    [[nodiscard]] Vec3 displacement(int corner) const {
        return pose(scene_.frames[static_cast<std::size_t>(corner)], state_).position - scene_.place(corner);
    }
    [[nodiscard]] const State& state() const { return state_; }
    [[nodiscard]] const System& system() const { return system_; }
    [[nodiscard]] long iterations() const { return workspace_.iterations; }
    void start_from(const State& state) { state_ = state; }
    void replace(std::size_t index, std::shared_ptr<const Element> element) {
        system_.replace(index, std::move(element));
    }

private:
    static System make(const ShellScene& scene, System::Elements more) {
        System::Elements all = scene.shells();
        for (std::size_t i = 0; i < scene.loads.size(); ++i)
            if (!scene.loads[i].isZero(0))
                all.push_back(std::make_shared<DeadForce>(scene.frames[i], Vec3::Zero()));
        for (auto& element : more) all.push_back(std::move(element));
        return System(scene.numbering(), std::move(all));
    }

    ShellScene scene_;
    System system_;
    Workspace workspace_;
    State state_;
    Equilibrium last_;
};

}  // namespace limbwright::testing
