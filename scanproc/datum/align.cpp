#include "scanproc/datum/align.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <tuple>

#include "scanproc/core/error.h"
#include "scanproc/core/parallel.h"
#include "scanproc/core/plane_moments.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"
#include "scanproc/datum/pads.h"
#include "scanproc/datum/plate.h"
#include "scanproc/datum/plate_scatter.h"
#include "scanproc/datum/points.h"
#include "scanproc/datum/reed_finder.h"
#include "scanproc/datum/rim.h"

namespace canewise {
namespace {

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

PlateFit fit_plate(const Eigen::Matrix3Xd& points, const Eigen::Isometry3d& frame, const RimFit& rim, double noise_mm,
                   std::size_t point_step) {
  const double limit = 4.5 * noise_mm;
  std::array<PlaneMoments, kParallelParts> parts;
  const Eigen::Matrix3d rotation = frame.linear();
  const Eigen::Vector3d shift = frame.translation();
  parallel_parts(static_cast<std::size_t>(points.cols()), [&](std::size_t part, std::size_t begin, std::size_t end) {
    PlaneMoments sums;
    for (std::size_t i = begin; i < end; i += point_step) {
      const Eigen::Vector3d p = rotation * points.col(static_cast<Eigen::Index>(i)) + shift;
      if (std::abs(p.z()) < limit && is_beside_reed(p, rim)) sums.add(p.x(), p.y(), p.z());
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

Outline outline_from(const RimFit& rim) {
  Outline outline;
  outline.left = rim.left;
  outline.right = rim.right;
  outline.length_mm = rim.butt_x_mm;
  outline.u_length_mm = std::hypot(rim.u_butt_x_mm, rim.u_apex_x_mm);
  outline.tip_arc_radius_mm = rim.arc_radius_mm;
  outline.u_tip_arc_radius_mm = rim.u_arc_radius_mm;
  outline.corner_drop_mm = rim.corner_drop_mm;
  outline.u_corner_drop_mm = rim.u_corner_drop_mm;
  outline.chipped = rim.chip == Chip::chipped;
  outline.chip_unclear = rim.chip == Chip::unclear;
  outline.shadowed_left = rim.shadowed_left;
  outline.shadowed_right = rim.shadowed_right;
  outline.tip_edge_first_y_mm = rim.tip_columns_y_mm.front() - outline.tip_edge_step_mm;
  const double half = outline.half_width_mm(0.0);
  std::vector<double> edge;
  const std::size_t n = rim.tip_columns_x_mm.size();
  for (std::size_t k = 0; k < n; ++k) {
    const double y = rim.tip_columns_y_mm[k];
    const double arc = rim.arc_radius_mm - std::sqrt(std::max(1e-6, square(rim.arc_radius_mm) - y * y));
    // The middle of three columns, so that one bad column does not dent the rim.
    std::vector<double> near;
    for (std::size_t j = k > 0 ? k - 1 : k; j <= std::min(n - 1, k + 1); ++j) {
      if (!std::isnan(rim.tip_columns_x_mm[j])) near.push_back(rim.tip_columns_x_mm[j]);
    }
    const double measured = near.empty() ? arc : median(near);
    const bool on_arc = std::abs(y) < 0.6 * half && measured - arc < std::max(0.3, 5.0 * rim.tip_scatter_mm);
    edge.push_back(on_arc ? arc : std::max(measured, arc - 0.05));
  }
  // Beyond the outermost columns the corner goes on bending back.
  const auto beyond = [](double last, double before) { return last + std::max(0.3, 1.5 * (last - before)); };
  outline.tip_edge_mm.push_back(beyond(edge[0], edge[1]));
  outline.tip_edge_mm.insert(outline.tip_edge_mm.end(), edge.begin(), edge.end());
  outline.tip_edge_mm.push_back(beyond(edge[n - 1], edge[n - 2]));
  return outline;
}

/// A reed's sides are straight and its tip is an arc, whatever the cut.
void check_straight_sides(const RimFit& rim) {
  constexpr double crooked_mm = 0.2;
  if (std::max(rim.left.scatter_mm, rim.right.scatter_mm) > crooked_mm) {
    throw NotMeasurable({"reed.crooked"});
  }
  if (rim.arc_is_at_limit) {
    throw NotMeasurable({"rim.no_arc"});
  }
}

void check_dimensions(const Outline& outline, const Instrument* instrument) {
  const double length = outline.length_mm, width = 2.0 * outline.half_width_mm(0.0);
  constexpr double tolerance = 0.10;
  if (instrument != nullptr) {
    if (instrument->length_mm.holds(length, tolerance) && instrument->tip_width_mm.holds(width, tolerance)) return;
    throw NotMeasurable({"reed.not_of_instrument",
                         {{"length", mm(length, 1)},
                          {"width", mm(width, 1)},
                          {"instrument", text(instrument->name)},
                          {"known", text(instrument_names())}}});
  }
  if (guess_instrument(length, width) == nullptr) {
    throw NotMeasurable({"reed.of_no_instrument",
                         {{"length", mm(length, 1)}, {"width", mm(width, 1)}, {"known", text(instrument_names())}}});
  }
}

void add_notes(Aligned& aligned) {
  if (aligned.outline.chipped) aligned.notes.push_back({"rim.chipped"});
  if (aligned.outline.chip_unclear) aligned.notes.push_back({"rim.chip_unclear"});
  const auto shadow = [&](const char* side) { aligned.notes.push_back({"rim.shadowed", {{"side", word(side)}}}); };
  if (aligned.outline.shadowed_left) shadow("left");
  if (aligned.outline.shadowed_right) shadow("right");
  if (aligned.duplicate_points > 0) {
    aligned.notes.push_back({"scan.repeated_points", {{"points", count(aligned.duplicate_points)}}});
  }
}

/// Points in the frame of what carries the reed: z = 0 is the plate or the table, z up.
struct OnGround {
  Eigen::Matrix3Xd points_mm;
  Eigen::VectorXf u_mm;  ///< As Cloud::u_mm.
  Eigen::Isometry3d ground_from_scan = Eigen::Isometry3d::Identity();
  double noise_mm = 0.0;
  double local_scatter_mm = 0.0;  ///< As PlateGuess::local_scatter_mm; 0: not known.
  double assumed_slow_mm = 0.0;   ///< As Cloud::assumed_slow_mm.
  Beside beside = Beside::plate;
};

/// What hides a thin tip: a plate that this scan shows bent, or the scanner's noise.
[[noreturn]] void refuse_unclear_tip(double tip_scatter_mm, double noise_mm, double local_scatter_mm) {
  constexpr double of_form = 0.5, tip_um = 100.0;
  if (local_scatter_mm > 0.0 && local_scatter_mm < of_form * noise_mm) {
    throw NotMeasurable(
        {"rim.tip_on_bent_plate",
         {{"off", um(um_from_mm(noise_mm))}, {"scatter", um(um_from_mm(local_scatter_mm))}, {"tip", um(tip_um)}}});
  }
  throw NotMeasurable(
      {"rim.tip_in_noise",
       {{"edge", um(um_from_mm(tip_scatter_mm))}, {"points", um(um_from_mm(noise_mm))}, {"tip", um(tip_um)}}});
}

/// The points with the plate's bow and twist taken off, where those would hide the tip; nothing where they would not.
std::optional<Eigen::Matrix3Xd> over_flat_plate(const Eigen::Matrix3Xd& points, RimFit rim, double noise_mm) {
  rim.apex_x_mm = -9.0;  // So far out a thin tip may reach that does not stand out from the plate yet.
  const auto bow = find_plate_bow(points, rim, noise_mm);
  if (!bow) return std::nullopt;
  Eigen::Matrix3Xd flat = points;
  for (Eigen::Index i = 0; i < flat.cols(); ++i) flat(2, i) -= bow->at_mm(flat(0, i), flat(1, i));
  return flat;
}

/// Finds the reed and refines its frame until nothing moves any more. Everything but what the datum alone knows: the
/// covariance of the ground is left to the caller where no plate is seen. `reed_from_ground` is where the ground went.
Aligned align_on_ground(OnGround ground, const Rig& rig, const Instrument* instrument,
                        Eigen::Isometry3d& reed_from_ground) {
  Aligned aligned;
  const bool on_plate = ground.beside == Beside::plate;
  Eigen::Matrix3Xd& points = ground.points_mm;
  const ReedGuess guess = find_reed(points, ground.noise_mm, ground.beside);
  aligned.notes = guess.notes;
  transform_in_place(points, guess.rough_from_plate);
  const double half = 0.5 * guess.width_mm;
  // Wider than the plate that is used, so that the exact frame and not this rough one decides.
  constexpr double spare = 3.0;
  const double reach = on_plate ? kPlateReach_mm + spare : spare;
  keep_points(points, ground.u_mm, [&](const Eigen::Vector3d& p) {
    return p.x() > -8.0 - reach && p.x() < guess.length_mm + reach && std::abs(p.y()) < half + reach && p.z() < 12.0;
  });

  // Without a plate all that is left is reed.
  const double threshold = on_plate ? std::max(0.25, 5.0 * ground.noise_mm) : -1.0;
  RimFit rim;
  std::tie(rim.left, rim.right) = rough_sides(points, guess.length_mm, threshold);
  rim.butt_x_mm = guess.length_mm;
  rim.arc_radius_mm = 1.1 * guess.width_mm;
  // Edges are looked for over a plate that is flat; how thick the reed is, is told from the plate's plane all the same.
  std::optional<Eigen::Matrix3Xd> flattened;
  if (on_plate && ground.local_scatter_mm > 0.0) flattened = over_flat_plate(points, rim, ground.noise_mm);
  const Eigen::Matrix3Xd& seen = flattened ? *flattened : points;
  rim.apex_x_mm = rough_tip(seen, flattened ? ground.local_scatter_mm : ground.noise_mm, ground.beside);

  Eigen::Isometry3d frame = Eigen::Isometry3d::Identity();  // Reed frame from the rough frame of `points`.
  double noise_mm = std::max(ground.noise_mm, 1e-4), edge_noise_mm = noise_mm;
  // One round: level by the plate, centre by the rim. Returns how far that moved the frame.
  const auto refine = [&](const RimPoints& rim_points, std::size_t plate_step) {
    Eigen::Isometry3d levelled = Eigen::Isometry3d::Identity();
    if (on_plate) {
      const PlateFit plate_fit = fit_plate(points, frame, rim, noise_mm, plate_step);
      constexpr double fewest_plate_points = 200.0;
      if (plate_fit.points * static_cast<double>(plate_step) < fewest_plate_points) {
        throw NotMeasurable({"plate.too_little"});
      }
      noise_mm = std::max(1e-4, plate_fit.noise_mm);
      levelled = level(plate_fit.plane);
      if (flattened) edge_noise_mm = fit_plate(seen, levelled * frame, rim, noise_mm, plate_step).noise_mm;
      frame = levelled * frame;
    }
    rim = fit_rim(rim_points, frame, rim, flattened ? edge_noise_mm : noise_mm, ground.beside);
    const Eigen::Isometry3d step = centre(rim);
    frame = step * frame;
    rim = moved(rim);
    return std::max(change_of(step), change_of(levelled));
  };
  // The first rounds only bring the frame near and may look at few points; the last ones look at all until nothing
  // moves.
  constexpr std::size_t coarse_step = 4, fewest_for_coarse = 600000;
  constexpr int most_rounds = 8;
  constexpr double near_mm = 0.02, at_rest_mm = 1e-6;
  const std::size_t first_step = static_cast<std::size_t>(points.cols()) > fewest_for_coarse ? coarse_step : 1;
  RimPoints rim_points = collect_rim(seen, rim);
  {
    const RimPoints few = thinned(rim_points, first_step);
    for (int round = 0; round < most_rounds && refine(few, first_step) > near_mm; ++round) {
    }
  }
  rim_points = narrowed(std::move(rim_points), frame, rim);
  for (int round = 0; round < most_rounds && refine(rim_points, 1) > at_rest_mm; ++round) {
  }
  // Where no arc came out, less scatter suffices to blame the scan and not the reed.
  if (rim.tip_scatter_mm > (rim.arc_is_at_limit ? 0.15 : 0.4))
    refuse_unclear_tip(rim.tip_scatter_mm, noise_mm, ground.local_scatter_mm);
  check_straight_sides(rim);
  aligned.uncertainty = {rim.u_apex_x_mm, rim.u_centre_y_mm,    rim.u_yaw_rad,
                         rim.pivot_x_mm,  rig.priors.scale_rel, Eigen::Matrix3d::Zero()};
  if (on_plate) {
    PlateScatter scatter = plate_scatter(points, frame, rim, noise_mm, ground.assumed_slow_mm);
    aligned.uncertainty.plate_plane = scatter.plane_covariance;
    aligned.plate_blocks = std::move(scatter.blocks);
    aligned.slow = scatter.slow;
  }
  aligned.plate_noise_mm = noise_mm;
  aligned.outline = outline_from(rim);
  check_dimensions(aligned.outline, instrument);

  transform_in_place(points, frame);
  keep_points(points, ground.u_mm, [&](const Eigen::Vector3d& p) { return aligned.outline.holds(p.x(), p.y()); });
  const double area = aligned.outline.length_mm * 2.0 * aligned.outline.half_width_mm(0.5 * aligned.outline.length_mm);
  aligned.spacing_mm = std::sqrt(area / std::max<double>(1.0, static_cast<double>(points.cols())));
  aligned.points_mm = std::move(points);
  aligned.u_mm = std::move(ground.u_mm);
  reed_from_ground = frame * guess.rough_from_plate;
  aligned.reed_from_scan = reed_from_ground * ground.ground_from_scan;
  return aligned;
}

/// What every mode does first.
std::size_t prepare(Cloud& cloud, const Rig& rig) {
  const std::size_t duplicates = drop_duplicates(cloud.points_mm, cloud.u_mm);
  if (rig.mirrored) cloud.points_mm.row(0) = -cloud.points_mm.row(0);
  return duplicates;
}

/// Covariance of a plane's height and slopes, taken to another frame that is turned about z and moved.
Eigen::Matrix3d plane_covariance_in(const Eigen::Matrix3d& covariance, const Eigen::Isometry3d& new_from_old) {
  // (1, x, y) of the old frame by that of the new one; the coefficients go the other way.
  const Eigen::Isometry3d old_from_new = new_from_old.inverse();
  Eigen::Matrix3d basis = Eigen::Matrix3d::Zero();
  basis(0, 0) = 1.0;
  basis.block<2, 1>(1, 0) = old_from_new.translation().head<2>();
  basis.block<2, 2>(1, 1) = old_from_new.linear().topLeftCorner<2, 2>();
  return basis.transpose() * covariance * basis;
}

}  // namespace

Aligned align(Cloud cloud, const Rig& rig, const Instrument* instrument) {
  const std::size_t duplicates = prepare(cloud, rig);
  OnGround ground;
  ground.points_mm = std::move(cloud.points_mm);
  ground.u_mm = std::move(cloud.u_mm);
  const PlateGuess plate = find_plate(ground.points_mm);
  transform_in_place(ground.points_mm, plate.plate_from_scan);
  ground.ground_from_scan = plate.plate_from_scan;
  ground.noise_mm = plate.noise_mm;
  ground.local_scatter_mm = plate.local_scatter_mm;
  ground.assumed_slow_mm = cloud.assumed_slow_mm;
  Eigen::Isometry3d reed_from_ground;
  Aligned aligned = align_on_ground(std::move(ground), rig, instrument, reed_from_ground);
  aligned.duplicate_points = duplicates;
  aligned.height_step_u_mm = cloud.height_step_u_mm;
  aligned.assumed_slow_mm = cloud.assumed_slow_mm;
  add_notes(aligned);
  return aligned;
}

Aligned align_on_pads(Cloud cloud, const Rig& rig, const Instrument* instrument) {
  if (!rig.pads) throw UsageError({"pads.not_in_rig"});
  const std::size_t duplicates = prepare(cloud, rig);
  OnGround ground;
  ground.points_mm = std::move(cloud.points_mm);
  ground.u_mm = std::move(cloud.u_mm);
  const PadsPlane pads = find_pads(ground.points_mm, *rig.pads);
  transform_in_place(ground.points_mm, pads.table_from_scan);
  constexpr double below_table_mm = 0.4;  // The jig's floor and its pads are no reed.
  keep_points(ground.points_mm, ground.u_mm,
              [&](const Eigen::Vector3d& p) { return p.z() > -below_table_mm && !pads.holds(p); });
  ground.ground_from_scan = pads.table_from_scan;
  ground.noise_mm = pads.noise_mm;
  ground.beside = Beside::nothing;
  Eigen::Isometry3d reed_from_ground;
  Aligned aligned = align_on_ground(std::move(ground), rig, instrument, reed_from_ground);
  aligned.datum = DatumMode::pads;
  aligned.uncertainty.plate_plane = plane_covariance_in(pads.covariance, reed_from_ground);
  aligned.uncertainty.plate_plane(0, 0) += square(mm_from_um(rig.pads->u_above_table_um));
  aligned.duplicate_points = duplicates;
  aligned.height_step_u_mm = cloud.height_step_u_mm;
  aligned.assumed_slow_mm = cloud.assumed_slow_mm;
  add_notes(aligned);
  return aligned;
}

Aligned align_two_sided(BothSides sides, const Rig& rig, const Instrument* instrument) {
  OnGround ground;
  // The table itself is the ground: level by its own plane, up towards the top.
  const PlateGuess table = find_plate(sides.underside_mm);
  Eigen::Isometry3d table_from_frame = table.plate_from_scan;
  double up = 0.0;
  for (Eigen::Index i = 0; i < sides.top_mm.cols(); i += 50)
    up += (table_from_frame * sides.top_mm.col(i)).z() > 0 ? 1 : -1;
  if (up < 0) table_from_frame = Eigen::AngleAxisd(std::numbers::pi, Eigen::Vector3d::UnitX()) * table_from_frame;
  ground.points_mm = std::move(sides.top_mm);
  transform_in_place(ground.points_mm, table_from_frame);
  ground.ground_from_scan = table_from_frame;
  ground.noise_mm = table.noise_mm;
  ground.beside = Beside::nothing;
  Eigen::Isometry3d reed_from_ground;
  Aligned aligned = align_on_ground(std::move(ground), rig, instrument, reed_from_ground);
  aligned.datum = DatumMode::two_sided;
  const Eigen::Isometry3d reed_from_frame = reed_from_ground * table_from_frame;
  transform_in_place(sides.underside_mm, reed_from_frame);
  keep_points(sides.underside_mm, [&](const Eigen::Vector3d& p) {
    constexpr double farthest_mm = 1.5;  // No table is warped more; farther are stray points.
    return std::abs(p.z()) < farthest_mm && aligned.outline.holds(p.x(), p.y());
  });
  aligned.underside_mm = std::move(sides.underside_mm);
  Registration registration{{"joining.closed_surface"}, false, 0.0, Eigen::Matrix<double, 6, 6>::Zero()};
  if (sides.tie) {
    registration = {sides.tie->method, false, sides.tie->residual_mm, in_frame(sides.tie->covariance, reed_from_frame)};
    // z moves by tz + wx y - wy x.
    Eigen::Matrix<double, 3, 6> plane = Eigen::Matrix<double, 3, 6>::Zero();
    plane(0, 2) = 1.0, plane(1, 4) = -1.0, plane(2, 3) = 1.0;
    aligned.uncertainty.plate_plane = plane * registration.covariance * plane.transpose();
  }
  aligned.registration = registration;
  aligned.height_step_u_mm = sides.height_step_u_mm;
  aligned.assumed_slow_mm = sides.assumed_slow_mm;
  add_notes(aligned);
  return aligned;
}

}  // namespace canewise
