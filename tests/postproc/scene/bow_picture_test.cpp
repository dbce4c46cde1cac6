#include "postproc/scene/bow_picture.hpp"

#include <gtest/gtest.h>

#include <regex>
#include <sstream>
#include <stdexcept>

#include "tests/postproc/outside.hpp"

namespace limbwright::postproc::bow_picture_test {
namespace {

using Points = std::vector<std::array<double, 2>>;

std::vector<Points> elements(const std::string& svg, const std::string& name) {
    std::vector<Points> all;
    const std::regex element("<" + name + " points=\"([^\"]*)\"");
    for (std::sregex_iterator it(svg.begin(), svg.end(), element), end; it != end; ++it) {
        all.emplace_back();
        std::istringstream points((*it)[1]);
        double x = 0, y = 0;
        for (char comma = 0; points >> x >> comma >> y;) all.back().push_back({x, y});
    }
    return all;
}

Piece cube(const std::string& name, const Vec3& middle, double edge) {
    const Vec3 half(0.5 * edge, 0, 0);
    return swept(name,
                 {{Vec3(middle - half), Mat3::Identity(), edge, edge},
                  {Vec3(middle + half), Mat3::Identity(), edge, edge}},
                 SectionShape::rectangle);
}

constexpr double rounding = 0.101;  // coordinates have one digit

TEST(BowPicture, FromTheRightShowsTheTargetToTheRightAndUpAtTheTop) {
    const Scene scene{0, {polyline("string", {{0, 5, 0}, {100, 5, 0}, {100, -9, 200}})}};
    const Points line =
        elements(to_svg({.title = "", .scenes = {{"", scene}}, .view = {}, .height = 400}), "polyline").at(0);
    const double scale = 2;  // 400 px for 200 mm
    EXPECT_NEAR(line[1][0] - line[0][0], 100 * scale, rounding);
    EXPECT_NEAR(line[1][1] - line[0][1], 0, rounding);
    EXPECT_NEAR(line[2][1] - line[1][1], -200 * scale, rounding);
}

TEST(BowPicture, FromBehindShowsTheArchersLeftToTheLeft) {
    const Scene scene{0, {polyline("string", {{0, 0, 0}, {50, 100, 0}, {0, 0, 100}})}};
    const BowPicture picture{.title = "", .scenes = {{"", scene}}, .view = {.looking = Vec3::UnitX()}};
    const Points line = elements(to_svg(picture), "polyline").at(0);
    EXPECT_LT(line[1][0], line[0][0]);
}

TEST(BowPicture, ShowsOnlyTheFacesOfAClosedPieceThatAreTurnedToTheEye) {
    const Scene scene{0, {cube("riser", {0, 0, 0}, 10)}};
    EXPECT_EQ(elements(to_svg({.title = "", .scenes = {{"", scene}}, .view = {}}), "polygon").size(), 1);
    EXPECT_EQ(elements(to_svg({.title = "", .scenes = {{"", scene}}, .view = {.looking = Vec3(1, 2, -1)}}),
                       "polygon")
                  .size(),
              3);
}

TEST(BowPicture, PaintsWhatIsNearerLater) {
    // Seen along +Y, the small cube at y = −50 stands before the large one.
    const Piece large = cube("riser", {0, 50, 0}, 40);
    const Piece small = cube("cam", {0, -50, 0}, 10);
    for (const Scene& scene : {Scene{0, {large, small}}, Scene{0, {small, large}}}) {
        const auto faces = elements(to_svg({.title = "", .scenes = {{"", scene}}, .view = {}}), "polygon");
        ASSERT_EQ(faces.size(), 2);
        const auto width = [](const Points& face) { return std::abs(face[0][0] - face[2][0]); };
        EXPECT_GT(width(faces[0]), width(faces[1]));
    }
}

TEST(BowPicture, TwoScenesStandSideBySideAtOneScale) {
    const Scene brace{0, {polyline("string", {{0, 0, 0}, {0, 0, 100}})}};
    const Scene full{500, {polyline("string", {{-50, 0, 0}, {-50, 0, 80}})}};
    const std::string svg = to_svg(
        {.title = "Two", .scenes = {{"brace", brace}, {"full draw", full}}, .view = {}, .height = 200});
    const auto lines = elements(svg, "polyline");
    ASSERT_EQ(lines.size(), 2);
    EXPECT_NEAR(lines[0][0][1] - lines[0][1][1], 200, rounding);
    EXPECT_NEAR(lines[1][0][1] - lines[1][1][1], 160, rounding);
    EXPECT_NEAR(lines[1][0][1], lines[0][0][1], rounding);  // one ground
    EXPECT_GT(lines[1][0][0], lines[0][0][0]);
    EXPECT_NE(svg.find(">full draw<"), std::string::npos);
}

TEST(BowPicture, LinesLieOnTopOfFaces) {
    const Scene scene{0, {polyline("string", {{-5, 90, 0}, {5, 90, 0}}), cube("riser", {0, 0, 0}, 10)}};
    const std::string svg = to_svg({.title = "", .scenes = {{"", scene}}, .view = {}});
    EXPECT_GT(svg.find("<polyline"), svg.rfind("<polygon"));
}

TEST(BowPicture, AWideSceneKeepsWithinTheWidth) {
    const Scene scene{0, {polyline("string", {{0, 0, 0}, {1000, 0, 10}})}};
    const BowPicture picture{.title = "", .scenes = {{"", scene}}, .view = {}, .width = 300};
    const Points line = elements(to_svg(picture), "polyline").at(0);
    EXPECT_NEAR(line[1][0] - line[0][0], 300, rounding);
}

TEST(BowPicture, IsWellFormedEvenWhenEmpty) {
    for (const Scene& scene : {Scene{}, Scene{0, {cube("<&\"", {0, 0, 0}, 3)}}}) {
        const tests::Outcome parsed =
            tests::parsed_as_xml(to_svg({.title = "<&>", .scenes = {{"a & b", scene}}, .view = {}}));
        EXPECT_TRUE(parsed.succeeded) << parsed.output;
    }
}

TEST(BowPicture, RefusesToLookAlongItsOwnUp) {
    EXPECT_THROW((void)to_svg({.title = "", .scenes = {}, .view = {.looking = Vec3::UnitZ()}}),
                 std::invalid_argument);
}

}  // namespace
}  // namespace limbwright::postproc::bow_picture_test
