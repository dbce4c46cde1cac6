#pragma once

#include <vector>

#include "solver/numbers/algebra.hpp"

namespace limbwright::models {

/// A range of each variable.
struct Box {
    std::vector<double> least, largest;
    /// Variable i, scaled to [−1, 1] over the box; 0 where the box has no width.
    [[nodiscard]] double scaled(int i, double value) const;
};

/// A polynomial in some variables for each of some columns,
///
///     value(x) = Σ c_k T_k1(x_1) T_k2(x_2) …,    k1 + k2 + … ≤ degree,
///
/// x scaled to [−1, 1] over a box and T_k the Chebyshev polynomials, fitted by least squares.
class Response {
public:
    Response() = default;
    /// Where the points leave terms undetermined (variables whose sum is the same at all points), the
    /// coefficients are the shortest of those that fit.
    ///
    /// @param degree   total degree
    /// @param highest  highest degree in each variable: one less than the number of its values
    /// @param points   one column per point, not scaled
    /// @param values   one column per point, one row per column of the response
    /// @throws std::invalid_argument if sizes do not agree or there are fewer points than terms
    Response(Box box, int degree, const std::vector<int>& highest, const solver::MatX& points,
             const solver::MatX& values);

    [[nodiscard]] int columns() const { return columns_; }
    [[nodiscard]] int terms() const { return steps_.empty() ? 1 : static_cast<int>(steps_.front().size()); }

    /// Evaluates point after point, one variable after the other: what the leading variables give is kept
    /// while they stay, so that a walk through a product whose last variable runs fastest costs few
    /// operations a point. The values at a point are the same to the last bit whatever came before.
    class Walk {
    public:
        /// @param response  must outlive the walk
        explicit Walk(const Response& response);
        /// Values of all columns; they stand until the next call.
        const double* at(const double* point);

    private:
        const Response* response_;
        bool started_ = false;
        std::vector<double> point_;
        std::vector<std::vector<double>> levels_;  ///< coefficients left after the first, second, … variable
        std::vector<double> chebyshev_;
    };

    /// Values at points, one column per point.
    [[nodiscard]] solver::MatX values(const solver::MatX& points) const;

private:
    /// Where a coefficient goes when its variable is given a value, and by which T_k it is multiplied.
    struct Step {
        int target, power;
    };
    Box box_;
    int degree_ = 0, columns_ = 0;
    std::vector<std::vector<Step>> steps_;  ///< per variable
    std::vector<double> coefficients_;      ///< all columns of the first term, of the second, …
};

/// Number of terms of a response.
[[nodiscard]] int response_terms(int degree, const std::vector<int>& highest);

}  // namespace limbwright::models
