#include "scanproc/datum/shape_registration.h"

#include <open3d/geometry/KDTreeSearchParam.h>
#include <open3d/geometry/PointCloud.h>
#include <open3d/pipelines/registration/CorrespondenceChecker.h>
#include <open3d/pipelines/registration/Feature.h>
#include <open3d/pipelines/registration/Registration.h>
#include <open3d/pipelines/registration/RobustKernel.h>
#include <open3d/pipelines/registration/TransformationEstimation.h>
#include <open3d/utility/Logging.h>
#include <open3d/utility/Random.h>

#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <utility>

#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

namespace o3d = open3d;
namespace registration = open3d::pipelines::registration;

constexpr double kFewestPlaces = 250.0;  // 60 square millimetres of reed in common.
constexpr double kLeastShare = 0.88;     // The rest may be edges and strays.

Eigen::Isometry3d as_motion(const Eigen::Matrix4d& matrix) {
  Eigen::Isometry3d motion;
  motion.matrix() = matrix;
  motion.linear() = Eigen::Quaterniond(motion.linear()).normalized().toRotationMatrix();
  return motion;
}

/// Only the turn about the plate's normal and the shift along the plate: the rest is known.
Eigen::Isometry3d levelled(const Eigen::Isometry3d& motion) {
  Eigen::Isometry3d flat = Eigen::Isometry3d::Identity();
  flat.linear() = Eigen::AngleAxisd(std::atan2(motion.linear()(1, 0), motion.linear()(0, 0)), Eigen::Vector3d::UnitZ())
                      .toRotationMatrix();
  flat.translation().head<2>() = motion.translation().head<2>();
  return flat;
}

o3d::geometry::PointCloud cloud_of(const std::vector<Eigen::Vector3d>& points, double normal_radius_mm) {
  o3d::geometry::PointCloud cloud(points);
  constexpr int most_neighbours = 30;
  cloud.EstimateNormals(o3d::geometry::KDTreeSearchParamHybrid(normal_radius_mm, most_neighbours));
  cloud.OrientNormalsToAlignWithDirection(Eigen::Vector3d::UnitZ());
  return cloud;
}

std::vector<Eigen::Isometry3d> guesses_by_features(const LevelledPass& first, const LevelledPass& second) {
  constexpr double normal_radius_mm = 1.6, feature_radius_mm = 5.0, nearest_mm = 1.0;
  constexpr int seeds = 3, most_neighbours = 100, iterations = 20000;
  const auto target = cloud_of(first.reed(), normal_radius_mm), source = cloud_of(second.reed(), normal_radius_mm);
  const o3d::geometry::KDTreeSearchParamHybrid search(feature_radius_mm, most_neighbours);
  const auto target_feature = registration::ComputeFPFHFeature(target, search);
  const auto source_feature = registration::ComputeFPFHFeature(source, search);
  const registration::CorrespondenceCheckerBasedOnEdgeLength edges(0.9);
  const registration::CorrespondenceCheckerBasedOnDistance distance(nearest_mm);
  std::vector<Eigen::Isometry3d> guesses;
  for (int seed = 0; seed < seeds; ++seed) {
    o3d::utility::random::Seed(seed);
    const auto result = registration::RegistrationRANSACBasedOnFeatureMatching(
        source, target, *source_feature, *target_feature, true, nearest_mm,
        registration::TransformationEstimationPointToPoint(false), 3, {edges, distance},
        registration::RANSACConvergenceCriteria(iterations, 0.999));
    if (result.fitness_ > 0.0) guesses.push_back(levelled(as_motion(result.transformation_)));
  }
  return guesses;
}

struct Axis {
  Eigen::Vector2d middle = Eigen::Vector2d::Zero();
  Eigen::Vector2d along = Eigen::Vector2d::UnitX();
  double half_length = 0.0;
};

Axis axis_of(const std::vector<Eigen::Vector3d>& points) {
  Axis axis;
  for (const auto& p : points) axis.middle += p.head<2>() / static_cast<double>(points.size());
  Eigen::Matrix2d scatter = Eigen::Matrix2d::Zero();
  for (const auto& p : points) scatter += (p.head<2>() - axis.middle) * (p.head<2>() - axis.middle).transpose();
  axis.along = Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d>(scatter).eigenvectors().col(1);
  for (const auto& p : points)
    axis.half_length = std::max(axis.half_length, std::abs(axis.along.dot(p.head<2>() - axis.middle)));
  return axis;
}

