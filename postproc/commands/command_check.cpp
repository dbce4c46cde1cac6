#include "postproc/commands/command_check.hpp"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>

#include "meshes/quality.hpp"
#include "models/bow/bow_file.hpp"
#include "models/bow/spacers.hpp"
#include "models/bow/track_groove.hpp"
#include "models/input/units.hpp"
#include "models/parts/cable_systems.hpp"
#include "models/parts/limb_parts.hpp"
#include "models/parts/limb_shells.hpp"
#include "models/parts/riser_surface.hpp"
#include "postproc/output/table.hpp"

namespace limbwright::postproc {
namespace {

using models::Bow;
using models::End;

using models::units::degree;

Table limbs_table(const Bow& bow) {
    Table table{
        .title = "Limbs",
        .columns = {{"deflection number", "", "as stamped; higher is stiffer", 1},
                    {"Young's modulus", "GPa", "along the limb, with the number in it", 2},
                    {"tip rate", "N/mm", "tip force per tip deflection, root clamped, small, flatwise", 2},
                    {"root angle", "deg", "from upright toward the archer, limb bolt included", 2}},
        .rows = {},
        .text_name = "pocket",
        .texts = {}};
    const models::Pairing& p = bow.layout.pairing;
    const auto add = [&](const std::string& pocket, double number, End end) {
        const solver::Moduli moduli = models::limb_moduli(bow.limb, number);
        table.texts.push_back(pocket);
        table.rows.push_back({number, moduli.young * 1e-3,
                              meshes::flatwise_rate(models::limb_strip(bow.limb), moduli),
                              limb_root_angle(bow, bow.layout, end) / degree});
    };
    add("top left", p.top_left, End::top);
    add("top right", p.top_right, End::top);
    add("bottom left", p.bottom_left, End::bottom);
    add("bottom right", p.bottom_right, End::bottom);
    return table;
}

/// Meshes of the parts that are shells.
Table meshes_table(const Bow& bow) {
    Table table{
        .title = "Meshes of shells",
        .columns = {{"elements", "", "triangles among them", 0},
                    {"triangles", "", "", 0},
                    {"least angle", "deg", "of a corner", 1},
                    {"largest angle", "deg", "of a corner", 1},
                    {"longest to shortest side", "", "largest of all elements", 1},
                    {"warp", "deg", "of a quadrilateral out of its plane, largest", 1},
                    {"thickness to side", "", "largest thickness over an element's shortest side", 1}},
        .rows = {},
        .text_name = "part",
        .texts = {}};
    const auto add = [&](const std::string& part, const meshes::Surface& surface) {
        const meshes::SurfaceQuality q = quality(surface);
        table.texts.push_back(part);
        table.rows.push_back({double(q.cells), double(q.triangles), q.least_angle / degree,
                              q.largest_angle / degree, q.largest_aspect, q.largest_warp / degree,
                              q.largest_thickness_ratio});
    };
    if (bow.limb.model == models::PartModel::shell)
        add("one limb",
            limb_surface(bow.limb,
                         {.end = End::top, .name = {}, .root = {}, .root_frame = {}, .tip_frames = {}}));
    if (bow.riser.model == models::PartModel::shell)
        add("riser", riser_surface(bow.riser, mount_heights(bow)));
    return table;
}

Table spacers_table(const Bow& bow) {
    Table table{.title = "Spacers",
                .columns = {{"left stack", "mm", "sum", 2},
                            {"hub", "mm", "", 2},
                            {"right stack", "mm", "sum", 2},
                            {"gap", "mm", "between the limb tips", 2},
                            {"left over", "mm", "gap less stacks and hub; at most the play", 2},
                            {"cam offset", "mm", "half of right less left stack, positive left", 2}},
                .rows = {},
                .text_name = "end",
                .texts = {}};
    const auto add = [&](const std::string& name, const models::SpacerStacks& stacks,
                         const models::Cam& cam) {
        const auto sum = [](const std::vector<double>& spacers) {
            double total = 0;
            for (const double s : spacers) total += s;
            return total;
        };
        table.texts.push_back(name);
        table.rows.push_back({sum(stacks.left), cam.hub, sum(stacks.right), models::tip_gap(bow),
                              models::left_over(bow, stacks, cam), models::cam_offset(stacks)});
    };
    add("top", bow.layout.spacers_top, bow.cam_top);
    add("bottom", bow.layout.spacers_bottom, bow.cam_bottom);
    return table;
}

/// Lever arms of a cam's tracks while it turns, for runs that stay upright.
Table arms_table(const Bow& bow, End end) {
    const models::Cam& cam = models::cam_of(bow, end);
    struct Row {
        const char* name;
        const models::Track* track;
        double direction;
    };
    std::vector<Row> tracks{{"string", &cam.string, sign(end) * std::numbers::pi}};
    if (cam.take_up) tracks.push_back({"take-up", &*cam.take_up, 0});
    if (cam.let_out) tracks.push_back({"let-out", &*cam.let_out, sign(end) * std::numbers::pi});
    Table table{
        .title = fmt::format("Lever arms of the {} cam's tracks over its turn, runs upright", name(end)),
        .columns = {{"turn", "deg", "from the drawn pose, positive with the draw", 0}},
        .rows = {},
        .text_name = "",
        .texts = {}};
    for (const Row& t : tracks) {
        table.columns.push_back({std::string(t.name) + " arm", "mm", "distance of the run from the axle", 2});
        table.columns.push_back(
            {std::string(t.name) + " in groove", "mm", "from the post to where the cable leaves", 1});
    }
    const double last = cam.stop.value_or(220 * degree);
    for (double turn = 0; turn < last + 20 * degree; turn += 20 * degree) {
        const double now = std::min(turn, last);
        std::vector<double> row{now / degree};
        for (const Row& t : tracks) {
            const auto groove = models::groove_of(*t.track);
            const double psi = t.direction - sign(end) * now;
            row.push_back(groove->at(psi).h);
            row.push_back(std::abs(groove->arc(t.track->anchor, psi)));
        }
        table.rows.push_back(std::move(row));
    }
    return table;
}

}  // namespace

int command_check(const CheckArguments& arguments) {
    const Bow bow = models::read_bow(arguments.bow);
    std::vector<Table> tables{limbs_table(bow), spacers_table(bow)};
    if (bow.cables.system != models::CableSystem::single_cam) tables.push_back(arms_table(bow, End::top));
    tables.push_back(arms_table(bow, End::bottom));
    if (Table meshes = meshes_table(bow); !meshes.rows.empty()) tables.push_back(std::move(meshes));
    if (arguments.json) {
        nlohmann::ordered_json json = nlohmann::ordered_json::array();
        for (const Table& table : tables) json.push_back(to_json(table));
        fmt::print("{}\n", json.dump(1));
        return 0;
    }
    fmt::print("{}\n", bow.name);
    if (!bow.story.empty()) fmt::print("{}\n", bow.story);
    const models::CableSystemEntry& system = models::entry_of(bow.cables.system);
    fmt::print("Cable system {}: {}.\n", system.name, system.text);
    for (const Table& table : tables) fmt::print("\n{}", to_text(table));
    fmt::print("\nAll values as the program understands them:\n\n{}", models::bow_to_toml(bow));
    return 0;
}

}  // namespace limbwright::postproc
