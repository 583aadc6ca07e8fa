#include "scanproc/bendtest/bench_place.h"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

#include "scanproc/compare/thickness_at.h"
#include "scanproc/core/error.h"
#include "scanproc/core/linear_fit.h"
#include "scanproc/core/statistics.h"
#include "scanproc/datum/plane_search.h"
#include "scanproc/datum/rim_side.h"
#include "scanproc/datum/rim_tip.h"

namespace canewise {
namespace {

constexpr double kMissing = std::numeric_limits<double>::quiet_NaN();

/// Heights over a plane on a coarse raster.
class Raster {
 public:
  Raster(const std::vector<Eigen::Vector3d>& points, const Eigen::Isometry3d& level) {
    std::vector<Eigen::Vector3d> near;
    for (const Eigen::Vector3d& raw : points) {
      const Eigen::Vector3d p = level * raw;
      constexpr double lowest_mm = -2.0, highest_mm = 6.0;  // No reed is as high; a loaded tip is not as low.
      if (p.z() > lowest_mm && p.z() < highest_mm) near.push_back(p);
    }
    low_ = Eigen::Vector2d::Constant(1e9);
    high_ = -low_;
    for (const auto& p : near) {
      low_ = low_.cwiseMin(p.head<2>());
      high_ = high_.cwiseMax(p.head<2>());
    }
    if (near.empty()) return;
    const Eigen::Vector2d size = (high_ - low_) / kStep_mm;
    constexpr double most = 4000.0;
    if (!(size.x() < most && size.y() < most)) return;
    columns_ = static_cast<int>(size.x()) + 1;
    rows_ = static_cast<int>(size.y()) + 1;
    std::vector<double> sum(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_), 0.0);
    std::vector<int> count(sum.size(), 0);
    for (const auto& p : near) {
      const auto k = static_cast<std::size_t>(index_of(p.x(), p.y()));
      sum[k] += p.z();
      ++count[k];
    }
    height_.assign(sum.size(), kMissing);
    for (std::size_t k = 0; k < sum.size(); ++k)
      if (count[k] > 0) height_[k] = sum[k] / count[k];
  }
  [[nodiscard]] bool is_empty() const { return height_.empty(); }
  [[nodiscard]] const Eigen::Vector2d& low() const { return low_; }
  [[nodiscard]] const Eigen::Vector2d& high() const { return high_; }
  [[nodiscard]] double at(double x, double y) const {
    const int k = index_of(x, y);
    return k < 0 ? kMissing : height_[static_cast<std::size_t>(k)];
  }

 private:
  static constexpr double kStep_mm = 0.5;
  [[nodiscard]] int index_of(double x, double y) const {
    const double c = (x - low_.x()) / kStep_mm, r = (y - low_.y()) / kStep_mm;
    if (!(c >= 0.0 && r >= 0.0 && c < columns_ && r < rows_)) return -1;
    return static_cast<int>(r) * columns_ + static_cast<int>(c);
  }
  Eigen::Vector2d low_, high_;
  int columns_ = 0, rows_ = 0;
  std::vector<double> height_;
};

/// The reed as few places: on it, and just beside the vamp, where nothing may be.
class Template {
 public:
  explicit Template(const Result& reed) : middle_mm_(0.5 * reed.outline.length_mm) {
    const Outline& outline = reed.outline;
    constexpr double step_mm = 2.0, inside_mm = 1.0, beside_mm = 1.5;
    for (double x = inside_mm; x < outline.length_mm - inside_mm; x += step_mm) {
      for (double y = -10.0; y <= 10.0; y += step_mm) {
        if (!outline.holds(x, y, inside_mm)) continue;
        const double height = thickness_at(reed.map, x, y);
        if (std::isfinite(height)) on_.push_back({x - middle_mm_, y, height});
      }
    }
    // From all over the reed in every few: a wrong place is found out soon.
    std::vector<Eigen::Vector3d> mixed;
    constexpr std::size_t stride = 7;
    for (std::size_t first = 0; first < stride; ++first)
      for (std::size_t k = first; k < on_.size(); k += stride) mixed.push_back(on_[k]);
    on_ = std::move(mixed);
    constexpr double vamp_mm = 22.0;
    for (double x = 0.0; x < vamp_mm; x += step_mm) {
      beside_.emplace_back(x - middle_mm_, outline.left.at(x) - beside_mm);
      beside_.emplace_back(x - middle_mm_, outline.right.at(x) + beside_mm);
    }
    for (double y = outline.left.at(0.0); y <= outline.right.at(0.0); y += step_mm)
      beside_.emplace_back(outline.tip_edge_at(y) - beside_mm - middle_mm_, y);
  }

