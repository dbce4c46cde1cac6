#include "models/bow/cam_keys.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "models/bow/table_in.hpp"

namespace limbwright::models::cam_keys_test {
namespace {

const std::string cam_text = R"([cam]
hub = "26 mm"
stop_stiffness = "500 N m/rad"
[cam.string]
circle = { centre = ["3 mm", "-8 mm"], radius = "1.5 in" }
lateral = "-2 mm"
anchor = "1 rad"
)";

Cam cam_in(Document& document, bool idler, const std::filesystem::path& folder = {}) {
    TableIn file(TableReader(document), document.complaints(), folder);
    Cam cam;
    file.table({"cam"}, Form::section, [&](PartTable& table) { describe(table, cam, idler); });
    return cam;
}

TEST(CamKeys, ACamIsReadIntoItsNumbers) {
    Document document(cam_text, "f.toml");
    const Cam cam = cam_in(document, false);
    EXPECT_TRUE(document.complaints().all().empty());
    EXPECT_EQ(cam.hub, 26);
    EXPECT_EQ(cam.stop_stiffness, 5e5);
    EXPECT_FALSE(cam.stop);
    EXPECT_EQ(cam.string.circle->centre, Vec2(3, -8));
    EXPECT_DOUBLE_EQ(cam.string.circle->radius, 38.1);
    EXPECT_EQ(cam.string.lateral, -2);
    EXPECT_EQ(cam.string.anchor, 1);
    EXPECT_FALSE(cam.take_up);
    EXPECT_FALSE(cam.let_out);
}

TEST(CamKeys, EveryMistakeLeavesAComplaintAndTheRestIsRead) {
    Document document("[cam]\nhub = 26\n[cam.string]\ncircle = { centre = [\"3 mm\"], radius = \"-4 mm\" }\n",
                      "f.toml");
    const Cam cam = cam_in(document, false);
    EXPECT_TRUE(std::isnan(cam.hub));
    ASSERT_TRUE(cam.string.circle);
    EXPECT_TRUE(std::isnan(cam.string.circle->radius));
    EXPECT_EQ(document.complaints().all().size(), 4u);  // hub, centre, radius, and the missing anchor
}

TEST(CamKeys, AGrooveFileThatIsNotThereIsAComplaintAboutItsKey) {
    Document document("[cam]\nhub = \"26 mm\"\n[cam.string]\nanchor = \"0 deg\"\ntraced = \"none.csv\"\n",
                      "f.toml");
    (void)cam_in(document, false, "/nowhere");
    ASSERT_EQ(document.complaints().all().size(), 1u);
    EXPECT_EQ(sentence(document.complaints().all()[0]),
              "f.toml:5:10: cam.string.traced must name a file beside the bow file, but /nowhere/none.csv "
              "cannot be "
              "read");
}

TEST(CamKeys, AnIdlerNeedsNoAnchor) {
    Document document(
        "[cam]\nhub = \"26 mm\"\n[cam.string]\ncircle = { centre = [\"0 mm\", \"0 mm\"], radius = \"20 mm\" "
        "}\n",
        "f.toml");
    const Cam idler = cam_in(document, true);
    EXPECT_TRUE(document.complaints().all().empty());
    EXPECT_EQ(idler.string.anchor, 0);
}

}  // namespace
}  // namespace limbwright::models::cam_keys_test
