#include "postproc/files/draw_record.hpp"

#include <fmt/format.h>

#include <stdexcept>

namespace limbwright::postproc {
namespace {

const std::string schema_version = "1";

void check(const std::string& what, std::size_t found, std::size_t wanted) {
    if (found != wanted)
        throw std::invalid_argument(fmt::format("draw record: {} of length {}, not {}", what, found, wanted));
}

void check(const DrawRecord& record) {
    for (const MeasureRecord& measure : record.measures)
        check("measure \"" + measure.name + "\"", measure.values.size(), record.states.size());
    for (const StateRecord& state : record.states) {
        check("positions", state.positions.size(), record.node_names.size());
        check("rotations", state.rotations.size(), record.node_names.size());
        check("points", state.points.size(), record.point_names.size());
        check("scalars", state.scalars.size(), record.scalar_names.size());
    }
}

void append(std::vector<double>& values, const solver::Vec3& v) {
    values.insert(values.end(), {v.x(), v.y(), v.z()});
}

Group states_group(const DrawRecord& record) {
    const std::size_t states = record.states.size();
    Numbers draw{
        "draw", "mm", "distance from the nocking point to the pivot point of the grip", {states}, {}};
    Numbers positions{"positions",
                      "mm",
                      "of the nodes, in the world: state, node, X Y Z",
                      {states, record.node_names.size(), 3},
                      {}};
    Numbers quaternions{"quaternions",
                        "",
                        "rotations of the nodes, in the world: state, node, w x y z",
                        {states, record.node_names.size(), 4},
                        {}};
    Numbers points{"points",
                   "mm",
                   "positions without a rotation, in the world: state, point, X Y Z",
                   {states, record.point_names.size(), 3},
                   {}};
    Numbers scalars{"scalars",
                    "rad, mm",
                    "angles [rad] and slides [mm]: state, scalar",
                    {states, record.scalar_names.size()},
                    {}};
    Numbers residual{
        "residual", "", "of the equations of equilibrium, scaled as the solver does", {states}, {}};
    Numbers iterations{"iterations", "", "Newton's steps", {states}, {}};
    Numbers pivots{
        "negative_pivots", "", "of the stiffness; above zero the state is not stable", {states}, {}};
    for (const StateRecord& state : record.states) {
        draw.values.push_back(state.draw);
        for (const solver::Vec3& p : state.positions) append(positions.values, p);
        for (const Eigen::Quaterniond& q : state.rotations)
            quaternions.values.insert(quaternions.values.end(), {q.w(), q.x(), q.y(), q.z()});
        for (const solver::Vec3& p : state.points) append(points.values, p);
        scalars.values.insert(scalars.values.end(), state.scalars.begin(), state.scalars.end());
        residual.values.push_back(state.residual);
        iterations.values.push_back(state.iterations);
        pivots.values.push_back(state.negative_pivots);
    }
    return {.name = "states",
            .attributes = {},
            .numbers = {draw, positions, quaternions, points, scalars, residual, iterations, pivots},
            .texts = {{"node_names", "in the order of positions and quaternions", true, record.node_names},
                      {"point_names", "in the order of points", true, record.point_names},
                      {"scalar_names", "in the order of scalars", true, record.scalar_names}},
            .groups = {}};
}

}  // namespace

Group to_tree(const DrawRecord& record) {
    check(record);
    Group input{.name = "input",
                .attributes = {},
                .numbers = {},
                .texts = {{"bow_file", "text of the bow file, as it was read", false, {record.bow_file}},
                          {"resolved_values",
                           "everything as it was understood, defaults included",
                           false,
                           {record.resolved_values}}},
                .groups = {}};
    Group measures{.name = "measures", .attributes = {}, .numbers = {}, .texts = {}, .groups = {}};
    for (const MeasureRecord& measure : record.measures)
        measures.numbers.push_back(
            {measure.name, measure.unit, measure.definition, {measure.values.size()}, measure.values});
    return {
        .name = "",
        .attributes = {{"limbwright_version", record.limbwright_version}, {"schema_version", schema_version}},
        .numbers = {},
        .texts = {},
        .groups = {std::move(input), std::move(measures), states_group(record)}};
}

}  // namespace limbwright::postproc
