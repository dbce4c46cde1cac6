#include "models/bow/part_keys.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "models/bow/bow_file.hpp"
#include "models/bow/table_in.hpp"
#include "tests/models/bow/bow_texts.hpp"

namespace limbwright::models::part_keys_test {
namespace {

Limb laminated_limb() {
    return bow_from_toml(laminated_bow_text, "b.toml").limb;
}

/// A part under `[x]`, read from those lines, and what reading says.
template <class Part>
struct Read {
    Part part{};
    std::string said;

    explicit Read(const std::string& lines) {
        Document document("[x]\n" + lines, "f.toml");
        const std::filesystem::path folder = "folder";
        TableIn file(TableReader(document), document.complaints(), folder);
        file.table({"x"}, Form::section, [&](PartTable& table) { describe(table, part); });
        document.complain_about_unknown_keys();
        for (const Complaint& complaint : document.complaints().all()) said += sentence(complaint) + "\n";
    }
};
using ReadLamina = Read<solver::Lamina>;

TEST(PartKeys, PliesAreReadFromTheTargetsSideToTheArchers) {
    const Limb limb = laminated_limb();
    EXPECT_EQ(limb.model, PartModel::shell);
    EXPECT_EQ(limb.shells, 30);
    EXPECT_EQ(limb.shells_across, 6);
    EXPECT_EQ(limb.material.along, 0);
    ASSERT_EQ(limb.plies.size(), 3u);
    EXPECT_EQ(limb.plies[0].lamina_name, "glass");
    EXPECT_DOUBLE_EQ(limb.plies[0].angle, std::numbers::pi / 6);
    EXPECT_EQ(limb.plies[0].thickness, 0.8);
    EXPECT_EQ(limb.plies[1].angle, 0);
    EXPECT_FALSE(limb.plies[1].thickness);
    EXPECT_EQ(limb.plies[2].angle, -0.5);
    EXPECT_DOUBLE_EQ(limb.plies[2].thickness.value(), 0.508);
}

TEST(PartKeys, EachPlyHoldsTheConstantsOfItsLamina) {
    const solver::Lamina carbon = laminated_limb().plies[2].lamina;
    EXPECT_EQ(carbon.along, 130000);
    EXPECT_EQ(carbon.across, 9000);
    EXPECT_EQ(carbon.poisson, 0.3);
    EXPECT_EQ(carbon.shear, 5000);
    EXPECT_EQ(carbon.shear_13, 4800);
    EXPECT_EQ(carbon.shear_23, 3100);
}

TEST(PartKeys, ALaminasShearThroughItsThicknessFollowsFromTheOtherModuli) {
    const solver::Lamina glass = laminated_limb().plies[0].lamina;
    EXPECT_EQ(glass.shear_13, glass.shear);
    EXPECT_DOUBLE_EQ(glass.shear_23, 12000 / 2.8);
}

TEST(PartKeys, TwoModuliMakeAnIsotropicLamina) {
    const solver::Lamina core = laminated_limb().plies[1].lamina;
    EXPECT_EQ(core.across, 3000);
    EXPECT_DOUBLE_EQ(core.poisson, 0.25);
    EXPECT_EQ(core.shear_13, 1200);
    EXPECT_EQ(core.shear_23, 1200);
}

TEST(PartKeys, TwoModuliThatNoIsotropicLaminaHasNeedAPoisson) {
    EXPECT_EQ(ReadLamina("youngs_modulus = \"10 GPa\"\nshear_modulus = \"0.8 GPa\"").said,
              "f.toml:1:1: x.poisson is missing; without across and poisson a lamina is isotropic, but "
              "youngs_modulus / (2 shear_modulus) - 1 is 5.25 and would have to lie between 0 and 0.5\n");
    const ReadLamina wood =
        ReadLamina("youngs_modulus = \"10 GPa\"\nshear_modulus = \"0.8 GPa\"\npoisson = 0.3");
    EXPECT_EQ(wood.said, "");
    EXPECT_EQ(wood.part.across, 10000);
    EXPECT_EQ(wood.part.poisson, 0.3);
}

TEST(PartKeys, AModulusAcrossNeedsAPoisson) {
    EXPECT_EQ(ReadLamina("youngs_modulus = \"3 GPa\"\nshear_modulus = \"1.2 GPa\"\nacross = \"2 GPa\"").said,
              "f.toml:1:1: x.poisson is missing; it must be a plain number\n");
}

TEST(PartKeys, ALaminasPoissonIsBoundedByItsModuli) {
    EXPECT_EQ(ReadLamina(
                  "youngs_modulus = \"4 GPa\"\nshear_modulus = \"1 GPa\"\nacross = \"16 GPa\"\npoisson = 0.6")
                  .said,
              "f.toml:5:11: x.poisson must be below 0.5, the square root of youngs_modulus over across, but "
              "is "
              "0.6\n");
}

TEST(PartKeys, EveryMistakeInALaminaLeavesAComplaint) {
    const ReadLamina wrong = ReadLamina(
        "youngs_modulus = 45\nshear_modulus = \"4.5 mm\"\nacross = \"12 MPa/m\"\n"
        "poisson = 1.2\nshear_13 = \"0.1 MPa\"\nshear_32 = \"3 GPa\"");
    EXPECT_TRUE(std::isnan(wrong.part.along));
    for (const char* key : {"youngs_modulus needs a unit", "shear_modulus must be", "across must be",
                            "poisson must lie between 0 and 0.9", "shear_13 must lie between",
                            "shear_32 is not a known key; did you mean x.shear_23?"})
        EXPECT_NE(wrong.said.find(std::string("x.") + key), std::string::npos) << wrong.said;
}

TEST(PartKeys, ALaminaThatNoPlyUsesIsReadAllTheSame) {
    const std::string text =
        laminated_bow_text + std::string("\n[lamina.spare]\nyoungs_modulus = \"3 GPa\"\n");
    try {
        (void)bow_from_toml(text, "b.toml");
        FAIL() << "nothing was said";
    } catch (const InputError& error) {
        EXPECT_NE(std::string(error.what()).find("lamina.spare.shear_modulus is missing"), std::string::npos)
            << error.what();
    }
}

TEST(PartKeys, AMaterialMayTellItsModulusAndContractionAcross) {
    const Read<Material> read(
        "youngs_modulus = \"45 GPa\"\nshear_modulus = \"4.5 GPa\"\nacross = \"12 GPa\"\npoisson = 0.26");
    EXPECT_EQ(read.said, "");
    EXPECT_EQ(read.part.across, 12000);
    EXPECT_EQ(read.part.poisson, 0.26);
}

TEST(PartKeys, AMaterialNeedsNothingAcross) {
    const Read<Material> read("youngs_modulus = \"45 GPa\"\nshear_modulus = \"4.5 GPa\"");
    EXPECT_EQ(read.said, "");
    EXPECT_FALSE(read.part.across);
    EXPECT_FALSE(read.part.poisson);
}

TEST(PartKeys, AMaterialsContractionIsBoundedByItsModuli) {
    EXPECT_EQ(
        Read<Material>("youngs_modulus = \"9 GPa\"\nshear_modulus = \"4.5 GPa\"\nacross = \"36 GPa\"\n"
                       "poisson = 0.5")
            .said,
        "f.toml:5:11: x.poisson must be below 0.5, the square root of youngs_modulus over across, but is "
        "0.5\n");
}

}  // namespace
}  // namespace limbwright::models::part_keys_test
