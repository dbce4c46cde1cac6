#include "solver/elements/beam.hpp"

#include <fmt/format.h>

#include <Eigen/Cholesky>
#include <cmath>
#include <stdexcept>

namespace limbwright::solver {
namespace {

/// Carries a twist (displacement, turn) seen in a frame at X to the frame in which X is given.
Mat6 adjoint(const Pose& X) {
    const Mat3 R = X.rotation.matrix();
    Mat6 A = Mat6::Zero();
    A.topLeftCorner<3, 3>() = A.bottomRightCorner<3, 3>() = R;
    A.topRightCorner<3, 3>() = skew(X.position) * R;
    return A;
}

/// The inverse of a symmetric positive definite matrix.
Mat6 flexibility_of(const SectionStiffness& C) {
    const Eigen::LLT<Mat6> factor(C);
    if (!C.allFinite() || factor.info() != Eigen::Success)
        throw std::invalid_argument("a beam's section must have a positive definite stiffness");
    return factor.solve(Mat6::Identity());
}

}  // namespace

BeamDataOf<double> beam_data(const Pose& rest1, const Pose& rest2,
                             const std::function<SectionStiffness(double)>& section) {
    BeamDataOf<double> data;
    data.rest = log_pose(rest1.inverse() * rest2);
    const double length = data.rest.head<3>().norm();
    if (!(length > 0 && std::isfinite(length)))
        throw std::invalid_argument(
            fmt::format("a beam must be longer than nothing, but is {} mm long", length));
    const double point[3] = {-0.5 * std::sqrt(0.6), 0, 0.5 * std::sqrt(0.6)};
    const double weight[3] = {5. / 18, 8. / 18, 5. / 18};
    Mat6 flexibility = Mat6::Zero(), M = Mat6::Zero();
    for (int i = 0; i < 3; ++i) {
        const Mat6 A = adjoint(exp_pose(point[i] * data.rest));
        flexibility += length * weight[i] * A * flexibility_of(section(0.5 + point[i])) * A.transpose();
        M += weight[i] * A;
    }
    const Mat6 K = M.transpose() * flexibility.llt().solve(M);
    data.stiffness = 0.5 * (K + K.transpose());
    return data;
}

Beam::Beam(const Frame& end1, const Frame& end2, const BeamDataOf<double>& data)
    : end1_(end1), end2_(end2), data_(data), bare_(end1.is_bare_node() && end2.is_bare_node()) {
    places1_ = list_.add(end1_);
    places2_ = list_.add(end2_);
}

double Beam::energy(const State& state) const {
    return beam_energy(data_, pose(end1_, state), pose(end2_, state));
}

std::complex<double> Beam::energy(const StateOf<std::complex<double>>& state) const {
    using C = std::complex<double>;
    return beam_energy<C>({data_.stiffness.cast<C>(), data_.rest.cast<C>()}, pose(end1_, state),
                          pose(end2_, state));
}

void Beam::gradient(const State& state, ElementVector& g) const {
    if (bare_) {
        g = beam_gradient(data_, state.at(end1_.node), state.at(end2_.node));
        return;
    }
    const FrameMotion motion1(end1_, state), motion2(end2_, state);
    const Vec12 own = beam_gradient(data_, motion1.pose(), motion2.pose());
    g = ElementVector::Zero(list_.size());
    add_pulled_back<double>(motion1, places1_, own.head<6>(), g);
    add_pulled_back<double>(motion2, places2_, own.tail<6>(), g);
}

void Beam::gradient_and_hessian(const State& state, ElementVector& g, ElementMatrix& H) const {
    Vec12 own;
    Mat12 hessian;
    if (bare_) {
        beam_gradient_and_hessian(data_, state.at(end1_.node), state.at(end2_.node), own, hessian);
        g = own;
        H = hessian;
        return;
    }
    const FrameMotion motion1(end1_, state), motion2(end2_, state);
    beam_gradient_and_hessian(data_, motion1.pose(), motion2.pose(), own, hessian);
    g = ElementVector::Zero(list_.size());
    H = ElementMatrix::Zero(list_.size(), list_.size());
    add_pulled_back(motion1, places1_, motion2, places2_, own, hessian, g, H);
}

std::array<SectionForces, 2> Beam::section_forces(const State& state) const {
    const Pose X1 = pose(end1_, state), X2 = pose(end2_, state);
    const Vec12 g = beam_gradient(data_, X1, X2);
    return {SectionForces{X1.rotation.inverse() * Vec3(-g.segment<3>(0)), -g.segment<3>(3)},
            SectionForces{X2.rotation.inverse() * Vec3(g.segment<3>(6)), g.segment<3>(9)}};
}

}  // namespace limbwright::solver
