#pragma once

#include <Eigen/Core>
#include <nlohmann/json_fwd.hpp>

namespace canewise {

/// Rows of numbers to file_digits; null is NaN.
[[nodiscard]] nlohmann::json rows_from(const Eigen::ArrayXXd& field);
[[nodiscard]] nlohmann::json rows_from(const Eigen::ArrayXXf& field);
/// Throws Impossible for rows of unequal length.
[[nodiscard]] Eigen::ArrayXXd field_from(const nlohmann::json& rows);
[[nodiscard]] Eigen::ArrayXXf small_field_from(const nlohmann::json& rows);

/// As whole millionths.
[[nodiscard]] nlohmann::json millionths_from(const Eigen::ArrayXXf& field);
[[nodiscard]] Eigen::ArrayXXf field_from_millionths(const nlohmann::json& rows);

[[nodiscard]] nlohmann::json rows_from(const Eigen::MatrixXd& matrix);
/// Throws Impossible for a matrix of another size.
[[nodiscard]] Eigen::MatrixXd matrix_from(const nlohmann::json& rows, Eigen::Index size);

}  // namespace canewise
