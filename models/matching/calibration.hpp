#pragma once

#include <string>
#include <variant>
#include <vector>

#include "models/matching/calibrated_bow.hpp"
#include "models/matching/least_squares.hpp"
#include "models/matching/linear_bayes.hpp"

namespace limbwright::models {

/// What the data tell of a parameter.
enum class Verdict {
    seen,        ///< fitted: the data take away at least `match_limits::seen_share` of its prior variance
    stands_for,  ///< fitted, though the data see it only together with others: it takes their part
    not_seen     ///< never fitted: keeps the bow file's value
};

struct MatchedParameter {
    MatchParameter parameter;  ///< its `sigma` is the prior standard deviation that was used
    double prior = 0;          ///< the bow file's value, inside units
    double value = 0;          ///< matched; of one that is not seen, the prior
    double sigma = 0;          ///< standard deviation of the value, what is not seen counted in as well
    double share = 0;          ///< of the prior variance that the data take away, with all parameters free
    Verdict verdict = Verdict::not_seen;
    std::vector<int> with{};  ///< parameters that are not seen whose part it takes on, see `taken_on`
};

struct MatchedMeasurement {
    Measurement measurement;  ///< as measured
    std::string name;
    const Dimension* dimension = nullptr;
    double before = 0, after = 0;  ///< what the bow file's bow and the matched bow say, inside units
    double off = 0;                ///< (after − measured) / standard deviation
    CrossCheck check;              ///< against bow file and all other measurements
    int day = 0;                   ///< on which it was measured
};

/// A measurement that goes against the bow file and the others, see `contradicting`.
struct Contradiction {
    int measurement = 0;
    double others = 0, others_sigma = 0;  ///< what they say, inside units
    double sigmas = 0;                    ///< normalised residual
    std::string sentence;
};

/// Parameters that the measurements cannot tell apart.
struct Alike {
    std::vector<int> parameters;
    std::vector<double> amounts;  ///< changes, inside units, that together the measurements hardly see
    std::string sentence;
};

/// A measurement that has not been taken.
struct NextMeasurement {
    std::string quantity, name;    ///< key and name of a `BenchQuantity`
    std::optional<double> at;      ///< draw length [mm]
    double sigma = 0;              ///< with which it is reckoned, inside units
    double lessens = 0;            ///< share of the sum of all scaled variances that it would take away
    int parameter = 0;             ///< of which it tells most
    double before = 0, after = 0;  ///< standard deviation of that parameter, inside units
};

/// A bow matched to what was measured.
struct Match {
    Bow bow;            ///< of the last day, with the values of all fitted parameters
    Corrections today;  ///< which it has from that day's labels
    std::vector<MatchedParameter> parameters;
    std::vector<MatchedMeasurement> measurements;
    std::vector<Contradiction> contradictions;
    std::vector<Alike> alike;
    std::vector<NextMeasurement> next;  ///< best first
    solver::MatX covariance;  ///< of the errors of the fitted parameters, in their order, inside units
    std::vector<std::string> warnings;  ///< numbers that ran to the end of what is tried, a matched bow that
                                        ///< cannot be drawn; each in a sentence
    double squares = 0;  ///< of all scaled residuals and prior changes at the best fit of all parameters;
                         ///< about the number of measurements if all is well
    int states = 0;      ///< bows solved on the way
};

struct NotMatched {
    std::string reason;
};

/// Fits a bow to bench measurements: the least sum of
///
///     ((model − measured) / σ)²  and  ((p − p₀) / σ₀)²
///
/// over the parameters p, p₀ the bow file's values, by Levenberg and Marquardt's method with the model's own
/// derivatives (`BenchModel::slopes`). First all parameters are fitted; what the data tell of each is read
/// off there. Those that are not worth fitting (`worth_fitting`) then go back to the bow file's values and
/// the others are fitted again. No parameter goes further than `farthest` prior standard deviations, no
/// stiffness below `least_stiffness` of the bow file's. Measurements that contradict the others are told, not
/// left out. The arrow rest is matched only where it was measured.
///
/// @param days  in one layout each, with the parameters in common that `JointModel` tells
[[nodiscard]] std::variant<Match, NotMatched> match(const Bow& bow, const std::vector<BenchDay>& days);

/// The same for the bow as its file has it.
[[nodiscard]] std::variant<Match, NotMatched> match(const Bow& bow, const BenchRecord& record);

}  // namespace limbwright::models
