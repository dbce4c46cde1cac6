#include "models/study/search.hpp"

#include <gtest/gtest.h>

#include "models/study/ranking.hpp"
#include "tests/support/small_study.hpp"

namespace limbwright::models::search_test {
namespace {

using testing::small_base;
using Numbers = std::vector<std::int64_t>;

/// Solves, and remembers which were asked for.
struct Solver {
    const StudyBase& base;
    std::set<std::int64_t> asked{};

    SolveLayouts function() {
        return [this](std::span<const std::int64_t> numbers) {
            EXPECT_TRUE(std::ranges::is_sorted(numbers));
            asked.insert(numbers.begin(), numbers.end());
            return testing::rows_of(base, numbers);
        };
    }
};

/// Large enough for a model: 12 pairings × 49 places of the guide.
Study large() {
    Study study = testing::small_study();
    study.ranges = {{"guide, lateral", {-1.2, 1.2, 0.05}}};
    study.solve_all = 0;
    study.keep = 3;
    return study;
}

const StudyBase& large_base() {
    static const StudyBase base(testing::crossed_bow(), large());
    return base;
}

Numbers best_numbers(const std::vector<LayoutRow>& rows) {
    Numbers numbers;
    for (const RankedLayout& best : ranked(large_base(), rows, rows.front()).best)
        numbers.push_back(best.number);
    return numbers;
}

TEST(StudySearch, OfASmallProductAllIsSolved) {
    Solver solver{small_base()};
    const StudySearch all = search(small_base(), solver.function(), {});
    EXPECT_FALSE(all.screening.has_value());
    EXPECT_EQ(all.solved, testing::first_numbers(36));
    EXPECT_EQ(solver.asked.size(), 36u);
}

TEST(StudySearch, AScreenedProductGivesTheSameBestLayouts) {
    Solver solver{large_base()};
    const StudySearch screened = search(large_base(), solver.function(), {.threads = 2});
    ASSERT_TRUE(screened.screening && screened.screening->modelled);
    EXPECT_EQ(screened.solved, Numbers(solver.asked.begin(), solver.asked.end()));
    EXPECT_LT(std::ssize(screened.solved), large_base().product().size());
    const Numbers all = testing::first_numbers(large_base().product().size());
    EXPECT_EQ(best_numbers(testing::rows_of(large_base(), screened.solved)),
              best_numbers(testing::rows_of(large_base(), all)));
}

TEST(StudySearch, SharesTogetherAreTheWhole) {
    Solver odd{small_base()}, even{small_base()};
    search_share(small_base(), odd.function(), {}, [](std::int64_t n) { return n % 2 == 1; });
    search_share(small_base(), even.function(), {}, [](std::int64_t n) { return n % 2 == 0; });
    EXPECT_EQ(odd.asked.size(), 18u);
    EXPECT_EQ(even.asked.size(), 18u);
    EXPECT_FALSE(odd.asked.contains(0));
}

TEST(StudySearch, AShareOfAScreenedProductIsOfItsCandidates) {
    Solver part{large_base()}, whole{large_base()};
    search_share(large_base(), part.function(), {}, [](std::int64_t) { return false; });
    const StudySearch all = search(large_base(), whole.function(), {});
    EXPECT_LT(part.asked.size(), all.solved.size());
    EXPECT_TRUE(std::ranges::includes(all.solved, part.asked));
}

}  // namespace
}  // namespace limbwright::models::search_test
