#include <gtest/gtest.h>

#include <memory>
#include <string>
#include <vector>

#include "models/bow/sides.hpp"
#include "models/parts/riser_surface.hpp"
#include "tests/support/observed_order.hpp"
#include "tests/support/strung.hpp"

/// Finer beams lead to one answer, at the order of the beam.
namespace limbwright::models::whole_bow_refinement_test {
namespace {

using solver::Beam;
using solver::Frame;

/// The riser's own cuts as stations, and so many pieces between any two of them.
Riser cut_finer(const Bow& bow, int pieces) {
    const std::vector<RiserStation> cuts = assemble(bow).riser.stations;
    Riser finer = bow.riser;
    finer.elements = 1;
    finer.stations = {cuts.front()};
    for (std::size_t i = 0; i + 1 < cuts.size(); ++i)
        for (int k = 1; k <= pieces; ++k)
            finer.stations.push_back(between(cuts[i], cuts[i + 1], double(k) / pieces));
    return finer;
}

/// Each beam of both axles replaced by so many; nodes and elements that are there keep their places.
void cut_axles(AssembledBow& bow, int pieces) {
    solver::System::Elements elements = bow.system.elements();
    for (const End end : {End::top, End::bottom}) {
        const Axle& axle = axle_of(bow.bow, end);
        const auto section = [&](double) {
            return solver::circle({axle.material.along, axle.material.shear}, axle.diameter);
        };
        for (const std::size_t element : bow.axle(end).beams) {
            const auto& whole = static_cast<const Beam&>(*bow.system.elements()[element]);
            const solver::Pose X1 = pose(whole.end1(), bow.rest), X2 = pose(whole.end2(), bow.rest);
            Frame from = whole.end1();
            for (int k = 1; k <= pieces; ++k) {
                Frame to = whole.end2();
                if (k < pieces) {
                    bow.rest.nodes.push_back(
                        {X1.rotation, X1.position + double(k) / pieces * (X2.position - X1.position)});
                    to = Frame::on(solver::NodeId(static_cast<int>(bow.rest.nodes.size()) - 1));
                }
                const auto piece = std::make_shared<const Beam>(
                    from, to, solver::beam_data(pose(from, bow.rest), pose(to, bow.rest), section));
                if (k == 1)
                    elements[element] = piece;
                else
                    elements.push_back(piece);
                from = to;
            }
        }
    }
    solver::Numbering numbering = bow.system.numbering();
    numbering.nodes = static_cast<int>(bow.rest.nodes.size());
    bow.system = solver::System(numbering, elements);
}

/// Limbs, riser and axles of so many times as many beams.
AssembledBow refined(Bow bow, int times) {
    bow.riser = cut_finer(bow, times);
    bow.limb.elements *= times;
    AssembledBow assembled = assemble(bow);
    cut_axles(assembled, times);
    return assembled;
}

struct Answer {
    const char* what;
    double value;
};

/// @param peak  draw near the peak [mm]
std::vector<Answer> answers(const AssembledBow& bow, double peak) {
    const StrungBow strung = testing::strung(string_up(bow));
    const testing::Drawn to_peak = testing::drawn(strung, testing::draw_to(peak, 3));
    const testing::Drawn whole = testing::drawn(strung, testing::in_states(9));
    EXPECT_EQ(whole.full_state().nodes.size(), bow.rest.nodes.size());
    return {{"force near the peak", to_peak.full("draw force")},
            {"force at full draw", whole.full("draw force")},
            {"lean of the top cam", whole.full("cam lean, top")},
            {"lean of the bottom cam", whole.full("cam lean, bottom")},
            {"lateral nock travel", whole.full("nock travel, lateral")},
            {"vertical nock travel", whole.full("nock travel, vertical")},
            {"twist of the riser", whole.full("riser twist")},
            {"yaw", whole.full_state().at(bow.riser.yaw)}};
}

TEST(Refinement, OfLimbsRiserAndAxlesConvergesWithSecondOrder) {
    Bow bow = testing::small_uneven_bow();
    bow.limb.elements = 12;
    bow.riser.elements = 1;  // to every straight piece
    std::vector<std::vector<Answer>> a;
    for (const int n : {4, 8, 16}) a.push_back(answers(refined(bow, n), 430));
    // Successive differences of an error ∝ h² fall by four.
    for (std::size_t k = 0; k < a[0].size(); ++k)
        EXPECT_NEAR(testing::observed_order(a[1][k].value - a[0][k].value, a[2][k].value - a[1][k].value), 2,
                    0.1)
            << a[0][k].what;
}

/// Against the value to which two and four times as many beams lead.
class DefaultMesh : public ::testing::TestWithParam<const char*> {};

TEST_P(DefaultMesh, IsWithinAFifthOfAPerCentOfItsLimit) {
    const Bow bow = testing::demo_bow(GetParam());
    constexpr double peak = 448;
    const auto a = answers(refined(bow, 1), peak), finer = answers(refined(bow, 2), peak),
               finest = answers(refined(bow, 4), peak);
    for (std::size_t k = 0; k < a.size(); ++k)
        EXPECT_NEAR(a[k].value / testing::extrapolated(finer[k].value, finest[k].value), 1, 0.002)
            << a[k].what;
}

INSTANTIATE_TEST_SUITE_P(OfADemoBow, DefaultMesh, ::testing::ValuesIn(testing::demo_bows),
                         [](const auto& demo) { return std::string(demo.param); });

}  // namespace
}  // namespace limbwright::models::whole_bow_refinement_test
