#include "postproc/results/ranking_files.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "postproc/files/file_plugin.hpp"
#include "postproc/output/atomic_file.hpp"
#include "postproc/results/draw_files.hpp"
#include "postproc/results/lean_map.hpp"
#include "postproc/results/ranking_record.hpp"
#include "postproc/results/ranking_views.hpp"

namespace limbwright::postproc {
namespace {

namespace fs = std::filesystem;

/// Writes into one folder and keeps account.
class Folder {
public:
    explicit Folder(fs::path path) : path_(std::move(path)) {}

    fs::path add(const std::string& name) {
        written_.push_back(path_ / name);
        return written_.back();
    }
    /// An empty text: there is no such file, nor shall an old one stay.
    void write(const std::string& name, const std::string& text) {
        if (text.empty())
            fs::remove(path_ / name);
        else
            write_whole_file(add(name), text);
    }
    [[nodiscard]] const fs::path& path() const { return path_; }
    [[nodiscard]] const std::vector<fs::path>& written() const { return written_; }

private:
    fs::path path_;
    std::vector<fs::path> written_;
};

std::string map_text(const LeanMap& map) {
    return map.values.empty() ? "" : to_svg(map);
}

std::string lean_map_text(const RankingResults& results, const std::string& measure) {
    const models::MeasureKey wanted{measure, models::DrawPlace::full_draw};
    for (std::size_t c = 0; c < results.columns.size(); ++c)
        if (results.columns[c].key() == wanted) return map_text(lean_map(results, c));
    return {};
}

void write_best(Folder& folder, const RankingResults& results, const std::vector<models::FullDraw>& draws,
                const std::string& stem) {
    const auto name_of = [](std::size_t rank) { return fmt::format("best_{}", rank); };
    std::size_t rank = 1;
    for (; rank < draws.size(); ++rank) {
        const models::FullDraw& full = draws[rank];
        if (full.draw.states.empty()) {
            fs::remove_all(folder.path() / name_of(rank));
            continue;
        }
        write_whole_folder(folder.add(name_of(rank)), [&](const fs::path& at) {
            write_draw_files(measured(*full.strung, full.draw), at, stem, results.bow_file);
        });
    }
    while (fs::remove_all(folder.path() / name_of(rank)) > 0) ++rank;
}

}  // namespace

std::vector<fs::path> write_ranking_files(const RankingResults& results,
                                          const std::vector<models::FullDraw>& draws, const fs::path& path,
                                          const std::string& stem) {
    Folder folder(path);
    file_writers().write_hdf5(folder.add("ranking.h5"), to_tree(results));
    folder.write("ranking.json", to_json(results).dump(1) + "\n");
    folder.write("lean_map_top.svg", lean_map_text(results, "lean_top"));
    folder.write("lean_map_bottom.svg", lean_map_text(results, "lean_bottom"));
    folder.write("score_map.svg", map_text(score_map(results)));
    folder.write("nock_travel.svg", to_svg(compared_nock_travel(curves_of(draws, "nock_travel_lateral"))));
    folder.write("force.svg", to_svg(compared_draw_force(curves_of(draws, "draw_force"))));
    folder.write("forgiveness.svg",
                 to_svg(compared_forgiveness(curves_of(draws, "forgiveness_arrow_yaw"),
                                             curves_of(draws, "forgiveness_nock_travel"))));
    write_best(folder, results, draws, stem);
    return folder.written();
}

}  // namespace limbwright::postproc
