#include "models/bow/limb_reader.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "models/bow/bow_file.hpp"
#include "tests/models/bow/bow_texts.hpp"

namespace limbwright::models::limb_reader_test {
namespace {

Limb laminated_limb() {
    return bow_from_toml(laminated_bow_text, "b.toml").limb;
}

struct ReadLamina {
    solver::Lamina lamina;
    std::string said;
};

/// The lamina "x" of those lines, and what reading them says.
ReadLamina lamina_of(const std::string& lines) {
    Document document("[lamina.x]\n" + lines, "f.toml");
    ReadLamina read{laminae_in(TableReader(document).table("lamina")).at("x"), {}};
    document.complain_about_unknown_keys();
    for (const Complaint& complaint : document.complaints().all()) read.said += sentence(complaint) + "\n";
    return read;
}

TEST(LimbReader, PliesAreReadFromTheTargetsSideToTheArchers) {
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

TEST(LimbReader, EachPlyHoldsTheConstantsOfItsLamina) {
    const solver::Lamina carbon = laminated_limb().plies[2].lamina;
    EXPECT_EQ(carbon.along, 130000);
    EXPECT_EQ(carbon.across, 9000);
    EXPECT_EQ(carbon.poisson, 0.3);
    EXPECT_EQ(carbon.shear, 5000);
    EXPECT_EQ(carbon.shear_13, 4800);
    EXPECT_EQ(carbon.shear_23, 3100);
}

TEST(LimbReader, ALaminasShearThroughItsThicknessFollowsFromTheOtherModuli) {
    const solver::Lamina glass = laminated_limb().plies[0].lamina;
    EXPECT_EQ(glass.shear_13, glass.shear);
    EXPECT_DOUBLE_EQ(glass.shear_23, 12000 / 2.8);
}

TEST(LimbReader, TwoModuliMakeAnIsotropicLamina) {
    const solver::Lamina core = laminated_limb().plies[1].lamina;
    EXPECT_EQ(core.across, 3000);
    EXPECT_DOUBLE_EQ(core.poisson, 0.25);
    EXPECT_EQ(core.shear_13, 1200);
    EXPECT_EQ(core.shear_23, 1200);
}

TEST(LimbReader, TwoModuliThatNoIsotropicLaminaHasNeedAPoisson) {
    EXPECT_EQ(
        lamina_of("youngs_modulus = \"10 GPa\"\nshear_modulus = \"0.8 GPa\"").said,
        "f.toml:1:1: lamina.x.poisson is missing; without across and poisson a lamina is isotropic, but "
        "youngs_modulus / (2 shear_modulus) - 1 is 5.25 and would have to lie between 0 and 0.5\n");
    const ReadLamina wood =
        lamina_of("youngs_modulus = \"10 GPa\"\nshear_modulus = \"0.8 GPa\"\npoisson = 0.3");
    EXPECT_EQ(wood.said, "");
    EXPECT_EQ(wood.lamina.across, 10000);
    EXPECT_EQ(wood.lamina.poisson, 0.3);
}

TEST(LimbReader, AModulusAcrossNeedsAPoisson) {
    EXPECT_EQ(lamina_of("youngs_modulus = \"3 GPa\"\nshear_modulus = \"1.2 GPa\"\nacross = \"2 GPa\"").said,
              "f.toml:1:1: lamina.x.poisson is missing; it must be a plain number\n");
}

TEST(LimbReader, ALaminasPoissonIsBoundedByItsModuli) {
    EXPECT_EQ(
        lamina_of("youngs_modulus = \"4 GPa\"\nshear_modulus = \"1 GPa\"\nacross = \"16 GPa\"\npoisson = 0.6")
            .said,
        "f.toml:5:11: lamina.x.poisson must be below 0.5, the square root of youngs_modulus over across, but "
        "is "
        "0.6\n");
}

TEST(LimbReader, EveryMistakeInALaminaLeavesAComplaint) {
    const ReadLamina wrong = lamina_of(
        "youngs_modulus = 45\nshear_modulus = \"4.5 mm\"\nacross = \"12 MPa/m\"\n"
        "poisson = 1.2\nshear_13 = \"0.1 MPa\"\nshear_32 = \"3 GPa\"");
    EXPECT_TRUE(std::isnan(wrong.lamina.along));
    for (const char* key : {"youngs_modulus needs a unit", "shear_modulus must be", "across must be",
                            "poisson must lie between 0 and 0.9", "shear_13 must lie between",
                            "shear_32 is not a known key; did you mean lamina.x.shear_23?"})
        EXPECT_NE(wrong.said.find(std::string("lamina.x.") + key), std::string::npos) << wrong.said;
}

TEST(LimbReader, ALaminaThatNoPlyUsesIsReadAllTheSame) {
    Document document("[lamina.spare]\nyoungs_modulus = \"3 GPa\"\n", "f.toml");
    EXPECT_EQ(laminae_in(TableReader(document).table("lamina")).size(), 1u);
    EXPECT_TRUE(document.complaints().about("lamina.spare.shear_modulus"));
}

}  // namespace
}  // namespace limbwright::models::limb_reader_test
