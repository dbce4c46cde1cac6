#include "postproc/report/report_scene.hpp"

#include <algorithm>
#include <array>

#include "models/parts/assembled_bow.hpp"
#include "postproc/scene/bow_scene.hpp"

namespace limbwright::postproc {
namespace {

using models::End;

constexpr double line_diameter = 3;  // of what a scene shows as a mere line: string, cables, arrow [mm]

/// How one end of the bow leans, in the bow's own frame.
struct EndLean {
    Vec3 middle = Vec3::Zero();  ///< of the axle [mm]
    Vec3 turn = Vec3::Zero();    ///< θ [rad]
    double reach = 0;            ///< radius of the cam [mm]

    [[nodiscard]] Vec3 at(const Vec3& point) const {
        Vec3 r = point - middle;
        const double distance = r.norm();
        if (distance > reach) r *= reach / distance;
        return turn.cross(r) + Vec3(0, middle.y(), 0);
    }
};

bool starts_with_any(std::string_view name, std::initializer_list<std::string_view> words) {
    return std::ranges::any_of(words, [&](std::string_view word) { return name.starts_with(word); });
}

std::array<EndLean, 2> leans(const models::StrungBow& strung, const solver::State& state,
                             const solver::Pose& to_bow, const std::vector<Piece>& upright) {
    std::array<EndLean, 2> ends;
    for (const End end : {End::top, End::bottom}) {
        const models::AxleParts& axle = strung.bow.axle(end);
        EndLean& lean = ends[models::index(end)];
        lean.middle = to_bow * Vec3(0.5 * (state.at(axle.left).position + state.at(axle.right).position));
        const Vec3 along = to_bow.rotation * Vec3(state.at(axle.middle).rotation * Vec3(Vec3::UnitX()));
        lean.turn = Vec3::UnitY().cross(along);
    }
    for (const Piece& piece : upright) {
        if (!starts_with_any(piece.name, {"cam", "idler"})) continue;
        for (const Vec3& point : piece.points) {
            EndLean& lean = ends[point.z() > 0 ? 0 : 1];
            lean.reach = std::max(lean.reach, (point - lean.middle).norm());
        }
    }
    return ends;
}

/// From 0 at the end of the limb that is away from the axle to 1 at the axle.
double along_limb(const Piece& limb, const EndLean& lean, const Vec3& point) {
    double longest = 0;
    for (const Vec3& p : limb.points) longest = std::max(longest, (p - lean.middle).norm());
    return std::clamp(1 - (point - lean.middle).norm() / longest, 0.0, 1.0);
}

std::vector<Vec3> lean_of(const Piece& piece, const std::array<EndLean, 2>& ends) {
    std::vector<Vec3> result(piece.points.size(), Vec3::Zero());
    if (starts_with_any(piece.name, {"riser", "guide", "arrow"})) return result;
    const bool on_axle = starts_with_any(piece.name, {"axle", "cam", "idler", "spacer"});
    const bool limb = piece.name.starts_with("limb");
    for (std::size_t i = 0; i < result.size(); ++i) {
        const Vec3& point = piece.points[i];
        const EndLean& nearer = ends[point.z() > 0 ? 0 : 1];
        if (on_axle) {
            result[i] = nearer.at(point);
        } else if (limb) {
            const double share = along_limb(piece, nearer, point);
            result[i] = share * share * nearer.at(point);
        } else {
            const double top = ends[0].middle.z() - ends[0].reach,
                         bottom = ends[1].middle.z() + ends[1].reach;
            const double share = std::clamp((point.z() - bottom) / (top - bottom), 0.0, 1.0);
            result[i] = share * ends[0].at(point) + (1 - share) * ends[1].at(point);
        }
    }
    return result;
}

std::vector<std::array<int, 3>> triangles_of(const Piece& piece) {
    std::vector<std::array<int, 3>> all = piece.triangles;
    for (const auto& [a, b, c, d] : piece.quads) {
        all.push_back({a, b, c});
        all.push_back({a, c, d});
    }
    return all;
}

}  // namespace

ReportState report_state(const models::StrungBow& strung, const models::DrawState& state,
                         std::string_view name) {
    Scene scene = scene_of(strung, state);
    const solver::Pose to_bow = models::bow_frame(strung.bow, state.state).inverse();
    for (Piece& piece : scene.pieces) {
        if (!piece.lines.empty()) piece = tube(piece.name, piece.points, line_diameter);
        for (Vec3& point : piece.points) point = to_bow * point;
    }
    const std::array<EndLean, 2> ends = leans(strung, state.state, to_bow, scene.pieces);
    ReportState result{std::string(name), state.draw, state.force, {}};
    for (Piece& piece : scene.pieces)
        result.pieces.push_back({piece.name, piece.points, lean_of(piece, ends), triangles_of(piece)});
    return result;
}

}  // namespace limbwright::postproc