  struct Pose {
    double turn_rad = 0.0;
    Eigen::Vector2d middle_mm = Eigen::Vector2d::Zero();
    double score = 0.0;
  };

  /// Share of the places where the scan is as high as the reed, less those beside it where something is.
  [[nodiscard]] double score(const Raster& raster, const Pose& pose, double hopeless) const {
    const double c = std::cos(pose.turn_rad), s = std::sin(pose.turn_rad);
    const auto place = [&](double x, double y) {
      return raster.at(pose.middle_mm.x() + c * x - s * y, pose.middle_mm.y() + s * x + c * y);
    };
    constexpr double alike_mm = 0.3;
    constexpr std::size_t first_look = 24;
    std::size_t alike = 0, looked = 0;
    for (const Eigen::Vector3d& p : on_) {
      alike += std::abs(place(p.x(), p.y()) - p.z()) < alike_mm ? 1U : 0U;
      if (++looked == first_look && static_cast<double>(alike) < hopeless * static_cast<double>(first_look)) return 0.0;
    }
    std::size_t in_the_air = 0;
    for (const Eigen::Vector2d& p : beside_) in_the_air += std::isnan(place(p.x(), p.y())) ? 1U : 0U;
    return static_cast<double>(alike) / static_cast<double>(on_.size()) -
           (1.0 - static_cast<double>(in_the_air) / static_cast<double>(beside_.size()));
  }

  [[nodiscard]] Pose best_on(const Raster& raster) const {
    constexpr double turn_step = 5.0 * std::numbers::pi / 180.0, shift_mm = 1.5, hopeless = 0.25;
    Pose best;
    if (raster.is_empty()) return best;
    for (double turn = 0.0; turn < 2.0 * std::numbers::pi; turn += turn_step) {
      for (double x = raster.low().x(); x <= raster.high().x(); x += shift_mm) {
        for (double y = raster.low().y(); y <= raster.high().y(); y += shift_mm) {
          Pose pose{turn, {x, y}, 0.0};
          pose.score = score(raster, pose, hopeless);
          if (pose.score > best.score) best = pose;
        }
      }
    }
    // Nearer and nearer.
    for (double finer = 0.5; finer > 0.1; finer *= 0.5) {
      for (bool better = best.score > 0.0; better;) {
        better = false;
        for (int k = 0; k < 6; ++k) {
          Pose pose = best;
          const double way = k % 2 == 0 ? finer : -finer;
          if (k / 2 == 0) pose.turn_rad += way * turn_step;
          if (k / 2 == 1) pose.middle_mm.x() += way * shift_mm;
          if (k / 2 == 2) pose.middle_mm.y() += way * shift_mm;
          pose.score = score(raster, pose, hopeless);
          if (pose.score > best.score) best = pose, better = true;
        }
      }
    }
    return best;
  }

  [[nodiscard]] Eigen::Isometry3d reed_from_level(const Pose& pose) const {
    Eigen::Isometry3d level_from_reed = Eigen::Isometry3d::Identity();
    level_from_reed.linear() = Eigen::AngleAxisd(pose.turn_rad, Eigen::Vector3d::UnitZ()).toRotationMatrix();
    level_from_reed.translation() << pose.middle_mm, 0.0;
    return (level_from_reed * Eigen::Translation3d(-middle_mm_, 0.0, 0.0)).inverse();
  }

