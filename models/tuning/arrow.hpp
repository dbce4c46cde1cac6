#pragma once

#include <string>

/// An arrow as plain values, its static spine, and whether its shaft can stand the push of a bow.
namespace limbwright::models {

struct Arrow {
    double length = 0;        ///< bottom of the nock's groove to the end of the shaft [mm]
    double spine = 0;         ///< static, as the trade writes it: see `bending_stiffness`
    double point_weight = 0;  ///< point and insert [t]
    double total_weight = 0;  ///< of the whole arrow [t]
};

/// Bending stiffness EI of a shaft from its static spine [N mm²]. The spine is the sag in thousandths of an
/// inch under 880 g (1.94 lbf) in the middle of supports 28 in apart (ASTM F2031, from memory):
///
///     EI = W L³ / (48 sag)
[[nodiscard]] double bending_stiffness(double spine);

/// The way back: static spine of a shaft of that stiffness [N mm²].
[[nodiscard]] double spine_of(double stiffness);

/// The older convention: sag under 2 lbf in the middle of supports 26 in apart (AMO, from memory) [mm].
[[nodiscard]] double older_sag(double stiffness);

/// Stiffness from that sag [N mm²].
[[nodiscard]] double bending_stiffness_from_older(double sag);

/// "Pounds of spine" of the older convention: 26 over that sag in inches.
[[nodiscard]] double older_pounds(double stiffness);

enum class ShaftVerdict { too_weak, plausible, too_stiff };

/// How hard a bow pushes a shaft against what the shaft can bear.
struct ShaftCheck {
    double thrust = 0;    ///< mean axial force in the shaft at the peak of the draw force [N]
    double critical = 0;  ///< Euler load of the shaft [N]
    double ratio = 0;     ///< thrust / critical
    ShaftVerdict verdict = ShaftVerdict::plausible;
};

/// Between these the shaft is called plausible. Not a maker's chart: pairs of bow and shaft as they are
/// commonly shot (common practice, from memory; the unit's test lists them), 30 to 70 lbf, come out between
/// 0.7 and 1.05, and the limits leave a fifth on either side.
inline constexpr double stiffest_plausible = 0.55, weakest_plausible = 1.25;

/// Mass of the bow that moves along with the nock, as if it sat there [t]; assumed. Klopsteg called it the
/// bow's virtual mass; string, serving and the light ends of the cables make up most of it.
inline constexpr double virtual_mass = 10e-6;

/// The shaft as a column that the string pushes at one end while it flies off. The force is the bow's peak
/// force, of which the arrow's share accelerates the arrow; along the shaft it falls from there to what the
/// point needs. Under a load that falls evenly a column with pinned ends buckles when the mean of both is
/// within 6 % of Euler's load (at worst, under its own weight, 18.6 EI/L² in all: Timoshenko and Gere, Theory
/// of Elastic Stability; from memory):
///
///     thrust = F (m_point + m_shaft / 2) / (m_arrow + m_virtual),    critical = π² EI / L²
///
/// Statics of a push that lasts some milliseconds: a ratio of one is no failure, and shafts near it bend
/// visibly. It says whether a shaft is of the usual kind for the bow, not which one flies best.
///
/// @param peak_force  of the bow [N]
[[nodiscard]] ShaftCheck check_shaft(const Arrow& arrow, double peak_force);

/// "plausible: the push at peak weight is 0.86 of the shaft's Euler load (0.55 to 1.25 is usual)".
[[nodiscard]] std::string to_text(const ShaftCheck& check);

}  // namespace limbwright::models