/// The best few slides along the long axis, both ways round.
std::vector<Eigen::Isometry3d> guesses_by_axis(const LevelledPass& first, const LevelledPass& second) {
  const Axis to = axis_of(first.reed()), from = axis_of(second.reed());
  struct Slide {
    Eigen::Isometry3d motion;
    double score;
  };
  std::vector<Slide> best;
  for (const double way : {1.0, -1.0}) {
    const double angle =
        std::atan2(way * to.along.y(), way * to.along.x()) - std::atan2(from.along.y(), from.along.x());
    const Eigen::Matrix3d turn = Eigen::AngleAxisd(angle, Eigen::Vector3d::UnitZ()).toRotationMatrix();
    std::vector<Slide> slides;
    constexpr double step_mm = 1.0;
    const double farthest = to.half_length + from.half_length - 8.0;
    for (double slide = -farthest; slide <= farthest; slide += step_mm) {
      Eigen::Isometry3d motion = Eigen::Isometry3d::Identity();
      motion.linear() = turn;
      const Eigen::Vector2d shift = to.middle + slide * to.along - (turn.topLeftCorner<2, 2>() * from.middle);
      motion.translation() << shift, 0.0;
      const Agreement agreement = agreement_of(first, second, motion);
      slides.push_back({motion, agreement.places >= 0.5 * kFewestPlaces ? agreement.share : 0.0});
    }
    for (std::size_t i = 0; i < slides.size(); ++i) {
      const bool peak = (i == 0 || slides[i].score >= slides[i - 1].score) &&
                        (i + 1 == slides.size() || slides[i].score > slides[i + 1].score);
      if (peak && slides[i].score > 0.0) best.push_back(slides[i]);
    }
  }
  std::sort(best.begin(), best.end(), [](const Slide& a, const Slide& b) { return a.score > b.score; });
  constexpr std::size_t most = 10;
  best.resize(std::min(best.size(), most));
  std::vector<Eigen::Isometry3d> guesses;
  for (const auto& slide : best) guesses.push_back(slide.motion);
  return guesses;
}

}  // namespace

LevelledPass::LevelledPass(const Eigen::Matrix3Xd& points, double plate_noise_mm)
    : noise_mm_(plate_noise_mm), reed_above_mm_(std::max(0.25, 5.0 * plate_noise_mm)) {
  // All but the outermost points, so that a far stray does not make the grid large.
  std::vector<double> xs, ys;
  const Eigen::Index step = std::max<Eigen::Index>(1, points.cols() / 20000);
  for (Eigen::Index i = 0; i < points.cols(); i += step) xs.push_back(points(0, i)), ys.push_back(points(1, i));
  std::sort(xs.begin(), xs.end());
  std::sort(ys.begin(), ys.end());
  const std::size_t trim = xs.size() / 1000;
  x_low_ = xs[trim] - kCell_mm;
  y_low_ = ys[trim] - kCell_mm;
  constexpr double largest_mm = 1000.0;
  rows_ = static_cast<Eigen::Index>(std::min(largest_mm, xs[xs.size() - 1 - trim] - x_low_) / kCell_mm) + 2;
  columns_ = static_cast<Eigen::Index>(std::min(largest_mm, ys[ys.size() - 1 - trim] - y_low_) / kCell_mm) + 2;
  std::vector<Cell> cells(static_cast<std::size_t>(rows_ * columns_));
  for (Eigen::Index i = 0; i < points.cols(); ++i) {
    const Eigen::Vector3d p = points.col(i);
    const double row = std::floor((p.x() - x_low_) / kCell_mm), column = std::floor((p.y() - y_low_) / kCell_mm);
    if (!(row >= 0 && column >= 0 && row < static_cast<double>(rows_) && column < static_cast<double>(columns_)))
      continue;
    if (std::abs(p.z()) > 12.0) continue;
    Cell& cell =
        cells[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(column)];
    cell.moments.add(p.x() - x_low_ - (row + 0.5) * kCell_mm, p.y() - y_low_ - (column + 0.5) * kCell_mm, p.z());
    cell.low = std::min(cell.low, p.z());
    cell.high = std::max(cell.high, p.z());
  }
  heights_.assign(cells.size(), std::numeric_limits<float>::quiet_NaN());
  const double edge_mm = 0.3 + 8.0 * noise_mm_;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    Cell& cell = cells[i];
    const PlaneMoments& m = cell.moments;
    if (m.n < 1.0 || cell.high - cell.low > edge_mm) continue;
    const double x = x_low_ + (static_cast<double>(i / static_cast<std::size_t>(columns_)) + 0.5) * kCell_mm;
    const double y = y_low_ + (static_cast<double>(i % static_cast<std::size_t>(columns_)) + 0.5) * kCell_mm;
    means_.emplace_back(x + m.x / m.n, y + m.y / m.n, m.z / m.n);
    if (means_.back().z() > reed_above_mm_) reed_.push_back(means_.back());
    // At the middle of the cell, not at that of its points: on a slope they differ by more than is looked for.
    constexpr double fewest_for_slope = 6.0;
    heights_[i] = static_cast<float>(m.n >= fewest_for_slope ? m.fit().height : m.z / m.n);
  }
}

