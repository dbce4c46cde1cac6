#pragma once

#include <Eigen/Geometry>
#include <string>
#include <vector>

#include "postproc/output/data_tree.hpp"
#include "solver/numbers/algebra.hpp"

/// A whole draw as plain values: what went in, what came out. Enough to make every table and picture again.
namespace limbwright::postproc {

/// One equilibrium, in the world's axes.
struct StateRecord {
    double draw = 0;                            ///< nocking point to pivot point of the grip [mm]
    std::vector<solver::Vec3> positions;        ///< of the nodes [mm]
    std::vector<Eigen::Quaterniond> rotations;  ///< of the nodes
    std::vector<solver::Vec3> points;           ///< [mm]
    std::vector<double> scalars;                ///< angles [rad] and slides [mm]
    double residual = 0;                        ///< of the equations of equilibrium, as the solver reports it
    int iterations = 0;
    int negative_pivots = 0;  ///< above zero: this state is not stable
};

/// One measure over the states; NaN where it is not defined.
struct MeasureRecord {
    std::string name;
    std::string unit;
    std::string definition;
    std::vector<double> values;  ///< one for each state
};

struct DrawRecord {
    std::string limbwright_version;
    std::string bow_file;         ///< its text, as it was read
    std::string resolved_values;  ///< text: everything as the program understood it, defaults included
    std::vector<std::string> node_names, point_names, scalar_names;
    std::vector<MeasureRecord> measures;
    std::vector<StateRecord> states;
};

/// As it is filed:
///
///     /                attributes limbwright_version, schema_version
///     /input           bow_file, resolved_values                        texts
///     /measures/<name> one number a state; attributes unit, definition
///     /states          draw, residual, iterations, negative_pivots      (state)
///                      positions (state, node, 3), quaternions (state, node, 4: w x y z),
///                      points (state, point, 3), scalars (state, scalar), and the names of nodes, points,
///                      scalars
///
/// @throws std::invalid_argument if a state or a measure has another length than the names or the states ask
/// for
[[nodiscard]] Group to_tree(const DrawRecord& record);

}  // namespace limbwright::postproc
