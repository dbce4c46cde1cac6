#include "solver/system/system.hpp"

#include <gtest/gtest.h>

#include "solver/elements/spring.hpp"

namespace limbwright::solver::system_test {
namespace {

std::shared_ptr<const Element> spring(int scalar, double stiffness) {
    return std::make_shared<Spring>(std::vector<std::pair<ScalarId, double>>{{ScalarId(scalar), 1.}},
                                    Spring::Data{.stiffness = stiffness});
}

TEST(System, WithAnotherElementSharesItsPlan) {
    const System system({.scalars = 2}, {spring(0, 1), spring(1, 1)});
    const std::shared_ptr<const Element> other = spring(1, 5);
    const System changed = system.with(1, other);
    EXPECT_EQ(changed.shared_plan(), system.shared_plan());
    EXPECT_EQ(changed.elements()[0], system.elements()[0]);
    EXPECT_EQ(changed.elements()[1], other);
}

TEST(System, StaysAsItWasWhenACopyIsChanged) {
    const std::shared_ptr<const Element> first = spring(0, 1);
    const System system({.scalars = 1}, {first});
    (void)system.with(0, spring(0, 5));
    EXPECT_EQ(system.elements()[0], first);
}

TEST(System, RefusesAnElementThatTouchesOtherFreedoms) {
    System system({.scalars = 2}, {spring(0, 1)});
    EXPECT_THROW((void)system.with(0, spring(1, 1)), std::invalid_argument);
    EXPECT_THROW(system.replace(0, spring(1, 1)), std::invalid_argument);
    EXPECT_NO_THROW(system.replace(0, spring(0, 2)));
}

}  // namespace
}  // namespace limbwright::solver::system_test
