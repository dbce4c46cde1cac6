#pragma once

#include "examples/cam_lean_study_tools.hpp"
#include "models/states/beam_shell_comparison.hpp"

/// Chapters 2 and 3 of the study of cam lean: beams and shells, coarse and fine.
namespace cam_lean_study {

/// Chapter 2: the same bow as beams and as shells.
inline void beam_and_shell(const Bow& bow, double peak_draw, const std::filesystem::path& out) {
    using enum PartModel;
    const std::vector<ModelChoice> choices{
        {beam, beam, Warping::free}, {beam, beam, Warping::held}, {shell, beam}, {shell, shell}};
    std::vector<Bow> bows;
    for (const ModelChoice& choice : choices) bows.push_back(with_model(bow, choice));
    const std::vector<Solved> runs = solved(bows, peak_draw);

    std::vector<Column> columns;
    for (const ModelChoice& choice : choices) columns.push_back({choice.name(), "", "", 3});
    columns.push_back({"beams less shell limbs", "%", "", 2});
    Rows rows("beam_and_shell", "Beams and shells", "", columns);
    const auto add = [&](const std::string& what, const auto& number) {
        std::vector<double> values;
        for (const Solved& run : runs) values.push_back(number(run));
        values.push_back(100 * (values[1] - values[2]) / std::abs(values[2]));
        rows.add(what, values);
    };
    add("flatwise rate [N/mm]", [](const Solved& run) { return limb_rates(run.strung.bow).along_plane; });
    add("sideways rate [N/mm]", [](const Solved& run) { return limb_rates(run.strung.bow).sideways; });
    add("twist rate [N m/deg]", [](const Solved& run) { return limb_rates(run.strung.bow).twist * 1e-3; });
    add("riser, twist rate [N m/deg]",
        [](const Solved& run) { return riser_rates(run.strung.bow).twist * 1e-3; });
    for (const Place place : {peak, full})
        add(std::string("draw force, ") + place_names[place] + " [N]",
            [&](const Solved& run) { return measured(run, "draw force", place); });
    for (const End end : ends)
        for (const Place place : places)
            add(std::string("lean, ") + name(end) + ", " + place_names[place] + " [deg]",
                [&](const Solved& run) { return lean(run, end, place); });
    add("forgiveness, full draw [deg/(N m)]",
        [](const Solved& run) { return measured(run, "forgiveness, arrow yaw", full); });
    rows.write(out);
}

/// Chapter 3: finer and finer meshes.
///
/// @return  twist rate of a limb of shells over the elements across it [N m/deg]
inline Extrapolated convergence(const Bow& bow, const std::filesystem::path& out) {
    const std::vector<Column> columns{{"twist rate", "N m/deg", "", 5},
                                      {"lean, top, full draw", "deg", "", 5}};
    Plot plot{.title = "Error of cam lean against the limit, over the mesh",
              .panels = {},
              .panels_across = 3,
              .panel_width = 330,
              .panel_height = 320};
    // A twist rate costs little, so that there may be more of them than leans.
    const auto study = [&](const std::string& table, const std::string& title, const std::string& what,
                           const std::vector<int>& sizes, std::size_t leans_wanted, int Limb::*size,
                           const Bow& start) {
        std::vector<Bow> bows;
        std::vector<double> twist, leans;
        for (const int n : sizes) {
            bows.push_back(start);
            bows.back().limb.*size = n;
            bows.back().shooter.states = 2;
            twist.push_back(limb_rates(assemble(bows.back())).twist * 1e-3);
        }
        bows.resize(leans_wanted);
        std::reverse(bows.begin(), bows.end());  // the largest first, so that both threads end together
        for (const Solved& run : solved(bows, std::nullopt)) leans.push_back(lean(run, End::top, 1));
        std::reverse(leans.begin(), leans.end());
        Rows rows(table, title, "", columns);
        for (std::size_t i = 0; i < sizes.size(); ++i)
            rows.add(std::to_string(sizes[i]), {twist[i], i < leans.size() ? leans[i] : std::nan("")});
        const auto last_three = [](const std::vector<double>& f) {
            return richardson(f[f.size() - 3], f[f.size() - 2], f[f.size() - 1]);
        };
        const Extrapolated of_twist = last_three(twist), of_lean = last_three(leans);
        rows.add("order", {of_twist.order, of_lean.order});
        rows.add("limit", {of_twist.limit, of_lean.limit});
        rows.write(out);
        Curve curve{"", {}, {}};
        for (std::size_t i = 0; i < leans.size(); ++i) {
            curve.x.push_back(std::log10(sizes[i]));
            curve.y.push_back(std::log10(std::abs(leans[i] - of_lean.limit)));
        }
        plot.panels.push_back({what, {"log₁₀ of elements", ""}, {"log₁₀ of error in deg", ""}, {curve}});
        return of_twist;
    };
    study("mesh_beams", "Beam elements along a limb", "beams along", {6, 12, 24, 48}, 4, &Limb::elements,
          bow);
    Bow shells = with_model(bow, {.limb = PartModel::shell});
    shells.limb.shells = 20;
    const Extrapolated shells_twist = study("mesh_across", "Shells across a limb, 20 along", "shells across",
                                            {4, 8, 16, 32}, 3, &Limb::shells_across, shells);
    shells.limb.shells_across = 4;
    study("mesh_along", "Shells along a limb, 4 across", "shells along", {10, 20, 40, 80}, 3, &Limb::shells,
          shells);
    write_picture(out, "convergence", plot);
    return shells_twist;
}

/// Chapter 2 again: what ends that cannot warp do to the twist rate.
///
/// @param shells_limit  twist rate of a limb of shells, the mesh infinitely fine [N m/deg]
inline void held_ends(const Bow& bow, double shells_limit, const std::filesystem::path& out) {
    const auto twist_rate = [&](const ModelChoice& choice) {
        return limb_rates(assemble(with_model(bow, choice))).twist * 1e-3;
    };
    const double free = twist_rate({.warping = Warping::free});
    const Limb& limb = bow.limb;
    const double reach =
        limb.stations.front().width * std::sqrt(limb.material.along / (48 * limb.material.shear));
    Rows rows("warping", "Twist rate with ends held over twist rate with ends free", "",
              {{"value", "", "", 3}});
    rows.add("reach b √(E/(48 G)) [mm]", {reach});
    rows.add("by hand, L/(L − 2 reach)", {limb.length / (limb.length - 2 * reach)});
    rows.add("beams", {twist_rate({}) / free});
    rows.add("shells, 8 across", {twist_rate({.limb = PartModel::shell}) / free});
    rows.add("shells, limit", {shells_limit / free});
    rows.write(out);
}

}  // namespace cam_lean_study
