#include "postproc/report/setup_diagram.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/postproc/report/sheets.hpp"

namespace limbwright::postproc::setup_diagram_test {
namespace {

struct Drawn {
    Page page = Page::a4();
    double bottom = 0;
};
Drawn drawn(const models::Bow& bow, const models::Layout& tune) {
    Drawn d;
    d.bottom = draw_tune(d.page, {{40, 40}, 340, 10}, bow, tune, bow.layout, "Afterwards");
    return d;
}
const Page::Box& box(const Page& page, const std::string& text) {
    const auto found = std::ranges::find(page.boxes(), text, &Page::Box::text);
    if (found == page.boxes().end()) throw std::runtime_error(text + " is not on the page");
    return *found;
}

TEST(BenchDrawing, HasEachLimbInItsPocketAsTheArcherSeesIt) {
    models::Bow bow = testing::small_bow();
    bow.layout.pairing = {51, 52, 53, 54};
    const Drawn d = drawn(bow, bow.layout);
    EXPECT_LT(box(d.page, "51").right, box(d.page, "52").left);
    EXPECT_LT(box(d.page, "53").right, box(d.page, "54").left);
    EXPECT_LT(box(d.page, "51").bottom, box(d.page, "53").top);
    EXPECT_LT(box(d.page, "left").right, box(d.page, "51").left);
}

TEST(BenchDrawing, HasTheSpacersOnTheirSidesAndSaysWhereTheCamStands) {
    models::Bow bow = testing::small_bow();
    models::Layout tune = bow.layout;
    tune.spacers_top = {{1.5}, {1.5, 2.5, 2.5}};
    const Drawn d = drawn(bow, tune);
    EXPECT_LT(box(d.page, "1.5 mm").right, box(d.page, "1.5 + 2.5 + 2.5 mm").left);
    EXPECT_NO_THROW((void)box(d.page, "2.5 mm left"));
}

TEST(BenchDrawing, SetsInBoldWhatChanges) {
    const models::Bow bow = testing::small_bow();
    const auto bold = [](const Page& page) {
        const std::string svg = page.to_svg("");
        int count = 0;
        for (auto at = svg.find("font-weight"); at != std::string::npos; at = svg.find("font-weight", at + 1))
            ++count;
        return count;
    };
    models::Layout tune = bow.layout;
    EXPECT_EQ(bold(drawn(bow, tune).page), 1);  // the caption
    tune.pairing.top_left = 52;
    tune.moved["rest_lateral"] = 1;
    EXPECT_EQ(bold(drawn(bow, tune).page), 3);
}

TEST(BenchDrawing, StaysInItsFrameAndKeepsItsTextsApartForEveryCableSystem) {
    for (const char* name : testing::demo_bows) {
        const models::Bow bow = testing::demo_bow(name);
        for (const bool changed : {false, true}) {
            const models::Layout today = bow.layout;
            const Drawn d = drawn(bow, changed ? tests::upheaval(today) : today);
            EXPECT_EQ(tests::faults(d.page), "") << name;
            for (const Page::Box& b : d.page.boxes()) {
                EXPECT_GE(b.left, 40) << b.text;
                EXPECT_LE(b.right, 380) << b.text;
                EXPECT_LE(b.bottom, d.bottom) << b.text;
            }
        }
    }
}

}  // namespace
}  // namespace limbwright::postproc::setup_diagram_test
