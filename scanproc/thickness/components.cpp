#include "scanproc/thickness/components.h"

#include <Eigen/Cholesky>
#include <cmath>
#include <iterator>
#include <limits>
#include <utility>

#include "scanproc/core/linear_fit.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"
#include "scanproc/thickness/laying_forms.h"

namespace canewise {
namespace {

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

using Effects = std::vector<CommonEffect>;
using Index = Eigen::Index;

/// What the shapes of the effects are made of.
struct Basis {
  const ThicknessMap& map;
  const Aligned& aligned;
  const Priors& priors;
  double length;  ///< Of the reed.
  LayingForms forms;
  Field slope_x, slope_y;
};

Basis basis_of(const ThicknessMap& map, const Aligned& aligned, const Priors& priors) {
  return {map,
          aligned,
          priors,
          aligned.outline.length_mm,
          LayingForms(map, aligned.outline),
          smoothed(map.slope_x),
          smoothed(map.slope_y)};
}

struct Cause {
  EffectSource source;
  const char* form;
  double size;  ///< Of one standard deviation, in the unit of the shape's inverse.
};

/// What the cause does to each measured cell: size * shape(x, y, row, column). Empty where its size is zero or unknown.
template <typename Shape>
Effects effect_of(const ThicknessMap& map, const Cause& cause, const Shape& shape) {
  if (!(cause.size > 0.0)) return {};
  const Grid& grid = map.grid;
  CommonEffect effect{cause.source, {"effect.form", {{"form", word(cause.form)}}}, Field(grid.rows, grid.columns)};
  for (Index c = 0; c < grid.columns; ++c) {
    const double y = grid.y_mm(c);
    for (Index r = 0; r < grid.rows; ++r) {
      effect.shift_mm(r, c) = map.measured(r, c) ? static_cast<float>(cause.size * shape(grid.x_mm(r), y, r, c))
                                                 : std::numeric_limits<float>::quiet_NaN();
    }
  }
  Effects effects;
  effects.push_back(std::move(effect));
  return effects;
}

/// One list of several.
template <typename... More>
Effects in_a_row(Effects first, More... more) {
  (first.insert(first.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end())), ...);
  return first;
}

double prior(double um) { return mm_from_um(um); }

/// What lies under the table, the table's own form, and how the tip curls: seen from one side, all of it reads as cane.
Effects laying_effects(const Basis& b) {
  const ThicknessMap& map = b.map;
  const Priors& p = b.priors;
  const LayingForms& forms = b.forms;
  return in_a_row(effect_of(map, {EffectSource::seating, "height", prior(p.seating_offset_um)},
                            [](double, double, Index, Index) { return 1.0; }),
                  effect_of(map, {EffectSource::seating, "roll", prior(p.seating_roll_um)},
                            [&](double, double y, Index, Index) { return forms.roll(y); }),
                  effect_of(map, {EffectSource::seating, "pitch", prior(p.seating_pitch_um)},
                            [&](double x, double, Index, Index) { return forms.pitch(x); }),
                  effect_of(map, {EffectSource::table_form, "bow", prior(p.table_bow_um)},
                            [&](double x, double, Index, Index) { return forms.bow(x); }),
                  effect_of(map, {EffectSource::table_form, "cup", prior(p.table_cup_um)},
                            [&](double, double y, Index, Index) { return forms.cup(y); }),
                  effect_of(map, {EffectSource::table_form, "twist", prior(p.table_twist_um)},
                            [&](double x, double y, Index, Index) { return forms.twist(x, y); }),
                  effect_of(map, {EffectSource::tip_lift, "lift", prior(p.tip_lift_um)},
                            [&](double x, double, Index, Index) { return forms.tip_lift(x); }),
                  effect_of(map, {EffectSource::tip_lift, "one-sided curl", prior(p.tip_curl_side_um)},
                            [&](double x, double y, Index, Index) { return forms.tip_curl_side(x, y); }));
}

/// Between the scans of its two sides the reed may bend.
Effects pose_bending_effects(const Basis& b) {
  return effect_of(b.map, {EffectSource::pose_bending, "bow", prior(b.priors.pose_bending_um)},
                   [&](double x, double, Index, Index) { return b.forms.bow(x); });
}

/// The scanner's scale, the light that enters the cane, and the steps of its heights.
Effects reading_effects(const Basis& b, bool one_sided) {
  const ThicknessMap& map = b.map;
  const Priors& p = b.priors;
  const double height_step_u_mm = b.aligned.height_step_u_mm;
  return in_a_row(
      // A rig that is s too long moves every cell outward as well: dh = s (h - x dh/dx - y dh/dy).
      effect_of(map, {EffectSource::rig_scale, "scale", p.scale_rel},
                [&](double x, double y, Index r, Index c) {
                  return static_cast<double>(map.thickness_mm(r, c)) - x * static_cast<double>(b.slope_x(r, c)) -
                         y * static_cast<double>(b.slope_y(r, c));
                }),
      // Light enters the top; from both sides it enters the table as well.
      effect_of(map, {EffectSource::penetration, "depth", (one_sided ? 1.0 : 2.0) * prior(p.penetration_um)},
                [](double, double, Index, Index) { return 1.0; }),
      // Two places differ in where they fall between two steps.
      effect_of(map, {EffectSource::depth_steps, "height", std::sqrt(2.0) * height_step_u_mm},
                [](double, double, Index, Index) { return 1.0; }),
      effect_of(map, {EffectSource::depth_steps, "side to side", height_step_u_mm},
                [&](double, double y, Index, Index) { return b.forms.roll(y); }));
}

/// One way in which the plate may not be flat.
struct PlateForm {
  const char* name;
  double seen_mm;                        ///< Clearly so in this scan.
  Eigen::Vector3d plane;                 ///< What of the form the fitted plane takes.
  double (*height)(double u, double v);  ///< u along, v across, in reaches of a slow error about the reed's middle.
};

/// The plate may be bent, or the scanner may bend all that it sees, the reed too: what is clearly seen counts for
/// either. What a scan shows beyond the prior is its own, not its rig's.
Effects plate_form_effects(const Basis& b, const PlateForm& form) {
  constexpr double plate_reach_mm = SlowError::kReach_mm;
  const double seen = form.seen_mm, stated = prior(b.priors.plate_form_um);
  const auto of_plane = [&](double x, double y) { return form.plane.dot(Eigen::Vector3d(1.0, x, y)); };
  const auto of_this_scan = [](Effects effects) {
    for (CommonEffect& effect : effects) effect.of_this_scan = true;
    return effects;
  };
  Effects of_plate = effect_of(b.map, {EffectSource::plate_form, form.name, std::max(seen, stated)},
                               [&](double x, double y, Index, Index) { return -of_plane(x, y); });
  if (seen > stated) of_plate = of_this_scan(std::move(of_plate));
  if (!(seen > 2.0 * stated)) return of_plate;
  Effects of_scanner =
      effect_of(b.map, {EffectSource::plate_form, form.name, seen}, [&](double x, double y, Index, Index) {
        return form.height((x - 0.5 * b.length) / plate_reach_mm, y / plate_reach_mm) - of_plane(x, y);
      });
  return in_a_row(std::move(of_plate), of_this_scan(std::move(of_scanner)));
}

Effects plate_effects(const Basis& b) {
  if (b.aligned.datum != DatumMode::plate) return {};
  constexpr double plate_reach_mm = SlowError::kReach_mm;
  const auto& blocks = b.aligned.plate_blocks;
  const auto& seen_mm = b.aligned.slow.form_mm;
  const auto u_of = [&](double x) { return (x - 0.5 * b.length) / plate_reach_mm; };
  const PlateForm bow_along{"bow along", seen_mm.at(0),
                            plane_from_form(blocks, [&](double x, double) { return square(u_of(x)); }),
                            [](double u, double) { return square(u); }};
  const PlateForm bow_across{"bow across", seen_mm.at(1),
                             plane_from_form(blocks, [&](double, double y) { return square(y / plate_reach_mm); }),
                             [](double, double v) { return square(v); }};
  const PlateForm twist{"twist", seen_mm.at(2),
                        plane_from_form(blocks, [&](double x, double y) { return u_of(x) * y / plate_reach_mm; }),
                        [](double u, double v) { return u * v; }};
  return in_a_row(plate_form_effects(b, bow_along), plate_form_effects(b, bow_across), plate_form_effects(b, twist));
}

/// The datum's plane, as well as its points fix it.
Effects plane_effects(const Basis& b, bool one_sided) {
  const EffectSource source = one_sided ? EffectSource::plate_plane : EffectSource::registration;
  const Eigen::Matrix3d root =
      Eigen::LLT<Eigen::Matrix3d>(b.aligned.uncertainty.plate_plane + 1e-18 * Eigen::Matrix3d::Identity()).matrixL();
  const auto effect = [&](int k, const char* name) {
    return effect_of(b.map, {source, name, 1.0},
                     [&](double x, double y, Index, Index) { return -root.col(k).dot(Eigen::Vector3d(1.0, x, y)); });
  };
  return in_a_row(effect(0, "height"), effect(1, "slope along"), effect(2, "slope across"));
}

/// Passes that lie wrong by `registration` under each other: where both were averaged, half of it moves the surface.
Effects passes_effects(const Basis& b, const Registration& registration) {
  constexpr double share = 0.5;
  const Eigen::Matrix<double, 6, 6> root =
      Eigen::LLT<Eigen::Matrix<double, 6, 6>>(registration.covariance + 1e-18 * Eigen::Matrix<double, 6, 6>::Identity())
          .matrixL();
  const auto effect = [&](int k, const char* name) {
    const Eigen::Matrix<double, 6, 1> motion = share * root.col(k);
    return effect_of(b.map, {EffectSource::registration, name, 1.0}, [&](double x, double y, Index r, Index c) {
      const double dx = motion(0) - motion(5) * y, dy = motion(1) + motion(5) * x;
      return motion(2) + motion(3) * y - motion(4) * x - dx * static_cast<double>(b.slope_x(r, c)) -
             dy * static_cast<double>(b.slope_y(r, c));
    });
  };
  return in_a_row(effect(0, "shift along"), effect(1, "shift across"), effect(2, "height"), effect(3, "roll"),
                  effect(4, "pitch"), effect(5, "turn"));
}

/// The frame moved by d finds at a place what lies d further: dh = slope * d.
Effects frame_effects(const Basis& b) {
  const FrameUncertainty& f = b.aligned.uncertainty;
  return in_a_row(effect_of(b.map, {EffectSource::frame, "tip along", f.x_mm},
                            [&](double, double, Index r, Index c) { return static_cast<double>(b.slope_x(r, c)); }),
                  effect_of(b.map, {EffectSource::frame, "centreline across", f.y_mm},
                            [&](double, double, Index r, Index c) { return static_cast<double>(b.slope_y(r, c)); }),
                  effect_of(b.map, {EffectSource::frame, "turn", f.yaw_rad}, [&](double x, double y, Index r, Index c) {
                    return (x - f.pivot_x_mm) * static_cast<double>(b.slope_y(r, c)) -
                           y * static_cast<double>(b.slope_x(r, c));
                  }));
}

}  // namespace

