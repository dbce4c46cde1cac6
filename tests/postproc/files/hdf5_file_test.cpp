#include "postproc/files/hdf5_file.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "postproc/results/draw_results.hpp"
#include "tests/postproc/outside.hpp"
#include "tests/support/strung.hpp"

namespace limbwright::postproc::hdf5_file_test {
namespace {

using tests::content;
using tests::Outcome;
using tests::TemporaryFolder;

DrawRecord two_states() {
    DrawRecord record{.limbwright_version = "0.1.0",
                      .bow_file = "name = \"Übungsbogen\"\n[limb]\nwidth = \"38 mm\"\n",
                      .resolved_values = "limb.width 38 mm",
                      .node_names = {"grip", "axle top"},
                      .point_names = {"nock"},
                      .scalar_names = {},
                      .measures = {},
                      .states = {}};
    record.measures = {{"draw force", "N", "reaction along X", {0, 1.0 / 3.0}},
                       {"cam lean", "°", "left", {NAN, -0.5}}};
    for (const double draw : {170.0, 600.0})
        record.states.push_back(
            {.draw = draw,
             .positions = {{0, 0, 0}, {1, draw, 3}},
             .rotations = {Eigen::Quaterniond::Identity(), Eigen::Quaterniond(0.8, 0, 0.6, 0)},
             .points = {{-draw, 0, 0}},
             .scalars = {},
             .residual = 1e-10,
             .iterations = 5,
             .negative_pivots = draw > 170 ? 1 : 0});
    return record;
}

/// Python's h5py reads the file and checks it; false conditions end as an AssertionError with their line.
Outcome checked_by_h5py(const std::filesystem::path& file, const std::string& checks) {
    const TemporaryFolder folder;
    std::ofstream(folder / "check.py") << "import sys, math, numpy, h5py\nf = h5py.File(sys.argv[1], 'r')\n"
                                       << checks;
    return tests::run(fmt::format("/usr/bin/python3 {} {}", (folder / "check.py").string(), file.string()));
}

bool has_h5py() {
    return tests::run("/usr/bin/python3 -c 'import h5py'").succeeded;
}
bool has_h5dump() {
    return tests::run("h5dump --version").succeeded;
}

TEST(Hdf5File, AnotherReaderFindsTheRecordAsItWas) {
    ASSERT_TRUE(has_h5py()) << "the reader h5py is missing: install Debian's package python3-h5py";
    const TemporaryFolder folder;
    write_hdf5(folder / "draw.h5", to_tree(two_states()));
    const Outcome outcome = checked_by_h5py(folder / "draw.h5", R"(
assert f.attrs['limbwright_version'] == '0.1.0'
assert f.attrs['schema_version'] == '1'
assert f['input/bow_file'][()].decode() == 'name = "Übungsbogen"\n[limb]\nwidth = "38 mm"\n'
force = f['measures/draw force']
assert force.dtype == numpy.float64 and force.shape == (2,)
assert force[1] == 1 / 3
assert force.attrs['unit'] == 'N' and force.attrs['definition'] == 'reaction along X'
lean = f['measures/cam lean']
assert math.isnan(lean[0]) and lean[1] == -0.5 and lean.attrs['unit'] == '°'
s = f['states']
assert list(s['draw'][()]) == [170, 600]
assert s['positions'].shape == (2, 2, 3) and s['positions'][1, 1, 1] == 600
assert list(s['quaternions'][0, 1]) == [0.8, 0, 0.6, 0]
assert list(s['points'][1, 0]) == [-600, 0, 0]
assert s['scalars'].shape == (2, 0)
assert list(s['iterations'][()]) == [5, 5] and list(s['negative_pivots'][()]) == [0, 1]
assert s['residual'][0] == 1e-10
assert [n.decode() for n in s['node_names'][()]] == ['grip', 'axle top']
assert s['scalar_names'].shape == (0,)
)");
    EXPECT_TRUE(outcome.succeeded) << outcome.output;
}

TEST(Hdf5File, TheDrawIsTheNockingPointsDistanceFromThePivotPoint) {
    ASSERT_TRUE(has_h5py()) << "the reader h5py is missing: install Debian's package python3-h5py";
    const testing::Drawn& small = testing::even_bow();
    const TemporaryFolder folder;
    write_hdf5(folder / "draw.h5", to_tree(record_of(measured(small.strung, small.draw), "")));
    // The pivot point is the world's origin, and the nocking point is held at the bow's full draw, 600 mm.
    const Outcome outcome = checked_by_h5py(
        folder / "draw.h5", fmt::format(R"(
draw = f['states/draw']
assert draw.attrs['unit'] == 'mm'
assert draw.attrs['definition'] == 'distance from the nocking point to the pivot point of the grip'
assert list(draw[()]) == list(-f['states/scalars'][:, {}]), 'nocking point, X'
assert list(draw[()]) == list(f['measures/draw'][()])
assert draw[0] == {:.17g} and draw[-1] == 600
)",
                                        small.bow().nock[0].value, small.draw.states[0].draw));
    EXPECT_TRUE(outcome.succeeded) << outcome.output;
}

TEST(Hdf5File, TheDumpToolShowsValuesAndUnits) {
    ASSERT_TRUE(has_h5dump()) << "the reader h5dump is missing: install Debian's package hdf5-tools";
    const TemporaryFolder folder;
    write_hdf5(folder / "draw.h5", to_tree(two_states()));
    const Outcome dump = tests::run(
        fmt::format("h5dump -m %.17g -d '/measures/draw force' {}", (folder / "draw.h5").string()));
    EXPECT_TRUE(dump.succeeded);
    for (const char* part :
         {"H5T_IEEE_F64LE", "(1): 0.33333333333333331", "ATTRIBUTE \"unit\"", "(0): \"N\""})
        EXPECT_NE(dump.output.find(part), std::string::npos) << part << "\n" << dump.output;
}

TEST(Hdf5File, ASingleNumberHasNoExtents) {
    ASSERT_TRUE(has_h5py()) << "the reader h5py is missing: install Debian's package python3-h5py";
    const TemporaryFolder folder;
    Group root;
    root.numbers = {{"one", "mm", "", {}, {2.5}}};
    write_hdf5(folder / "one.h5", root);
    const Outcome outcome =
        checked_by_h5py(folder / "one.h5", "assert f['one'].shape == () and f['one'][()] == 2.5\n");
    EXPECT_TRUE(outcome.succeeded) << outcome.output;
}

TEST(Hdf5File, HoldsNoTimeStamps) {
    ASSERT_TRUE(has_h5py()) << "the reader h5py is missing: install Debian's package python3-h5py";
    const TemporaryFolder folder;
    write_hdf5(folder / "draw.h5", to_tree(two_states()));
    const Outcome outcome = checked_by_h5py(folder / "draw.h5", R"(
f.visititems(lambda name, o: exec('assert h5py.h5g.get_objinfo(o.id).mtime == 0, name', {'o': o, 'name': name, 'h5py': h5py}))
)");
    EXPECT_TRUE(outcome.succeeded) << outcome.output;
}

TEST(Hdf5File, TheSameTreeGivesTheSameBytes) {
    const TemporaryFolder folder;
    write_hdf5(folder / "a.h5", to_tree(two_states()));
    write_hdf5(folder / "b.h5", to_tree(two_states()));
    EXPECT_GT(content(folder / "a.h5").size(), 1000);
    EXPECT_EQ(content(folder / "a.h5"), content(folder / "b.h5"));
}

TEST(Hdf5File, AFailureHalfwayKeepsTheOldFile) {
    const TemporaryFolder folder;
    write_hdf5(folder / "draw.h5", to_tree(two_states()));
    const std::string old = content(folder / "draw.h5");
    Group root = to_tree(two_states());
    root.groups.back().numbers.back().values.pop_back();
    EXPECT_THROW(write_hdf5(folder / "draw.h5", root), std::invalid_argument);
    EXPECT_EQ(content(folder / "draw.h5"), old);
    EXPECT_EQ(folder.entries(), 1);
}

TEST(Hdf5File, RefusesNamesThatWouldOpenAnotherGroup) {
    const TemporaryFolder folder;
    Group root;
    root.numbers = {{"N/mm", "", "", {1}, {0}}};
    EXPECT_THROW(write_hdf5(folder / "file.h5", root), std::invalid_argument);
    EXPECT_EQ(folder.entries(), 0);
}

TEST(Hdf5File, RefusesANameTwice) {
    const TemporaryFolder folder;
    Group root;
    root.numbers = {{"lean", "", "", {1}, {0}}, {"lean", "", "", {1}, {0}}};
    EXPECT_THROW(write_hdf5(folder / "file.h5", root), std::runtime_error);
}

}  // namespace
}  // namespace limbwright::postproc::hdf5_file_test
