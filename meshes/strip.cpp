#include "meshes/strip.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>

namespace limbwright::meshes {

using solver::Pose;
using solver::Vec3;
using solver::Vec6;

StripStation Strip::at(double share) const {
    const auto above =
        std::find_if(stations.begin(), stations.end(), [&](const auto& s) { return s.at >= share; });
    if (above == stations.begin()) return stations.front();
    if (above == stations.end()) return stations.back();
    const StripStation &a = *std::prev(above), &b = *above;
    const double u = (share - a.at) / (b.at - a.at);
    const auto mix = [&](double from, double to) { return from + u * (to - from); };
    return {share, mix(a.width, b.width), mix(a.thickness, b.thickness), mix(a.curvature, b.curvature)};
}

std::vector<Pose> section_poses(const Strip& strip, const Pose& first, std::span<const double> shares) {
    std::vector<Pose> poses{first};
    for (std::size_t i = 0; i + 1 < shares.size(); ++i) {
        const double step = strip.length * (shares[i + 1] - shares[i]);
        Vec6 strain = Vec6::Zero();
        strain[0] = step;
        strain[4] = step * strip.at(0.5 * (shares[i] + shares[i + 1])).curvature;
        poses.push_back(poses.back() * solver::exp_pose(strain));
    }
    return poses;
}

std::vector<double> even_shares(double from, double to, int pieces) {
    std::vector<double> shares;
    for (int i = 0; i <= pieces; ++i) shares.push_back(from + (to - from) * i / pieces);
    return shares;
}

double flatwise_rate(const Strip& strip, const solver::Moduli& moduli) {
    return flatwise_rate(
        strip, [&](const StripStation& s) { return solver::rectangle(moduli, s.width, s.thickness); });
}

double flatwise_rate(const Strip& strip,
                     const std::function<solver::SectionStiffness(const StripStation&)>& section) {
    const int n = 400;  // midpoint rule: error of order 1/n², 1e-5
    const std::vector<Pose> poses = section_poses(strip, {}, even_shares(0, 1, 2 * n));
    const Vec3 tip = poses.back().position;
    const Vec3 chord = tip.normalized();
    double flexibility = 0;
    for (int i = 0; i < n; ++i) {
        const solver::Mat6 own = section(strip.at((i + 0.5) / n)).inverse();
        const double arm = chord.dot(tip - poses[static_cast<std::size_t>(2 * i + 1)].position);
        flexibility += strip.length / n * (arm * arm * own(4, 4) + own(2, 2));
    }
    return 1 / flexibility;
}

}  // namespace limbwright::meshes
