#include "scanproc/compare/laying_shapes.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <vector>

#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"
#include "scanproc/thickness/laying_forms.h"

namespace canewise {
namespace {

using Index = Eigen::Index;

/// Of the table's form only its change counts, and of the light that enters fresh cane: that is taken for a third of
/// what is not known of each.
constexpr double kChange = 1.0 / 3.0;

/// One way to differ, and how much.
struct Spread {
  double size_mm;  ///< None if not above zero.
  std::function<double(double x, double y, Index r, Index c)> shape;
};
using Spreads = std::vector<Spread>;

/// Slope over some cells to either side; 0 where it cannot be had.
Field slope_of(const ThicknessMap& map, bool along) {
  constexpr Index reach = 3;
  Field slope = Field::Zero(map.grid.rows, map.grid.columns);
  const Index dr = along ? reach : 0, dc = along ? 0 : reach;
  for (Index c = dc; c < map.grid.columns - dc; ++c) {
    for (Index r = dr; r < map.grid.rows - dr; ++r) {
      const float rise = map.thickness_mm(r + dr, c + dc) - map.thickness_mm(r - dr, c - dc);
      if (!std::isnan(rise))
        slope(r, c) = rise / static_cast<float>(2.0 * static_cast<double>(reach) * map.grid.cell_mm);
    }
  }
  return slope;
}

/// Two scans of one reed, and what the shapes are made of.
struct TwoScans {
  const Result& before;
  const Result& after;
  LayingForms forms;
  Field slope_x, slope_y;