 private:
  double middle_mm_;
  std::vector<Eigen::Vector3d> on_;  ///< About the reed's middle, with the height there.
  std::vector<Eigen::Vector2d> beside_;
};

/// Up along the plane's normal, x and y any.
Eigen::Isometry3d level_on(const Plane& plane, double up) {
  const Eigen::Vector3d normal = up * plane.normal;
  Eigen::Isometry3d level = Eigen::Isometry3d::Identity();
  level.linear() = Eigen::Quaterniond::FromTwoVectors(normal, Eigen::Vector3d::UnitZ()).toRotationMatrix();
  level.translation() = Eigen::Vector3d(0.0, 0.0, -up * plane.distance);
  return level;
}

/// The planes with the most points: the block's top is one of them, if not the first.
std::vector<Plane> planes_of(std::vector<Eigen::Vector3d> points) {
  std::vector<Plane> planes;
  constexpr std::size_t most = 4, fewest_points = 300;
  while (planes.size() < most && points.size() > fewest_points) {
    constexpr double tolerance_mm = 0.1, own_mm = 0.25;
    const auto found = find_plane(points, tolerance_mm);
    if (!found || found->inliers < fewest_points) break;
    planes.push_back(found->plane);
    std::erase_if(points, [&](const Eigen::Vector3d& p) { return std::abs(found->plane.height(p)) < own_mm; });
  }
  return planes;
}

Eigen::Isometry3d first_guess(const Eigen::Matrix3Xd& points_mm, const Result& reed) {
  constexpr std::size_t for_planes = 8000, for_raster = 80000;
  const Template shape(reed);
  const std::vector<Eigen::Vector3d> many = subsample(points_mm, for_raster);
  Template::Pose best;
  Eigen::Isometry3d found = Eigen::Isometry3d::Identity();
  for (const Plane& plane : planes_of(subsample(points_mm, for_planes))) {
    for (const double up : {1.0, -1.0}) {
      const Eigen::Isometry3d level = level_on(plane, up);
      const Template::Pose pose = shape.best_on(Raster(many, level));
      if (pose.score <= best.score) continue;
      best = pose;
      found = shape.reed_from_level(pose) * level;
    }
  }
  constexpr double enough = 0.45;
  if (best.score < enough) throw NotMeasurable({"bendtest.not_found"});
  return found;
}

Eigen::Isometry3d small_motion(const Eigen::Vector3d& shift, const Eigen::Vector3d& turn) {
  Eigen::Isometry3d motion = Eigen::Isometry3d::Identity();
  motion.linear() =
      (Eigen::AngleAxisd(turn.z(), Eigen::Vector3d::UnitZ()) * Eigen::AngleAxisd(turn.y(), Eigen::Vector3d::UnitY()) *
       Eigen::AngleAxisd(turn.x(), Eigen::Vector3d::UnitX()))
          .toRotationMatrix();
  motion.translation() = shift;
  return motion;
}

/// Height, slope along and slope across that are left between scan and map. Throws where the two do not lie together.
Eigen::Vector3d tilt_left(const Eigen::Matrix3Xd& few, const Eigen::Isometry3d& frame, const Result& reed, bool bent) {
  const double from_mm = bent ? 0.55 * reed.outline.length_mm : 0.0;
  std::vector<Eigen::Vector3d> off;
  for (Eigen::Index k = 0; k < few.cols(); ++k) {
    const Eigen::Vector3d p = frame * few.col(k);
    constexpr double inside_mm = 0.7, near_mm = 0.35;
    if (p.x() < from_mm || !reed.outline.holds(p.x(), p.y(), inside_mm)) continue;
    const double above = p.z() - thickness_at(reed.map, p.x(), p.y());
    if (std::abs(above) < near_mm) off.emplace_back(p.x(), p.y(), above);
  }
  constexpr std::size_t fewest = 200;
  if (off.size() < fewest) throw NotMeasurable({"bendtest.not_found"});
  Eigen::MatrixXd design(static_cast<Eigen::Index>(off.size()), 3);
  Eigen::VectorXd height(design.rows());
  for (Eigen::Index k = 0; k < design.rows(); ++k) {
    const Eigen::Vector3d& p = off[static_cast<std::size_t>(k)];
    design.row(k) << 1.0, p.x(), p.y();
    height(k) = p.z();
  }
  return fit_linear_robust(design, height, 1e-3).coefficients;
}

struct RimLeft {
  double x_mm = 0.0, y_mm = 0.0, yaw_rad = 0.0, at_mm = 0.0;
  double u_x_mm = 0.0, u_y_mm = 0.0;
};

/// The same from the outermost points alone, for a place that may be millimetres off.
RimLeft rough_rim_left(const Eigen::Matrix3Xd& few, const Eigen::Isometry3d& frame, const Outline& outline) {
  constexpr double from_mm = 3.0, to_mm = 20.0, floor_mm = -2.5, roof_mm = 3.0, reach_mm = 4.0;
  constexpr std::size_t stations = 17, columns = 8, fewest = 8;
  std::array<std::vector<double>, stations> across;
  std::array<std::vector<double>, columns> along;
  const double half = outline.half_width_mm(0.0);
  for (Eigen::Index k = 0; k < few.cols(); ++k) {
    const Eigen::Vector3d p = frame * few.col(k);
    if (p.z() < floor_mm || p.z() > roof_mm || p.x() > to_mm || std::abs(p.y()) > half + reach_mm) continue;
    if (p.x() > from_mm) across.at(static_cast<std::size_t>(p.x() - from_mm)).push_back(p.y());
    const double column = (p.y() / half + 0.8) / 1.6 * static_cast<double>(columns);
    if (column >= 0.0 && column < static_cast<double>(columns) && p.x() > -reach_mm)
      along.at(static_cast<std::size_t>(column)).push_back(p.x());
  }
  const auto outermost = [](std::vector<double>& values, double share) {
    const auto at = values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), at, values.end());
    return *at;
  };
  constexpr double first_share = 0.02;
  std::vector<double> tip, x_of, y_of;
  for (std::size_t s = 0; s < stations; ++s) {
    if (across.at(s).size() < fewest) continue;
    const double x = from_mm + static_cast<double>(s) + 0.5;
    x_of.push_back(x);
    y_of.push_back(0.5 * (outermost(across.at(s), first_share) + outermost(across.at(s), 1.0 - first_share) -
                          outline.left.at(x) - outline.right.at(x)));
  }
  for (std::size_t c = 0; c < columns; ++c) {
    if (along.at(c).size() < fewest) continue;
    const double y = half * ((static_cast<double>(c) + 0.5) / static_cast<double>(columns) * 1.6 - 0.8);
    tip.push_back(outermost(along.at(c), 0.0) - outline.tip_edge_at(y));
  }
  if (x_of.size() < fewest || tip.empty()) throw NotMeasurable({"bendtest.not_found"});
  Eigen::MatrixXd design(static_cast<Eigen::Index>(x_of.size()), 2);
  RimLeft rim;
  rim.at_mm = 0.5 * (from_mm + to_mm);
  for (std::size_t s = 0; s < x_of.size(); ++s) design.row(static_cast<Eigen::Index>(s)) << 1.0, x_of[s] - rim.at_mm;
  const LinearFit fit = fit_linear_robust(
      design, Eigen::Map<const Eigen::VectorXd>(y_of.data(), static_cast<Eigen::Index>(y_of.size())), 0.02);
  rim.y_mm = fit.coefficients(0);
  rim.yaw_rad = fit.coefficients(1);
  rim.x_mm = median(tip);
  return rim;
}

