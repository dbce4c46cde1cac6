#include "postproc/files/draw_record.hpp"

#include <gtest/gtest.h>

#include <stdexcept>

namespace limbwright::postproc::draw_record_test {
namespace {

DrawRecord two_states() {
    DrawRecord record{.limbwright_version = "1.2.3",
                      .bow_file = "name = \"b\"",
                      .resolved_values = "all of it",
                      .node_names = {"grip"},
                      .point_names = {"nock", "yoke"},
                      .scalar_names = {},
                      .measures = {},
                      .states = {}};
    record.measures = {{"draw force", "N", "along X", {0, 200}}};
    for (const double draw : {170.0, 600.0})
        record.states.push_back({.draw = draw,
                                 .positions = {{draw, 1, 2}},
                                 .rotations = {Eigen::Quaterniond(0.8, 0.6, 0, 0)},
                                 .points = {{3, 4, 5}, {6, 7, draw}},
                                 .scalars = {},
                                 .residual = 1e-9,
                                 .iterations = 4,
                                 .negative_pivots = 0});
    return record;
}

Numbers numbers(const Group& root, const std::string& group, const std::string& name) {
    for (const Group& child : root.groups)
        if (child.name == group)
            for (const Numbers& found : child.numbers)
                if (found.name == name) return found;
    throw std::out_of_range(name);
}

TEST(DrawRecord, StatesRunFirstThenNodesThenComponents) {
    const Group tree = to_tree(two_states());
    const Numbers points = numbers(tree, "states", "points");
    EXPECT_EQ(points.extents, (std::vector<std::size_t>{2, 2, 3}));
    EXPECT_EQ(points.values, (std::vector<double>{3, 4, 5, 6, 7, 170, 3, 4, 5, 6, 7, 600}));
    EXPECT_EQ(numbers(tree, "states", "scalars").extents, (std::vector<std::size_t>{2, 0}));
}

TEST(DrawRecord, QuaternionsBeginWithTheirScalarPart) {
    const Numbers q = numbers(to_tree(two_states()), "states", "quaternions");
    EXPECT_EQ(std::vector<double>(q.values.begin(), q.values.begin() + 4),
              (std::vector<double>{0.8, 0.6, 0, 0}));
}

TEST(DrawRecord, MeasuresKeepUnitAndDefinition) {
    const Numbers force = numbers(to_tree(two_states()), "measures", "draw force");
    EXPECT_EQ(force.unit, "N");
    EXPECT_EQ(force.definition, "along X");
    EXPECT_EQ(force.values, (std::vector<double>{0, 200}));
}

TEST(DrawRecord, VersionsStandAtTheRoot) {
    const Group tree = to_tree(two_states());
    EXPECT_EQ(tree.attributes.at(0).name, "limbwright_version");
    EXPECT_EQ(tree.attributes.at(0).value, "1.2.3");
    EXPECT_EQ(tree.attributes.at(1).name, "schema_version");
}

TEST(DrawRecord, RefusesLengthsThatDoNotAgree) {
    DrawRecord record = two_states();
    record.measures[0].values.pop_back();
    EXPECT_THROW((void)to_tree(record), std::invalid_argument);
    record = two_states();
    record.states[1].positions.clear();
    EXPECT_THROW((void)to_tree(record), std::invalid_argument);
}

}  // namespace
}  // namespace limbwright::postproc::draw_record_test
