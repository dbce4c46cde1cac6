#include "models/riser_parts.hpp"

#include <algorithm>
#include <cmath>

namespace limbwright::models {
namespace {

using solver::Frame;
using solver::Mat3;
using solver::Pose;

RiserStation between(const RiserStation& a, const RiserStation& b, double u) {
    return {a.position + u * (b.position - a.position), a.width + u * (b.width - a.width),
            a.depth + u * (b.depth - a.depth)};
}

/// The line cut into about `elements` pieces: every given station is kept, one is put at the pivot's height.
std::vector<RiserStation> cut(const Riser& riser) {
    std::vector<RiserStation> marks = riser.stations;
    for (std::size_t i = 0; i + 1 < marks.size(); ++i) {
        const double below = marks[i].position.z(), above = marks[i + 1].position.z();
        if (below < 0 && above > 0)
            marks.insert(marks.begin() + static_cast<std::ptrdiff_t>(i) + 1,
                         between(marks[i], marks[i + 1], -below / (above - below)));
    }
    double length = 0;
    for (std::size_t i = 0; i + 1 < marks.size(); ++i)
        length += (marks[i + 1].position - marks[i].position).norm();
    std::vector<RiserStation> pieces{marks.front()};
    for (std::size_t i = 0; i + 1 < marks.size(); ++i) {
        const double share = (marks[i + 1].position - marks[i].position).norm() / length;
        const int n = std::max(1, static_cast<int>(std::lround(share * riser.elements)));
        for (int k = 1; k <= n; ++k)
            pieces.push_back(between(marks[i], marks[i + 1], static_cast<double>(k) / n));
    }
    return pieces;
}

/// Axis 1 along the line (mean of both sides), 2 to the left, 3 across.
Pose section_pose(const std::vector<RiserStation>& line, std::size_t i) {
    const Vec3& before = line[i == 0 ? 0 : i - 1].position;
    const Vec3& after = line[std::min(i + 1, line.size() - 1)].position;
    Mat3 R;
    R.col(0) = (after - before).normalized();
    R.col(1) = (Vec3::UnitY() - R(1, 0) * R.col(0)).normalized();
    R.col(2) = R.col(0).cross(R.col(1));
    return {solver::rotation_from(R), line[i].position};
}

}  // namespace

Frame RiserParts::at(const Pose& X) const {
    std::size_t nearest = 0;
    for (std::size_t i = 1; i < rest.size(); ++i)
        if (std::abs(rest[i].position.z() - X.position.z()) <
            std::abs(rest[nearest].position.z() - X.position.z()))
            nearest = i;
    return sections[nearest].then(rest[nearest].inverse() * X);
}

RiserParts add_riser(const Riser& riser, Builder& builder) {
    RiserParts parts;
    parts.yaw = builder.add_scalar();
    parts.pitch = builder.add_scalar();
    parts.roll = builder.add_scalar();
    using solver::JointKind;
    parts.grip = Frame::on_ground()
                     .then({JointKind::hinge, Vec3::UnitZ(), parts.yaw, {}})
                     .then({JointKind::hinge, Vec3::UnitY(), parts.pitch, {}})
                     .then({JointKind::hinge, Vec3::UnitX(), parts.roll, {}});
    parts.stations = cut(riser);
    std::size_t grip = 0;
    for (std::size_t i = 0; i < parts.stations.size(); ++i) {
        parts.rest.push_back(section_pose(parts.stations, i));
        if (std::abs(parts.stations[i].position.z()) < std::abs(parts.stations[grip].position.z())) grip = i;
    }
    for (std::size_t i = 0; i < parts.stations.size(); ++i)
        parts.sections.push_back(i == grip ? parts.grip.then(parts.rest[i])
                                           : Frame::on(builder.add_node(parts.rest[i])));
    const solver::Moduli moduli{riser.material.along * riser.fill, riser.material.shear * riser.fill};
    for (std::size_t i = 0; i + 1 < parts.sections.size(); ++i) {
        const auto section = [&](double u) {
            const RiserStation s = between(parts.stations[i], parts.stations[i + 1], u);
            return solver::rectangle(moduli, s.width, s.depth);
        };
        parts.beams.push_back(
            builder.add<solver::Beam>(parts.sections[i], parts.sections[i + 1],
                                      solver::beam_data(parts.rest[i], parts.rest[i + 1], section)));
    }
    return parts;
}

}  // namespace limbwright::models