double LevelledPass::height_at(double x_mm, double y_mm) const {
  const double u = (x_mm - x_low_) / kCell_mm - 0.5, v = (y_mm - y_low_) / kCell_mm - 0.5;
  const double row = std::floor(u), column = std::floor(v);
  if (!(row >= 0 && column >= 0 && row + 1 < static_cast<double>(rows_) && column + 1 < static_cast<double>(columns_)))
    return std::nan("");
  const auto at = [&](double r, double c) {
    return static_cast<double>(
        heights_[static_cast<std::size_t>(r) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(c)]);
  };
  const double a = u - row, b = v - column;
  return (1 - a) * ((1 - b) * at(row, column) + b * at(row, column + 1)) +
         a * ((1 - b) * at(row + 1, column) + b * at(row + 1, column + 1));
}

Agreement agreement_of(const LevelledPass& first, const LevelledPass& second, const Eigen::Isometry3d& motion) {
  Agreement agreement;
  const double tolerance = 0.06 + 4.0 * std::hypot(first.noise_mm(), second.noise_mm());
  double agreed = 0.0, sum = 0.0, squares = 0.0;
  for (const auto& mean : second.means()) {
    const Eigen::Vector3d p = motion * mean;
    const double z = first.height_at(p.x(), p.y());
    if (std::isnan(z) || (z < first.reed_above_mm() && p.z() < second.reed_above_mm())) continue;
    agreement.places += 1.0;
    const double difference = p.z() - z;
    if (std::abs(difference) > tolerance) continue;
    agreed += 1.0;
    sum += difference;
    squares += square(difference);
  }
  if (agreed > 0.0) {
    agreement.share = agreed / agreement.places;
    agreement.mean_mm = sum / agreed;
    agreement.rms_mm = std::sqrt(squares / agreed);
  }
  return agreement;
}

bool shapes_differ(const LevelledPass& first, const LevelledPass& second, const Eigen::Isometry3d& motion) {
  struct Patch {
    double n = 0, sum = 0, squares = 0;
  };
  std::map<std::pair<int, int>, Patch> patches;
  constexpr double patch_mm = 2.0, edge_mm = 0.3;
  for (const auto& mean : second.means()) {
    const Eigen::Vector3d p = motion * mean;
    const double z = first.height_at(p.x(), p.y());
    // Both must see the reed here: what one takes for plate is the rim's business.
    if (std::isnan(z) || z < first.reed_above_mm() || p.z() < second.reed_above_mm()) continue;
    const double difference = p.z() - z;
    if (std::abs(difference) > edge_mm) continue;
    Patch& patch =
        patches[{static_cast<int>(std::floor(p.x() / patch_mm)), static_cast<int>(std::floor(p.y() / patch_mm))}];
    patch.n += 1.0;
    patch.sum += difference;
    patch.squares += square(difference);
  }
  double asked = 0.0, unlike = 0.0;
  for (const auto& [place, patch] : patches) {
    constexpr double fewest = 8.0, least_mm = 0.012, sure = 3.0, shared = 2.0;
    if (patch.n < fewest) continue;
    const double average = patch.sum / patch.n;
    const double variance = std::max(0.0, patch.squares / patch.n - square(average));
    asked += 1.0;
    unlike += std::abs(average) > least_mm + sure * std::sqrt(shared * variance / patch.n);
  }
  constexpr double one_of = 30.0;
  return unlike >= 3.0 && unlike * one_of > asked;
}

