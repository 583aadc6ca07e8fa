#pragma once

#include <Eigen/Core>
#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "scanproc/words/message.h"

namespace canewise {

/// Cells in the reed frame. Row i spans x = [i, i + 1] * cell_mm; columns are mirror images about the centreline, so
/// that column j and column columns - 1 - j fold onto each other.
struct Grid {
  double cell_mm = 0.25;
  Eigen::Index rows = 0;
  Eigen::Index columns = 0;  ///< Even.
  [[nodiscard]] double x_mm(Eigen::Index row) const { return (static_cast<double>(row) + 0.5) * cell_mm; }
  [[nodiscard]] double y_mm(Eigen::Index column) const {
    return (static_cast<double>(column) + 0.5 - 0.5 * static_cast<double>(columns)) * cell_mm;
  }
  [[nodiscard]] Eigen::Index mirrored(Eigen::Index column) const { return columns - 1 - column; }
};

/// Field over a Grid, rows x columns. Single precision: values are millimetres with an uncertainty above a tenth of a
/// micrometre.
using Field = Eigen::ArrayXXf;

/// What an effect common to many cells belongs to; the budget's lines.
enum class EffectSource {
  seating,
  table_form,
  tip_lift,
  rig_scale,
  plate_form,
  penetration,
  plate_plane,
  registration,
  pose_bending,
  depth_steps,
  frame
};
inline constexpr std::array kEffectSources{
    EffectSource::seating,      EffectSource::table_form,  EffectSource::tip_lift,    EffectSource::rig_scale,
    EffectSource::plate_form,   EffectSource::penetration, EffectSource::plate_plane, EffectSource::registration,
    EffectSource::pose_bending, EffectSource::depth_steps, EffectSource::frame};
/// A key: 'table form'.
[[nodiscard]] std::string_view name_of(EffectSource source);
/// The budget's line for people: 'form of the table'.
[[nodiscard]] Message message_of(EffectSource source);

/// One independent standard-normal effect: how much it moves every cell, for one standard deviation.
struct CommonEffect {
  EffectSource source;
  Message name;
  Field shift_mm;             ///< rows x columns; signed.
  bool of_this_scan = false;  ///< Seen in this scan, so that another of the same rig may not have it.
};

/// True for what all scans of one rig have alike, whichever reed lies on it.
[[nodiscard]] inline bool stays_with_rig(const CommonEffect& effect) {
  return !effect.of_this_scan &&
         (effect.source == EffectSource::rig_scale || effect.source == EffectSource::plate_form ||
          effect.source == EffectSource::penetration);
}

/// Noise that stays within a few cells, as estimated from the scan itself.
struct LocalNoise {
  double bin_sd_mm = 0.0;  ///< Standard deviation of the mean of a half-cell bin.
  double bins_per_cell = 4.0;
  /// Sum over all lags of the bins' covariance, over the bins that hold points: the variance of a mean over B bins is
  /// this divided by B, once it spans more than the correlation length.
  double covariance_sum_mm2 = 0.0;
  double filled_share = 1.0;  ///< Of the bins, where the reed was seen.
  /// What is correlated along the fibre over more than a millimetre: its share of such a sum, and how far it reaches.
  double far_sum_mm2 = 0.0, far_reach_mm = 0.0;
  /// Error that changes slowly over the view and that no scatter shows: standard deviation, and about the length over
  /// which it is alike.
  double smooth_mm = 0.0, smooth_length_mm = 0.0;
};

/// Variance of a mean over `cells` cells that reach over length_mm along and width_mm across.
[[nodiscard]] double variance_of_mean(const LocalNoise& noise, double cells, double length_mm, double width_mm);

/// Thickness over the table's contact plane with its uncertainty.
struct ThicknessMap {
  Grid grid;
  Field thickness_mm;      ///< NaN = not measured.
  Field u_mm;              ///< Standard uncertainty (k = 1) of everything together; NaN where thickness_mm is.
  Field u_local_mm;        ///< The part that is independent from place to place.
  Field slope_x, slope_y;  ///< Of the fitted planes.
  /// Two-sided only: the table's height over its own plane, and the part of its uncertainty that is independent from
  /// place to place. Empty otherwise.
  Field table_mm, u_table_mm;
  double table_covariance_sum_mm2 = 0.0;  ///< As LocalNoise::covariance_sum_mm2, of the table alone, over all its bins.
  std::vector<CommonEffect> common;
  LocalNoise noise;
  double point_noise_mm = 0.0;  ///< Scatter of single points about the local planes, outliers left out.
  double outlier_share = 0.0;
  [[nodiscard]] bool measured(Eigen::Index row, Eigen::Index column) const {
    return thickness_mm(row, column) == thickness_mm(row, column);
  }
};

}  // namespace canewise
