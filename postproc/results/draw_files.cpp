#include "postproc/results/draw_files.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <stdexcept>

#include "postproc/files/file_plugin.hpp"
#include "postproc/output/atomic_file.hpp"
#include "postproc/scene/bow_scene.hpp"
#include "postproc/scene/bow_views.hpp"

namespace limbwright::postproc {

void make_folder(const std::filesystem::path& folder) {
    std::error_code trouble;
    std::filesystem::create_directories(folder, trouble);
    if (trouble)
        throw std::runtime_error(
            fmt::format("the folder {} cannot be made: {}", folder.string(), trouble.message()));
}

std::vector<std::filesystem::path> write_draw_files(const MeasuredDraw& draw,
                                                    const std::filesystem::path& folder,
                                                    const std::string& stem, const std::string& bow_file) {
    std::vector<std::filesystem::path> written;
    const auto at = [&](const std::string& name) {
        written.push_back(folder / name);
        return written.back();
    };
    file_writers().write_hdf5(at(stem + ".h5"), to_tree(record_of(draw, bow_file)));
    file_writers().write_vtk(at(stem + ".pvd"), scenes_of(draw.strung, draw.draw));
    const std::vector<double> draws = draws_of(draw.draw);
    const auto values = [&](const char* id) { return values_of(draw, id); };
    write_whole_file(at("side.svg"), to_svg(side_view(draw.strung, draw.draw)));
    write_whole_file(at("behind.svg"), to_svg(view_from_behind(draw.strung, draw.draw)));
    write_whole_file(at("force.svg"), to_svg(force_draw_plot(draw.draw)));
    write_whole_file(at("lean.svg"),
                     to_svg(cam_angles_plot(draws, {values("lean_top"), values("lean_bottom")},
                                            {values("toe_top"), values("toe_bottom")})));
    write_whole_file(at("nock_travel.svg"), to_svg(nock_travel_plot(draws, values("nock_travel_lateral"),
                                                                    values("nock_travel_vertical"))));
    write_whole_file(at(stem + ".json"), to_json(draw).dump(1) + "\n");
    return written;
}

}  // namespace limbwright::postproc
