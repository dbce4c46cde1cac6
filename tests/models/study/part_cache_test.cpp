#include "models/study/part_cache.hpp"

#include <gtest/gtest.h>

#include "models/bow/settings.hpp"
#include "models/bow/spacers.hpp"
#include "models/states/natural_lengths.hpp"
#include "tests/support/element_check.hpp"
#include "tests/support/strung.hpp"

namespace limbwright::models::part_cache_test {
namespace {

using solver::ElementMatrix;
using solver::ElementVector;
using solver::State;
using testing::Random;

/// Energy, gradient and Hessian of every element and all handles with numbers in them, each as an error
/// relative to the size of what is compared.
struct Difference {
    double elements = 0, handles = 0;
};

double relative(const Eigen::MatrixXd& a, const Eigen::MatrixXd& b) {
    if (a.rows() != b.rows() || a.cols() != b.cols()) return HUGE_VAL;
    return (a - b).norm() / (b.norm() + 1e-300);
}
double relative(double a, double b) {
    return std::abs(a - b) / (std::abs(b) + 1e-300);
}

double difference(const solver::Element& a, const solver::Element& b, const State& state) {
    ElementVector ga, gb;
    ElementMatrix Ha, Hb;
    a.gradient_and_hessian(state, ga, Ha);
    b.gradient_and_hessian(state, gb, Hb);
    // The energy of what hardly strains is a small difference.
    const double energy = std::abs(a.energy(state) - b.energy(state)) / (std::abs(b.energy(state)) + 1e-3);
    return std::max({energy, relative(ga, gb), relative(Ha, Hb)});
}

/// Of places of the order of the bow's size.
double difference(const solver::Pose& a, const solver::Pose& b) {
    return std::max((a.position - b.position).norm() / 100, (a.rotation.v - b.rotation.v).norm());
}

Difference difference(const AssembledBow& a, const AssembledBow& b, const State& state) {
    Difference d;
    const auto elements = [&](std::size_t e) {
        return difference(*a.system.elements()[e], *b.system.elements()[e], state);
    };
    for (std::size_t e = 0; e < b.system.elements().size(); ++e)
        d.elements = std::max(d.elements, elements(e));
    const auto handle = [&](double error) { d.handles = std::max(d.handles, error); };
    const auto frame = [&](const solver::Frame& f, const solver::Frame& g) {
        handle(difference(pose(f, state), pose(g, state)));
    };
    for (std::size_t end = 0; end < 2; ++end) {
        handle(std::abs(a.axles[end].cam_offset - b.axles[end].cam_offset));
        frame(a.axles[end].cam, b.axles[end].cam);
        for (std::size_t r = 0; r < b.limbs[end].rows.size(); ++r) {
            const LimbRow &row = a.limbs[end].rows[r], &wanted = b.limbs[end].rows[r];
            handle(relative(row.stiffness.moduli.young, wanted.stiffness.moduli.young));
            handle(relative(row.stiffness.moduli.shear, wanted.stiffness.moduli.shear));
            for (std::size_t i = 0; i < wanted.rest.size(); ++i) {
                handle(difference(row.rest[i], wanted.rest[i]));
                frame(row.sections[i], wanted.sections[i]);
            }
        }
    }
    for (std::size_t eye = 0; eye < 2; ++eye)
        if (b.guide.eyes[eye]) frame(*a.guide.eyes[eye], *b.guide.eyes[eye]);
    for (std::size_t i = 0; i < b.guide.rod.size(); ++i) frame(a.guide.rod[i], b.guide.rod[i]);
    return d;
}

State near_rest(const AssembledBow& bow, Random& random) {
    solver::VecX step(bow.system.numbering().size());
    for (double& s : step) s = 0.005 * random.number();
    return moved(bow.rest, step);
}

/// Some layout; few values of each setting, so that many are met again.
Layout some_layout(const Bow& bow, Random& random, bool bolts) {
    const auto choice = [&](std::initializer_list<double> values) {
        const auto i =
            static_cast<std::size_t>((random.number() + 1) / 2 * static_cast<double>(values.size()));
        return values.begin()[std::min(i, values.size() - 1)];
    };
    Layout layout = bow.layout;
    for (const Setting& setting : settings_of(bow, 0.5)) {
        const bool bolt = setting.name.starts_with("limb bolt");
        if (setting.name.starts_with("limb number"))
            setting.set(layout, choice({45, 50, 52.5}));
        else if (!bolt || bolts)
            setting.set(layout, choice({-1, 0, 0.25, 1}) * setting.step);
    }
    return layout;
}

struct Kind {
    const char* name;
    Bow (*make)();
};
const Kind kinds[] = {
    {"crossed", [] { return testing::demo_bow("crossed"); }},
    {"yoked", [] { return testing::demo_bow("yoked"); }},
    {"mixed", [] { return testing::demo_bow("mixed"); }},
    {"single_cam", [] { return testing::demo_bow("single_cam"); }},
    {"solid_limbs_in_soft_pockets_and_a_bending_rod",
     [] {
         Bow bow = testing::small_uneven_bow();
         bow.limb.kind = LimbKind::solid;
         bow.limb.fork = 90;
         bow.limb.prong_width = 24;
         for (LimbStation& s : bow.limb.stations) s.width = 48;
         bow.layout.pairing = {50, 50, 50, 50};
         for (Pocket* p : {&bow.pocket_top, &bow.pocket_bottom}) {
             p->bending_stiffness = 5e6;
             p->twisting_stiffness = 2e6;
         }
         bow.guide.kind = GuideKind::bending_rod;
         bow.guide.rod_diameter = 9;
         bow.guide.rod_material = {60000, 24000};
         return bow;
     }},
};

class Rebuilt : public ::testing::TestWithParam<Kind> {
protected:
    Bow bow_ = GetParam().make();
    AssembledBow today_ = assemble(bow_);
    Random random_{20};
};
INSTANTIATE_TEST_SUITE_P(Bow, Rebuilt, ::testing::ValuesIn(kinds),
                         [](const auto& kind) { return std::string(kind.param.name); });

TEST_P(Rebuilt, IsToTheLastBitAsAssembledWhereNoBoltTurns) {
    const Rebuilds rebuilds(today_);
    AssembledBow bow = today_;
    for (int i = 0; i < 12; ++i) {
        const Layout layout = some_layout(bow_, random_, false);
        rebuilds.refit(bow, layout);
        const AssembledBow wanted = assemble(bow_, layout);
        const Difference d = difference(bow, wanted, near_rest(wanted, random_));
        EXPECT_EQ(d.elements, 0) << i;
        EXPECT_EQ(d.handles, 0) << i;
    }
}

/// An axle, a cable or a guide of a bow whose bolts turn stands elsewhere at rest and is the same part: what
/// differs is rounding of places of 500 mm in beams of 10 mm, stretched by some 0.001 mm.
TEST_P(Rebuilt, IsToRoundingAsAssembledWhereBoltsTurn) {
    const Rebuilds rebuilds(today_);
    AssembledBow bow = today_;
    for (int i = 0; i < 12; ++i) {
        const Layout layout = some_layout(bow_, random_, true);
        rebuilds.refit(bow, layout);
        const AssembledBow wanted = assemble(bow_, layout);
        const Difference d = difference(bow, wanted, near_rest(wanted, random_));
        EXPECT_LT(d.elements, 1e-9) << i;
        EXPECT_LT(d.handles, 1e-12) << i;
    }
}

TEST_P(Rebuilt, DoesNotDependOnTheOrderOfAsking) {
    std::vector<Layout> layouts;
    for (int i = 0; i < 8; ++i) layouts.push_back(some_layout(bow_, random_, true));
    const Rebuilds forward(today_), backward(today_);
    std::vector<AssembledBow> first, second;
    AssembledBow bow = today_;
    for (const Layout& layout : layouts) {
        forward.refit(bow, layout);
        first.push_back(bow);
    }
    for (std::size_t i = layouts.size(); i-- > 0;) {
        backward.refit(bow, layouts[i]);
        second.insert(second.begin(), bow);
    }
    const State state = near_rest(today_, random_);
    for (std::size_t i = 0; i < layouts.size(); ++i) {
        const Difference d = difference(first[i], second[i], state);
        EXPECT_EQ(d.elements, 0) << i;
        EXPECT_EQ(d.handles, 0) << i;
    }
}

/// Natural lengths and draw stops of a bow that was strung do not stay behind.
TEST_P(Rebuilt, FromAStrungBowIsAsNeverStrung) {
    const Rebuilds rebuilds(today_);
    const AssembledBow strung = testing::strung(bow_).bow;
    const State state = near_rest(today_, random_);
    Layout layout = bow_.layout;
    layout.pairing.top_left = layout.pairing.top_right = 53;
    for (const Layout& wanted : {bow_.layout, layout}) {
        AssembledBow bow = strung;
        rebuilds.refit(bow, wanted);
        EXPECT_EQ(difference(bow, assemble(bow_, wanted), state).elements, 0);
    }
}

/// As a solver of layouts does it: lengths are set after each refit, and the next one takes them away again.
TEST_P(Rebuilt, TakesAwayLengthsThatWereSetSinceTheLastRefit) {
    const Rebuilds rebuilds(today_);
    const NaturalLengths lengths = testing::strung(bow_).lengths;
    const State state = near_rest(today_, random_);
    AssembledBow bow = today_;
    Layout other = bow_.layout;
    other.pairing.top_left = other.pairing.top_right = 53;
    for (const Layout& layout : {bow_.layout, other}) {
        rebuilds.refit(bow, layout);
        bow.system = with_lengths(bow, twisted(bow, lengths));
    }
    rebuilds.refit(bow, bow_.layout);
    EXPECT_EQ(difference(bow, today_, state).elements, 0);
}

TEST_P(Rebuilt, KeepsTheLayoutThatItIsIn) {
    const Rebuilds rebuilds(today_);
    AssembledBow bow = today_;
    const Layout layout = some_layout(bow_, random_, true);
    rebuilds.refit(bow, layout);
    for (const Setting& setting : settings_of(bow_, 0.5))
        EXPECT_EQ(setting.get(bow.layout), setting.get(layout)) << setting.name;
    EXPECT_EQ(cam_offset(bow.layout.spacers_top), bow.axles[0].cam_offset);
}

/// A copy with other parts in it takes nothing from where it came from.
TEST_P(Rebuilt, SharesPartsWithNoBowThatItWasCopiedFrom) {
    const Rebuilds rebuilds(today_);
    AssembledBow bow = today_;
    rebuilds.refit(bow, some_layout(bow_, random_, false));
    const AssembledBow before = bow;
    const Layout layout = before.layout;
    rebuilds.refit(bow, some_layout(bow_, random_, false));
    EXPECT_EQ(difference(before, assemble(bow_, layout), near_rest(today_, random_)).elements, 0);
}

}  // namespace
}  // namespace limbwright::models::part_cache_test
