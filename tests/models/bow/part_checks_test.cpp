#include "models/bow/part_checks.hpp"

#include <gtest/gtest.h>

#include <memory>

#include "models/bow/bow_file.hpp"
#include "tests/models/bow/bow_texts.hpp"

namespace limbwright::models::part_checks_test {
namespace {

/// What reading the bow of shells says when one passage of its file is changed.
std::string said_with(std::string_view from, std::string_view to) {
    try {
        static_cast<void>(bow_from_toml(replaced(laminated_bow_text, from, to), "b.toml"));
    } catch (const InputError& error) {
        return error.what();
    }
    return "nothing";
}

struct Mistake {
    const char* from;
    const char* to;
    const char* line;
};

class OneMistakeInAPart : public ::testing::TestWithParam<Mistake> {};

TEST_P(OneMistakeInAPart, IsToldWithItsPlaceAndWhatIsWanted) {
    EXPECT_EQ(said_with(GetParam().from, GetParam().to), GetParam().line);
}

// clang-format off
INSTANTIATE_TEST_SUITE_P(BowFile, OneMistakeInAPart, ::testing::Values(
    Mistake{"shells = 50", "shells = 1", "b.toml:10:10: riser.shells must be a whole number between 2 and 1000, but is 1"},
    Mistake{"shells_across = 5", "shells_across = 50", "b.toml:11:17: riser.shells_across must be a whole number between 2 and 40, but is 50"},
    Mistake{"shells_across = 6", "shells_across = 7", "b.toml:43:17: limb.shells_across must be even, for nodes on the limb's centre line, but is 7"},
    Mistake{"shells_across = 6", "shells_across = 42", "b.toml:43:17: limb.shells_across must be a whole number between 2 and 40, but is 42"},
    Mistake{"shells_across = 6", "shell_across = 6", "b.toml:43:1: limb.shell_across is not a known key; did you mean limb.shells_across?"},
    Mistake{"model = \"shell\"\nshells = 30", "model = \"shells\"\nshells = 30", R"(b.toml:41:9: limb.model must be one of "beam", "shell", but is "shells")"},
    Mistake{"model = \"shell\"\nshells = 50", "model = \"beam\"\nmesh = \"riser.vtu\"\nshells = 50", "b.toml:10:8: riser.mesh needs model = \"shell\"\nb.toml:13:12: riser.cut_outs must be left out beside a mesh, which brings its own openings"},
    Mistake{"model = \"shell\"\nshells = 30", "model = \"beam\"\nmesh = \"limb.vtu\"\nshells = 30", R"(b.toml:42:8: limb.mesh needs model = "shell")"},
    Mistake{"model = \"shell\"\nshells = 30", "model = \"shel\"\nmesh = \"limb.vtu\"\nshells = 30", R"(b.toml:41:9: limb.model must be one of "beam", "shell", but is "shel")"},
    Mistake{"shells = 30", "shells = 30\nmesh = 3", "b.toml:43:8: limb.mesh must be a text in quotes, but is 3"},
    Mistake{"from = \"60 mm\", ", "", R"(b.toml:13:5: riser.cut_outs[0].from is missing; it must be a length such as "45 mm" or "1.75 in")"},
    Mistake{"from = \"60 mm\"", "from = 60", R"(b.toml:13:14: riser.cut_outs[0].from needs a unit, such as "45 mm" or "1.75 in", but is 60)"},
    Mistake{"from = \"60 mm\"", "from = \"140 mm\"", "b.toml:13:29: riser.cut_outs[0].to must be above from, which is 140 mm, but is 140 mm"},
    Mistake{"behind = 0.25", "behind = -0.25", "b.toml:13:47: riser.cut_outs[0].behind must lie between 0 and 1, but is -0.25"},
    Mistake{"behind = 0.25", "behind = 0.75", "b.toml:13:61: riser.cut_outs[0].front must be above behind, which is 0.75, but is 0.75"},
    Mistake{"behind = 0.25, front = 0.75", "behind = 0, front = 1", "b.toml:13:5: riser.cut_outs[0] must leave material behind it or in front of it: at a height of 60 mm the cut-outs take the whole depth"},
    Mistake{"behind = 0.25, front = 0.75", "behind = 0", "b.toml:13:5: riser.cut_outs[0] must leave material behind it or in front of it: at a height of 60 mm the cut-outs take the whole depth"},
    Mistake{"to = \"140 mm\"", "to = \"250 mm\"", "b.toml:13:5: riser.cut_outs[0] must lie within the riser, whose heights go from -250 mm to 250 mm, but is from 60 mm to 250 mm"},
    Mistake{"from = \"-6 in\"", "from = \"-250 mm\"", "b.toml:14:5: riser.cut_outs[1] must lie within the riser, whose heights go from -250 mm to 250 mm, but is from -250 mm to -100 mm"},
    Mistake{"to = \"-100 mm\", front = 0.5", "to = \"61 mm\", front = 0.26", "b.toml:14:5: riser.cut_outs[1] must not overlap riser.cut_outs[0]"},
    Mistake{"cut_outs = [", "cut_outs = [ 3,", "b.toml:12:14: riser.cut_outs[0] must be a table { ... }, but is 3"},
    Mistake{"{ lamina = \"core\" }", "{ lamina = \"cork\" }", R"(b.toml:46:16: limb.plies[1].lamina must name one of the laminae "carbon", "core", "glass", but is "cork")"},
    Mistake{"{ lamina = \"core\" }", "{ }", "b.toml:46:5: limb.plies[1].lamina is missing; it must be a text in quotes"},
    Mistake{"angle = \"30 deg\"", "angle = 30", R"(b.toml:45:33: limb.plies[0].angle needs a unit, such as "2.5 deg" or "0.04 rad", but is 30)"},
    Mistake{"angle = \"30 deg\"", "angle = \"91 deg\"", "b.toml:45:33: limb.plies[0].angle must lie between -90 deg and 90 deg, but is 91 deg"},
    Mistake{"thickness = \"0.8 mm\"", "thickness = \"0 mm\"", "b.toml:45:55: limb.plies[0].thickness must lie between 0.01 mm and 25 mm, but is 0 mm"},
    Mistake{"thickness = \"0.8 mm\"", "thickness = \"6.5 mm\"", "b.toml:44:9: limb.plies must leave room for the core between those of given thickness: they add up to 7.008 mm, but limb.stations[2] is 7 mm thick"},
    Mistake{", thickness = \"0.8 mm\"", "", "b.toml:46:5: limb.plies[1].thickness is missing; only one ply, the core, may leave it out, and limb.plies[0] does"},
    Mistake{"{ lamina = \"core\" }", "{ lamina = \"core\", thickness = \"6.5 mm\" }", "b.toml:44:9: limb.plies must add up to the limb's thickness everywhere, unless one of them, the core, leaves its own out: they add up to 7.808 mm, but limb.stations[2] is 7 mm thick"},
    Mistake{"{ lamina = \"core\" }", "{ lamina = \"core\", thickness = \"5 mm\" }", "b.toml:44:9: limb.plies must add up to the limb's thickness everywhere, unless one of them, the core, leaves its own out: they add up to 6.308 mm, but limb.stations[0] is 10 mm thick"},
    Mistake{"shells = 30", "shells = 30\nmaterial = { youngs_modulus = \"45 GPa\", shear_modulus = \"4 GPa\" }", "b.toml:43:12: limb.material must be left out beside plies, which are what the limb is made of"},
    Mistake{"plies = [", "plys = [", "b.toml:33:1: limb needs a material, plies or a spring_rate\nb.toml:44:1: limb.plys is not a known key; did you mean limb.plies?"},
    Mistake{"across = \"12 GPa\"", "acros = \"12 GPa\"", "b.toml:128:1: lamina.glass.acros is not a known key; did you mean lamina.glass.across?"}
));
// clang-format on

TEST(PartChecks, ABowOfShellsIsSound) {
    EXPECT_EQ(said_with("fill", "fill"), "nothing");
}

TEST(PartChecks, PliesGoWithASpringRate) {
    EXPECT_EQ(said_with("shells = 30", "shells = 30\nspring_rate = \"30 lbf/in\""), "nothing");
}

TEST(PartChecks, PliesWithoutAnyLaminaAreToldThatThereIsNone) {
    std::string text = laminated_bow_text.substr(0, laminated_bow_text.find("\n[lamina.glass]"));
    try {
        static_cast<void>(bow_from_toml(text, "b.toml"));
        FAIL();
    } catch (const InputError& error) {
        ASSERT_EQ(error.complaints().size(), 3u);
        EXPECT_EQ(sentence({{}, {}, error.complaints()[0].wanted, error.complaints()[0].found}),
                  "must name a table [lamina.NAME], of which there is none, but is \"glass\"");
    }
}

TEST(PartChecks, PliesThatFillALimbOfOneThicknessNeedNoCore) {
    Bow bow = bow_from_toml(laminated_bow_text, "b.toml");
    bow.limb.plies[1].thickness = 5;
    for (LimbStation& station : bow.limb.stations) station.thickness = 0.8 + 5 + 0.508;
    Complaints complaints([](std::string_view) { return Place{}; });
    check_limb(bow.limb, bow.layout.pairing, complaints);
    EXPECT_TRUE(complaints.all().empty());
}

TEST(PartChecks, CutOutsMayStandSideBySideAsLongAsSomeDepthIsLeft) {
    const std::string_view lower = "to = \"-100 mm\", front = 0.5";
    EXPECT_EQ(said_with(lower, "to = \"100 mm\", front = 0.25"), "nothing");
    EXPECT_EQ(said_with(lower,
                        "to = \"-100 mm\", front = 0.5 }, { from = \"-120 mm\", to = \"0 mm\", behind = 0.5"),
              "b.toml:14:54: riser.cut_outs[2] must leave material behind it or in front of it: at a height "
              "of -120 "
              "mm the cut-outs take the whole depth");
}

std::shared_ptr<const meshes::Surface> surface_with(const std::vector<std::string>& sets) {
    meshes::Surface surface;
    for (const std::string& name : sets) surface.sets[name] = {0};
    return std::make_shared<const meshes::Surface>(surface);
}

std::string said(const Complaints& complaints) {
    std::string text;
    for (const Complaint& complaint : complaints.all()) text += sentence(complaint) + "\n";
    return text;
}

std::string limb_said(LimbKind kind, const std::vector<std::string>& sets) {
    Bow bow = bow_from_toml(laminated_bow_text, "b.toml");
    bow.limb.kind = kind;
    bow.limb.fork = 60;
    bow.limb.prong_width = 16;
    bow.limb.mesh = PartMesh{"limb.vtu", surface_with(sets)};
    Complaints complaints([](std::string_view) { return Place{}; });
    check_limb(bow.limb, {50, 50, 50, 50}, complaints);
    return said(complaints);
}

std::string riser_said(GuideKind guide, const std::vector<std::string>& sets) {
    Riser riser = bow_from_toml(laminated_bow_text, "b.toml").riser;
    riser.cut_outs.clear();
    riser.mesh = PartMesh{"riser.vtu", surface_with(sets)};
    Complaints complaints([](std::string_view) { return Place{}; });
    check_riser(riser, guide, complaints);
    return said(complaints);
}

TEST(PartChecks, AMeshOfASplitLimbNeedsItsRootAndItsTip) {
    EXPECT_EQ(limb_said(LimbKind::split, {"root", "tip"}), "");
    EXPECT_EQ(limb_said(LimbKind::split, {"root", "left tip"}),
              "limb.mesh must hold the node set \"tip\", but holds \"left tip\", \"root\"\n");
}

TEST(PartChecks, AMeshOfASolidLimbNeedsBothTips) {
    EXPECT_EQ(limb_said(LimbKind::solid, {"root", "left tip", "right tip"}), "");
    EXPECT_EQ(limb_said(LimbKind::solid, {}),
              "limb.mesh must hold the node sets \"root\", \"left tip\", \"right tip\", but holds none\n");
}

TEST(PartChecks, AMeshOfARiserNeedsASetForAllThatItCarries) {
    EXPECT_EQ(riser_said(GuideKind::rod, {"pocket top", "pocket bottom", "grip", "guide"}), "");
    EXPECT_EQ(riser_said(GuideKind::none, {"pocket top", "pocket bottom", "grip"}), "");
    EXPECT_EQ(riser_said(GuideKind::rod, {"pocket top", "pocket bottom", "grip"}),
              "riser.mesh must hold the node set \"guide\", but holds \"grip\", \"pocket bottom\", \"pocket "
              "top\"\n");
}

TEST(PartChecks, ASetWithoutNodesIsNone) {
    Bow bow = bow_from_toml(laminated_bow_text, "b.toml");
    meshes::Surface surface = *surface_with({"root"});
    surface.sets["tip"] = {};
    bow.limb.mesh = PartMesh{"limb.vtu", std::make_shared<const meshes::Surface>(surface)};
    Complaints complaints([](std::string_view) { return Place{}; });
    check_limb(bow.limb, bow.layout.pairing, complaints);
    EXPECT_EQ(said(complaints), "limb.mesh must hold the node set \"tip\", but holds \"root\"\n");
}

TEST(PartChecks, AMeshBringsItsOwnOpenings) {
    Riser riser = bow_from_toml(laminated_bow_text, "b.toml").riser;
    riser.mesh = PartMesh{"riser.vtu", surface_with({"pocket top", "pocket bottom", "grip"})};
    Complaints complaints([](std::string_view) { return Place{}; });
    check_riser(riser, GuideKind::none, complaints);
    EXPECT_EQ(said(complaints),
              "riser.cut_outs must be left out beside a mesh, which brings its own openings\n");
}

}  // namespace
}  // namespace limbwright::models::part_checks_test
