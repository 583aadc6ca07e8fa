#include "scanproc/datum/reed_frame.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>
#include <utility>
#include <vector>

#include "scanproc/core/error.h"
#include "scanproc/core/parallel.h"
#include "scanproc/core/plane_moments.h"
#include "scanproc/datum/plate_scatter.h"
#include "scanproc/datum/points.h"
#include "scanproc/datum/reed_finder.h"

namespace canewise {
namespace {

/// The points with the plate's bow and twist taken off, where those would hide the tip; nothing where they would not.
std::optional<Eigen::Matrix3Xd> over_flat_plate(const Eigen::Matrix3Xd& points, RimFit rim, double noise_mm) {
  rim.apex_x_mm = -9.0;  // So far out a thin tip may reach that does not stand out from the plate yet.
  const auto bow = find_plate_bow(points, rim, noise_mm);
  if (!bow) return std::nullopt;
  Eigen::Matrix3Xd flat = points;
  for (Eigen::Index i = 0; i < flat.cols(); ++i) flat(2, i) -= bow->at_mm(flat(0, i), flat(1, i));
  return flat;
}

/// Where to look for the rim first: all but the apex, which the flattened points may show better.
RimFit first_rim(const OnGround& ground, const ReedGuess& guess) {
  // Without a plate all that is left is reed.
  const double threshold = ground.beside == Beside::plate ? std::max(0.25, 5.0 * ground.noise_mm) : -1.0;
  RimFit rim;
  std::tie(rim.left, rim.right) = rough_sides(ground.points_mm, guess.length_mm, threshold);
  rim.butt_x_mm = guess.length_mm;
  rim.arc_radius_mm = 1.1 * guess.width_mm;
  return rim;
}

/// The points near the reed, in its rough frame.
OnGround near_reed(OnGround ground, const ReedGuess& guess) {
  transform_in_place(ground.points_mm, guess.rough_from_plate);
  const double half = 0.5 * guess.width_mm;
  // Wider than the plate that is used, so that the exact frame and not this rough one decides.
  constexpr double spare = 3.0;
  const double reach = ground.beside == Beside::plate ? kPlateReach_mm + spare : spare;
  keep_points(ground.points_mm, ground.u_mm, [&](const Eigen::Vector3d& p) {
    return p.x() > -8.0 - reach && p.x() < guess.length_mm + reach && std::abs(p.y()) < half + reach && p.z() < 12.0;
  });
  return ground;
}

RimPoints collect_rim(const Eigen::Matrix3Xd& points, const RimFit& rim) {
  constexpr double reach_mm = 2.6;
  // So many points place the rim as well as more would, and their copies cost memory.
  constexpr Eigen::Index enough = 6'000'000;
  const Eigen::Index step = std::max<Eigen::Index>(1, points.cols() / enough);
  std::array<RimPoints, kParallelParts> parts;
  const auto looked_at = static_cast<std::size_t>((points.cols() + step - 1) / step);
  parallel_parts(looked_at, [&](std::size_t part, std::size_t begin, std::size_t end) {
    RimPoints& near = parts.at(part);
    for (std::size_t k = begin; k < end; ++k) {
      const Eigen::Vector3d p = points.col(static_cast<Eigen::Index>(k) * step);
      if (std::abs(p.y() - rim.left.at(p.x())) < reach_mm) near.left.push_back(p);
      if (std::abs(p.y() - rim.right.at(p.x())) < reach_mm) near.right.push_back(p);
      if (p.x() > rim.apex_x_mm - 3.0 && p.x() < rim.apex_x_mm + 9.0) near.tip.push_back(p);
      if (std::abs(p.x() - rim.butt_x_mm) < 4.0) near.butt.push_back(p);
    }
  });
  RimPoints all = std::move(parts.front());
  for (std::size_t part = 1; part < kParallelParts; ++part) {
    for (const auto list : {&RimPoints::left, &RimPoints::right, &RimPoints::tip, &RimPoints::butt}) {
      const auto& more = parts.at(part).*list;
      (all.*list).insert((all.*list).end(), more.begin(), more.end());
    }
  }
  return all;
}

/// Every step-th point of each list, for the first rounds.
RimPoints thinned(const RimPoints& rim, std::size_t step) {
  RimPoints few;
  for (const auto list : {&RimPoints::left, &RimPoints::right, &RimPoints::tip, &RimPoints::butt}) {
    for (std::size_t i = 0; i < (rim.*list).size(); i += step) (few.*list).push_back((rim.*list)[i]);
  }
  return few;
}

/// What of the side lists lies in the strip that the last rounds look at; `frame` is near the reed frame by then.
RimPoints narrowed(RimPoints rim, const Eigen::Isometry3d& frame, const RimFit& fit) {
  constexpr double reach_mm = 1.45;
  const auto far_from = [&](const SideLine& side) {
    return [&](const Eigen::Vector3d& raw) {
      const Eigen::Vector3d p = frame * raw;
      return std::abs(p.y() - side.at(p.x())) > reach_mm;
    };
  };
  std::erase_if(rim.left, far_from(fit.left));
  std::erase_if(rim.right, far_from(fit.right));
  return rim;
}

struct PlateFit {
  LocalPlane plane;
  double noise_mm = 0.0;
  double points = 0.0;
};

/// By every point_step-th point.
PlateFit fit_plate(const PlateView& view, std::size_t point_step) {
  const Eigen::Matrix3Xd& points = view.points_mm;
  const double limit = PlateView::kLimit * view.noise_mm;
  std::array<PlaneMoments, kParallelParts> parts;
  const Eigen::Matrix3d rotation = view.frame.linear();
  const Eigen::Vector3d shift = view.frame.translation();
  parallel_parts(static_cast<std::size_t>(points.cols()), [&](std::size_t part, std::size_t begin, std::size_t end) {
    PlaneMoments sums;
    for (std::size_t i = begin; i < end; i += point_step) {
      const Eigen::Vector3d p = rotation * points.col(static_cast<Eigen::Index>(i)) + shift;
      if (std::abs(p.z()) < limit && is_beside_reed(p, view.rim)) sums.add(p.x(), p.y(), p.z());
    }
    parts.at(part) = sums;
  });
  PlaneMoments all = parts[0];
  for (std::size_t part = 1; part < kParallelParts; ++part) all.add_shifted(parts.at(part), 0.0, 0.0);
  PlateFit fit;
  fit.plane = all.fit();
  fit.points = all.n;
  fit.noise_mm = std::sqrt(std::max(0.0, all.residual_sum(fit.plane)) / std::max(1.0, all.n - 3));
  return fit;
}

/// Rotation and shift that bring `plane` to z = 0.
Eigen::Isometry3d level(const LocalPlane& plane) {
  const Eigen::Vector3d normal = Eigen::Vector3d(-plane.slope_x, -plane.slope_y, 1.0).normalized();
  Eigen::Isometry3d pose = Eigen::Isometry3d::Identity();
  pose.linear() = Eigen::Quaterniond::FromTwoVectors(normal, Eigen::Vector3d::UnitZ()).toRotationMatrix();
  pose.translation() = pose.linear() * Eigen::Vector3d(0, 0, -plane.height);
  return pose;
}

/// Turn and shift in the plane that bring the centreline to y = 0 and the apex to x = 0.
Eigen::Isometry3d centre(const RimFit& rim) {
  const double slope = 0.5 * (rim.left.slope + rim.right.slope);
  const double offset = 0.5 * (rim.left.offset_mm + rim.right.offset_mm);
  Eigen::Isometry3d pose = Eigen::Isometry3d::Identity();
  pose.linear() = Eigen::AngleAxisd(-std::atan(slope), Eigen::Vector3d::UnitZ()).toRotationMatrix();
  pose.translation() = -(pose.linear() * Eigen::Vector3d(rim.apex_x_mm, offset + slope * rim.apex_x_mm, 0.0));
  return pose;
}

/// Where to look next, in the frame moved by `centre(rim)`.
RimFit moved(const RimFit& rim) {
  RimFit next = rim;
  next.butt_x_mm -= rim.apex_x_mm;
  next.pivot_x_mm -= rim.apex_x_mm;
  const double slope = 0.5 * (rim.left.slope + rim.right.slope);
  const double offset = 0.5 * (rim.left.offset_mm + rim.right.offset_mm);
  for (SideLine* side : {&next.left, &next.right}) {
    side->offset_mm += (side->slope - slope) * rim.apex_x_mm - offset;
    side->slope -= slope;
  }
  next.apex_x_mm = 0.0;
  return next;
}

double change_of(const Eigen::Isometry3d& step) {
  constexpr double lever_mm = 70.0;
  return std::max(step.translation().cwiseAbs().maxCoeff(),
                  lever_mm * (step.linear() - Eigen::Matrix3d::Identity()).cwiseAbs().maxCoeff());
}

/// What one round made of the frame, and how far that moved it.
struct Round {
  ReedFrame reached;
  double moved_mm = 0.0;
};

/// One round: level by every plate_step-th point of the plate, centre by the rim.
Round one_round(const RoughReed& reed, const RimPoints& rim_points, ReedFrame now, std::size_t plate_step) {
  Eigen::Isometry3d levelled = Eigen::Isometry3d::Identity();
  if (reed.on_plate()) {
    const PlateFit plate = fit_plate({reed.ground.points_mm, now.reed_from_rough, now.rim, now.noise_mm}, plate_step);
    constexpr double fewest_plate_points = 200.0;
    if (plate.points * static_cast<double>(plate_step) < fewest_plate_points) {
      throw NotMeasurable({"plate.too_little"});
    }
    now.noise_mm = std::max(1e-4, plate.noise_mm);
    levelled = level(plate.plane);
    now.reed_from_rough = levelled * now.reed_from_rough;
  }
  Backdrop backdrop{now.noise_mm, reed.ground.beside};
  if (reed.flattened_mm) {
    backdrop.noise_mm =
        fit_plate({*reed.flattened_mm, now.reed_from_rough, now.rim, now.noise_mm}, plate_step).noise_mm;
  }
  now.rim = fit_rim(rim_points, now.reed_from_rough, now.rim, backdrop);
  const Eigen::Isometry3d step = centre(now.rim);
  now.reed_from_rough = step * now.reed_from_rough;
  now.rim = moved(now.rim);
  return {std::move(now), std::max(change_of(step), change_of(levelled))};
}

/// Which plate points the rounds look at, and when they end.
struct Rounds {
  std::size_t plate_step;
  double at_rest_mm;
};

ReedFrame after_rounds(const RoughReed& reed, const RimPoints& rim_points, ReedFrame frame, const Rounds& rounds) {
  constexpr int most_rounds = 8;
  for (int k = 0; k < most_rounds; ++k) {
    Round round = one_round(reed, rim_points, std::move(frame), rounds.plate_step);
    frame = std::move(round.reached);
    if (!(round.moved_mm > rounds.at_rest_mm)) break;
  }
  return frame;
}

}  // namespace

RoughReed rough_reed(OnGround ground) {
  RoughReed reed;
  const ReedGuess guess = find_reed(ground.points_mm, ground.noise_mm, ground.beside);
  reed.notes = guess.notes;
  reed.rough_from_ground = guess.rough_from_plate;
  reed.ground = near_reed(std::move(ground), guess);
  reed.rim = first_rim(reed.ground, guess);
  Backdrop backdrop{reed.ground.noise_mm, reed.ground.beside};
  if (reed.on_plate() && reed.ground.local_scatter_mm > 0.0)
    reed.flattened_mm = over_flat_plate(reed.ground.points_mm, reed.rim, reed.ground.noise_mm);
  if (reed.flattened_mm) backdrop.noise_mm = reed.ground.local_scatter_mm;
  reed.rim.apex_x_mm = rough_tip(reed.edge_points_mm(), backdrop);
  return reed;
}

ReedFrame refined_frame(const RoughReed& reed) {
  // The first rounds only bring the frame near and may look at few points; the last ones look at all until nothing
  // moves.
  constexpr std::size_t coarse_step = 4, fewest_for_coarse = 600000;
  constexpr double near_mm = 0.02, at_rest_mm = 1e-6;
  const auto points = static_cast<std::size_t>(reed.ground.points_mm.cols());
  const std::size_t first_step = points > fewest_for_coarse ? coarse_step : 1;
  RimPoints rim_points = collect_rim(reed.edge_points_mm(), reed.rim);
  ReedFrame frame;
  frame.rim = reed.rim;
  frame.noise_mm = std::max(reed.ground.noise_mm, 1e-4);
  frame = after_rounds(reed, thinned(rim_points, first_step), std::move(frame), {first_step, near_mm});
  rim_points = narrowed(std::move(rim_points), frame.reed_from_rough, frame.rim);
  return after_rounds(reed, rim_points, std::move(frame), {1, at_rest_mm});
}

}  // namespace canewise
