#include "postproc/scene/bow_shells.hpp"

#include <unordered_map>

#include "postproc/scene/beam_geometry.hpp"
#include "postproc/scene/shell_pieces.hpp"
#include "postproc/scene/shell_solid.hpp"

namespace limbwright::postproc {
namespace {

using models::PartShell;

/// @param laminate  of a wall of a given thickness
ShellPart part_of(const std::string& name, const std::vector<PartShell>& shells,
                  const std::function<solver::Laminate(double)>& laminate) {
    ShellPart part{.name = name};
    std::unordered_map<std::size_t, double> thickness;
    for (const PartShell& shell : shells) {
        part.elements.push_back(shell.element);
        thickness[shell.element] = shell.thickness;
    }
    part.laminate = [=](std::size_t element) { return laminate(thickness.at(element)); };
    return part;
}

}  // namespace

std::vector<Piece> shell_pieces(const models::AssembledBow& bow, const solver::State& state) {
    std::vector<ShellPart> parts;
    if (!bow.riser.shells.empty())
        parts.push_back(
            part_of("riser", bow.riser.shells, [&](double t) { return riser_laminate(bow.bow.riser, t); }));
    for (const models::LimbParts& limbs : bow.limbs)
        for (const models::LimbRow& row : limbs.rows)
            if (!row.shells.empty())
                parts.push_back(part_of(limb_piece_name(row.name), row.shells,
                                        [&](double t) { return row.stiffness.laminate(t); }));
    std::vector<Piece> pieces;
    for (const ShellPart& part : parts)
        pieces.push_back(thickened(
            shell_piece(bow.system, part, state, {.state = bow.rest, .carried = bow_frame(bow, state)})));
    return pieces;
}

}  // namespace limbwright::postproc
