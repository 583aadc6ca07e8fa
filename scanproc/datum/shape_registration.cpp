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
#include <cmath>
#include <memory>
#include <utility>

#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

namespace o3d = open3d;
namespace registration = open3d::pipelines::registration;

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

/// The best few slides along the long axis, both ways round.
std::vector<Eigen::Isometry3d> guesses_by_axis(const LevelledPass& first, const LevelledPass& second) {
  const LongAxis to = long_axis_of(first.reed()), from = long_axis_of(second.reed());
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
