#include "calib/plate_tiles.h"

#include <Eigen/Geometry>
#include <Eigen/QR>
#include <cmath>
#include <vector>

namespace canewise {
namespace {

constexpr double kReach_mm = 30.0;  // As priors state the plate's form.

}  // namespace

Eigen::ArrayXXd tile_means_mm(const Cloud& cloud, const PlateForm& frame, double limit_mm) {
  Eigen::ArrayXXd sum = Eigen::ArrayXXd::Zero(frame.heights_um.rows(), frame.heights_um.cols()), count = sum;
  const Eigen::Vector3d side = frame.normal.cross(frame.along);
  for (Eigen::Index i = 0; i < cloud.points_mm.cols(); ++i) {
    const Eigen::Vector3d p = cloud.points_mm.col(i) - frame.origin_mm;
    const double z = frame.normal.dot(p);
    if (std::abs(z) > limit_mm) continue;
    const auto c = static_cast<Eigen::Index>(std::lround(frame.along.dot(p) / frame.step_mm));
    const auto r = static_cast<Eigen::Index>(std::lround(side.dot(p) / frame.step_mm));
    if (r < 0 || c < 0 || r >= sum.rows() || c >= sum.cols()) continue;
    sum(r, c) += z;
    count(r, c) += 1.0;
  }
  constexpr double fewest = 5.0;
  return (count >= fewest).select(sum / count.max(1.0), std::nan(""));
}

Eigen::ArrayXXd levelled(const Eigen::ArrayXXd& heights) {
  std::vector<Eigen::Vector3d> rows;
  std::vector<double> values;
  for (Eigen::Index r = 0; r < heights.rows(); ++r) {
    for (Eigen::Index c = 0; c < heights.cols(); ++c) {
      if (std::isnan(heights(r, c))) continue;
      rows.emplace_back(1.0, static_cast<double>(c), static_cast<double>(r));
      values.push_back(heights(r, c));
    }
  }
  Eigen::MatrixXd design(static_cast<Eigen::Index>(rows.size()), 3);
  for (std::size_t i = 0; i < rows.size(); ++i) design.row(static_cast<Eigen::Index>(i)) = rows[i];
  const Eigen::Vector3d plane = design.colPivHouseholderQr().solve(
      Eigen::Map<const Eigen::VectorXd>(values.data(), static_cast<Eigen::Index>(values.size())));
  Eigen::ArrayXXd level = heights;
  for (Eigen::Index r = 0; r < heights.rows(); ++r) {
    for (Eigen::Index c = 0; c < heights.cols(); ++c)
      level(r, c) -= plane(0) + plane(1) * static_cast<double>(c) + plane(2) * static_cast<double>(r);
  }
  return level;
}

Eigen::Vector3d shapes_of(const Eigen::ArrayXXd& heights) {
  std::vector<Eigen::Matrix<double, 6, 1>> rows;
  std::vector<double> values;
  const double middle_c = 0.5 * static_cast<double>(heights.cols() - 1),
               middle_r = 0.5 * static_cast<double>(heights.rows() - 1);
  for (Eigen::Index r = 0; r < heights.rows(); ++r) {
    for (Eigen::Index c = 0; c < heights.cols(); ++c) {
      if (std::isnan(heights(r, c))) continue;
      const double x = (static_cast<double>(c) - middle_c) * kTile_mm / kReach_mm,
                   y = (static_cast<double>(r) - middle_r) * kTile_mm / kReach_mm;
      Eigen::Matrix<double, 6, 1> row;
      row << x * x, y * y, x * y, 1.0, x, y;
      rows.push_back(row);
      values.push_back(heights(r, c));
    }
  }
  Eigen::MatrixXd design(static_cast<Eigen::Index>(rows.size()), 6);
  for (std::size_t i = 0; i < rows.size(); ++i) design.row(static_cast<Eigen::Index>(i)) = rows[i].transpose();
  const Eigen::VectorXd fit = design.colPivHouseholderQr().solve(
      Eigen::Map<const Eigen::VectorXd>(values.data(), static_cast<Eigen::Index>(values.size())));
  return fit.head<3>();
}

Eigen::ArrayXXd without_shapes(const Eigen::ArrayXXd& heights) {
  const Eigen::Vector3d shapes = shapes_of(heights);
  const double middle_c = 0.5 * static_cast<double>(heights.cols() - 1),
               middle_r = 0.5 * static_cast<double>(heights.rows() - 1);
  Eigen::ArrayXXd rest = heights;
  for (Eigen::Index r = 0; r < heights.rows(); ++r) {
    for (Eigen::Index c = 0; c < heights.cols(); ++c) {
      const double x = (static_cast<double>(c) - middle_c) * kTile_mm / kReach_mm,
                   y = (static_cast<double>(r) - middle_r) * kTile_mm / kReach_mm;
      rest(r, c) -= shapes(0) * x * x + shapes(1) * y * y + shapes(2) * x * y;
    }
  }
  return levelled(rest);
}

Eigen::ArrayXXd smoothed(const Eigen::ArrayXXd& heights) {
  Eigen::ArrayXXd out = heights;
  for (Eigen::Index r = 0; r < heights.rows(); ++r) {
    for (Eigen::Index c = 0; c < heights.cols(); ++c) {
      if (std::isnan(heights(r, c))) continue;
      double sum = 0, weight = 0;
      for (Eigen::Index i = -1; i <= 1; ++i) {
        for (Eigen::Index j = -1; j <= 1; ++j) {
          // Only with the partner opposite, so that a slope at the rim is no bow.
          const auto holds = [&](Eigen::Index a, Eigen::Index b) {
            return a >= 0 && b >= 0 && a < heights.rows() && b < heights.cols() && !std::isnan(heights(a, b));
          };
          if (!holds(r + i, c + j) || !holds(r - i, c - j)) continue;
          const double w = (i == 0 ? 2.0 : 1.0) * (j == 0 ? 2.0 : 1.0);
          sum += w * heights(r + i, c + j), weight += w;
        }
      }
      out(r, c) = sum / weight;
    }
  }
  return out;
}

}  // namespace canewise
