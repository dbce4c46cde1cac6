#include "models/bow/table_in.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace limbwright::models::table_in_test {
namespace {

/// The table of such a file, and what reading it says.
struct Reading {
    Document document;
    std::filesystem::path folder = "folder";
    TableIn table{TableReader(document), document.complaints(), folder};

    explicit Reading(const std::string& text) : document(text, "f.toml") {}
    [[nodiscard]] std::string said() {
        std::string text;
        for (const Complaint& c : document.complaints().all())
            text += sentence({{}, c.key, c.wanted, c.found}) + "\n";
        return text;
    }
};

TEST(TableIn, AMissingKeyThatIsNeededIsAComplaintAndNaN) {
    Reading r("");
    double value = 3;
    r.table.quantity({"length"}, value, units::length, {});
    EXPECT_TRUE(std::isnan(value));
    EXPECT_TRUE(r.said().starts_with("length is missing; it must be a length")) << r.said();
}

TEST(TableIn, AMissingKeyThatMayBeMissingLeavesTheValue) {
    Reading r("");
    double value = 3;
    Vec3 point(1, 2, 3);
    std::string text = "before";
    r.table.quantity(if_any("length"), value, units::length, {});
    r.table.point(if_any("place"), point, {});
    r.table.text(if_any("name"), text);
    EXPECT_EQ(value, 3);
    EXPECT_EQ(point, Vec3(1, 2, 3));
    EXPECT_EQ(text, "before");
    EXPECT_EQ(r.said(), "");
}

TEST(TableIn, ATableThatMayBeMissingIsNotEntered) {
    Reading r("");
    bool entered = false;
    r.table.table(if_any("tips"), Form::section, [&](PartTable&) { entered = true; });
    EXPECT_FALSE(entered);
}

TEST(TableIn, AMissingTableThatIsNeededIsOneComplaint) {
    Reading r("");
    double value = 0;
    r.table.table({"axle"}, Form::section,
                  [&](PartTable& axle) { axle.quantity({"diameter"}, value, units::length, {}); });
    EXPECT_TRUE(std::isnan(value));
    EXPECT_EQ(r.said(), "axle is missing; it must be a table of its own\n");
}

TEST(TableIn, WhatIsLeftOutCountsAsComplainedAbout) {
    // so that checks, which find in it what is wrong with the table that it follows from, stay silent
    Reading r("");
    r.table.left_out("cam", "as the other");
    EXPECT_TRUE(r.document.complaints().about("cam.hub"));
    EXPECT_EQ(r.said(), "");
}

TEST(TableIn, AWrongChoiceListsThoseThereAre) {
    Reading r("model = \"solid\"");
    constexpr std::array names{Choice<PartModel>{"beam", PartModel::beam},
                               Choice<PartModel>{"shell", PartModel::shell}};
    PartModel model = PartModel::shell;
    r.table.choice<PartModel>(if_any("model"), model, names);
    EXPECT_EQ(model, PartModel::beam);
    EXPECT_EQ(r.said(), "model must be one of \"beam\", \"shell\", but is \"solid\"\n");
}

TEST(TableIn, AMissingMeshFileIsAComplaintAboutItsKeyThatNamesTheFile) {
    Reading r("mesh = \"none.vtu\"");
    std::optional<PartMesh> mesh;
    r.table.file(if_any("mesh"), mesh, PartModel::shell);
    ASSERT_TRUE(mesh);
    EXPECT_EQ(mesh->file, "none.vtu");
    EXPECT_FALSE(mesh->surface);
    EXPECT_TRUE(r.said().starts_with("mesh must name a file that holds a surface: ")) << r.said();
    EXPECT_NE(r.said().find("folder/none.vtu"), std::string::npos) << r.said();
}

TEST(TableIn, AMeshIsNotLoadedForBeams) {
    Reading r("mesh = \"none.vtu\"");
    std::optional<PartMesh> mesh;
    r.table.file(if_any("mesh"), mesh, PartModel::beam);
    EXPECT_EQ(mesh->file, "none.vtu");
    EXPECT_EQ(r.said(), "");
}

}  // namespace
}  // namespace limbwright::models::table_in_test
