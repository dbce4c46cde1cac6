#include "models/bow/bow_writer.hpp"

#include <algorithm>
#include <array>
#include <vector>

#include "models/bow/bow_keys.hpp"
#include "models/bow/table_out.hpp"

namespace limbwright::models {
namespace {

bool same(const solver::Lamina& a, const solver::Lamina& b) {
    const auto constants = [](const solver::Lamina& l) {
        return std::array{l.along, l.across, l.poisson, l.shear, l.shear_13, l.shear_23};
    };
    return constants(a) == constants(b);
}

/// The laminae of the plies. One without a name, or whose name another lamina has, gets one.
Laminae named_laminae(std::vector<LimbPly>& plies) {
    Laminae laminae;
    for (LimbPly& ply : plies) {
        if (ply.lamina_name.empty()) ply.lamina_name = "lamina";
        while (laminae.contains(ply.lamina_name) && !same(laminae[ply.lamina_name], ply.lamina))
            ply.lamina_name += "_";
        laminae[ply.lamina_name] = ply.lamina;
    }
    return laminae;
}

}  // namespace

std::string bow_to_toml(const Bow& bow) {
    Bow written = with_groove_names(bow);
    Laminae laminae = named_laminae(written.limb.plies);
    TomlPage page;
    TableOut file(page);
    describe(file, written, laminae);
    return page.text();
}

}  // namespace limbwright::models