  [[nodiscard]] bool other_rig() const { return before.rig.name != after.rig.name; }
  [[nodiscard]] double plane_u(Index k) const {
    return std::sqrt(before.frame.plate_plane(k, k) + after.frame.plate_plane(k, k));
  }
  /// Spread of a prior in both scans together, as far as they are of those kinds.
  [[nodiscard]] double of_those(double Priors::*prior, bool two_sided, bool one_sided) const {
    double sum = 0.0;
    for (const Result* result : {&before, &after})
      if (result->datum == DatumMode::two_sided ? two_sided : one_sided) sum += square(result->rig.priors.*prior);
    return mm_from_um(std::sqrt(sum));
  }
  [[nodiscard]] double both(double Priors::*prior) const { return of_those(prior, true, true); }
  /// From both sides neither what lies under the table nor how the tip curls is taken for cane.
  [[nodiscard]] double on_plate(double Priors::*prior) const { return of_those(prior, false, true); }
};

double swelling_spread_of(const TwoScans& scans) {
  // Nobody dries a reed twice to the same degree.
  constexpr double one_state = 0.003, one_unknown = 0.01, wet_and_dry = 0.05;  // Assumptions.
  if (scans.before.state != scans.after.state) return wet_and_dry;
  return scans.before.state == MoistureState::unknown ? one_unknown : one_state;
}

/// In proportion to the thickness: swelling, scale.
double thickness_or_none(const TwoScans& scans, Index r, Index c) {
  const ThicknessMap& map = scans.before.map;
  return map.measured(r, c) ? static_cast<double>(map.thickness_mm(r, c)) : 0.0;
}

Spreads swelling_spreads(const TwoScans& scans, double swelling_spread) {
  return {{swelling_spread, [&scans](double, double, Index r, Index c) { return -thickness_or_none(scans, r, c); }}};
}

Spreads seating_spreads(const TwoScans& scans) {
  const LayingForms& forms = scans.forms;
  const double u_light = scans.other_rig() ? scans.both(&Priors::penetration_um) : 0.0;
  return {{std::hypot(scans.on_plate(&Priors::seating_offset_um), scans.plane_u(0), u_light),
           [](double, double, Index, Index) { return 1.0; }},
          {std::hypot(scans.on_plate(&Priors::seating_roll_um), forms.half_width_mm() * scans.plane_u(2)),
           [&forms](double, double y, Index, Index) { return forms.roll(y); }},
          {std::hypot(scans.on_plate(&Priors::seating_pitch_um), forms.pitch_to_mm() * scans.plane_u(1)),
           [&forms](double x, double, Index, Index) { return forms.pitch(x); }}};
}

Spreads table_spreads(const TwoScans& scans) {
  const LayingForms& forms = scans.forms;
  const double bending = scans.of_those(&Priors::pose_bending_um, true, false);
  return {{std::hypot(kChange * scans.on_plate(&Priors::table_bow_um), bending),
           [&forms](double x, double, Index, Index) { return forms.bow(x); }},
          {kChange * scans.on_plate(&Priors::table_cup_um),
           [&forms](double, double y, Index, Index) { return forms.cup(y); }},
          {kChange * scans.on_plate(&Priors::table_twist_um),
           [&forms](double x, double y, Index, Index) { return forms.twist(x, y); }}};
}

Spreads tip_spreads(const TwoScans& scans) {
  const LayingForms& forms = scans.forms;
  return {
      {scans.on_plate(&Priors::tip_lift_um), [&forms](double x, double, Index, Index) { return forms.tip_lift(x); }},
      {scans.on_plate(&Priors::tip_curl_side_um),
       [&forms](double x, double y, Index, Index) { return forms.tip_curl_side(x, y); }}};
}

/// Where the frame lies on the reed.
Spreads frame_spreads(const TwoScans& scans) {
  const Result &before = scans.before, &after = scans.after;
  // Light that falls on a slope from one side reads it too high or too low, as a shift along it would; the reed may
  // lie the other way round in the second scan. An assumption: micrometres for a slope of one.
  constexpr double light_per_slope_mm = 0.005;
  return {{std::hypot(before.outline.u_length_mm, after.outline.u_length_mm, light_per_slope_mm),
           [&scans](double, double, Index r, Index c) { return static_cast<double>(scans.slope_x(r, c)); }},
          {std::hypot(before.frame.y_mm, after.frame.y_mm, light_per_slope_mm),
           [&scans](double, double, Index r, Index c) { return static_cast<double>(scans.slope_y(r, c)); }},
          {std::hypot(before.frame.yaw_rad, after.frame.yaw_rad), [&scans](double x, double, Index r, Index c) {
             return (x - scans.before.frame.pivot_x_mm) * static_cast<double>(scans.slope_y(r, c));
           }}};
}

/// Light enters a fresh cut otherwise than the skin that was there. Nothing untouched can show that.
Spreads fresh_cut_spreads(const TwoScans& scans, const Field& planned_mm) {
  return {{kChange * scans.both(&Priors::penetration_um),
           [&planned_mm](double, double, Index r, Index c) { return planned_mm(r, c) > 0.0F ? 1.0 : 0.0; }}};
}

Spreads scale_spreads(const TwoScans& scans) {
  if (!scans.other_rig()) return {};
  return {{std::hypot(scans.before.rig.priors.scale_rel, scans.after.rig.priors.scale_rel),
           [&scans](double, double, Index r, Index c) { return thickness_or_none(scans, r, c); }}};
}

Field field_of(const Grid& grid, const Spread& spread) {
  Field field(grid.rows, grid.columns);
  for (Index c = 0; c < grid.columns; ++c) {
    for (Index r = 0; r < grid.rows; ++r)
      field(r, c) = static_cast<float>(spread.size_mm * spread.shape(grid.x_mm(r), grid.y_mm(c), r, c));
  }
  return field;
}

}  // namespace

LayingShapes laying_shapes(const Result& before, const Result& after, const Field& planned_mm) {
  const TwoScans scans{before, after, LayingForms(before.map, before.outline), slope_of(before.map, true),
                       slope_of(before.map, false)};
  LayingShapes shapes;
  shapes.swelling_spread = swelling_spread_of(scans);
  for (const Spreads& group :
       {swelling_spreads(scans, shapes.swelling_spread), seating_spreads(scans), table_spreads(scans),
        tip_spreads(scans), frame_spreads(scans), fresh_cut_spreads(scans, planned_mm), scale_spreads(scans)}) {
    for (const Spread& spread : group)
      if (spread.size_mm > 0.0) shapes.fields.push_back(field_of(before.map.grid, spread));
  }
  return shapes;
}

}  // namespace canewise
