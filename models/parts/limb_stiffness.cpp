#include "models/parts/limb_stiffness.hpp"

#include <Eigen/LU>
#include <cmath>

namespace limbwright::models {
namespace {

using solver::Lamina;
using solver::Laminate;
using solver::Moduli;

Lamina scaled(Lamina lamina, double by) {
    for (double* modulus : {&lamina.along, &lamina.across, &lamina.shear, &lamina.shear_13, &lamina.shear_23})
        *modulus *= by;
    return lamina;
}

Laminate laminate_of(const std::vector<LimbPly>& plies, double scale, double thickness) {
    double core = thickness;
    for (const LimbPly& ply : plies) core -= ply.thickness.value_or(0);
    Laminate laminate;
    for (const LimbPly& ply : plies)
        laminate.push_back({scaled(ply.lamina, scale), ply.angle, ply.thickness.value_or(core)});
    return laminate;
}

/// Moduli of the rectangle that is as stiff flatwise and in torsion.
Moduli moduli_like(const solver::SectionStiffness& section, double width, double thickness) {
    const solver::Mat6 flexibility = section.inverse();
    return {12 / (flexibility(4, 4) * width * thickness * thickness * thickness),
            1 / (flexibility(3, 3) * solver::torsion_constant(width, thickness))};
}

}  // namespace

Lamina lamina_of(const Material& material) {
    const double isotropic = material.along / (2 * material.shear) - 1;
    const bool plain = isotropic >= 0 && isotropic <= 0.5;
    Lamina lamina{.along = material.along,
                  .across = material.across.value_or(plain ? material.along : 2.5 * material.shear),
                  .poisson = material.poisson.value_or(plain ? isotropic : 0.27),
                  .shear = material.shear,
                  .shear_13 = material.shear,
                  .shear_23 = 0};
    lamina.shear_23 = plain ? material.shear : lamina.across / 2.8;
    return lamina;
}

solver::SectionStiffness LimbStiffness::section(double width, double thickness) const {
    return plies.empty() ? rectangle(moduli, width, thickness) : laminate_section(laminate(thickness), width);
}

double LimbStiffness::polar_stiffness(double width, double thickness) const {
    if (plies.empty()) return moduli.shear * width * thickness * (width * width + thickness * thickness) / 12;
    const Laminate wall = laminate(thickness);
    double through = 0;  // ∫G₁₃ dz
    for (const solver::Ply& ply : wall) {
        const double c = std::cos(ply.angle), s = std::sin(ply.angle);
        through += ply.thickness * (c * c * ply.lamina.shear_13 + s * s * ply.lamina.shear_23);
    }
    return width * wall_stiffness(wall)(5, 5) + through * std::pow(width, 3) / 12;
}

solver::SectionStiffness LimbStiffness::section_near(std::span<const double> held_ends, double width,
                                                     double thickness) const {
    solver::SectionStiffness near = section(width, thickness);
    if (held_ends.empty()) return near;
    const solver::Mat6 flexibility = near.inverse();
    const double torsion = 1 / flexibility(3, 3), bending = 1 / flexibility(4, 4);
    const double narrow = std::pow(width * thickness, 3) / 144;
    const double warping = bending * width * width / 12 * solver::warping_constant(width, thickness) / narrow;
    const double polar = polar_stiffness(width, thickness);
    const double mu = 1 - torsion / polar;
    const double reach = std::sqrt(warping / (mu * torsion));
    double share = 1;  // of the free twist
    for (const double distance : held_ends) share *= 1 - mu * std::exp(-distance / reach);
    near(3, 3) += torsion * (1 / share - 1);
    return near;
}

Laminate LimbStiffness::laminate(double thickness) const {
    return plies.empty() ? Laminate{{lamina, 0, thickness}} : laminate_of(plies, scale, thickness);
}

LimbStiffness limb_stiffness(const Limb& limb, double number) {
    const double share = number / limb.reference_number;
    const meshes::Strip strip = limb_strip(limb);
    LimbStiffness made;
    made.plies = limb.plies;
    if (!limb.plies.empty()) {
        if (limb.spring_rate)
            made.scale = *limb.spring_rate / flatwise_rate(strip, [&](const meshes::StripStation& s) {
                return made.section(s.width, s.thickness);
            });
        made.scale *= share;
        const LimbStation& root = limb.stations.front();
        made.moduli = moduli_like(made.section(root.width, root.thickness), root.width, root.thickness);
        return made;
    }
    Material material = limb.material;
    if (limb.spring_rate) {
        // The ratio of the moduli is the material's where it is given, else 10, that of a unidirectional
        // glass laminate.
        const bool known = material.along > 0 && material.shear > 0;
        const double ratio = known ? material.shear / material.along : 0.1;
        const double young = *limb.spring_rate / flatwise_rate(strip, Moduli{1, ratio});
        if (material.across && known) material.across = *material.across * young / material.along;
        material.along = young;
        material.shear = ratio * young;
    }
    made.moduli = {material.along * share, material.shear * share};
    made.lamina = scaled(lamina_of(material), share);
    return made;
}

meshes::Strip limb_strip(const Limb& limb) {
    meshes::Strip strip{limb.length, {}};
    for (const LimbStation& s : limb.stations)
        strip.stations.push_back({s.at, s.width, s.thickness, s.curvature});
    return strip;
}

Laminate riser_laminate(const Riser& riser, double thickness) {
    return {{scaled(lamina_of(riser.material), riser.fill), 0, thickness}};
}

}  // namespace limbwright::models
