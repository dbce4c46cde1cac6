#include "models/bow/part_reader.hpp"

#include <gtest/gtest.h>

namespace limbwright::models::part_reader_test {
namespace {

/// What reading has said, without the places.
std::string said(Document& document) {
    std::string text;
    for (const Complaint& c : document.complaints().all())
        text += sentence({{}, c.key, c.wanted, c.found}) + "\n";
    return text;
}

TEST(PartReader, AMaterialMayTellItsModulusAndContractionAcross) {
    Document document(R"(youngs_modulus = "45 GPa"
shear_modulus = "4.5 GPa"
across = "12 GPa"
poisson = 0.26
)",
                      "f.toml");
    const Material material = material_in(TableReader(document));
    EXPECT_EQ(said(document), "");
    EXPECT_EQ(material.across, 12000);
    EXPECT_EQ(material.poisson, 0.26);
}

TEST(PartReader, AMaterialNeedsNothingAcross) {
    Document document("youngs_modulus = \"45 GPa\"\nshear_modulus = \"4.5 GPa\"", "f.toml");
    const Material material = material_in(TableReader(document));
    EXPECT_EQ(said(document), "");
    EXPECT_FALSE(material.across);
    EXPECT_FALSE(material.poisson);
}

TEST(PartReader, AMaterialsContractionIsBoundedByItsModuli) {
    Document document(R"(youngs_modulus = "9 GPa"
shear_modulus = "4.5 GPa"
across = "36 GPa"
poisson = 0.5
)",
                      "f.toml");
    static_cast<void>(material_in(TableReader(document)));
    EXPECT_EQ(said(document),
              "poisson must be below 0.5, the square root of youngs_modulus over across, but is 0.5\n");
}

TEST(PartReader, AWrongModelListsThoseThereAre) {
    Document document("model = \"solid\"", "f.toml");
    TableReader table(document);
    EXPECT_EQ(part_model_in(table), PartModel::beam);
    EXPECT_EQ(said(document), "model must be one of \"beam\", \"shell\", but is \"solid\"\n");
}

TEST(PartReader, AMissingMeshFileIsAComplaintAboutItsKeyThatNamesTheFile) {
    Document document("mesh = \"none.vtu\"", "f.toml");
    TableReader table(document);
    const std::optional<PartMesh> mesh = part_mesh_in(table, PartModel::shell, "folder");
    ASSERT_TRUE(mesh);
    EXPECT_EQ(mesh->file, "none.vtu");
    EXPECT_FALSE(mesh->surface);
    const std::string text = said(document);
    EXPECT_TRUE(text.starts_with("mesh must name a file that holds a surface: ")) << text;
    EXPECT_NE(text.find("folder/none.vtu"), std::string::npos) << text;
}

TEST(PartReader, AMeshIsNotReadForBeams) {
    Document document("mesh = \"none.vtu\"", "f.toml");
    TableReader table(document);
    EXPECT_EQ(part_mesh_in(table, PartModel::beam, "")->file, "none.vtu");
    EXPECT_EQ(said(document), "");
}

TEST(PartReader, WithoutTheKeyThereIsNoMesh) {
    Document document("", "f.toml");
    TableReader table(document);
    EXPECT_FALSE(part_mesh_in(table, PartModel::shell, ""));
}

}  // namespace
}  // namespace limbwright::models::part_reader_test
