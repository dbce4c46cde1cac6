#include "models/study/response_surface.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace limbwright::models::response_surface_test {
namespace {

using solver::MatX;

const Box box{{-1, 0, 10}, {2, 5, 10.5}};

MatX random_points(int count, std::uint64_t seed) {
    std::mt19937_64 random(seed);
    MatX points(3, count);
    for (int p = 0; p < count; ++p)
        for (int i = 0; i < 3; ++i)
            points(i, p) = box.least[i] +
                           (box.largest[i] - box.least[i]) * std::ldexp(static_cast<double>(random()), -64);
    return points;
}

template <class Function>
MatX values_at(const MatX& points, const Function& function) {
    MatX values(2, points.cols());
    for (Eigen::Index p = 0; p < points.cols(); ++p)
        values.col(p) = function(points(0, p), points(1, p), points(2, p));
    return values;
}

solver::Vec2 cubic(double x, double y, double z) {
    return {1 + x * y * (z - 10) - 2 * x * x * x, 3 * y * y - 4 * (z - 10) * x + 7};
}

solver::Vec2 smooth(double x, double y, double z) {
    return {std::exp(x / 2) * std::cos(y / 2), std::sin(x + y / 4 + z)};
}

template <class Function>
double largest_error(int degree, const Function& function) {
    const MatX fits = random_points(300, 1), checks = random_points(500, 2);
    const Response response(box, degree, {9, 9, 9}, fits, values_at(fits, function));
    return (response.values(checks) - values_at(checks, function)).cwiseAbs().maxCoeff();
}

TEST(Response, ACubicIsMetByDegreeThree) {
    EXPECT_LT(largest_error(3, cubic), 1e-12);  // rounding of values near 100
    EXPECT_GT(largest_error(2, cubic), 0.1);
}

TEST(Response, EveryDegreeComesNearerToASmoothFunction) {
    double before = largest_error(0, smooth);
    for (int degree = 1; degree <= 6; ++degree) {
        const double error = largest_error(degree, smooth);
        EXPECT_LT(error, 0.6 * before) << "degree " << degree;
        before = error;
    }
    EXPECT_LT(before, 1e-3);
}

TEST(Response, ATermCountsOnceAndKeepsToEachVariablesHighestDegree) {
    EXPECT_EQ(response_terms(3, {9, 9, 9, 9, 9, 9, 9}), 120);  // (7 + 3 over 3)
    EXPECT_EQ(response_terms(3, {1, 1}), 4);
    EXPECT_EQ(response_terms(3, {0, 4}), 4);
}

TEST(Response, AVariableOfTwoValuesAndOneOfOneValueAreFitted) {
    const Box narrow{{0, 3, 1}, {1, 3, 2}};
    MatX points(3, 40), values(1, 40);
    for (int p = 0; p < 40; ++p) {
        points.col(p) << p % 2, 3, 1 + p / 39.0;
        values(0, p) = points(0, p) * points(2, p) + 5;
    }
    const Response response(narrow, 3, {1, 0, 3}, points, values);
    EXPECT_LT((response.values(points) - values).cwiseAbs().maxCoeff(), 1e-13);
}

TEST(Response, VariablesOfConstantSumAreFitted) {
    MatX points = random_points(200, 3);
    points.row(1) = (2 - points.row(0).array()).matrix();
    const MatX values = values_at(points, cubic);
    const Response response({{-1, 0, 10}, {2, 3, 10.5}}, 3, {9, 9, 9}, points, values);
    EXPECT_LT((response.values(points) - values).cwiseAbs().maxCoeff(), 1e-11);
}

TEST(Response, AValueIsTheSameToTheLastBitWhateverCameBefore) {
    const MatX fits = random_points(300, 1);
    const Response response(box, 4, {9, 9, 9}, fits, values_at(fits, smooth));
    MatX points = random_points(60, 4);
    for (int p = 1; p < 60; ++p)
        if (p % 3 != 0) points.col(p).head(p % 3) = points.col(p - 1).head(p % 3);
    const MatX walked = response.values(points);
    for (int p = 59; p >= 0; --p) EXPECT_TRUE(response.values(points.col(p)) == walked.col(p)) << p;
}

TEST(Response, FewerPointsThanTermsAreRefused) {
    const MatX points = random_points(19, 1);
    EXPECT_THROW(Response(box, 3, {9, 9, 9}, points, values_at(points, cubic)), std::invalid_argument);
}

}  // namespace
}  // namespace limbwright::models::response_surface_test
