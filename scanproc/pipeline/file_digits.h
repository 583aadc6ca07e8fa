#pragma once

#include <Eigen/Core>
#include <cmath>

// Fields are written with as many digits as mean something: what a result holds and what its file holds are equal.
namespace canewise {

/// To a hundredth of a micrometre.
[[nodiscard]] inline double file_digits_mm(double value_mm) { return std::round(value_mm * 1e5) / 1e5; }
/// Sensitivities are kept as whole millionths.
[[nodiscard]] inline long file_millionths(float value) { return std::lround(1e6 * static_cast<double>(value)); }

[[nodiscard]] inline Eigen::ArrayXXf file_digits(const Eigen::ArrayXXf& field_mm) {
  return field_mm.unaryExpr([](float v) { return static_cast<float>(file_digits_mm(static_cast<double>(v))); });
}
[[nodiscard]] inline Eigen::ArrayXXd file_digits(const Eigen::ArrayXXd& field) {
  return field.unaryExpr([](double v) { return file_digits_mm(v); });
}

}  // namespace canewise
