#pragma once

#include <fmt/format.h>

#include <filesystem>

#include "examples/cam_lean_study_by_hand.hpp"
#include "examples/cam_lean_study_tools.hpp"

/// Chapter 5 of the study of cam lean: what a yoke does.
namespace cam_lean_study {

/// What the two legs of a yoke do to their axle, in one state.
struct YokeLoad {
    double left = 0, right = 0;  ///< tensions [N]
    double moment = 0;           ///< about X on the axle, about the middle of the hub [N mm]
    double cable = 0;            ///< pull along the cable that ends in the yoke [N]
    double run = 0;              ///< c: yoke point to guide [mm]
};

inline YokeLoad yoke_load(const AssembledBow& bow, End end, const limbwright::solver::State& state) {
    const AxleParts& axle = bow.axle(end);
    const Vec3 hub = pose(axle.cam, state).position;
    const limbwright::solver::Rotation back = bow_frame(bow, state).rotation.inverse();
    YokeLoad load;
    Vec3 moment = Vec3::Zero();
    for (std::size_t i = 0; i < bow.cables.size(); ++i) {
        if (bow.cables[i].kind != CableKind::yoke_leg) continue;
        const auto& leg = bow.cable(bow.cables[i]);
        const auto pulls = leg.pulls(state);
        for (std::size_t k = 0; k < pulls.size(); ++k) {
            const auto& frame = leg.contacts()[k].frame;
            const bool on_left = frame.node == axle.left;
            if (!on_left && frame.node != axle.right) continue;
            (on_left ? load.left : load.right) = leg.tension(state);
            moment += Vec3(pose(frame, state).position - hub).cross(pulls[k].force);
            // A cable stands in the list before its two legs.
            const auto& cable = bow.cable(bow.cables[on_left ? i - 1 : i - 2]);
            load.cable = cable.tension(state);
            load.run = (pose(cable.contacts()[1].frame, state).position -
                        pose(cable.contacts()[2].frame, state).position)
                           .norm();
        }
    }
    load.moment = Vec3(back * moment).x();
    return load;
}

inline void what_a_yoke_does(const Bow& crossed, const Bow& yoked, double peak_draw,
                             const std::filesystem::path& out) {
    const auto shifted = [](Bow bow, double by) {
        bow.layout.guide_lateral = by;
        return bow;
    };
    const auto twisted = [&](double turns) {
        Bow bow = yoked;
        bow.layout.twist_yoke_left = {turns, turns};
        return bow;
    };
    const Solved as_it_is = solved(yoked, peak_draw);

    Rows guide("yoke_guide", "Cam lean over the guide's shift to the left, top cam", "",
               {{"crossed, brace", "deg", "", 3},
                {"crossed, peak", "deg", "", 3},
                {"crossed, full draw", "deg", "", 3},
                {"yoked, brace", "deg", "", 3},
                {"yoked, peak", "deg", "", 3},
                {"yoked, full draw", "deg", "", 3}});
    std::array<std::array<Curve, 2>, 2> curves{
        {{Curve{"crossed, peak", {}, {}}, Curve{"crossed, full draw", {}, {}}},
         {Curve{"yoked, peak", {}, {}}, Curve{"yoked, full draw", {}, {}}}}};
    std::vector<std::vector<double>> leans;
    const std::vector<double> shifts{-10, -5, 0, 5, 10, 20};
    for (const double shift : shifts) {
        std::vector<double> row;
        for (std::size_t b = 0; b < 2; ++b) {
            const Solved run = solved(shifted(b == 0 ? crossed : yoked, shift), peak_draw);
            for (const Place place : places) row.push_back(lean(run, End::top, place));
            for (std::size_t k = 0; k < 2; ++k) {
                curves[b][k].x.push_back(shift);
                curves[b][k].y.push_back(row[3 * b + 1 + k]);
            }
        }
        guide.add(fmt::format("{:.0f} mm", shift), row);
        leans.push_back(row);
    }
    std::vector<double> slopes;
    for (std::size_t i = 0; i < 6; ++i)
        slopes.push_back((leans[3][i] - leans[1][i]) / (shifts[3] - shifts[1]));
    guide.add("per mm, about 0", slopes);
    guide.write(out);

    Rows balance("yoke_balance", "Moments about X on the top axle of the yoked bow", "",
                 {{"left leg", "N", "", 1},
                  {"right leg", "N", "", 1},
                  {"legs on the axle", "N mm", "", 0},
                  {"string and cable on the cam", "N mm", "", 0},
                  {"sum", "N mm", "", 0},
                  {"lean", "deg", "", 3}});
    constexpr double turns = 5;
    const Solved more = solved(twisted(turns), peak_draw), less = solved(twisted(-turns), peak_draw);
    Rows twist("yoke_twist", "One turn more in the left leg of each yoke, top cam", "",
               {{"pull of the cable T", "N", "", 1},
                {"yoke point to guide c", "mm", "", 1},
                {"limbs and axle K", "N m/rad", "", 1},
                {"yoke T h (1 + h/c)", "N m/rad", "", 1},
                {"by hand", "deg/turn", "", 4},
                {"engine", "deg/turn", "", 4}});
    const double K = hand_stiffness(as_it_is.strung.bow).total;
    const double half = 0.5 * yoked.axle_top.length, leg = yoked.cables.yoke_leg;
    const double height = std::sqrt(leg * leg - half * half);
    const double shift = yoked.cables.shortening_per_turn * leg / (2 * half);
    for (const Place place : places) {
        const auto& state = as_it_is.draw.states[place].state;
        const YokeLoad load = yoke_load(as_it_is.strung.bow, End::top, state);
        const double cam = cam_load(as_it_is.strung.bow, End::top, state).moment.x();
        balance.add(place_names[place], {load.left, load.right, load.moment, cam, load.moment + cam,
                                         lean(as_it_is, End::top, place)});
        const double of_yoke = load.cable * height * (1 + height / load.run);
        const double moment = load.cable * shift * (1 + height / load.run);
        twist.add(
            place_names[place],
            {load.cable, load.run, K * 1e-3, of_yoke * 1e-3, moment / (K + of_yoke) * 180 / std::numbers::pi,
             (lean(more, End::top, place) - lean(less, End::top, place)) / (2 * turns)});
    }
    balance.write(out);
    Rows triangle("yoke_triangle", "The yoke's triangle", "", {{"value", "", "", 2}});
    triangle.add("leg [mm]", {leg});
    triangle.add("half the axle e [mm]", {half});
    triangle.add("height h [mm]", {height});
    triangle.add("yoke point's shift per turn [mm]", {shift});
    triangle.write(out);
    twist.write(out);

    Curve at_brace{"brace", {}, {}}, at_full{"full draw", {}, {}};
    for (const double n : {-10., -5., 0., 5., 10.}) {
        const Solved run = solved(twisted(n), peak_draw);
        for (const auto& [curve, place] : {std::pair{&at_brace, brace}, std::pair{&at_full, full}}) {
            curve->x.push_back(n);
            curve->y.push_back(lean(run, End::top, place));
        }
    }
    write_picture(
        out, "yoke",
        {.title = "Lean of the top cam with and without a yoke",
         .panels =
             {{"guide moved to the left",
               {"shift of the guide", "mm"},
               {"cam lean", "deg"},
               {curves[0][0], curves[0][1], curves[1][0], curves[1][1]}},
              {"left leg of each yoke twisted", {"turns", ""}, {"cam lean", "deg"}, {at_brace, at_full}}},
         .panels_across = 2,
         .panel_width = 480,
         .panel_height = 340});
}

}  // namespace cam_lean_study
