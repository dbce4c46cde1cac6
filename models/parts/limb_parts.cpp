#include "models/parts/limb_parts.hpp"

#include <cmath>

#include "models/parts/limb_shells.hpp"
#include "solver/elements/beam.hpp"
#include "solver/elements/spring.hpp"

namespace limbwright::models {
namespace {

using meshes::Strip;
using meshes::StripStation;
using solver::Frame;
using solver::Mat3;
using solver::Pose;
using solver::ScalarId;

/// The pocket's optional compliance: hinges at the root with springs, flatwise and about the limb's length.
Frame with_compliance(Frame root, const Pocket& pocket, Builder& builder) {
    const auto hinge = [&](const Vec3& axis, const std::optional<double>& stiffness) {
        if (!stiffness) return;
        const ScalarId turn = builder.add_scalar();
        root = root.then({solver::JointKind::hinge, axis, turn, {}});
        builder.add<solver::Spring>(std::vector{std::pair{turn, 1.}},
                                    solver::Spring::Data{.stiffness = *stiffness});
    };
    hinge(Vec3::UnitY(), pocket.bending_stiffness);
    hinge(Vec3::UnitX(), pocket.twisting_stiffness);
    return root;
}

/// What the rows of one limb share.
struct Shape {
    Strip strip;
    std::vector<double> shares;
    std::vector<Pose> middle;  ///< section poses in the bow's plane
};

/// Which ends of a row cannot warp.
struct HeldEnds {
    bool first = true, last = true;
};

/// Sections first … last of a limb as a row of beams between two frames that exist already.
LimbRow add_row(const std::string& name, const Shape& shape, std::size_t from, std::size_t to, double lateral,
                const LimbStiffness& stiffness, const HeldEnds& held, const Frame& first, const Frame& last,
                Builder& builder) {
    LimbRow row;
    row.name = name;
    row.stiffness = stiffness;
    for (std::size_t i = from; i <= to; ++i) {
        const Pose& middle = shape.middle[i];
        row.rest.push_back({middle.rotation, middle.position + lateral * Vec3::UnitY()});
        row.stations.push_back(shape.strip.at(shape.shares[i]));
        row.sections.push_back(i == from ? first
                               : i == to ? last
                                         : Frame::on(builder.add_node(row.rest.back())));
    }
    for (std::size_t i = 0; i < to - from; ++i) {
        const double begin = shape.shares[from + i], end = shape.shares[from + i + 1];
        const auto section = [&](double u) {
            const StripStation s = shape.strip.at(begin + u * (end - begin));
            std::vector<double> distances;
            if (held.first) distances.push_back(shape.strip.length * (s.at - shape.shares[from]));
            if (held.last) distances.push_back(shape.strip.length * (shape.shares[to] - s.at));
            return stiffness.section_near(distances, s.width, s.thickness);
        };
        row.beams.push_back(builder.add<solver::Beam>(
            row.sections[i], row.sections[i + 1], solver::beam_data(row.rest[i], row.rest[i + 1], section)));
    }
    return row;
}

}  // namespace

double limb_root_angle(const Bow& bow, const Layout& layout, End end) {
    const Pocket& pocket = pocket_of(bow, end);
    return pocket.angle + bolt_of(layout, end) * pocket.angle_per_turn;
}

Pose limb_root(const Bow& bow, const Layout& layout, End end, double lateral) {
    const double angle = limb_root_angle(bow, layout, end);
    Mat3 R;
    R.col(0) = Vec3(-std::sin(angle), 0, sign(end) * std::cos(angle));
    R.col(1) = Vec3::UnitY();
    R.col(2) = R.col(0).cross(R.col(1));
    return {solver::rotation_from(R), pocket_of(bow, end).position + lateral * Vec3::UnitY()};
}

Pose axle_rest(const Bow& bow, const Layout& layout, End end) {
    const Strip strip = oriented(limb_strip(bow.limb), end);
    const Pose tip =
        section_poses(strip, limb_root(bow, layout, end, 0), limb_shares(bow.limb, bow.limb.elements)).back();
    Mat3 R;
    R << 0, 0, 1, 1, 0, 0, 0, 1, 0;  // columns Y, Z, X
    return {solver::rotation_from(R), tip * Vec3(0, 0, sign(end) * bow.limb.bore_offset)};
}

LimbParts add_limbs(const Bow& bow, const Layout& layout, End end, const RiserParts& riser,
                    const std::array<solver::NodeId, 2>& axle_nodes, const std::array<ScalarId, 2>& tip_turns,
                    Builder& builder) {
    const Limb& limb = bow.limb;
    const bool top = end == End::top;
    const Pairing& p = layout.pairing;
    const std::array<double, 2> numbers{top ? p.top_left : p.bottom_left, top ? p.top_right : p.bottom_right};
    const std::string end_name = name(end);
    const std::array<std::string, 2> flank_names{" left", " right"};
    const Shape shape = [&] {
        Shape made{oriented(limb_strip(limb), end), limb_shares(limb, limb.elements), {}};
        made.middle = section_poses(made.strip, limb_root(bow, layout, end, 0), made.shares);
        return made;
    }();
    const std::size_t tip = shape.shares.size() - 1;
    const auto lateral = [&](std::size_t flank) { return flank == 0 ? limb.lateral : -limb.lateral; };
    const auto tip_frame = [&](std::size_t flank) {
        const Pose& middle = shape.middle[tip];
        const Pose X{middle.rotation, middle.position + lateral(flank) * Vec3::UnitY()};
        const Frame axle = Frame::on(axle_nodes[flank]);
        const Pose bore = builder.at_rest(axle).inverse() * X;
        return axle.then({solver::JointKind::hinge, Vec3::UnitX(), tip_turns[flank], bore});
    };
    const auto root_frame = [&](double beside) {
        return with_compliance(riser.at(limb_root(bow, layout, end, beside)), pocket_of(bow, end), builder);
    };

    const bool held = limb.warping == Warping::held;
    LimbParts parts;
    if (limb.model == PartModel::shell) {
        const Pose root = limb_root(bow, layout, end, 0);
        if (limb.kind == LimbKind::split) {
            for (std::size_t flank = 0; flank < 2; ++flank)
                parts.rows.push_back(add_split_limb_shells(limb, limb_stiffness(limb, numbers[flank]),
                                                           {end,
                                                            end_name + flank_names[flank] + " limb",
                                                            root,
                                                            lateral(flank),
                                                            root_frame(lateral(flank)),
                                                            {tip_frame(flank), {}}},
                                                           builder));
            parts.tip_rows = {0, 1};
        } else {
            parts.rows = add_solid_limb_shells(
                limb, limb_stiffness(limb, 0.5 * (numbers[0] + numbers[1])),
                {end, end_name, root, 0, root_frame(0), {tip_frame(0), tip_frame(1)}}, builder);
            parts.tip_rows = {1, 2};
        }
        return parts;
    }
    if (limb.kind == LimbKind::split) {
        for (std::size_t flank = 0; flank < 2; ++flank)
            parts.rows.push_back(add_row(end_name + flank_names[flank] + " limb", shape, 0, tip,
                                         lateral(flank), limb_stiffness(limb, numbers[flank]), {held, held},
                                         root_frame(lateral(flank)), tip_frame(flank), builder));
        parts.tip_rows = {0, 1};
        return parts;
    }
    const double share = 1 - limb.fork / limb.length;
    std::size_t fork = 0;
    while (shape.shares[fork] < share - 1e-9) ++fork;
    const LimbStiffness stiffness = limb_stiffness(limb, 0.5 * (numbers[0] + numbers[1]));
    const Frame fork_frame = Frame::on(builder.add_node(shape.middle[fork]));
    parts.rows.push_back(add_row(end_name + " limb", shape, 0, fork, 0, stiffness, {held, false},
                                 root_frame(0), fork_frame, builder));
    Shape prong = shape;
    for (StripStation& s : prong.strip.stations) s.width = limb.prong_width;
    for (std::size_t flank = 0; flank < 2; ++flank)
        parts.rows.push_back(add_row(end_name + flank_names[flank] + " prong", prong, fork, tip,
                                     lateral(flank), stiffness, {held, held},
                                     fork_frame.then(Pose{{}, lateral(flank) * Vec3::UnitY()}),
                                     tip_frame(flank), builder));
    parts.tip_rows = {1, 2};
    return parts;
}

}  // namespace limbwright::models