bool slides(const LevelledPass& first, const LevelledPass& second, const Eigen::Isometry3d& motion) {
  std::vector<Eigen::Vector3d> shared;
  const auto disagreement = [&](const Eigen::Isometry3d& moved, std::vector<Eigen::Vector3d>* places) {
    constexpr double cap_mm = 0.3;
    double sum = 0.0, count = 0.0;
    for (const auto& mean : second.means()) {
      const Eigen::Vector3d p = moved * mean;
      const double z = first.height_at(p.x(), p.y());
      if (std::isnan(z) || (z < first.reed_above_mm() && p.z() < second.reed_above_mm())) continue;
      sum += std::min(square(cap_mm), square(p.z() - z));
      count += 1.0;
      if (places != nullptr) places->push_back(p);
    }
    return count > 0.0 ? sum / count : square(cap_mm);
  };
  const double here = disagreement(motion, &shared);
  if (shared.size() < 10) return true;
  // The reed's own axis, not that of what is shared, which may be wider than long.
  const Axis axis = axis_of(first.reed().size() > second.reed().size() ? first.reed() : [&] {
    std::vector<Eigen::Vector3d> moved;
    for (const auto& p : second.reed()) moved.push_back(motion * p);
    return moved;
  }());
  const Eigen::Vector3d along(axis.along.x(), axis.along.y(), 0.0), across(-axis.along.y(), axis.along.x(), 0.0);
  Eigen::Vector3d middle = Eigen::Vector3d::Zero();
  for (const auto& p : shared) middle += p / static_cast<double>(shared.size());
  constexpr double rise = 2.0, across_mm = 0.5, turn_rad = 0.0175;
  for (const double sign : {-1.0, 1.0}) {
    const std::array<Eigen::Isometry3d, 5> steps{Eigen::Isometry3d(Eigen::Translation3d(sign * along)),
                                                 Eigen::Isometry3d(Eigen::Translation3d(sign * 2.0 * along)),
                                                 Eigen::Isometry3d(Eigen::Translation3d(sign * 3.0 * along)),
                                                 Eigen::Isometry3d(Eigen::Translation3d(sign * across_mm * across)),
                                                 Eigen::Translation3d(middle) *
                                                     Eigen::AngleAxisd(sign * turn_rad, Eigen::Vector3d::UnitZ()) *
                                                     Eigen::Translation3d(-middle)};
    for (const auto& step : steps) {
      if (disagreement(step * motion, nullptr) < rise * here) return true;
    }
  }
  return false;
}

bool agrees(const Agreement& agreement) { return agreement.places >= kFewestPlaces && agreement.share >= kLeastShare; }

namespace {

/// Small: the normals of a wider neighbourhood lean where it is cut off, which drags the fit by tens of micrometres.
constexpr double kNormalRadius_mm = 0.8;

/// The clouds that all refinements between two passes share; making them costs more than one refinement.
struct ShapePair {
  o3d::geometry::PointCloud target, source, few;
  double noise_mm;

  ShapePair(const LevelledPass& first, const LevelledPass& second)
      : target(cloud_of(first.means(), kNormalRadius_mm)),
        source(second.means()),
        noise_mm(std::hypot(first.noise_mm(), second.noise_mm())) {
    constexpr std::size_t step = 5;
    for (std::size_t i = 0; i < second.means().size(); i += step) few.points_.push_back(second.means()[i]);
  }

