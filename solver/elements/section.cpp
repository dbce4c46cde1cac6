#include "solver/elements/section.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace limbwright::solver {

double torsion_constant(double width, double thickness) {
    using std::numbers::pi;
    const double b = std::max(width, thickness), t = std::min(width, thickness);
    // Σ tanh(nπb/2t)/n⁵ over odd n, as Σ 1/n⁵ = 31 ζ(5)/32 less Σ (1 − tanh)/n⁵, whose terms fall at least
    // like exp(−πn).
    double sum = 31. / 32 * 1.0369277551433699;
    for (int n = 1; n <= 9; n += 2) sum -= 2 / (std::exp(n * pi * b / t) + 1) / std::pow(n, 5);
    return b * t * t * t / 3 * (1 - 192 * t / (std::pow(pi, 5) * b) * sum);
}

SectionStiffness diagonal_section(double EA, double GA2, double GA3, double GJ, double EI2, double EI3) {
    Vec6 d;
    d << EA, GA2, GA3, GJ, EI2, EI3;
    return d.asDiagonal();
}

double warping_constant(double width, double thickness) {
    const double b = width, t = thickness, pi = std::numbers::pi;
    double sum = 0;
    for (int n = 99; n >= 1; n -= 2) {  // rest of order n⁻³: 1e-7
        const double k = n * pi / t, T = std::tanh(0.5 * k * b);
        sum += (b * b * b / 12 - 6 * b / (k * k) + 12 * T / (k * k * k) + 2 * b * T * T / (k * k)) /
               (static_cast<double>(n) * n * n * n);
    }
    return 8 * t * t * t / (pi * pi * pi * pi) * sum;
}

SectionStiffness rectangle(const Moduli& m, double width, double thickness) {
    const double A = width * thickness, GA = 5. / 6 * m.shear * A;
    return diagonal_section(m.young * A, GA, GA, m.shear * torsion_constant(width, thickness),
                            m.young * width * std::pow(thickness, 3) / 12,
                            m.young * thickness * std::pow(width, 3) / 12);
}

SectionStiffness circle(const Moduli& m, double diameter) {
    const double A = std::numbers::pi / 4 * diameter * diameter, GA = 6. / 7 * m.shear * A;
    const double I = A * diameter * diameter / 16;
    return diagonal_section(m.young * A, GA, GA, m.shear * 2 * I, m.young * I, m.young * I);
}

}  // namespace limbwright::solver