/// How far tip and sides of the vamp lie off those of the result.
RimLeft rim_left(const Eigen::Matrix3Xd& points_mm, const Eigen::Isometry3d& frame, const Outline& outline) {
  constexpr double from_mm = 3.0, to_mm = 20.0, near_mm = 3.5, floor_mm = -2.5, roof_mm = 3.0;
  std::vector<Eigen::Vector3d> left, right, tip;
  for (Eigen::Index k = 0; k < points_mm.cols(); ++k) {
    const Eigen::Vector3d p = frame * points_mm.col(k);
    if (p.x() < -near_mm || p.x() > to_mm || p.z() < floor_mm || p.z() > roof_mm) continue;
    if (std::abs(p.y() - outline.left.at(p.x())) < near_mm && p.x() > from_mm) left.push_back(p);
    if (std::abs(p.y() - outline.right.at(p.x())) < near_mm && p.x() > from_mm) right.push_back(p);
    if (p.x() < from_mm + near_mm && outline.holds(std::max(p.x(), 1.0), p.y(), -1.0)) tip.push_back(p);
  }
  const EdgeFinder edge({0.01, Beside::nothing});
  const Eigen::Isometry3d here = Eigen::Isometry3d::Identity();
  const auto side = [&](const std::vector<Eigen::Vector3d>& points, const SideLine& line, int which) {
    return fit_side(side_edges(points, here, {line, which, from_mm, to_mm}, edge), which, Beside::nothing);
  };
  const SideFit l = side(left, outline.left, -1), r = side(right, outline.right, 1);
  const double half = outline.half_width_mm(0.0);
  const TipArc arc = fit_arc(find_tip_columns(tip, here, {0.0, outline.tip_arc_radius_mm, half}, edge), {half, 0.1},
                             outline.tip_arc_radius_mm);
  RimLeft rim;
  rim.at_mm = 0.5 * (from_mm + to_mm);
  rim.x_mm = arc.apex_x_mm;
  rim.u_x_mm = arc.u_apex_x_mm;
  rim.y_mm =
      0.5 * (l.line.at(rim.at_mm) - outline.left.at(rim.at_mm) + r.line.at(rim.at_mm) - outline.right.at(rim.at_mm));
  rim.yaw_rad = 0.5 * (l.line.slope - outline.left.slope + r.line.slope - outline.right.slope);
  rim.u_y_mm = 0.5 * std::hypot(l.line.u_offset_mm, r.line.u_offset_mm);
  return rim;
}

