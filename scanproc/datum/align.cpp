#include "scanproc/datum/align.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"
#include "scanproc/datum/pads.h"
#include "scanproc/datum/plate.h"
#include "scanproc/datum/plate_scatter.h"
#include "scanproc/datum/points.h"
#include "scanproc/datum/reed_frame.h"
#include "scanproc/datum/rim.h"

namespace canewise {
namespace {

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

/// Refuses a rim that is no reed's.
void check_rim(const ReedFrame& found, double local_scatter_mm) {
  // Where no arc came out, less scatter suffices to blame the scan and not the reed.
  if (found.rim.tip_scatter_mm > (found.rim.arc_is_at_limit ? 0.15 : 0.4))
    refuse_unclear_tip(found.rim.tip_scatter_mm, found.noise_mm, local_scatter_mm);
  check_straight_sides(found.rim);
}

/// All but the points: the outline, and what rim and plate say of the frame's uncertainty.
Aligned facts_of(const RoughReed& reed, const ReedFrame& found, double u_scale_rel) {
  const RimFit& rim = found.rim;
  Aligned aligned;
  aligned.notes = reed.notes;
  aligned.uncertainty = {rim.u_apex_x_mm, rim.u_centre_y_mm, rim.u_yaw_rad,
                         rim.pivot_x_mm,  u_scale_rel,       Eigen::Matrix3d::Zero()};
  if (reed.on_plate()) {
    PlateScatter scatter =
        plate_scatter({reed.ground.points_mm, found.reed_from_rough, rim, found.noise_mm}, reed.ground.assumed_slow_mm);
    aligned.uncertainty.plate_plane = scatter.plane_covariance;
    aligned.plate_blocks = std::move(scatter.blocks);
    aligned.slow = scatter.slow;
  }
  aligned.plate_noise_mm = found.noise_mm;
  aligned.outline = outline_from(rim);
  return aligned;
}

/// The points inside the outline, in the reed frame.
OnGround inside_outline(OnGround ground, const Eigen::Isometry3d& frame, const Outline& outline) {
  transform_in_place(ground.points_mm, frame);
  keep_points(ground.points_mm, ground.u_mm, [&](const Eigen::Vector3d& p) { return outline.holds(p.x(), p.y()); });
  return ground;
}

double spacing_of(Eigen::Index points, const Outline& outline) {
  const double area = outline.length_mm * 2.0 * outline.half_width_mm(0.5 * outline.length_mm);
  return std::sqrt(area / std::max<double>(1.0, static_cast<double>(points)));
}

struct AlignedOnGround {
  Aligned aligned;
  Eigen::Isometry3d reed_from_ground = Eigen::Isometry3d::Identity();  ///< Where the ground went.
};

/// Everything but what the datum alone knows: the covariance of the ground is left to the caller where no plate is
/// seen.
AlignedOnGround align_on_ground(OnGround ground, const Rig& rig, const Instrument* instrument) {
  RoughReed reed = rough_reed(std::move(ground));
  const ReedFrame found = refined_frame(reed);
  check_rim(found, reed.ground.local_scatter_mm);
  AlignedOnGround placed{facts_of(reed, found, rig.priors.scale_rel), found.reed_from_rough * reed.rough_from_ground};
  Aligned& aligned = placed.aligned;
  check_dimensions(aligned.outline, instrument);
  OnGround inside = inside_outline(std::move(reed.ground), found.reed_from_rough, aligned.outline);
  aligned.spacing_mm = spacing_of(inside.points_mm.cols(), aligned.outline);
  aligned.points_mm = std::move(inside.points_mm);
  aligned.u_mm = std::move(inside.u_mm);
  aligned.reed_from_scan = placed.reed_from_ground * inside.ground_from_scan;
  return placed;
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

Aligned align(Cloud cloud, const Rig& rig, const Instrument* instrument, const std::optional<Plane>& known) {
  const std::size_t duplicates = prepare(cloud, rig);
  OnGround ground;
  ground.points_mm = std::move(cloud.points_mm);
  ground.u_mm = std::move(cloud.u_mm);
  const PlateGuess plate = find_plate(ground.points_mm, known);
  transform_in_place(ground.points_mm, plate.plate_from_scan);
  ground.ground_from_scan = plate.plate_from_scan;
  ground.noise_mm = plate.noise_mm;
  ground.local_scatter_mm = plate.local_scatter_mm;
  ground.assumed_slow_mm = cloud.assumed_slow_mm;
  Aligned aligned = align_on_ground(std::move(ground), rig, instrument).aligned;
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
  AlignedOnGround placed = align_on_ground(std::move(ground), rig, instrument);
  Aligned aligned = std::move(placed.aligned);
  aligned.datum = DatumMode::pads;
  aligned.uncertainty.plate_plane = plane_covariance_in(pads.covariance, placed.reed_from_ground);
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
  AlignedOnGround placed = align_on_ground(std::move(ground), rig, instrument);
  Aligned aligned = std::move(placed.aligned);
  aligned.datum = DatumMode::two_sided;
  const Eigen::Isometry3d reed_from_frame = placed.reed_from_ground * table_from_frame;
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
