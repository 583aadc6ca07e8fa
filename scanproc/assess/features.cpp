#include "scanproc/assess/features.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "scanproc/assess/zones.h"
#include "scanproc/core/error.h"
#include "scanproc/core/linear_fit.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

/// Mean over the cells of a region.
template <typename InRegion>
Measured region_mean(const ThicknessMap& map, const InRegion& in_region) {
  CellMask cells(map.grid.rows, map.grid.columns);
  for (Eigen::Index c = 0; c < map.grid.columns; ++c) {
    for (Eigen::Index r = 0; r < map.grid.rows; ++r) cells(r, c) = in_region(map.grid.x_mm(r), map.grid.y_mm(c));
  }
  const ZoneMean mean = thickness_over(map, cells);
  return {mean.mean_mm, mean.u_mm};
}

struct CentreProfile {
  std::vector<double> x_mm, height_mm;
};

CentreProfile centre_profile(const ThicknessMap& map) {
  CentreProfile profile;
  for (Eigen::Index r = 0; r < map.grid.rows; ++r) {
    double sum = 0.0;
    int count = 0;
    for (Eigen::Index c = 0; c < map.grid.columns; ++c) {
      if (std::abs(map.grid.y_mm(c)) > 0.8 || !map.measured(r, c)) continue;
      sum += map.thickness_mm(r, c);
      ++count;
    }
    if (count == 0) continue;
    profile.x_mm.push_back(map.grid.x_mm(r));
    profile.height_mm.push_back(sum / count);
  }
  return profile;
}

LinearFit fit_profile(const CentreProfile& profile, const Stretch& stretch, int degree) {
  std::vector<std::size_t> used;
  for (std::size_t i = 0; i < profile.x_mm.size(); ++i) {
    if (stretch.holds(profile.x_mm[i])) used.push_back(i);
  }
  constexpr std::size_t fewest = 6;
  if (used.size() < fewest) {
    throw NotMeasurable({"vamp_end.too_few_points"});
  }
  Eigen::MatrixXd design(static_cast<Eigen::Index>(used.size()), degree + 1);
  Eigen::VectorXd y(design.rows());
  for (Eigen::Index i = 0; i < design.rows(); ++i) {
    const double u = profile.x_mm[used[static_cast<std::size_t>(i)]] - stretch.origin_mm;
    for (int k = 0; k <= degree; ++k) design(i, k) = std::pow(u, k);
    y(i) = profile.height_mm[used[static_cast<std::size_t>(i)]];
  }
  return fit_linear_robust(design, y, 5e-4);
}

void classify_blank(CutFeatures& cut, const Instrument& instrument) {
  const auto [height, u] = cut.stock_height_mm;
  cut.blank = height < instrument.thin_below_mm    ? Blank::thin
              : height > instrument.thick_above_mm ? Blank::thick
                                                   : Blank::medium;
  const double lower = cut.blank == Blank::thin     ? -1e9
                       : cut.blank == Blank::medium ? instrument.thin_below_mm
                                                    : instrument.thick_above_mm;
  const double upper = cut.blank == Blank::thick    ? 1e9
                       : cut.blank == Blank::medium ? instrument.thick_above_mm
                                                    : instrument.thin_below_mm;
  cut.blank_is_sure = judge(height, u, lower, upper) == Verdict::within;
}

/// Of the distance between the two side lines, which turn about the middle of what was seen of them.
double u_width_mm(const Aligned& aligned, double x_mm) {
  const FrameUncertainty& frame = aligned.uncertainty;
  const double u_slopes = 2.0 * frame.yaw_rad;  // The yaw is half the sum of both slopes.
  return std::hypot(aligned.outline.left.u_offset_mm, aligned.outline.right.u_offset_mm,
                    u_slopes * (x_mm - frame.pivot_x_mm));
}

}  // namespace

std::string_view name_of(Blank blank) {
  constexpr std::array<std::string_view, 3> names{"thin", "medium", "thick"};
  return names.at(static_cast<std::size_t>(blank));
}

CutFeatures measure_cut(const ThicknessMap& map, const Aligned& aligned, const Instrument& instrument) {
  const Outline& outline = aligned.outline;
  // A rig that is too long makes every length too long.
  const auto scaled = [&](double value, double u) {
    return Measured{value, std::hypot(u, aligned.uncertainty.scale_rel * value)};
  };
  const double length = outline.length_mm;
  CutFeatures cut;
  cut.length_mm = scaled(length, outline.u_length_mm);
  cut.tip_width_mm = scaled(2.0 * outline.half_width_mm(0.0), u_width_mm(aligned, 0.0));
  // The walls are highest there, and so is what a shadow may hide: so much more on the drawn families.
  constexpr double at_high_walls = 1.2;
  cut.butt_width_mm = scaled(2.0 * outline.half_width_mm(length), at_high_walls * u_width_mm(aligned, length));
  cut.tip_arc_radius_mm = {outline.tip_arc_radius_mm, outline.u_tip_arc_radius_mm};
  cut.corner_drop_mm = {outline.corner_drop_mm, outline.u_corner_drop_mm};

  constexpr double crown_from = 0.66, plain_to = 0.8, behind_filing_mm = 10.0;
  const VampEnd end = find_vamp_end(map, aligned, crown_from * length);
  cut.vamp_length_mm = scaled(end.at_mm.value, end.at_mm.u);
  cut.shoulder = end.shoulder;
  const double vamp = cut.vamp_length_mm.value;

  const double plain_from = std::min(vamp + behind_filing_mm, plain_to * length);
  const Stretch plain{.from_mm = plain_from, .to_mm = length - 1.5, .origin_mm = plain_to * length};
  const LinearFit crown = fit_profile(centre_profile(map), plain, 1);
  cut.bark = fit_bark(map, crown.coefficients(1), plain);
  cut.stock_height_mm =
      region_mean(map, [&](double x, double y) { return x > plain_from && x < length - 1.0 && std::abs(y) < 0.8; });
  cut.bark.height_mm.u = std::hypot(cut.bark.height_mm.u, cut.stock_height_mm.u);
  // It is told from the centreline, which is as sure as the two sides.
  cut.bark.crown_y_mm.u = std::hypot(cut.bark.crown_y_mm.u, aligned.uncertainty.y_mm,
                                     aligned.uncertainty.yaw_rad * (length - aligned.uncertainty.pivot_x_mm));
  classify_blank(cut, instrument);

  const Filing filing = find_filing(map, outline, end, plain_from);
  cut.shaved_mm = filing.shaved_mm;
  cut.filed = filing.filed;

  cut.tip_thickness_mm = region_mean(map, [&](double x, double y) {
    const double behind = x - outline.tip_edge_at(y);
    return std::abs(y) < 2.0 && behind > 0.5 && behind < 1.5;
  });
  const ZoneMap zones = map_zones(map.grid, outline, vamp, cut.vamp_length_mm.u);
  const auto middle_band = [&](AcrossBand across) {
    const ZoneMean mean = band_thickness(map, zones, AlongBand::middle, across);
    return Measured{mean.mean_mm, mean.u_mm};
  };
  cut.heart_thickness_mm = middle_band(AcrossBand::centre);
  cut.rail_thickness_mm = middle_band(AcrossBand::rail);
  return cut;
}

}  // namespace canewise
