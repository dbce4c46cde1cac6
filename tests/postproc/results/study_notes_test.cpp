#include "postproc/results/study_notes.hpp"

#include <gtest/gtest.h>

#include "tests/support/small_study.hpp"

namespace limbwright::postproc::study_notes_test {
namespace {

using testing::small_base;
using testing::small_study;

TEST(StudyNotes, TellWhatTheProductIsMadeOf) {
    const std::vector<std::string> notes = study_notes(small_base());
    EXPECT_EQ(
        notes.at(0),
        "The study has 36 layouts: 12 distinct pairings (of 24 arrangements of the limbs) × 3 values of "
        "\"guide, lateral\".");
}

TEST(StudyNotes, TellWhatHappensToTheCables) {
    EXPECT_TRUE(study_notes(small_base()).at(1).starts_with("String and cables keep"));
    models::Study study = small_study();
    study.lengths = models::LengthRule::re_timed;
    const models::StudyBase base(testing::crossed_bow(), study);
    EXPECT_TRUE(study_notes(base).at(1).starts_with("String and cables are re-timed"));
}

TEST(StudyNotes, TellHowTheOthersWereBoundedOut) {
    models::Screening screening;
    screening.modelled = true;
    screening.candidates = {1, 2};
    screening.bounded_out = 30;
    screening.degree = 2;
    screening.terms = 36;
    screening.fitted = 144;
    screening.checked = 288;
    screening.errors = {0.25};
    screening.worst_shares = {0.5};
    screening.threshold = 1;
    screening.margin = 0.125;
    const std::vector<std::string> notes = search_notes(small_base(), {{1, 2, 3, 4, 5, 6}, screening, {0}});
    ASSERT_EQ(notes.size(), 5u);
    EXPECT_EQ(notes[0], "6 layouts were solved, 2 of them candidates for the best 20.");
    EXPECT_TRUE(notes[1].starts_with("30 layouts were bounded out by a model, a polynomial of degree 2"));
    EXPECT_EQ(notes[2], "Errors allowed for, twice the largest found: axle-to-axle 0.25 mm.");
    EXPECT_EQ(notes[3], "A candidate that was solved used up at most 50 % of them.");
    EXPECT_TRUE(notes[4].starts_with("The best of those bounded out for its score lies at least 0.12 above"));
}

TEST(StudyNotes, ASmallProductIsSolvedInFull) {
    EXPECT_EQ(search_notes(small_base(), {{0}, {}, {}}),
              (std::vector<std::string>{"All layouts were solved."}));
}

TEST(StudyNotes, ARowThatDiffersFromThePlainEngineIsAWarning) {
    models::ColdCheck check{std::vector<double>(small_base().columns().size(), 1e-9), {4, 8}, {}, false};
    EXPECT_EQ(cold_notes(small_base(), check).size(), 1u);
    check.differing = {8};
    const std::vector<std::string> notes = cold_notes(small_base(), check);
    ASSERT_EQ(notes.size(), 2u);
    EXPECT_EQ(notes[1], "Warning: 1 of these differ by more than rounding, do not trust them: layout 8.");
}

TEST(StudyNotes, FrequentCausesComeFirstWhateverTheirFigures) {
    const std::vector<models::LayoutRow> rows{
        {0, {}, "slack at 10 mm"},      {1, {}, "the string is slack"}, {2, {1}, ""},
        {3, {}, "the string is slack"}, {4, {}, "slack at -2 mm"},      {5, {}, "slack at 30 mm"}};
    EXPECT_EQ(failure_notes(rows),
              (std::vector<std::string>{
                  "3 of 5 layouts that could not be solved, for instance: slack at 10 mm",
                  "2 of 5 layouts that could not be solved, for instance: the string is slack"}));
    EXPECT_TRUE(failure_notes({}).empty());
}

}  // namespace
}  // namespace limbwright::postproc::study_notes_test
