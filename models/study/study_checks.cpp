#include "models/study/study_checks.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>

#include "models/input/units.hpp"
#include "models/study/design_space.hpp"

namespace limbwright::models {
namespace {

constexpr std::size_t most_limbs = 40;  // of stock: 2,193,360 pairings
constexpr double most_layouts = 1e9;

std::string mm(double length) {
    return shown(length, units::length);
}

bool complained(const Complaints& complaints, std::string_view beginning) {
    const auto about_it = [&](const Complaint& c) { return c.key.starts_with(beginning); };
    return std::ranges::any_of(complaints.all(), about_it);
}

void check_limbs(const Study& study, const Bow& bow, Complaints& complaints) {
    const std::size_t count = study.limbs.size(), needed = pockets(bow.limb.kind);
    const char* place = bow.limb.kind == LimbKind::solid ? "end of the bow" : "pocket";
    const std::string found = fmt::format("a list of {}", count);
    if (count < needed)
        complaints.add("limbs.numbers", fmt::format("must hold at least {}, one for each {}", needed, place),
                       found);
    if (count > most_limbs)
        complaints.add("limbs.numbers", fmt::format("must hold at most {}", most_limbs), found);
}

bool fills(const Bow& bow, const std::vector<SpacerKind>& box, const Cam& cam, const char* end,
           Complaints& complaints) {
    const double miss = nearest_miss(bow, cam, box);
    if (miss == 0) return true;
    complaints.add("spacers",
                   fmt::format("must fill the gap at the {} cam within the play of {} in at least one "
                               "way: the nearest is {} too {}",
                               end, mm(bow.play), mm(std::abs(miss)), miss > 0 ? "short" : "long"));
    return false;
}

/// @return  how many spacer layouts the box holds; zero if there is a complaint
std::size_t check_spacers(const Study& study, const Bow& bow, Complaints& complaints) {
    const bool top = fills(bow, study.spacers, bow.cam_top, "top", complaints);
    const bool bottom = fills(bow, study.spacers, bow.cam_bottom, "bottom", complaints);
    if (!top || !bottom) return 0;
    try {
        const std::size_t layouts = spacer_pairs(bow, study.spacers).size();
        if (layouts == 0)
            complaints.add("spacers",
                           "must fill the gaps at both cams at once: there are enough for one of them only");
        return layouts;
    } catch (const std::length_error& error) {
        complaints.add("spacers",
                       fmt::format("must leave fewer choices, but there are {}: leave out a thickness, "
                                   "or count fewer of the thin ones",
                                   error.what()));
        return 0;
    }
}

void check_size(const Study& study, const Bow& bow, std::size_t spacer_layouts, Complaints& complaints) {
    const std::int64_t pairings = study.limbs.empty() ? 1 : count_pairings(study.limbs, bow.limb.kind);
    double layouts = static_cast<double>(pairings) * static_cast<double>(spacer_layouts);
    std::string factors = fmt::format("{} pairings × {} spacer layouts", pairings, spacer_layouts);
    for (const SettingRange& range : study.ranges) {
        layouts *= count_of(range.steps);
        factors += fmt::format(" × {:.0f}", count_of(range.steps));
    }
    if (layouts > most_layouts)
        complaints.add("",
                       fmt::format("the study must ask for at most {:.0f} layouts, but asks for {} = {:.3g}",
                                   most_layouts, factors, layouts));
}

}  // namespace

void check(const Study& study, const Bow& bow, Complaints& complaints) {
    if (!study.limbs.empty() && !complained(complaints, "limbs")) check_limbs(study, bow, complaints);
    std::size_t spacer_layouts = 1;
    if (!study.spacers.empty() && !complained(complaints, "spacers"))
        spacer_layouts = check_spacers(study, bow, complaints);
    if (complaints.all().empty()) check_size(study, bow, spacer_layouts, complaints);
}

}  // namespace limbwright::models
