#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>

/// Short names for fixed-size Eigen types, and the two products that Eigen conjugates for complex numbers.
namespace limbwright::solver {

template <class T>
using Vector3 = Eigen::Matrix<T, 3, 1>;
template <class T>
using Vector6 = Eigen::Matrix<T, 6, 1>;
template <class T>
using Matrix3 = Eigen::Matrix<T, 3, 3>;
template <class T>
using Matrix6 = Eigen::Matrix<T, 6, 6>;
template <class T>
using Vector12 = Eigen::Matrix<T, 12, 1>;
template <class T>
using Matrix12 = Eigen::Matrix<T, 12, 12>;

using Vec2 = Eigen::Matrix<double, 2, 1>;
using Vec3 = Vector3<double>;
using Vec6 = Vector6<double>;
using Vec12 = Eigen::Matrix<double, 12, 1>;
using Mat3 = Matrix3<double>;
using Mat6 = Matrix6<double>;
using Mat12 = Eigen::Matrix<double, 12, 12>;
using VecX = Eigen::VectorXd;
using MatX = Eigen::MatrixXd;

// Larger instructions make Eigen align more widely, and members of classes stand elsewhere than in the
// library.
static_assert(alignof(Mat6) == 16, "compile with -DEIGEN_MAX_ALIGN_BYTES=16, as all of limbwright is");

/// Largest number of freedoms that one element touches: a cable over four contacts of eleven each.
/// `TouchList` refuses more.
inline constexpr int max_element_freedoms = 44;
/// Vector and matrix of an element's own freedoms, without heap.
template <class T>
using ElementVectorOf = Eigen::Matrix<T, Eigen::Dynamic, 1, 0, max_element_freedoms, 1>;
template <class T>
using ElementMatrixOf =
    Eigen::Matrix<T, Eigen::Dynamic, Eigen::Dynamic, 0, max_element_freedoms, max_element_freedoms>;
using ElementVector = ElementVectorOf<double>;
using ElementMatrix = ElementMatrixOf<double>;

/// a · b without conjugation, so that complex-step derivatives pass through.
template <class A, class B>
auto dot(const Eigen::MatrixBase<A>& a, const Eigen::MatrixBase<B>& b) {
    typename A::Scalar sum = a[0] * b[0];
    for (int i = 1; i < A::RowsAtCompileTime; ++i) sum += a[i] * b[i];
    return sum;
}

/// a × b without conjugation.
template <class T>
Vector3<T> cross(const Vector3<T>& a, const Vector3<T>& b) {
    return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}

/// The matrix of a ×.
template <class T>
Matrix3<T> skew(const Vector3<T>& a) {
    Matrix3<T> m;
    m << T(0), -a[2], a[1], a[2], T(0), -a[0], -a[1], a[0], T(0);
    return m;
}

}  // namespace limbwright::solver
