#include "models/states/beam_shell_comparison.hpp"

#include <chrono>
#include <numbers>
#include <stdexcept>

#include "solver/system/assembly.hpp"

namespace limbwright::models {
namespace {

using solver::Frame;
using solver::Mat6;
using solver::VecX;

double seconds_since(std::chrono::steady_clock::time_point begin) {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
}

/// Displacement and turn of a node per force and moment on it (world axes and its own), all elements but some
/// being away and some frames held.
Mat6 flexibility_at(const AssembledBow& bow, const std::vector<std::size_t>& elements, solver::NodeId node,
                    std::vector<int> held) {
    const solver::Numbering& n = bow.system.numbering();
    solver::BlockMatrix tangent(bow.system.shared_plan());
    std::vector<bool> touched(static_cast<std::size_t>(n.size()), false);
    solver::ElementVector g;
    solver::ElementMatrix H;
    for (const std::size_t e : elements) {
        bow.system.elements()[e]->gradient_and_hessian(bow.rest, g, H);
        tangent.add(e, H);
        for (const int freedom : bow.system.plan().gather[e])
            touched[static_cast<std::size_t>(freedom)] = true;
    }
    for (int f = 0; f < n.used(); ++f)
        if (!touched[static_cast<std::size_t>(f)]) held.push_back(f);
    solver::BlockFactor factor(bow.system.shared_plan());
    if (!factor.factor(tangent, held)) throw std::invalid_argument("the part is free to move");
    Mat6 flexibility;
    for (int i = 0; i < 6; ++i)
        flexibility.col(i) = factor.solve(VecX::Unit(n.size(), n.first(node) + i)).segment<6>(n.first(node));
    return flexibility;
}

/// Freedoms of a frame.
void hold(const AssembledBow& bow, const Frame& frame, std::vector<int>& held) {
    const solver::Numbering& n = bow.system.numbering();
    if (frame.node.value >= 0)
        for (int i = 0; i < 6; ++i) held.push_back(n.first(frame.node) + i);
    for (std::size_t i = 0; i < static_cast<std::size_t>(frame.joint_count); ++i)
        held.push_back(n.first(frame.joints[i].scalar));
}

double per_degree(double turn_per_moment) {
    return std::numbers::pi / 180 / turn_per_moment;
}

}  // namespace

std::string ModelChoice::name() const {
    const bool limbs = limb == PartModel::shell, whole = riser == PartModel::shell;
    if (limbs || whole) return limbs && whole ? "shells" : limbs ? "shell limbs" : "shell riser";
    return warping == Warping::held ? "beams" : "beams, ends free to warp";
}

Bow with_model(Bow bow, const ModelChoice& choice) {
    bow.limb.model = choice.limb;
    bow.limb.warping = choice.warping;
    bow.riser.model = choice.riser;
    return bow;
}

PartRates limb_rates(const AssembledBow& bow) {
    const LimbParts& limbs = bow.limbs[index(End::top)];
    const LimbRow& tip_row = limbs.rows[limbs.tip_rows[0]];
    std::vector<std::size_t> elements;
    std::vector<int> held;
    const bool split = bow.bow.limb.kind == LimbKind::split;
    for (const LimbRow& row : limbs.rows) {
        if (split && &row != &tip_row) continue;
        for (const std::size_t e : row.elements()) elements.push_back(e);
    }
    hold(bow, limbs.rows[split ? limbs.tip_rows[0] : 0].sections.front(), held);
    const AxleParts& axle = bow.axle(End::top);
    const solver::Numbering& n = bow.system.numbering();
    // The bores do not turn on the axle, so that the axle's end shows the limb's tip.
    for (const solver::ScalarId turn : axle.tip_turns) held.push_back(n.first(turn));
    const Mat6 F = flexibility_at(bow, elements, axle.left, held);
    const solver::Mat3 tip = pose(tip_row.sections.back(), bow.rest).rotation.matrix();
    const solver::Mat3 own = bow.rest.at(axle.left).rotation.matrix();
    const Vec3 across = tip.col(2), sideways = tip.col(1), along = own.transpose() * tip.col(0);
    return {1 / across.dot(F.topLeftCorner<3, 3>() * across),
            1 / sideways.dot(F.topLeftCorner<3, 3>() * sideways),
            per_degree(along.dot(F.bottomRightCorner<3, 3>() * along))};
}

PartRates riser_rates(const AssembledBow& bow) {
    std::vector<std::size_t> elements = bow.riser.beams;
    for (const PartShell& shell : bow.riser.shells) elements.push_back(shell.element);
    std::vector<int> held;
    hold(bow, bow.riser.grip, held);
    const solver::NodeId top = bow.riser.sections.back().node;
    const Mat6 F = flexibility_at(bow, elements, top, held);
    const Vec3 up = bow.rest.at(top).rotation.matrix().transpose() * Vec3::UnitZ();
    return {1 / F(0, 0), 1 / F(1, 1), per_degree(up.dot(F.bottomRightCorner<3, 3>() * up))};
}

std::variant<ModelRun, std::string> run_model(const Bow& bow, const ModelChoice& choice) {
    const auto begin = std::chrono::steady_clock::now();
    const AssembledBow assembled = assemble(with_model(bow, choice));
    Stringing stringing = string_up(assembled);
    if (const auto* lost = std::get_if<NotStrung>(&stringing))
        return choice.name() + " could not be strung: " + lost->reason;
    const double string_seconds = seconds_since(begin);
    StrungBow strung = std::get<StrungBow>(std::move(stringing));
    const auto strung_up = std::chrono::steady_clock::now();
    Draw drawn = draw(strung);
    const double draw_seconds = seconds_since(strung_up);
    int iterations = 0;
    for (const DrawState& state : drawn.states) iterations += state.iterations;
    return ModelRun{.choice = choice,
                    .strung = std::move(strung),
                    .draw = std::move(drawn),
                    .limb = limb_rates(assembled),
                    .riser = riser_rates(assembled),
                    .string_seconds = string_seconds,
                    .draw_seconds = draw_seconds,
                    .iterations = iterations};
}

}  // namespace limbwright::models
