#include "models/study/response_surface.hpp"

#include <Eigen/QR>
#include <algorithm>
#include <map>
#include <set>
#include <stdexcept>

namespace limbwright::models {
namespace {

using Powers = std::vector<int>;

/// Directions of the coefficients that the points determine worse than this, relatively, are left out.
/// Rounding leaves 1e-15 where variables depend on each other; independent ones stand far above.
constexpr double undetermined = 1e-10;

/// Powers of all terms whose first variables have those of `head`.
void add_powers(int left, const std::vector<int>& highest, Powers& head, std::vector<Powers>& all) {
    if (head.size() == highest.size()) {
        all.push_back(head);
        return;
    }
    for (int power = 0; power <= std::min(left, highest[head.size()]); ++power) {
        head.push_back(power);
        add_powers(left - power, highest, head, all);
        head.pop_back();
    }
}

std::vector<Powers> powers(int degree, const std::vector<int>& highest) {
    std::vector<Powers> all;
    Powers head;
    add_powers(degree, highest, head, all);
    return all;
}

/// T_0 … T_degree at x.
void find_chebyshev(double x, int degree, double* values) {
    values[0] = 1;
    if (degree > 0) values[1] = x;
    for (int k = 2; k <= degree; ++k) values[k] = 2 * x * values[k - 1] - values[k - 2];
}

/// All terms at all points, one row per point.
solver::MatX terms_at(const Box& box, int degree, const std::vector<Powers>& all,
                      const solver::MatX& points) {
    const int variables = static_cast<int>(points.rows());
    solver::MatX rows(points.cols(), all.size());
    solver::MatX chebyshev(degree + 1, variables);
    for (Eigen::Index p = 0; p < points.cols(); ++p) {
        for (int i = 0; i < variables; ++i)
            find_chebyshev(box.scaled(i, points(i, p)), degree, chebyshev.col(i).data());
        for (std::size_t t = 0; t < all.size(); ++t) {
            double product = 1;
            for (int i = 0; i < variables; ++i) product *= chebyshev(all[t][i], i);
            rows(p, static_cast<Eigen::Index>(t)) = product;
        }
    }
    return rows;
}

}  // namespace

double Box::scaled(int i, double value) const {
    const double width = largest[i] - least[i];
    return width > 0 ? (2 * value - least[i] - largest[i]) / width : 0;
}

Response::Response(Box box, int degree, const std::vector<int>& highest, const solver::MatX& points,
                   const solver::MatX& values)
    : box_(std::move(box)), degree_(degree), columns_(static_cast<int>(values.rows())) {
    std::vector<Powers> left = powers(degree, highest);
    if (box_.least.size() != highest.size() || points.rows() != static_cast<Eigen::Index>(highest.size()) ||
        points.cols() != values.cols() || points.cols() < static_cast<Eigen::Index>(left.size()))
        throw std::invalid_argument("a response needs points of its variables, at least as many as terms");

    Eigen::CompleteOrthogonalDecomposition<solver::MatX> decomposition;
    decomposition.setThreshold(undetermined);
    decomposition.compute(terms_at(box_, degree, left, points));
    const solver::MatX fitted = decomposition.solve(values.transpose()).transpose();
    coefficients_.assign(fitted.data(), fitted.data() + fitted.size());

    for (std::size_t i = 0; i < highest.size(); ++i) {
        std::set<Powers> tails;
        for (const Powers& term : left) tails.emplace(term.begin() + 1, term.end());
        std::map<Powers, int> place;
        for (const Powers& tail : tails) place.emplace(tail, static_cast<int>(place.size()));
        std::vector<Step>& steps = steps_.emplace_back();
        for (const Powers& term : left)
            steps.push_back({place.at(Powers(term.begin() + 1, term.end())), term.front()});
        left.assign(tails.begin(), tails.end());
    }
}

solver::MatX Response::values(const solver::MatX& points) const {
    Walk walk(*this);
    solver::MatX all(columns_, points.cols());
    for (Eigen::Index p = 0; p < points.cols(); ++p)
        all.col(p) = Eigen::Map<const solver::VecX>(walk.at(points.col(p).data()), columns_);
    return all;
}

Response::Walk::Walk(const Response& response)
    : response_(&response),
      point_(response.steps_.size()),
      levels_(response.steps_.size() + 1),
      chebyshev_(response.degree_ + 1) {
    levels_[0] = response.coefficients_;
    for (std::size_t i = 1; i < levels_.size(); ++i) {
        int terms = 0;
        for (const Step& step : response.steps_[i - 1]) terms = std::max(terms, step.target + 1);
        levels_[i].resize(static_cast<std::size_t>(terms) * response.columns_);
    }
}

const double* Response::Walk::at(const double* point) {
    const std::size_t variables = point_.size(), columns = response_->columns_;
    std::size_t i = 0;
    if (started_)
        while (i < variables && point[i] == point_[i]) ++i;
    started_ = true;
    for (; i < variables; ++i) {
        point_[i] = point[i];
        find_chebyshev(response_->box_.scaled(static_cast<int>(i), point[i]), response_->degree_,
                       chebyshev_.data());
        const double* from = levels_[i].data();
        double* const level = levels_[i + 1].data();
        std::fill(levels_[i + 1].begin(), levels_[i + 1].end(), 0.0);
        for (const Step step : response_->steps_[i]) {
            const double factor = chebyshev_[step.power];
            double* to = level + step.target * columns;
            for (std::size_t c = 0; c < columns; ++c) to[c] += factor * from[c];
            from += columns;
        }
    }
    return levels_.back().data();
}

int response_terms(int degree, const std::vector<int>& highest) {
    return static_cast<int>(powers(degree, highest).size());
}

}  // namespace limbwright::models