BenchPlace settled(const Eigen::Matrix3Xd& points_mm, const Result& reed, bool bent, const Eigen::Isometry3d& guess) {
  BenchPlace place;
  Eigen::Isometry3d& frame = place.reed_from_scan;
  frame = guess;
  constexpr std::size_t for_tilt = 40000;
  const std::vector<Eigen::Vector3d> sample = subsample(points_mm, for_tilt);
  const Eigen::Map<const Eigen::Matrix3Xd> few(sample.front().data(), 3, static_cast<Eigen::Index>(sample.size()));
  constexpr int rounds = 5, rough_rounds = 3;
  for (int round = 0; round < rounds; ++round) {
    const Eigen::Vector3d tilt = tilt_left(few, frame, reed, bent);
    frame = small_motion({0.0, 0.0, -tilt(0)}, {-tilt(2), tilt(1), 0.0}) * frame;
    const RimLeft rim =
        round < rough_rounds ? rough_rim_left(few, frame, reed.outline) : rim_left(points_mm, frame, reed.outline);
    // Turn about the stretch that the sides were seen on.
    const Eigen::Translation3d there(rim.at_mm, 0.0, 0.0), back(-rim.at_mm, 0.0, 0.0);
    frame = there * small_motion({-rim.x_mm, -rim.y_mm, 0.0}, {0.0, 0.0, -rim.yaw_rad}) * back * frame;
    place.u_x_mm = rim.u_x_mm;
    place.u_y_mm = rim.u_y_mm;
  }
  return place;
}

}  // namespace

BenchPlace find_on_bench(const Eigen::Matrix3Xd& points_mm, const Result& reed, const BenchSearch& search) {
  if (search.near) {
    try {
      return settled(points_mm, reed, search.bent, *search.near);
    } catch (const NotMeasurable&) {  // It was moved in between.
    }
  }
  return settled(points_mm, reed, search.bent, first_guess(points_mm, reed));
}

}  // namespace canewise
