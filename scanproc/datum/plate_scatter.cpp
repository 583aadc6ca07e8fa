#include "scanproc/datum/plate_scatter.h"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "scanproc/core/budget.h"
#include "scanproc/core/parallel.h"
#include "scanproc/core/statistics.h"
#include "scanproc/rig/rig.h"

namespace canewise {
namespace {

constexpr double kPlateClearance_mm = 0.8;  // Plate points nearer to the rim may be mixed with it.
constexpr double kFewestPoints = 4.0;       // Of a block whose mean counts.

/// Sums over the points of one square millimetre of plate.
struct Block {
  double n = 0, x = 0, y = 0, z = 0;
  [[nodiscard]] double height() const { return z / n; }
};

struct Blocks {
  std::size_t rows = 0, columns = 0;
  std::vector<Block> of;
  [[nodiscard]] const Block& at(std::size_t row, std::size_t column) const { return of[row * columns + column]; }
};

Blocks collect(const PlateView& view) {
  const Eigen::Matrix3Xd& points = view.points_mm;
  const double x_low = -kPlateReach_mm - 2.0, y_low = -30.0;
  Blocks blocks;
  blocks.columns = 60;
  blocks.rows = static_cast<std::size_t>(view.rim.butt_x_mm + 2 * kPlateReach_mm + 4);
  const auto rows = static_cast<double>(blocks.rows), columns = static_cast<double>(blocks.columns);
  std::array<std::vector<Block>, kParallelParts> parts;
  parallel_parts(static_cast<std::size_t>(points.cols()), [&](std::size_t part, std::size_t begin, std::size_t end) {
    parts.at(part).resize(blocks.columns * blocks.rows);
    for (std::size_t i = begin; i < end; ++i) {
      const Eigen::Vector3d p = view.frame * points.col(static_cast<Eigen::Index>(i));
      if (std::abs(p.z()) > PlateView::kLimit * view.noise_mm || !is_beside_reed(p, view.rim)) continue;
      const double row = std::floor(p.x() - x_low), column = std::floor(p.y() - y_low);
      if (row < 0 || column < 0 || row >= rows || column >= columns) continue;
      Block& s = parts.at(part)[static_cast<std::size_t>(row) * blocks.columns + static_cast<std::size_t>(column)];
      s.n += 1, s.x += p.x(), s.y += p.y(), s.z += p.z();
    }
  });
  blocks.of = std::move(parts[0]);
  for (std::size_t part = 1; part < kParallelParts; ++part) {
    for (std::size_t k = 0; k < parts.at(part).size(); ++k) {
      const Block& o = parts.at(part)[k];
      blocks.of[k].n += o.n, blocks.of[k].x += o.x, blocks.of[k].y += o.y, blocks.of[k].z += o.z;
    }
  }
  return blocks;
}

using Vector6d = Eigen::Matrix<double, 6, 1>;
using Matrix6d = Eigen::Matrix<double, 6, 6>;

Vector6d quadratic_basis(double x_mm, double y_mm, double middle_mm) {
  const double u = (x_mm - middle_mm) / SlowError::kReach_mm, v = y_mm / SlowError::kReach_mm;
  Vector6d basis;
  basis << 1.0, u, v, u * u, v * v, u * v;
  return basis;
}

/// Takes the blocks' least-squares quadratic away.
struct Quadratic {
  Vector6d form = Vector6d::Zero();
  Matrix6d inverse = Matrix6d::Zero();  ///< Times a block's variance: covariance of the form.
};
Quadratic take_quadratic(Blocks& blocks, double middle_mm) {
  Matrix6d normal = 1e-9 * Matrix6d::Identity();
  Vector6d right = Vector6d::Zero();
  for (const Block& s : blocks.of) {
    if (s.n < kFewestPoints) continue;
    const Vector6d basis = quadratic_basis(s.x / s.n, s.y / s.n, middle_mm);
    normal += basis * basis.transpose();
    right += s.height() * basis;
  }
  Quadratic quadratic;
  quadratic.inverse = normal.inverse();
  quadratic.form = quadratic.inverse * right;
  for (Block& s : blocks.of) {
    if (s.n > 0) s.z -= s.n * quadratic_basis(s.x / s.n, s.y / s.n, middle_mm).dot(quadratic.form);
  }
  return quadratic;
}

/// Mean product of the heights of blocks `lag` millimetres apart, along either axis; empty for too few pairs.
std::vector<double> covariances(const Blocks& blocks) {
  constexpr std::size_t farthest = 24;
  constexpr double fewest_pairs = 50.0;
  std::vector<double> by_lag;
  for (std::size_t lag = 0; lag <= farthest; ++lag) {
    double products = 0.0, pairs = 0.0;
    const auto pair_up = [&](const Block& a, const Block& b) {
      if (a.n < kFewestPoints || b.n < kFewestPoints) return;
      products += a.height() * b.height(), pairs += 1.0;
    };
    for (std::size_t row = 0; row < blocks.rows; ++row) {
      for (std::size_t column = 0; column < blocks.columns; ++column) {
        if (column + lag < blocks.columns) pair_up(blocks.at(row, column), blocks.at(row, column + lag));
        if (row + lag < blocks.rows) pair_up(blocks.at(row, column), blocks.at(row + lag, column));
      }
    }
    if (pairs < fewest_pairs) break;
    by_lag.push_back(products / pairs);
  }
  return by_lag;
}

/// The plate shows as many independent patches of slow error as its area holds of the length's. The quadratic takes six
/// of them.
constexpr double kOfQuadratic = 6.0;
double degrees_of_freedom(const Blocks& blocks, double length_mm) {
  const auto area_mm2 = static_cast<double>(
      std::count_if(blocks.of.begin(), blocks.of.end(), [](const Block& s) { return s.n >= kFewestPoints; }));
  const double patches = area_mm2 / std::max(1.0, std::numbers::pi / 4.0 * square(length_mm));
  constexpr double fewest = 3.0;
  return std::max(fewest, patches - kOfQuadratic);
}

/// Standard deviation from a variance that so many degrees of freedom show, pooled with what scans of this kind have:
/// few patches may happen to be quiet. Source of the pooling: [BDA3], section 2.6, scaled inverse chi-square prior.
double pooled_sd_mm(double variance_mm2, double freedom, double assumed_mm) {
  constexpr double of_prior = 4.0;
  const double prior_freedom = assumed_mm > 0.0 ? of_prior : 0.0, all = freedom + prior_freedom;
  const double seen = (freedom + kOfQuadratic) * variance_mm2;
  return std::sqrt((seen + prior_freedom * square(assumed_mm)) / all) * students_over_normal(all);
}

SlowError slow_error(Blocks& blocks, double middle_mm, double assumed_mm) {
  SlowError slow;
  const Quadratic quadratic = take_quadratic(blocks, middle_mm);
  const std::vector<double> covariance = covariances(blocks);
  constexpr std::size_t fewest_lags = 3;
  if (covariance.size() < fewest_lags) return slow;
  slow.seen = true;
  double block_variance = covariance[0];
  if (assumed_mm > 0.0) {
    slow.length_mm = Priors{}.smooth_length_mm;
    slow.sd_mm = pooled_sd_mm(0.0, degrees_of_freedom(blocks, slow.length_mm), assumed_mm);
  }
  if (covariance[1] > 0.0) {
    // Near nothing a covariance falls with the square of the lag; noise has none of it at a millimetre.
    const double variance = covariance[1] + std::clamp((covariance[1] - covariance[2]) / 3.0, 0.0, covariance[1] / 3.0);
    double area = 0.5 * variance;
    constexpr double nothing_left = 0.05;
    for (std::size_t lag = 1; lag < covariance.size() && covariance[lag] > nothing_left * variance; ++lag)
      area += covariance[lag];
    slow.length_mm = 2.0 * area / variance;
    slow.sd_mm = pooled_sd_mm(variance, degrees_of_freedom(blocks, slow.length_mm), assumed_mm);
    // Blocks within that length repeat each other.
    block_variance = std::max(block_variance, variance * std::numbers::pi / 4.0 * square(slow.length_mm));
  }
  constexpr double clear = 3.0;
  for (int k = 0; k < 3; ++k) {
    const double size = quadratic.form(3 + k), u = std::sqrt(block_variance * quadratic.inverse(3 + k, 3 + k));
    slow.form_mm.at(static_cast<std::size_t>(k)) = std::abs(size) > clear * u ? std::abs(size) : 0.0;
  }
  return slow;
}

/// What slow error adds to the scatter of the plane's sums: blocks within its length err alike. Its covariance is taken
/// to fall exponentially with distance, over blocks of two millimetres.
Eigen::Matrix3d scatter_of_slow(const Blocks& blocks, const SlowError& slow) {
  struct Place {
    double n = 0, x = 0, y = 0;
  };
  const std::size_t columns = (blocks.columns + 1) / 2;
  std::vector<Place> all(columns * ((blocks.rows + 1) / 2));
  for (std::size_t row = 0; row < blocks.rows; ++row) {
    for (std::size_t column = 0; column < blocks.columns; ++column) {
      const Block& s = blocks.at(row, column);
      Place& place = all[row / 2 * columns + column / 2];
      place.n += s.n, place.x += s.x, place.y += s.y;
    }
  }
  std::erase_if(all, [](const Place& p) { return p.n < 1; });
  Eigen::Matrix3d scatter = Eigen::Matrix3d::Zero();
  const double decay_mm = 0.5 * slow.length_mm;
  for (const Place& a : all) {
    // Sum over the others first: it is the same for every entry of the product.
    Eigen::Vector3d sum = Eigen::Vector3d::Zero();
    for (const Place& b : all) {
      const double distance = std::hypot(a.x / a.n - b.x / b.n, a.y / a.n - b.y / b.n);
      constexpr double far = 6.0;
      if (distance < far * decay_mm) sum += std::exp(-distance / decay_mm) * Eigen::Vector3d(b.n, b.x, b.y);
    }
    scatter += Eigen::Vector3d(a.n, a.x, a.y) * sum.transpose();
  }
  return square(slow.sd_mm) * scatter;
}

}  // namespace

bool is_beside_reed(const Eigen::Vector3d& p, const RimFit& rim) {
  if (p.x() < rim.apex_x_mm - kPlateReach_mm || p.x() > rim.butt_x_mm + kPlateReach_mm) return false;
  if (p.y() < rim.left.at(p.x()) - kPlateReach_mm || p.y() > rim.right.at(p.x()) + kPlateReach_mm) return false;
  return p.x() < rim.apex_x_mm - kPlateClearance_mm || p.x() > rim.butt_x_mm + kPlateClearance_mm ||
         p.y() < rim.left.at(p.x()) - kPlateClearance_mm || p.y() > rim.right.at(p.x()) + kPlateClearance_mm;
}

double PlateBow::at_mm(double x_mm, double y_mm) const {
  return quadratic_basis(x_mm, y_mm, middle_mm).dot(coefficients);
}

std::optional<PlateBow> find_plate_bow(const Eigen::Matrix3Xd& points, const RimFit& rim, double noise_mm) {
  Blocks blocks = collect({points, Eigen::Isometry3d::Identity(), rim, noise_mm});
  PlateBow form;
  form.middle_mm = 0.5 * (rim.apex_x_mm + rim.butt_x_mm);
  form.coefficients = take_quadratic(blocks, form.middle_mm).form;
  // The plane that the quadratic itself has where the plate is seen is the datum's business.
  Eigen::Matrix3d normal = 1e-9 * Eigen::Matrix3d::Identity();
  Eigen::Vector3d right = Eigen::Vector3d::Zero();
  double squares = 0.0, seen = 0.0;
  const auto over_blocks = [&](const auto& body) {
    for (const Block& s : blocks.of) {
      if (s.n >= kFewestPoints) body(s.x / s.n, s.y / s.n);
    }
  };
  over_blocks([&](double x, double y) {
    const Eigen::Vector3d basis = quadratic_basis(x, y, form.middle_mm).head<3>();
    normal += basis * basis.transpose();
    right += form.at_mm(x, y) * basis;
  });
  form.coefficients.head<3>() -= normal.ldlt().solve(right);
  over_blocks([&](double x, double y) { squares += square(form.at_mm(x, y)), seen += 1.0; });
  constexpr double hides_a_tip_mm = 0.01, fewest_blocks = 60.0;
  if (seen < fewest_blocks || std::sqrt(squares / seen) < hides_a_tip_mm) return std::nullopt;
  return form;
}

PlateScatter plate_scatter(const PlateView& view, double assumed_slow_mm) {
  PlateScatter seen;
  Blocks blocks = collect(view);
  Eigen::Matrix3d normal = Eigen::Matrix3d::Zero(), scatter = Eigen::Matrix3d::Zero();
  for (const Block& s : blocks.of) {
    if (s.n < 1) continue;
    const Eigen::Vector3d basis(1.0, s.x / s.n, s.y / s.n);
    normal += s.n * basis * basis.transpose();
    scatter += square(s.z) * basis * basis.transpose();  // (n_b r_b)^2 with r_b = z / n: the plane is already level.
    seen.blocks.push_back({s.x / s.n, s.y / s.n, s.n});
  }
  seen.slow = slow_error(blocks, 0.5 * (view.rim.apex_x_mm + view.rim.butt_x_mm), assumed_slow_mm);
  if (seen.slow.sd_mm > 0.0) scatter += scatter_of_slow(blocks, seen.slow);
  const Eigen::Matrix3d inverse = normal.inverse();
  seen.plane_covariance = inverse * scatter * inverse;
  return seen;
}

}  // namespace canewise
