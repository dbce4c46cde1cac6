#pragma once

#include "models/parts/axle_parts.hpp"
#include "solver/elements/cable.hpp"

namespace limbwright::models {

enum class CableKind { string, cable, yoke_leg };

/// A string half, cable or yoke leg of the assembled bow.
struct CablePart {
    std::string name;  ///< "string above the nock" and so on
    CableKind kind = CableKind::cable;
    std::size_t element = 0;
};

/// The cable guide: where each of two cables runs through it, and the rod if it bends.
struct GuideParts {
    std::array<std::optional<solver::Frame>, 2> eyes;  ///< none: no guide
    std::vector<solver::Frame> rod;                    ///< sections of a bending rod, riser first
    std::vector<std::size_t> rod_beams;
    std::optional<solver::ScalarId> slide;  ///< along a rod
};

[[nodiscard]] GuideParts add_guide(const Bow& bow, const Layout& layout, const RiserParts& riser,
                                   Builder& builder);

/// What a cable system is strung on.
struct Rigging {
    const Bow& bow;
    const Layout& layout;
    const std::array<AxleParts, 2>& axles;  ///< top, bottom
    const GuideParts& guide;
    const solver::Frame& nock;
    Builder& builder;
};

enum class TrackKind { string, take_up, let_out };

/// A cam's groove as a contact whose cable ends at its post.
[[nodiscard]] solver::Contact track_contact(const Rigging& rig, End end, TrackKind kind);
/// An idler as a contact in the middle of the string.
[[nodiscard]] solver::Contact idler_contact(const Rigging& rig);
/// A cable from a contact through the guide's eye to another contact.
[[nodiscard]] CablePart add_cable(const Rigging& rig, const std::string& name, CableKind kind, int eye,
                                  const solver::Contact& from, const solver::Contact& to);
/// A cable from a contact through the guide's eye to a yoke on the ends of an axle: cable, left leg, right
/// leg.
///
/// @param order  of the cable in `Cables::cables`, for its legs' twists
[[nodiscard]] std::array<CablePart, 3> add_yoked_cable(const Rigging& rig, const std::string& name, int eye,
                                                       std::size_t order, const solver::Contact& from,
                                                       End yoke);

}  // namespace limbwright::models