std::string_view name_of(EffectSource source) {
  switch (source) {
    case EffectSource::seating:
      return "seating";
    case EffectSource::table_form:
      return "table form";
    case EffectSource::tip_lift:
      return "tip lift";
    case EffectSource::rig_scale:
      return "rig scale";
    case EffectSource::plate_form:
      return "plate form";
    case EffectSource::penetration:
      return "penetration";
    case EffectSource::plate_plane:
      return "plate plane";
    case EffectSource::registration:
      return "registration";
    case EffectSource::pose_bending:
      return "pose bending";
    case EffectSource::depth_steps:
      return "depth steps";
    case EffectSource::frame:
      break;
  }
  return "frame";
}

Message message_of(EffectSource source) { return {"effect.source", {{"source", word(name_of(source))}}}; }

std::vector<CommonEffect> common_effects(const ThicknessMap& map, const Aligned& aligned, const Priors& priors) {
  const Basis basis = basis_of(map, aligned, priors);
  // From both sides neither what lies under the table nor how the tip curls is taken for cane.
  const bool one_sided = aligned.datum != DatumMode::two_sided;
  return in_a_row(one_sided ? laying_effects(basis) : pose_bending_effects(basis), reading_effects(basis, one_sided),
                  plate_effects(basis), plane_effects(basis, one_sided),
                  one_sided && aligned.registration ? passes_effects(basis, *aligned.registration) : Effects(),
                  frame_effects(basis));
}

}  // namespace canewise
