#pragma once

#include <cmath>
#include <numbers>

#include "models/parts/limb_stiffness.hpp"
#include "models/states/beam_shell_comparison.hpp"
#include "models/states/internal_forces.hpp"

/// The estimate of cam lean that chapter 1 of the study makes by hand.
namespace cam_lean_study {

using namespace limbwright::models;

/// What resists a turn of the cam about the tangent t of the limbs' tips.
struct HandStiffness {
    double flatwise = 0, sideways = 0;  ///< rates of one limb, k_f and k_s [N/mm]
    double twist = 0;                   ///< of one limb, k_t [N mm/rad]
    double arm_share = 0;  ///< λ: a side force turns like a moment of λ w times it, w the tips' deflection
    double of_twist = 0;   ///< 2 k_t [N mm/rad]
    double of_difference = 0;  ///< 2 a² k_f [N mm/rad]
    double of_axle = 0;        ///< 2 EI/a, in series with the two [N mm/rad]
    double total = 0;          ///< K [N mm/rad]
};

/// λ of a limb that is straight at rest, with deflections w flatwise and v sideways under unit loads at the
/// tip:
///     λ = k_t ∫ τ/(GJ) ds,  τ = (w_tip − w − (L−s) w′ − (v_tip − v − (L−s) v′))/w_tip;
/// 1/4 for a uniform limb that is stiff sideways.
inline double arm_share(const Limb& limb) {
    const limbwright::meshes::Strip strip = limb_strip(limb);
    const LimbStiffness stiffness = limb_stiffness(limb, limb.reference_number);
    constexpr int pieces = 400;
    const double h = limb.length / pieces;
    struct Bend {
        double y = 0, slope = 0;  ///< at the end of the piece
        double area = 0;          ///< ∫(y + (L−s) y′)/(GJ) ds to there
    };
    Bend w, v;
    double softness = 0;
    for (int i = 0; i < pieces; ++i) {
        const double left = limb.length - (i + 0.5) * h;
        const auto at = strip.at((i + 0.5) / pieces);
        const limbwright::solver::SectionStiffness C = stiffness.section(at.width, at.thickness);
        softness += h / C(3, 3);
        for (const auto& [bend, stiffness_across] : {std::pair{&w, C(4, 4)}, std::pair{&v, C(5, 5)}}) {
            const double curvature = left / stiffness_across;
            const double slope = bend->slope + 0.5 * h * curvature, y = bend->y + 0.5 * h * bend->slope;
            bend->area += h * (y + left * slope) / C(3, 3);
            bend->y += h * slope;
            bend->slope += h * curvature;
        }
    }
    return ((w.y * softness - w.area) - (v.y * softness - v.area)) / (w.y * softness);
}

inline HandStiffness hand_stiffness(const AssembledBow& bow) {
    const PartRates rates = limb_rates(bow);
    const double a = bow.bow.limb.lateral;
    const Axle& axle = bow.bow.axle_top;
    const double axle_bending = axle.material.along * std::numbers::pi / 64 * std::pow(axle.diameter, 4);
    HandStiffness k{.flatwise = rates.along_plane,
                    .sideways = rates.sideways,
                    .twist = rates.twist * 180 / std::numbers::pi,
                    .arm_share = arm_share(bow.bow.limb)};
    k.of_twist = 2 * k.twist;
    k.of_difference = 2 * a * a * k.flatwise;
    k.of_axle = 2 * axle_bending / a;
    k.total = 1 / (1 / (k.of_twist + k.of_difference) + 1 / k.of_axle);
    return k;
}

/// Free body of a cam with its axle, between its two limb tips; t along the tips, y to the left, n = t × y
/// across them.
struct FreeBody {
    double across = 0;      ///< P, of string and cables along n [N]
    double side = 0;        ///< F, along y [N]
    double moment = 0;      ///< M, about t [N mm]
    double deflection = 0;  ///< w = P/(2 k_f), of the tips along n [mm]
    double t_x = 0;         ///< X component of t
};

inline FreeBody free_body(const AssembledBow& bow, End end, const limbwright::solver::State& state,
                          const HandStiffness& k) {
    const LimbParts& limbs = bow.limbs[index(end)];
    const LimbRow& row = limbs.rows[limbs.tip_rows[0]];
    const Vec3 left = Vec3::UnitY();
    Vec3 t = bow_frame(bow, state).rotation.inverse() *
             Vec3(pose(row.sections.back(), state).rotation * Vec3(Vec3::UnitX()));
    t = Vec3(t - t.dot(left) * left).normalized();
    const CamLoad load = cam_load(bow, end, state);
    const double across = load.force.dot(t.cross(left));
    return {across, load.force.y(), load.moment.dot(t), across / (2 * k.flatwise), t.x()};
}

/// Cam lean by hand [deg], term by term.
struct HandLean {
    double moment = 0;  ///< of the pulls on the cam, M
    double unlike = 0;  ///< of limbs that are not alike, −a P (n_left − n_right)/(n_left + n_right)
    double side = 0;    ///< of the side force on the bent limbs, −λ w F
    [[nodiscard]] double sum() const { return moment + unlike + side; }
};

inline HandLean hand_lean(const AssembledBow& bow, End end, const FreeBody& body, const HandStiffness& k) {
    const Pairing& p = bow.layout.pairing;
    const double left = end == End::top ? p.top_left : p.bottom_left;
    const double right = end == End::top ? p.top_right : p.bottom_right;
    // A turn about t has the share t_x about X; a turn about X carries a top cam's outer edge to the right.
    const double lean = -sign(end) * body.t_x / k.total * 180 / std::numbers::pi;
    return {lean * body.moment, -lean * bow.bow.limb.lateral * body.across * (left - right) / (left + right),
            -lean * k.arm_share * body.deflection * body.side};
}

}  // namespace cam_lean_study
