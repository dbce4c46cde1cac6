#include "postproc/scene/bow_views.hpp"

#include <gtest/gtest.h>

#include "tests/postproc/outside.hpp"
#include "tests/support/piece_check.hpp"
#include "tests/support/small_bow.hpp"

namespace limbwright::postproc::bow_views_test {
namespace {

using testing::extent;
using testing::piece_of;

struct Drawn {
    models::StrungBow strung = testing::strung(testing::small_uneven_bow());
    models::Draw draw = models::draw(strung, {.full_draw = {}, .states = 3, .path = {}});
};

const Drawn& uneven() {
    static const Drawn drawn;
    return drawn;
}

TEST(BowViews, TheSideViewShowsBraceAndFullDrawWithTheRiserUpright) {
    const BowPicture picture = side_view(uneven().strung, uneven().draw);
    ASSERT_EQ(picture.scenes.size(), 2U);
    const auto nock_height = [&](std::size_t i) {
        return piece_of(picture.scenes[i].scene.pieces, "arrow").points.front().z();
    };
    EXPECT_NEAR(nock_height(0), 20, 1e-6);  // as measured at brace, above the pivot point along the riser
    EXPECT_GT(extent(piece_of(picture.scenes[0].scene.pieces, "arrow"), 0).low, -200);
    EXPECT_LT(extent(piece_of(picture.scenes[1].scene.pieces, "arrow"), 0).low, -590);
}

TEST(BowViews, FromBehindOnlyWhatIsSidewaysIsEnlarged) {
    const BowPicture plain = view_from_behind(uneven().strung, uneven().draw, 1);
    const BowPicture wide = view_from_behind(uneven().strung, uneven().draw, 5);
    const std::vector<Vec3>& a = piece_of(plain.scenes[1].scene.pieces, "cam top string track").points;
    const std::vector<Vec3>& b = piece_of(wide.scenes[1].scene.pieces, "cam top string track").points;
    for (std::size_t i = 0; i < a.size(); ++i) EXPECT_EQ(b[i], Vec3(a[i].x(), 5 * a[i].y(), a[i].z()));
    EXPECT_NE(wide.title.find("× 5"), std::string::npos);
}

TEST(BowViews, PicturesAndPlotsAreWellFormed) {
    const Drawn& bow = uneven();
    const std::vector<double> draws = draws_of(bow.draw);
    for (const std::string& svg :
         {to_svg(side_view(bow.strung, bow.draw)), to_svg(view_from_behind(bow.strung, bow.draw)),
          to_svg(force_draw_plot(bow.draw)), to_svg(nock_travel_plot(draws, draws, draws)),
          to_svg(cam_angles_plot(draws, {draws, draws}, {draws, draws}))}) {
        const tests::Outcome outcome = tests::parsed_as_xml(svg);
        EXPECT_TRUE(outcome.succeeded) << outcome.output;
    }
}

TEST(BowViews, TheForceDrawPlotTellsPeakHoldingWeightAndLetOff) {
    models::Draw draw;
    for (const double force : {0., 200., 250., 50.})
        draw.states.push_back({.draw = 100, .state = {}, .force = force});
    const Panel panel = force_draw_plot(draw).panels.at(0);
    EXPECT_EQ(panel.title, "Peak 250 N (56.2 lbf), holding 50 N (11.2 lbf), let-off 80 %");
    EXPECT_EQ(panel.curves.at(0).y, (std::vector<double>{0, 200, 250, 50}));
}

TEST(BowViews, ADrawWithoutStatesStillMakesPictures) {
    EXPECT_TRUE(side_view(uneven().strung, {}).scenes.empty());
    EXPECT_NO_THROW((void)to_svg(force_draw_plot({})));
}

TEST(BowViews, NockTravelBeginsAtZero) {
    const Plot plot = nock_travel_plot({180, 400, 700}, {1, 2, -4}, {20, 21, 25});
    EXPECT_EQ(plot.panels.at(0).curves.at(0).y, (std::vector<double>{0, 1, -5}));
    EXPECT_EQ(plot.panels.at(1).curves.at(0).y, (std::vector<double>{0, 1, 5}));
}

TEST(BowViews, AnIdlersAnglesAreLeftOut) {
    const Plot plot = cam_angles_plot({180, 400}, {{}, {1, 2}}, {{}, {0, 1}});
    for (const Panel& panel : plot.panels) {
        ASSERT_EQ(panel.curves.size(), 1U);
        EXPECT_EQ(panel.curves[0].name, "bottom cam");
    }
}

}  // namespace
}  // namespace limbwright::postproc::bow_views_test
