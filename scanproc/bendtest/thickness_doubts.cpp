#include "scanproc/bendtest/thickness_doubts.h"

#include <cmath>
#include <functional>

#include "scanproc/core/units.h"
#include "scanproc/thickness/laying_forms.h"

namespace canewise {
namespace {

double slope(const ThicknessMap& map, Eigen::Index r, Eigen::Index c, Eigen::Index dr, Eigen::Index dc) {
  if (r < dr || c < dc || r + dr >= map.grid.rows || c + dc >= map.grid.columns) return 0.0;
  const double rise =
      static_cast<double>(map.thickness_mm(r + dr, c + dc)) - static_cast<double>(map.thickness_mm(r - dr, c - dc));
  return std::isnan(rise) ? 0.0 : rise / (2.0 * static_cast<double>(dr + dc) * map.grid.cell_mm);
}

}  // namespace

std::vector<Field> thickness_doubts(const Result& reed, double u_x_mm, double u_y_mm) {
  const ThicknessMap& map = reed.map;
  const Grid& grid = map.grid;
  const LayingForms forms(map, reed.outline);
  const Priors& p = reed.rig.priors;
  const auto plane = [&](Eigen::Index k) { return std::sqrt(reed.frame.plate_plane(k, k)); };
  // From both sides neither what lies under the table nor how the tip curls is taken for cane.
  const bool plate = reed.datum != DatumMode::two_sided;
  const auto on_plate = [&](double um) { return plate ? mm_from_um(um) : 0.0; };
  std::vector<Field> doubts;
  const auto add = [&](double size_mm, const std::function<double(double, double, Eigen::Index, Eigen::Index)>& form) {
    if (!(size_mm > 0.0)) return;
    Field field(grid.rows, grid.columns);
    for (Eigen::Index c = 0; c < grid.columns; ++c)
      for (Eigen::Index r = 0; r < grid.rows; ++r)
        field(r, c) = map.measured(r, c) ? static_cast<float>(size_mm * form(grid.x_mm(r), grid.y_mm(c), r, c)) : 0.0F;
    doubts.push_back(std::move(field));
  };
  using Index = Eigen::Index;
  add(std::hypot(on_plate(p.seating_offset_um), plane(0), mm_from_um(p.penetration_um)),
      [](double, double, Index, Index) { return 1.0; });
  add(std::hypot(on_plate(p.seating_roll_um), forms.half_width_mm() * plane(2)),
      [&](double, double y, Index, Index) { return forms.roll(y); });
  add(std::hypot(on_plate(p.seating_pitch_um), forms.pitch_to_mm() * plane(1)),
      [&](double x, double, Index, Index) { return forms.pitch(x); });
  add(plate ? mm_from_um(p.table_bow_um) : mm_from_um(p.pose_bending_um),
      [&](double x, double, Index, Index) { return forms.bow(x); });
  add(on_plate(p.table_cup_um), [&](double, double y, Index, Index) { return forms.cup(y); });
  add(on_plate(p.table_twist_um), [&](double x, double y, Index, Index) { return forms.twist(x, y); });
  add(on_plate(p.tip_lift_um), [&](double x, double, Index, Index) { return forms.tip_lift(x); });
  add(on_plate(p.tip_curl_side_um), [&](double x, double y, Index, Index) { return forms.tip_curl_side(x, y); });
  add(on_plate(p.plate_form_um), [](double x, double, Index, Index) {
    constexpr double reach_mm = 30.0;
    return (x - reach_mm) * (x - reach_mm) / (reach_mm * reach_mm);
  });
  add(on_plate(p.plate_form_um), [](double x, double y, Index, Index) {
    constexpr double reach_mm = 30.0;
    return (x - reach_mm) * y / (reach_mm * reach_mm);
  });
  add(p.scale_rel, [&](double, double, Index r, Index c) { return static_cast<double>(map.thickness_mm(r, c)); });
  add(u_x_mm, [&](double, double, Index r, Index c) { return slope(map, r, c, 3, 0); });
  add(std::hypot(reed.frame.y_mm, u_y_mm), [&](double, double, Index r, Index c) { return slope(map, r, c, 0, 3); });
  add(reed.frame.yaw_rad,
      [&](double x, double, Index r, Index c) { return (x - reed.frame.pivot_x_mm) * slope(map, r, c, 0, 3); });
  // What the scanner's own slow error leaves: bumps side by side, of its length, that add up to its size.
  const double length_mm = std::max(2.0, map.noise.smooth_length_mm),
               vamp_mm = reed.assessment.cut.vamp_length_mm.value;
  constexpr double width_share = 0.6, bumps_on_one = 1.13;  // 0.6^2 pi: their squares' sum at any place.
  const double half = reed.outline.half_width_mm(0.0), size_mm = map.noise.smooth_mm / std::sqrt(bumps_on_one);
  for (double x0 = 0.5 * length_mm; x0 < vamp_mm; x0 += length_mm) {
    for (double y0 = -half + 0.5 * length_mm; y0 < half; y0 += length_mm) {
      add(size_mm, [&](double x, double y, Index, Index) {
        const double s = width_share * length_mm;
        return std::exp(-0.5 * ((x - x0) * (x - x0) + (y - y0) * (y - y0)) / (s * s));
      });
    }
  }
  return doubts;
}

}  // namespace canewise
