#include "scanproc/thickness/components.h"

#include <Eigen/Cholesky>
#include <cmath>
#include <limits>

#include "scanproc/core/linear_fit.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"

namespace canewise {
namespace {

/// Station at which the middle of the reed is 0.5 mm thick: the tip's curl fades out there.
double half_millimetre_station(const ThicknessMap& map) {
  for (Eigen::Index row = 0; row < map.grid.rows; ++row) {
    double sum = 0.0;
    int count = 0;
    for (Eigen::Index column = 0; column < map.grid.columns; ++column) {
      if (std::abs(map.grid.y_mm(column)) > 1.0 || !map.measured(row, column)) continue;
      sum += map.thickness_mm(row, column);
      ++count;
    }
    if (count > 0 && sum / count >= 0.5) return map.grid.x_mm(row);
  }
  return map.grid.x_mm(map.grid.rows - 1);
}

/// Slopes averaged over some cells, so that their noise does not leak into the uncertainties.
Field smoothed(const Field& field) {
  constexpr Eigen::Index reach = 2;
  Field out = Field::Zero(field.rows(), field.cols());
  for (Eigen::Index r = 0; r < field.rows(); ++r) {
    for (Eigen::Index c = 0; c < field.cols(); ++c) {
      float sum = 0;
      int count = 0;
      for (Eigen::Index i = std::max<Eigen::Index>(0, r - reach); i <= std::min(field.rows() - 1, r + reach); ++i) {
        for (Eigen::Index j = std::max<Eigen::Index>(0, c - reach); j <= std::min(field.cols() - 1, c + reach); ++j) {
          if (field(i, j) != field(i, j)) continue;
          sum += field(i, j);
          ++count;
        }
      }
      if (count > 0) out(r, c) = sum / static_cast<float>(count);
    }
  }
  return out;
}

/// The plane (height, slope x, slope y) that a least-squares fit to the plate's blocks takes from a form of the plate.
template <typename Form>
Eigen::Vector3d plane_from_form(const std::vector<PlateBlock>& blocks, const Form& form) {
  Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
  Eigen::Vector3d right = Eigen::Vector3d::Zero();
  for (const auto& block : blocks) {
    const Eigen::Vector3d basis(1.0, block.x_mm, block.y_mm);
    normal += block.points * basis * basis.transpose();
    right += block.points * form(block.x_mm, block.y_mm) * basis;
  }
  return normal.ldlt().solve(right);
}

/// Passes that lie wrong by `registration` under each other: where both were averaged, half of it moves the surface.
template <typename Add>
void add_passes(const Registration& registration, const Field& slope_x, const Field& slope_y, const Add& add) {
  constexpr double share = 0.5;
  const Eigen::Matrix<double, 6, 6> root =
      Eigen::LLT<Eigen::Matrix<double, 6, 6>>(registration.covariance + 1e-18 * Eigen::Matrix<double, 6, 6>::Identity())
          .matrixL();
  constexpr std::array names{"shift along", "shift across", "height", "roll", "pitch", "turn"};
  for (int k = 0; k < 6; ++k) {
    const Eigen::Matrix<double, 6, 1> motion = share * root.col(k);
    add(Source::registration, names.at(static_cast<std::size_t>(k)), 1.0,
        [&, motion](double x, double y, Eigen::Index r, Eigen::Index c) {
          const double dx = motion(0) - motion(5) * y, dy = motion(1) + motion(5) * x;
          return motion(2) + motion(3) * y - motion(4) * x - dx * static_cast<double>(slope_x(r, c)) -
                 dy * static_cast<double>(slope_y(r, c));
        });
  }
}

}  // namespace

std::string_view name_of(Source source) {
  switch (source) {
    case Source::seating:
      return "seating";
    case Source::table_form:
      return "table form";
    case Source::tip_lift:
      return "tip lift";
    case Source::rig_scale:
      return "rig scale";
    case Source::plate_form:
      return "plate form";
    case Source::penetration:
      return "penetration";
    case Source::plate_plane:
      return "plate plane";
    case Source::registration:
      return "registration";
    case Source::pose_bending:
      return "pose bending";
    case Source::depth_steps:
      return "depth steps";
    case Source::frame:
      break;
  }
  return "frame";
}

Message message_of(Source source) { return {"effect.source", {{"source", word(name_of(source))}}}; }

std::vector<CommonEffect> common_effects(const ThicknessMap& map, const Aligned& aligned, const Priors& p) {
  const Grid& grid = map.grid;
  const double length = aligned.outline.length_mm;
  const double half = aligned.outline.half_width_mm(0.0);
  const double fade_at = half_millimetre_station(map);
  const FrameUncertainty& f = aligned.uncertainty;
  const Field slope_x = smoothed(map.slope_x), slope_y = smoothed(map.slope_y);

  std::vector<CommonEffect> effects;
  const auto add = [&](Source source, const char* name, double size, const auto& shape) {
    if (!(size > 0.0)) return;
    CommonEffect effect{source, {"effect.form", {{"form", word(name)}}}, Field(grid.rows, grid.columns)};
    for (Eigen::Index c = 0; c < grid.columns; ++c) {
      const double y = grid.y_mm(c);
      for (Eigen::Index r = 0; r < grid.rows; ++r) {
        effect.shift_mm(r, c) = map.measured(r, c) ? static_cast<float>(size * shape(grid.x_mm(r), y, r, c))
                                                   : std::numeric_limits<float>::quiet_NaN();
      }
    }
    effects.push_back(std::move(effect));
  };
  using Index = Eigen::Index;
  const auto along = [&](double x) { return (2.0 * x - length) / length; };
  const auto fade = [&](double x) { return x < fade_at ? square(1.0 - std::max(0.0, x) / fade_at) : 0.0; };
  const auto prior = [](double um) { return mm_from_um(um); };

  // From both sides neither what lies under the table nor how the tip curls is taken for cane.
  const bool one_sided = aligned.datum != DatumMode::two_sided;
  if (one_sided) {
    add(Source::seating, "height", prior(p.seating_offset_um), [](double, double, Index, Index) { return 1.0; });
    add(Source::seating, "roll", prior(p.seating_roll_um), [&](double, double y, Index, Index) { return y / half; });
    add(Source::seating, "pitch", prior(p.seating_pitch_um),
        [&](double x, double, Index, Index) { return 1.0 - x / (0.75 * length); });
    add(Source::table_form, "bow", prior(p.table_bow_um),
        [&](double x, double, Index, Index) { return 1.0 - square(along(x)); });
    add(Source::table_form, "cup", prior(p.table_cup_um),
        [&](double, double y, Index, Index) { return 1.0 - square(y / half); });
    add(Source::table_form, "twist", prior(p.table_twist_um),
        [&](double x, double y, Index, Index) { return along(x) * y / half; });
    add(Source::tip_lift, "lift", prior(p.tip_lift_um), [&](double x, double, Index, Index) { return fade(x); });
    add(Source::tip_lift, "one-sided curl", prior(p.tip_curl_side_um),
        [&](double x, double y, Index, Index) { return fade(x) * y / half; });
  } else {
    add(Source::pose_bending, "bow", prior(p.pose_bending_um),
        [&](double x, double, Index, Index) { return 1.0 - square(along(x)); });
  }
  // A rig that is s too long moves every cell outward as well: dh = s (h - x dh/dx - y dh/dy).
  add(Source::rig_scale, "scale", p.scale_rel, [&](double x, double y, Index r, Index c) {
    return static_cast<double>(map.thickness_mm(r, c)) - x * static_cast<double>(slope_x(r, c)) -
           y * static_cast<double>(slope_y(r, c));
  });
  // Light enters the top; from both sides it enters the table as well.
  add(Source::penetration, "depth", (one_sided ? 1.0 : 2.0) * prior(p.penetration_um),
      [](double, double, Index, Index) { return 1.0; });
  // Two places differ in where they fall between two steps.
  add(Source::depth_steps, "height", std::sqrt(2.0) * aligned.height_step_u_mm,
      [](double, double, Index, Index) { return 1.0; });
  add(Source::depth_steps, "side to side", aligned.height_step_u_mm,
      [&](double, double y, Index, Index) { return y / half; });

  constexpr double plate_reach_mm = SlowError::kReach_mm;
  const auto u_of = [&](double x) { return (x - 0.5 * length) / plate_reach_mm; };
  if (aligned.datum == DatumMode::plate) {
    const std::array<Eigen::Vector3d, 3> forms{
        plane_from_form(aligned.plate_blocks, [&](double x, double) { return square(u_of(x)); }),
        plane_from_form(aligned.plate_blocks, [&](double, double y) { return square(y / plate_reach_mm); }),
        plane_from_form(aligned.plate_blocks, [&](double x, double y) { return u_of(x) * y / plate_reach_mm; })};
    constexpr std::array form_names{"bow along", "bow across", "twist"};
    const auto form = [&](std::size_t k, double x, double y) {
      const double u = u_of(x), v = y / plate_reach_mm;
      return k == 0 ? square(u) : k == 1 ? square(v) : u * v;
    };
    for (std::size_t k = 0; k < forms.size(); ++k) {
      // The plate may be bent, or the scanner may bend all that it sees, the reed too: what is clearly seen counts for
      // either. What a scan shows beyond the prior is its own, not its rig's.
      const double seen = aligned.slow.form_mm.at(k);
      const auto of_plane = [&](double x, double y) { return forms.at(k).dot(Eigen::Vector3d(1.0, x, y)); };
      const bool is_beyond = seen > prior(p.plate_form_um);
      add(Source::plate_form, form_names.at(k), std::max(seen, prior(p.plate_form_um)),
          [&](double x, double y, Index, Index) { return -of_plane(x, y); });
      if (is_beyond) effects.back().of_this_scan = true;
      if (!(seen > 2.0 * prior(p.plate_form_um))) continue;
      add(Source::plate_form, form_names.at(k), seen,
          [&](double x, double y, Index, Index) { return form(k, x, y) - of_plane(x, y); });
      effects.back().of_this_scan = true;
    }
  }
  const Source plane_source = one_sided ? Source::plate_plane : Source::registration;
  const Eigen::Matrix3d root =
      Eigen::LLT<Eigen::Matrix3d>(f.plate_plane + 1e-18 * Eigen::Matrix3d::Identity()).matrixL();
  constexpr std::array plane_names{"height", "slope along", "slope across"};
  for (int k = 0; k < 3; ++k) {
    add(plane_source, plane_names.at(static_cast<std::size_t>(k)), 1.0,
        [&, k](double x, double y, Index, Index) { return -root.col(k).dot(Eigen::Vector3d(1.0, x, y)); });
  }
  if (one_sided && aligned.registration) add_passes(*aligned.registration, slope_x, slope_y, add);
  // The frame moved by d finds at a place what lies d further: dh = slope * d.
  add(Source::frame, "tip along", f.x_mm,
      [&](double, double, Index r, Index c) { return static_cast<double>(slope_x(r, c)); });
  add(Source::frame, "centreline across", f.y_mm,
      [&](double, double, Index r, Index c) { return static_cast<double>(slope_y(r, c)); });
  add(Source::frame, "turn", f.yaw_rad, [&](double x, double y, Index r, Index c) {
    return (x - f.pivot_x_mm) * static_cast<double>(slope_y(r, c)) - y * static_cast<double>(slope_x(r, c));
  });
  return effects;
}

}  // namespace canewise