  /// One run of point to plane within `reach_mm`.
  [[nodiscard]] registration::RegistrationResult run(const o3d::geometry::PointCloud& from,
                                                     const Eigen::Isometry3d& guess, double reach_mm) const {
    const double scale = std::max(reach_mm / 8.0, 4.0 * noise_mm);
    const registration::TransformationEstimationPointToPlane to_plane(std::make_shared<registration::TukeyLoss>(scale));
    return registration::RegistrationICP(from, target, reach_mm, guess.matrix(), to_plane,
                                         registration::ICPConvergenceCriteria(1e-9, 1e-9, 40));
  }
};

ShapeFit refined(const ShapePair& pair, const LevelledPass& first, const LevelledPass& second,
                 const Eigen::Isometry3d& guess) {
  ShapeFit fit;
  const registration::RegistrationResult result = pair.run(pair.source, guess, 0.5);
  fit.first_from_second = as_motion(result.transformation_);
  Eigen::Matrix<double, 6, 6> normal = Eigen::Matrix<double, 6, 6>::Zero();
  std::vector<double> residuals;
  for (const auto& match : result.correspondence_set_) {
    const Eigen::Vector3d p = fit.first_from_second * pair.source.points_[static_cast<std::size_t>(match(0))];
    const Eigen::Vector3d n = pair.target.normals_[static_cast<std::size_t>(match(1))];
    Eigen::Matrix<double, 6, 1> slope;
    slope << n, p.cross(n);
    normal += slope * slope.transpose();
    residuals.push_back(n.dot(p - pair.target.points_[static_cast<std::size_t>(match(1))]));
  }
  constexpr double shared = 2.0, smallest_sigma_mm = 1e-4;
  const double sigma = residuals.empty() ? 1.0 : std::max(smallest_sigma_mm, mad_sigma(residuals, median(residuals)));
  normal += 1e-9 * Eigen::Matrix<double, 6, 6>::Identity();
  fit.covariance = shared * square(sigma) * normal.inverse();
  // What planes through cells of half a millimetre leave of the surface's bend, found on generated scans.
  constexpr double model_mm = 3e-3, model_rad = 5e-5;
  Eigen::Matrix<double, 6, 1> model;
  model << model_mm, model_mm, 0.0, 0.0, 0.0, model_rad;
  fit.covariance.diagonal() += model.cwiseAbs2();
  fit.agreement = agreement_of(first, second, fit.first_from_second);
  return fit;
}

}  // namespace

std::vector<ShapeFit> fits_by_shape(const LevelledPass& first, const LevelledPass& second) {
  constexpr std::size_t fewest = 100;
  if (first.reed().size() < fewest || second.reed().size() < fewest) return {};
  o3d::utility::SetVerbosityLevel(o3d::utility::VerbosityLevel::Error);
  std::vector<Eigen::Isometry3d> guesses = guesses_by_axis(first, second);
  for (const auto& guess : guesses_by_features(first, second)) guesses.push_back(guess);
  // Few points bring a guess near; guesses that end at one place are refined once.
  const ShapePair pair(first, second);
  std::vector<Eigen::Isometry3d> places;
  for (const auto& guess : guesses) {
    Eigen::Isometry3d place = guess;
    for (const double reach_mm : {2.0, 0.8}) place = as_motion(pair.run(pair.few, place, reach_mm).transformation_);
    const bool known = std::any_of(places.begin(), places.end(), [&](const Eigen::Isometry3d& other) {
      constexpr double same_mm = 0.1, same_rad = 2e-3;
      const Eigen::Isometry3d step = other.inverse() * place;
      return (other.translation() - place.translation()).norm() < same_mm &&
             Eigen::AngleAxisd(step.linear()).angle() < same_rad;
    });
    if (!known) places.push_back(place);
  }
  std::vector<ShapeFit> fits;
  for (const auto& place : places) {
    constexpr double hopeless_share = 0.5;
    if (agreement_of(first, second, place).share < hopeless_share) continue;
    ShapeFit fit = refined(pair, first, second, place);
    if (agrees(fit.agreement)) fits.push_back(std::move(fit));
  }
  std::sort(fits.begin(), fits.end(), [](const ShapeFit& a, const ShapeFit& b) {
    return a.agreement.share * a.agreement.places > b.agreement.share * b.agreement.places;
  });
  return fits;
}

}  // namespace canewise
