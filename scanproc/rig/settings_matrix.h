#pragma once

#include <Eigen/Core>
#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>

#include "scanproc/bytes/settings.h"

namespace canewise {

/// No length that a rig file states, in mm or um, is larger.
inline constexpr double kLargestSetting = 1e5;

/// Reads a matrix row by row; leaves it as it is where the key is absent.
template <int Rows, int Columns>
void matrix_into(Settings& settings, const char* key, Eigen::Matrix<double, Rows, Columns>& matrix) {
  const auto values = settings.numbers(key, static_cast<std::size_t>(Rows * Columns), -1e12, 1e12);
  if (!values.empty()) {
    matrix = Eigen::Map<const Eigen::Matrix<double, Rows, Columns, Columns == 1 ? Eigen::ColMajor : Eigen::RowMajor>>(
        values.data());
  }
}

/// The same for a covariance; refuses what is none.
template <int Size>
void covariance_into(Settings& settings, const char* key, Eigen::Matrix<double, Size, Size>& matrix) {
  matrix_into<Size, Size>(settings, key, matrix);
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix<double, Size, Size>> eigen(matrix, Eigen::EigenvaluesOnly);
  const double largest = std::max(1e-300, matrix.cwiseAbs().maxCoeff());
  constexpr double rounding = 1e-6;
  if (!((matrix - matrix.transpose()).cwiseAbs().maxCoeff() <= rounding * largest) ||
      eigen.eigenvalues().minCoeff() < -rounding * largest) {
    settings.fail(key, {"settings.no_covariance"});
  }
}

/// Three numbers, zero where the key is absent; of length 1 if `unit`.
[[nodiscard]] inline Eigen::Vector3d vector_of(Settings& settings, const char* key, bool unit) {
  Eigen::Vector3d vector = Eigen::Vector3d::Zero();
  matrix_into<3, 1>(settings, key, vector);
  constexpr double tolerance = 1e-6;
  if (unit && std::abs(vector.norm() - 1.0) > tolerance) settings.fail(key, {"settings.no_unit_vector"});
  return vector;
}

}  // namespace canewise
