#include "models/bow/bow_reader.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <limits>

#include "models/bow/bow_checks.hpp"
#include "models/bow/bow_keys.hpp"
#include "models/bow/table_in.hpp"
#include "models/bow/track_groove.hpp"
#include "models/bow/upside_down_cam.hpp"

namespace limbwright::models {
namespace {

/// Gives every ply the lamina that it names; NaN and a complaint if there is none.
void look_up_laminae(std::vector<LimbPly>& plies, const Laminae& laminae, Complaints& complaints) {
    constexpr double nan = std::numeric_limits<double>::quiet_NaN();
    std::vector<std::string> known;
    for (const auto& [name, constants] : laminae) known.push_back(fmt::format("\"{}\"", name));
    for (std::size_t i = 0; i < plies.size(); ++i) {
        const auto lamina = laminae.find(plies[i].lamina_name);
        plies[i].lamina =
            lamina != laminae.end() ? lamina->second : solver::Lamina{nan, nan, nan, nan, nan, nan};
        if (lamina == laminae.end() && !plies[i].lamina_name.empty())
            complaints.add(fmt::format("limb.plies[{}].lamina", i),
                           known.empty()
                               ? "must name a table [lamina.NAME], of which there is none"
                               : fmt::format("must name one of the laminae {}", fmt::join(known, ", ")),
                           fmt::format("\"{}\"", plies[i].lamina_name));
    }
}

}  // namespace

Bow bow_in(Document& document, const std::filesystem::path& folder) {
    Complaints& complaints = document.complaints();
    TableIn file(TableReader(document), complaints, folder);
    Bow bow;
    Laminae laminae;
    describe(file, bow, laminae);
    look_up_laminae(bow.limb.plies, laminae, complaints);
    document.complain_about_unknown_keys();
    check(bow, complaints);
    // Fitting takes longer than all the rest: grooves of a file with other mistakes wait until those are
    // mended.
    if (complaints.all().empty()) {
        const bool alike = is_upside_down(bow.cam_bottom, bow.cam_top);
        fit_grooves(bow.cam_top, "cam.top", complaints);
        if (alike)
            bow.cam_bottom = flipped(bow.cam_top);
        else
            fit_grooves(bow.cam_bottom, "cam.bottom", complaints);
    }
    return bow;
}

}  // namespace limbwright::models
