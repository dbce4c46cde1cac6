#include "models/states/bow_masses.hpp"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "models/bow/track_groove.hpp"
#include "models/input/units.hpp"

namespace limbwright::models {
namespace {

using solver::Body;
using solver::Frame;
using solver::Mat3;
using solver::Pose;
using solver::SectionMass;
using solver::State;

void append(std::vector<Body>& bodies, const std::array<Body, 2>& more) {
    bodies.insert(bodies.end(), more.begin(), more.end());
}

double between(double a, double b, double u) {
    return a + u * (b - a);
}

std::vector<Body> shell_bodies(const AssembledBow& bow, const std::vector<PartShell>& shells,
                               double density) {
    std::vector<Body> bodies;
    for (const PartShell& part : shells) {
        const std::vector<Body> own =
            shell_masses(static_cast<const solver::Shell&>(*bow.system.elements()[part.element]), density,
                         part.thickness, bow.rest);
        bodies.insert(bodies.end(), own.begin(), own.end());
    }
    return bodies;
}

std::vector<Body> riser_bodies(const AssembledBow& bow, double density) {
    const RiserParts& riser = bow.riser;
    std::vector<Body> bodies = shell_bodies(bow, riser.shells, density * bow.bow.riser.fill);
    for (std::size_t i = 0; i < riser.beams.size(); ++i) {
        const RiserStation &a = riser.stations[i], &b = riser.stations[i + 1];
        const auto& beam = static_cast<const solver::Beam&>(*bow.system.elements()[riser.beams[i]]);
        append(bodies,
               segment_masses(beam.end1(), beam.end2(), (b.position - a.position).norm(), [&](double u) {
                   return solver::rectangle_mass(density * bow.bow.riser.fill, between(a.width, b.width, u),
                                                 between(a.depth, b.depth, u));
               }));
    }
    return bodies;
}

std::vector<Body> rod_bodies(const AssembledBow& bow, double density) {
    const std::vector<Frame>& rod = bow.guide.rod;
    std::vector<Body> bodies;
    for (std::size_t i = 0; i + 1 < rod.size(); ++i)
        append(bodies, segment_masses(
                           rod[i], rod[i + 1], bow.bow.guide.rod_length / static_cast<double>(rod.size() - 1),
                           [&](double) { return solver::circle_mass(density, bow.bow.guide.rod_diameter); }));
    return bodies;
}

std::vector<Body> limb_bodies(const AssembledBow& bow, End end, double density) {
    std::vector<Body> bodies;
    for (const LimbRow& row : bow.limbs[index(end)].rows) {
        const std::vector<Body> shells = shell_bodies(bow, row.shells, density);
        bodies.insert(bodies.end(), shells.begin(), shells.end());
        for (std::size_t i = 0; i < row.beams.size(); ++i) {
            const meshes::StripStation &a = row.stations[i], &b = row.stations[i + 1];
            append(bodies, segment_masses(row.sections[i], row.sections[i + 1],
                                          bow.bow.limb.length * (b.at - a.at), [&](double u) {
                                              return solver::rectangle_mass(
                                                  density, between(a.width, b.width, u),
                                                  between(a.thickness, b.thickness, u));
                                          }));
        }
    }
    return bodies;
}

std::vector<Body> axle_bodies(const AssembledBow& bow, End end, double density) {
    const AxleParts& parts = bow.axle(end);
    const Axle& axle = axle_of(bow.bow, end);
    const double lateral = bow.bow.limb.lateral, diameter = axle.diameter;
    // An axle that ends inside the limb tips is spread over the way between their middles.
    const double share = std::min(1., axle.length / (2 * lateral));
    const SectionMass section = solver::circle_mass(share * density, diameter);
    std::vector<Body> bodies;
    const auto add = [&](solver::NodeId from, solver::NodeId to) {
        const double length = (bow.rest.at(from).position - bow.rest.at(to).position).norm();
        append(bodies,
               segment_masses(Frame::on(from), Frame::on(to), length, [&](double) { return section; }));
    };
    add(parts.middle, parts.left);
    add(parts.right, parts.middle);
    const double overhang = std::max(0., 0.5 * axle.length - lateral), mass = overhang * section.mass;
    Mat3 inertia = overhang * section.inertia.asDiagonal();
    inertia(1, 1) += mass * overhang * overhang / 12;
    inertia(2, 2) += mass * overhang * overhang / 12;
    for (const double side : {1., -1.})
        bodies.push_back(
            {Frame::on(side > 0 ? parts.left : parts.right, Pose{{}, Vec3(side * 0.5 * overhang, 0, 0)}),
             mass, inertia});
    return bodies;
}

/// Area, centre and second moments (about the centre, per area) of what a groove goes round; an open one is
/// closed by a straight edge.
struct Outline {
    double area = 0;
    Vec2 centre = Vec2::Zero();
    Eigen::Matrix2d spread = Eigen::Matrix2d::Zero();  ///< mean of r rᵀ [mm²]
};

Outline outline_of(const solver::Groove& groove) {
    const double begin = std::isfinite(groove.begin()) ? groove.begin() : 0;
    const double end = std::isfinite(groove.end()) ? groove.end() : begin + 2 * std::numbers::pi;
    constexpr int pieces = 720;
    Outline o;
    Vec2 moment = Vec2::Zero();
    Eigen::Matrix2d second = Eigen::Matrix2d::Zero();
    const auto at = [&](int i) { return groove.point(begin + (end - begin) * i / pieces); };
    for (int i = 0; i <= pieces; ++i) {
        // Triangles to the axle: ∫ r rᵀ = A/12 (a aᵀ + b bᵀ + (a + b)(a + b)ᵀ).
        const Vec2 a = at(i), b = at(i == pieces ? 0 : i + 1);
        const double area = 0.5 * (a.x() * b.y() - a.y() * b.x());
        o.area += area;
        moment += area / 3 * (a + b);
        second += area / 12 * (a * a.transpose() + b * b.transpose() + (a + b) * (a + b).transpose());
    }
    o.centre = moment / o.area;
    o.spread = second / o.area - o.centre * o.centre.transpose();
    return o;
}

Body cam_body(const AssembledBow& bow, End end, double mass) {
    const Cam& cam = cam_of(bow.bow, end);
    const Outline o = outline_of(*groove_of(cam.string));
    const double across = cam.hub * cam.hub / 12;
    Mat3 inertia = Mat3::Zero();
    inertia(0, 0) = o.spread(1, 1) + across;
    inertia(1, 1) = o.spread(0, 0) + across;
    inertia(2, 2) = o.spread.trace();
    inertia(0, 1) = inertia(1, 0) = -o.spread(0, 1);
    return {bow.axle(end).cam.then(Pose{{}, Vec3(o.centre.x(), o.centre.y(), 0)}), mass, mass * inertia};
}

std::vector<Body> line_bodies(const solver::Cable& cable, const State& state, double line_mass) {
    std::vector<Body> bodies;
    std::vector<Vec3> places;
    for (const solver::Contact& contact : cable.contacts()) {
        bodies.push_back({.frame = contact.frame});
        places.push_back(pose(contact.frame, state).position);
    }
    double whole = 0;
    for (std::size_t i = 0; i + 1 < places.size(); ++i) whole += (places[i + 1] - places[i]).norm();
    const double mass = line_mass * cable.data().natural_length;
    for (std::size_t i = 0; i + 1 < places.size(); ++i) {
        const double half = 0.5 * mass * (places[i + 1] - places[i]).norm() / whole;
        bodies[i].mass += half;
        bodies[i + 1].mass += half;
    }
    return bodies;
}

/// Takes what the bow file gives, else notes what is assumed instead.
class Assumptions {
public:
    double take(const std::optional<double>& given, double otherwise, const std::string& what,
                const Dimension& dimension) {
        if (given) return *given;
        notes_.push_back(fmt::format("{}: {}", what, shown(otherwise, dimension)));
        return otherwise;
    }
    [[nodiscard]] const std::vector<std::string>& notes() const { return notes_; }

private:
    std::vector<std::string> notes_;
};

}  // namespace

std::vector<Body> BowMasses::bodies() const {
    std::vector<Body> all;
    for (const PartMass& part : parts) all.insert(all.end(), part.bodies.begin(), part.bodies.end());
    return all;
}

BowMasses bow_masses(const AssembledBow& assembled, const State& state) {
    const Bow& bow = assembled.bow;
    Assumptions assumptions;
    BowMasses masses;
    const auto density = [&](const Material& material, double otherwise, const std::string& what) {
        return assumptions.take(material.density, otherwise, what, units::density);
    };
    masses.parts.push_back(
        {"riser", riser_bodies(assembled, density(bow.riser.material, assumed::riser_density, "riser"))});
    if (!assembled.guide.rod.empty())
        masses.parts.push_back(
            {"guide rod",
             rod_bodies(assembled, density(bow.guide.rod_material, assumed::rod_density, "guide rod"))});
    const double limb = density(bow.limb.material, assumed::limb_density, "limbs");
    for (const End end : {End::top, End::bottom})
        masses.parts.push_back({fmt::format("{} limbs", name(end)), limb_bodies(assembled, end, limb)});
    for (const End end : {End::top, End::bottom}) {
        const bool idler = !assembled.axle(end).turn;
        const std::string cam = fmt::format("{} {}", name(end), idler ? "idler" : "cam");
        PartMass part{cam, axle_bodies(assembled, end,
                                       density(axle_of(bow, end).material, assumed::axle_density,
                                               fmt::format("{} axle", name(end))))};
        part.bodies.push_back(
            cam_body(assembled, end,
                     assumptions.take(cam_of(bow, end).mass, idler ? assumed::idler_mass : assumed::cam_mass,
                                      cam, units::mass)));
        masses.parts.push_back(std::move(part));
    }
    PartMass string{"string", {}}, cables{"cables", {}};
    const double of_string =
        assumptions.take(bow.cables.string_mass, assumed::line_mass, "string", units::line_mass);
    const double of_cables =
        assumptions.take(bow.cables.cable_mass, assumed::line_mass, "cables", units::line_mass);
    for (const CablePart& part : assembled.all_cables()) {
        const bool is_string = part.kind == CableKind::string;
        const std::vector<Body> bodies =
            line_bodies(assembled.cable(part), state, is_string ? of_string : of_cables);
        std::vector<Body>& all = (is_string ? string : cables).bodies;
        all.insert(all.end(), bodies.begin(), bodies.end());
    }
    masses.parts.push_back(std::move(string));
    masses.parts.push_back(std::move(cables));
    masses.assumed = assumptions.notes();
    return masses;
}

}  // namespace limbwright::models
