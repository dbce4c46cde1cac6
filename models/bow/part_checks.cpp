#include "models/bow/part_checks.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "models/bow/range_checks.hpp"

namespace limbwright::models {
namespace {

void check_riser_stations(const std::vector<RiserStation>& stations, Complaints& complaints) {
    if (complaints.about("riser.stations")) return;
    require(stations.size() >= 2, complaints, "riser.stations", "must hold at least two stations",
            fmt::format("a list of {}", stations.size()));
    for (std::size_t i = 1; i < stations.size(); ++i) {
        const double below = stations[i - 1].position.z(), z = stations[i].position.z();
        if (known({below, z}))
            require(
                z > below, complaints, fmt::format("riser.stations[{}].at", i),
                fmt::format("must stand above the station before it, which is at a height of {}", mm(below)),
                mm(z));
    }
    if (stations.size() < 2) return;
    const double low = stations.front().position.z(), high = stations.back().position.z();
    if (known({low, high}))
        require(low < 0 && high > 0, complaints, "riser.stations",
                fmt::format("must reach from below the grip's pivot point to above it, but go from {} to {}",
                            mm(low), mm(high)));
}

bool wholly_known(const CutOut& cut) {
    return known({cut.from, cut.to, cut.behind, cut.front});
}

bool overlap(const CutOut& a, const CutOut& b) {
    return a.from < b.to && b.from < a.to && a.behind < b.front && b.behind < a.front;
}

void check_cut_outs(const Riser& riser, Complaints& complaints) {
    const std::vector<CutOut>& cuts = riser.cut_outs;
    require(cuts.empty() || !riser.mesh, complaints, "riser.cut_outs",
            "must be left out beside a mesh, which brings its own openings");
    for (std::size_t i = 0; i < cuts.size(); ++i) {
        const CutOut& cut = cuts[i];
        const std::string key = fmt::format("riser.cut_outs[{}]", i);
        if (!wholly_known(cut)) continue;
        require(cut.to > cut.from, complaints, key + ".to",
                fmt::format("must be above from, which is {}", mm(cut.from)), mm(cut.to));
        require(cut.front > cut.behind, complaints, key + ".front",
                fmt::format("must be above behind, which is {:.6g}", cut.behind),
                fmt::format("{:.6g}", cut.front));
        if (!riser.stations.empty()) {
            const double low = riser.stations.front().position.z();
            const double high = riser.stations.back().position.z();
            if (known({low, high}))
                require(cut.from > low && cut.to < high, complaints, key,
                        fmt::format("must lie within the riser, whose heights go from {} to {}", mm(low),
                                    mm(high)),
                        fmt::format("from {} to {}", mm(cut.from), mm(cut.to)));
        }
        for (std::size_t j = 0; j < i; ++j)
            require(!overlap(cuts[j], cut), complaints, key,
                    fmt::format("must not overlap riser.cut_outs[{}]", j));
        double taken = 0;  // where most of them lie side by side, one of them begins
        for (const CutOut& other : cuts)
            if (other.from <= cut.from && cut.from < other.to) taken += other.front - other.behind;
        require(!(taken > 1 - 1e-9), complaints, key,
                fmt::format("must leave material behind it or in front of it: at a height of {} the cut-outs "
                            "take the whole depth",
                            mm(cut.from)));
    }
}

void check_mesh(const std::optional<PartMesh>& mesh, PartModel model, const std::string& part,
                const std::vector<std::string>& needed, Complaints& complaints) {
    if (!mesh || complaints.about(part + ".model")) return;
    const std::string key = part + ".mesh";
    require(model == PartModel::shell, complaints, key, R"(needs model = "shell")");
    require(mesh->surface != nullptr, complaints, key, "must name a file that holds a surface");
    if (!mesh->surface) return;
    const auto quoted = [](const std::string& name) { return fmt::format("\"{}\"", name); };
    std::vector<std::string> found, missing;
    for (const auto& [name, nodes] : mesh->surface->sets)
        if (!nodes.empty()) found.push_back(quoted(name));
    for (const std::string& name : needed)
        if (std::ranges::find(found, quoted(name)) == found.end()) missing.push_back(quoted(name));
    require(missing.empty(), complaints, key,
            fmt::format("must hold the node set{} {}, but holds {}", missing.size() == 1 ? "" : "s",
                        fmt::join(missing, ", "),
                        found.empty() ? "none" : fmt::format("{}", fmt::join(found, ", "))));
}

void check_limb_stations(const std::vector<LimbStation>& stations, Complaints& complaints) {
    if (complaints.about("limb.stations")) return;
    require(stations.size() >= 2, complaints, "limb.stations", "must hold at least two stations",
            fmt::format("a list of {}", stations.size()));
    if (stations.size() < 2) return;
    const double first = stations.front().at, last = stations.back().at;
    if (known({first}))
        require(first == 0, complaints, "limb.stations[0].at", "must be 0, the root",
                fmt::format("{:.6g}", first));
    if (known({last}))
        require(last == 1, complaints, fmt::format("limb.stations[{}].at", stations.size() - 1),
                "must be 1, the axle", fmt::format("{:.6g}", last));
    for (std::size_t i = 1; i < stations.size(); ++i)
        if (known({stations[i - 1].at, stations[i].at}))
            require(stations[i].at > stations[i - 1].at, complaints, fmt::format("limb.stations[{}].at", i),
                    fmt::format("must be above that of the station before it, {:.6g}", stations[i - 1].at),
                    fmt::format("{:.6g}", stations[i].at));
}

void check_plies(const Limb& limb, Complaints& complaints) {
    if (limb.plies.empty()) return;
    require(limb.material.along == 0, complaints, "limb.material",
            "must be left out beside plies, which are what the limb is made of");
    std::optional<std::size_t> core;
    double sum = 0;  // of the given thicknesses
    for (std::size_t i = 0; i < limb.plies.size(); ++i) {
        const std::optional<double>& thickness = limb.plies[i].thickness;
        require(thickness || !core, complaints, fmt::format("limb.plies[{}].thickness", i),
                fmt::format("is missing; only one ply, the core, may leave it out, and limb.plies[{}] does",
                            core.value_or(0)));
        if (!thickness && !core) core = i;
        sum += thickness.value_or(0);
    }
    if (limb.stations.empty() || !known({sum})) return;
    for (const LimbStation& station : limb.stations)
        if (!known({station.thickness})) return;
    const auto told = [&](auto station) {
        return fmt::format("they add up to {}, but limb.stations[{}] is {} thick", mm(sum),
                           station - limb.stations.begin(), mm(station->thickness));
    };
    const auto [thinnest, thickest] = std::ranges::minmax_element(limb.stations, {}, &LimbStation::thickness);
    if (core) {
        require(sum < thinnest->thickness, complaints, "limb.plies",
                "must leave room for the core between those of given thickness: " + told(thinnest));
        return;
    }
    const auto off = sum > thinnest->thickness + sum_rounding ? thinnest : thickest;
    require(
        std::abs(sum - off->thickness) <= sum_rounding, complaints, "limb.plies",
        "must add up to the limb's thickness everywhere, unless one of them, the core, leaves its own out: " +
            told(off));
}

}  // namespace

void check_riser(const Riser& riser, GuideKind guide, Complaints& complaints) {
    check_riser_stations(riser.stations, complaints);
    check_cut_outs(riser, complaints);
    std::vector<std::string> sets{"pocket top", "pocket bottom", "grip"};
    if (guide != GuideKind::none) sets.push_back("guide");
    check_mesh(riser.mesh, riser.model, "riser", sets, complaints);
}

void check_limb(const Limb& limb, const Pairing& pairing, Complaints& complaints) {
    const bool given = limb.spring_rate || limb.material.along != 0 || !limb.plies.empty();
    require(given || complaints.about("limb.plies"), complaints, "limb",
            "needs a material, plies or a spring_rate");
    require(limb.shells_across % 2 == 0, complaints, "limb.shells_across",
            "must be even, for nodes on the limb's centre line", std::to_string(limb.shells_across));
    if (limb.kind == LimbKind::solid) {
        if (known({limb.fork, limb.length}))
            require(limb.fork > 0 && limb.fork < limb.length, complaints, "limb.fork",
                    fmt::format("must be above 0 mm and less than the limb's length of {}", mm(limb.length)),
                    mm(limb.fork));
        require(!(limb.prong_width <= 0), complaints, "limb.prong_width",
                "must be above 0 mm in a solid limb", mm(limb.prong_width));
        const auto alike = [&](double left, double right, const char* end) {
            if (known({left, right}))
                require(left == right, complaints, fmt::format("layout.pairing.{}_right", end),
                        fmt::format("must equal {}_left, {:.6g}, because a solid limb is one", end, left),
                        fmt::format("{:.6g}", right));
        };
        alike(pairing.top_left, pairing.top_right, "top");
        alike(pairing.bottom_left, pairing.bottom_right, "bottom");
    }
    check_limb_stations(limb.stations, complaints);
    check_plies(limb, complaints);
    if (complaints.about("limb.kind")) return;
    if (limb.kind == LimbKind::split)
        check_mesh(limb.mesh, limb.model, "limb", {"root", "tip"}, complaints);
    else
        check_mesh(limb.mesh, limb.model, "limb", {"root", "left tip", "right tip"}, complaints);
}

}  // namespace limbwright::models
