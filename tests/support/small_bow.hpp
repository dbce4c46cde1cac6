#pragma once

#include <numbers>
#include <stdexcept>

#include "models/bow/upside_down_cam.hpp"
#include "models/states/draw.hpp"

/// A small bow to test with, in N, mm and rad, without files. Invented.
namespace limbwright::testing {

/// A crossed bow with round, eccentric tracks and few elements. Everything lies in the bow's plane, so what
/// is lateral is zero by symmetry, and the mirrored bow is the same bow. Top and bottom are mirror images but
/// for the heights of nocking point, arrow rest and guide. It strings in 25 ms and draws to 600 mm in 10 ms:
/// from 172 mm at brace over a peak of 300 N near 430 mm down to 81 N.
inline models::Bow small_bow() {
    using namespace models;
    constexpr double degree = std::numbers::pi / 180;
    Bow bow;
    bow.name = "small bow";
    bow.riser.stations = {{{165, 0, -300}, 46, 34}, {{24, 0, 0}, 28, 46}, {{165, 0, 300}, 46, 34}};
    bow.riser.material = {70000, 26000};
    bow.riser.fill = 0.6;
    bow.riser.elements = 6;
    bow.pocket_top = {{165, 0, 300}, 59 * degree, 0.55 * degree, {}, {}};
    bow.pocket_bottom = {{165, 0, -300}, 59 * degree, 0.55 * degree, {}, {}};
    bow.limb.length = 320;
    bow.limb.stations = {{0, 24, 9, 0}, {0.5, 24, 7.3, 0}, {1, 24, 5.4, 0}};
    bow.limb.material = {42000, 4200};
    bow.limb.reference_number = 50;
    bow.limb.lateral = 26;
    bow.limb.strain_allowable = 0.012;
    bow.limb.elements = 6;
    bow.axle_top = bow.axle_bottom = {4.8, 82, {205000, 79000}, 1400};
    bow.play = 0.3;

    Cam& cam = bow.cam_top;
    const auto circle = [](const Vec2& centre, double radius) { return Track::Circle{centre, radius}; };
    cam.hub = 20;
    cam.string.circle = circle({11, -19}, 50);
    cam.string.anchor = -110 * degree;
    cam.take_up.emplace();
    cam.take_up->circle = circle({20, -7}, 45);
    cam.take_up->anchor = 10 * degree;
    cam.let_out.emplace();
    cam.let_out->circle = circle({4, -1}, 12);
    cam.let_out->anchor = -60 * degree;
    bow.cam_bottom = flipped(cam);

    bow.guide = {GuideKind::rod, {-110, 0, 85}, 0, 150, 0, {}};
    bow.cables.string_stiffness = 55000;
    bow.cables.cable_stiffness = 70000;
    bow.cables.shortening_per_turn = 0.2;
    bow.brace = {838, 20, {}, 0, 0};
    bow.shooter.rest = {30, 0, 18};
    bow.shooter.vane_radius = 11;
    bow.shooter.draw_length = 600 + 1.75 * 25.4;
    bow.shooter.states = 9;
    bow.layout.pairing = {50, 50, 50, 50};
    bow.layout.spacers_top = bow.layout.spacers_bottom = {{1.5, 2.5}, {1.5, 2.5}};
    return bow;
}

/// The small bow as bows are: tracks side by side, cables held aside to the right, a sight window, one
/// stiffer limb and one pair of unequal spacers. It leans, and its mirror image is another bow.
inline models::Bow small_uneven_bow() {
    models::Bow bow = small_bow();
    for (models::Cam* cam : {&bow.cam_top, &bow.cam_bottom}) {
        cam->string.lateral = 2;
        cam->take_up->lateral = -4;
        cam->let_out->lateral = -8.5;
    }
    bow.riser.stations.insert(bow.riser.stations.begin() + 2, {{64, -15, 100}, 26, 54});
    bow.guide.position.y() = -20;
    bow.guide.spacing = 6;
    bow.layout.pairing.top_left = 52;
    bow.layout.spacers_top = {{1.5, 1.5}, {1.5, 3.5}};
    return bow;
}

/// @throws std::runtime_error if it cannot be strung
inline models::StrungBow strung(const models::Bow& bow) {
    models::Stringing stringing = models::string_up(models::assemble(bow));
    if (const auto* not_strung = std::get_if<models::NotStrung>(&stringing))
        throw std::runtime_error(not_strung->reason);
    return std::get<models::StrungBow>(std::move(stringing));
}

}  // namespace limbwright::testing
