#pragma once

#include <array>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "meshes/surface.hpp"
#include "solver/elements/groove.hpp"
#include "solver/elements/laminate.hpp"

/// The whole bow as plain values: what the bow file says, in N, mm and rad.
///
/// Axes: the bow's own frame, origin at the pivot point of the grip, X toward the target, Y to the archer's
/// left, Z up. Left and right are always the archer's. Nothing here is computed; `assembled_bow` makes
/// mechanics of it.
namespace limbwright::models {

using solver::Vec2;
using solver::Vec3;

/// Elastic constants of a part. A lamina has more than two; a beam along its fibres needs these.
struct Material {
    double along = 0;                 ///< Young's modulus along the part [MPa]
    double shear = 0;                 ///< shear modulus [MPa]
    std::optional<double> density{};  ///< [t/mm³]; none: see `bow_masses`
    std::optional<double>
        across{};  ///< shells: Young's modulus across the part [MPa]; none: see `wall_lamina`
    std::optional<double>
        poisson{};  ///< shells: contraction across per strain along; none: see `wall_lamina`
};

/// Whether a limb or the riser is a row of beams or a surface of shells.
enum class PartModel { beam, shell };

/// A surface brought by the user as a file instead of one meshed from dimensions.
struct PartMesh {
    std::string file;  ///< as written in the bow file, for messages
    std::shared_ptr<const meshes::Surface> surface{};
};

/// One cross-section on the riser's line, bottom to top.
struct RiserStation {
    Vec3 position = Vec3::Zero();  ///< centroid in the bow's frame [mm]; Y carries the sight-window offset
    double width = 0;              ///< lateral, along Y [mm]
    double depth = 0;              ///< across the line, in the bow's plane [mm]
};

/// An opening right through the riser from side to side.
struct CutOut {
    double from = 0, to = 0;       ///< heights between which it lies, along Z [mm]
    double behind = 0, front = 1;  ///< shares of the riser's depth, 0 at the archer's side, 1 at the target's
};

/// A beam along a given line, or a plate along it whose normal is lateral: `width` is its thickness and
/// `depth` its height. Its cross-section at the grip is rigidly tied to the pivot point.
struct Riser {
    std::vector<RiserStation> stations;  ///< bottom to top; at least two
    Material material;
    double fill = 1;    ///< share of each rectangle that is metal (cut-outs); scales all stiffnesses, (0, 1]
    int elements = 20;  ///< beam elements over the whole line
    PartModel model = PartModel::beam;
    std::vector<CutOut> cut_outs;    ///< of a riser of shells; `fill` tells a beam of what is missing
    std::optional<PartMesh> mesh{};  ///< shells: with the sets "pocket top", "pocket bottom", "grip",
                                     ///< "guide"; in the bow's own frame
    int shells = 60;                 ///< shell elements over the whole line
    int shells_across = 6;           ///< shell elements over its depth
};

/// Where the limbs of one end are clamped. Top or bottom is told by the member that holds it.
struct Pocket {
    Vec3 position = Vec3::Zero();  ///< of the limbs' roots: middle between left and right [mm]
    double angle = 0;           ///< of a limb's tangent at its root, from the riser's Z axis (for the bottom:
                                ///< from −Z) toward the archer, with the limb bolt at zero turns [rad]
    double angle_per_turn = 0;  ///< by which one turn out of the limb bolt raises that angle, so that the
                                ///< limb yields to the string [rad]
    std::optional<double>
        bending_stiffness;  ///< moment per turn of the root, flatwise [N mm / rad]; none: rigid
    std::optional<double>
        twisting_stiffness;  ///< moment per turn of the root about the limb's length; none: rigid
};

/// One cross-section of a limb, at a share of its length.
struct LimbStation {
    double at = 0;         ///< 0 at the root, 1 at the axle
    double width = 0;      ///< [mm]
    double thickness = 0;  ///< [mm]
    double curvature = 0;  ///< at rest, of the centre line [1/mm]; positive bends the tip toward the target
};

enum class LimbKind { split, solid };

/// Whether the ends of a limb of beams can warp: turn unevenly over its width when it is twisted. A pocket
/// and the boss round a bore hold them, as a limb of shells is held; `restrained_twist` tells what it costs.
enum class Warping { held, free };

/// A layer of a laminated limb, from the face toward the archer's back (target side) to the face toward the
/// archer.
struct LimbPly {
    solver::Lamina lamina;
    std::string lamina_name;            ///< as in the bow file
    double angle = 0;                   ///< of its fibres from the limb's length toward its left [rad]
    std::optional<double> thickness{};  ///< [mm]; none, of one ply only: what the others leave of the limb
};

/// All limbs of the bow have one shape and differ by their deflection number.
struct Limb {
    LimbKind kind = LimbKind::split;
    double length = 0;                  ///< along the centre line, root to axle [mm]
    std::vector<LimbStation> stations;  ///< by rising `at`, first 0, last 1
    Material material;  ///< of a limb with the reference number; ignored if `spring_rate` is given
    std::optional<double> spring_rate;  ///< tip force per tip deflection, root clamped, small, flatwise, of
                                        ///< one limb with the reference number, as measured [N/mm]
    double reference_number = 0;        ///< deflection number to which `material` or `spring_rate` belongs
    double lateral = 0;      ///< split: centre line of the left limb from the bow's plane [mm], positive;
                             ///< solid: centre line of a fork's prong
    double fork = 0;         ///< solid: length of the forked part at the tip [mm]
    double prong_width = 0;  ///< solid: width of one prong [mm]
    double bore_offset = 0;  ///< of the axle's centre from the limb's centre line, toward the archer [mm]
    double strain_allowable = 0;  ///< outer fibre, as the maker gives it [1]
    int elements = 24;            ///< beam elements along one limb
    PartModel model = PartModel::beam;
    Warping warping = Warping::held;
    std::vector<LimbPly> plies;  ///< empty: all of `material`
    std::optional<PartMesh>
        mesh{};             ///< shells: with the sets "root", "left tip", "right tip" (split: "tip"); in the
                            ///< axes of a top limb's root: X along it, Y to the left, Z toward the archer
    int shells = 40;        ///< shell elements along one limb
    int shells_across = 8;  ///< shell elements over its width
};

struct Axle {
    double diameter = 0;  ///< [mm]
    double length = 0;    ///< end to end; yoke legs hang at its ends [mm]
    Material material;
    double stress_allowable = 0;  ///< in bending [MPa]
};

/// A cam's groove as it is drawn: seen from the archer's right, U toward the target, V up, origin on the
/// axle, in the pose in which the cam stands at brace with the bow upright. Exactly one of the shapes is
/// given.
struct Track {
    struct Circle {
        Vec2 centre = Vec2::Zero();  ///< from the axle [mm]
        double radius = 0;           ///< to the cable's centre line [mm]
    };
    struct Traced {
        std::string file;          ///< CSV as written in the bow file, for messages
        std::vector<Vec2> points;  ///< on the cable's centre line, in order round the groove [mm]
    };
    struct Support {
        std::string file;               ///< CSV as written in the bow file
        std::vector<double> direction;  ///< of the tangent line's normal, from U toward V, rising [rad]
        std::vector<double> distance;   ///< of the tangent line from the axle, h [mm]
    };
    std::optional<Circle> circle;
    std::optional<Traced> traced;
    std::optional<Support> support;
    double lateral = 0;  ///< of the groove's plane from the middle of the hub, positive left [mm]
    std::shared_ptr<const solver::Groove> groove{};  ///< smooth curve through the shape; none: not fitted yet
    double anchor = 0;  ///< direction (normal, from U toward V) at which the cable's post ends the groove
                        ///< [rad]; cable lies in the groove from the post to where it leaves
};

/// A rigid cam on its axle. The idler of a single-cam bow has a string track only.
struct Cam {
    double hub = 0;                ///< width that fills the gap together with the spacers [mm]
    Track string;                  ///< carries the string
    std::optional<Track> take_up;  ///< winds a cable in during the draw
    std::optional<Track> let_out;  ///< pays a cable out during the draw
    std::optional<double> stop;    ///< turn from brace at which the draw stop meets [rad]
    double stop_stiffness = 2e6;   ///< of the stop [N mm / rad]
    std::optional<double>
        mass{};  ///< with its bearings, without axle and spacers [t]; none: see `bow_masses`
};

/// Spacers standing left and right of one cam, as the archer sees them [mm].
struct SpacerStacks {
    std::vector<double> left;
    std::vector<double> right;
};

enum class GuideKind { none, rollers, rod, bending_rod };

/// Holds the cables aside, out of the arrow's way. Fixed to the riser.
struct Guide {
    GuideKind kind = GuideKind::none;
    Vec3 position = Vec3::Zero();  ///< of the middle between the cables at setting zero, bow's frame [mm]; Y
                                   ///< is where the riser carries it, the setting `lateral` comes on top
    double spacing = 0;     ///< between the two cables along the guide's lateral axis; positive: the cable of
                            ///< the top cam's take-up track stands left [mm]
    double rod_length = 0;  ///< rods: from the riser to the slide, along X toward the archer [mm]
    double rod_diameter = 0;  ///< bending rod [mm]
    Material rod_material;    ///< bending rod
};

enum class CableSystem { crossed, yoked, mixed, single_cam };

/// String and cables by their axial stiffness EA; natural lengths where the file gives them.
struct Cables {
    CableSystem system = CableSystem::crossed;
    double string_stiffness = 0;         ///< EA of the string [N]
    double cable_stiffness = 0;          ///< EA of each cable and yoke leg [N]
    double diameter = 2.4;               ///< for pictures and clearance [mm]
    double yoke_leg = 0;                 ///< natural length of each leg [mm], where there is a yoke
    double shortening_per_turn = 0;      ///< by which one turn of twist shortens string, cable or leg [mm]
    std::optional<double> string_above;  ///< natural length, nocking point to top cam's or idler's post [mm]
    std::optional<double> string_below;  ///< natural length, nocking point to bottom cam's post [mm]
    std::vector<double> cables;  ///< natural lengths, without yoke legs: the cable of the top cam's take-up
                                 ///< track first; empty if not given
    std::optional<double> string_mass{};  ///< per length [t/mm]; none: see `bow_masses`
    std::optional<double> cable_mass{};   ///< of each cable and yoke leg, alike
};

/// What was measured on the strung bow; natural lengths are solved from it where they are not given.
struct Brace {
    double axle_to_axle = 0;             ///< [mm]
    double nocking_point_height = 0;     ///< above the pivot point, along the riser's Z [mm]
    std::optional<double> brace_height;  ///< pivot point to string, along the riser's X [mm]; where given,
                                         ///< both cams are turned together from their marks until it is met
    double mark_top = 0;  ///< turn of the cam from its drawn pose, in the sense of the draw [rad]
    double mark_bottom = 0;
};

enum class Hand { right, left };

/// Draw length is told to a point that far before the pivot point of the grip [mm] (AMO/ATA standard, from
/// memory).
inline constexpr double draw_length_beyond_pivot = 1.75 * 25.4;

/// The archer's side: grip, hand, arrow, and how far to draw.
struct Shooter {
    Hand hand = Hand::right;
    Vec3 rest = Vec3::Zero();  ///< arrow rest, where the shaft lies on it [mm]
    double vane_radius = 0;    ///< for the cables' clearance [mm]
    std::optional<double>
        draw_length;  ///< pivot point to nock groove plus 1.75 in [mm]; none: to the draw stops
    int states = 41;  ///< brace and full draw included
};

/// Number of the limb in each pocket. A solid limb counts as left and right together.
struct Pairing {
    double top_left = 0, top_right = 0, bottom_left = 0, bottom_right = 0;
};

/// A layout: all that a rebuild or a turn of a key can change.
struct Layout {
    Pairing pairing;
    SpacerStacks spacers_top, spacers_bottom;
    double guide_lateral = 0;  ///< shift of the guide, positive left [mm]
    double guide_angle = 0;    ///< turn of the guide's lateral axis about Z, positive from X toward Y [rad]
    double bolt_top = 0;       ///< limb bolts' turns out
    double bolt_bottom = 0;
    double twist_string = 0;  ///< turns of twist added to each half of the string
    std::array<double, 2> twist_cables = {0,
                                          0};  ///< the same for the cables, in the order of `Cables::cables`
    std::array<double, 2> twist_yoke_left = {0, 0};  ///< left leg of each yoke, in the order of the cables
    std::array<double, 2> twist_yoke_right = {0, 0};
    double nocking_point = 0;  ///< shift of the nocking point up the string [mm]: on top of `Brace`'s height
                               ///< and from the upper half's natural length to the lower's
    std::map<std::string, double> moved{};  ///< other numbers of the bow by the key of their setting: by how
                                            ///< much they were moved; see `with_layout`
    double hand_yaw_torque = 0;    ///< of the hand on the grip about Z, positive turns X toward Y [N mm]
    double hand_pitch_torque = 0;  ///< of the hand on the grip about the riser's lateral axis [N mm]
};

struct Bow {
    std::string name;
    std::string story;  ///< a few words of the person; free text
    Riser riser;
    Pocket pocket_top, pocket_bottom;
    Limb limb;
    Axle axle_top, axle_bottom;
    std::optional<double> gap;  ///< between the inside faces of the limb tips [mm]; none: from the limbs
    double play = 0;            ///< spacers and hub may fill the gap up to this [mm]
    Cam cam_top, cam_bottom;    ///< single cam: `cam_top` is the idler
    Guide guide;
    Cables cables;
    Brace brace;
    Shooter shooter;
    Layout layout;  ///< today's
};

/// The mirror image through the XZ plane: every Y turns its sign, left and right change places.
[[nodiscard]] Bow mirrored(const Bow& bow);

}  // namespace limbwright::models
