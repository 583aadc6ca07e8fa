#pragma once

#include <Eigen/Core>
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "scanproc/assess/conformity.h"
#include "scanproc/mechanics/bending_figure.h"
#include "scanproc/mechanics/closing.h"
#include "scanproc/mechanics/lying_on_rails.h"
#include "scanproc/mechanics/strength.h"
#include "scanproc/thickness/thickness_map.h"
#include "scanproc/words/message.h"

namespace canewise {

/// A value with its standard uncertainty from the scan, and the spread that unknown cane gives it.
struct SpreadValue {
  double value = 0.0;
  double u_scan = 0.0;
  double u_cane = 0.0;
};

/// Compliances of 2 mm square patches at one station, mm/N.
struct ComplianceAt {
  double x_mm = 0.0;
  double left_mm_per_n = 0.0, centre_mm_per_n = 0.0, right_mm_per_n = 0.0;
};

struct ReedMode {
  SpreadValue frequency_hz;
  std::string kind;       ///< 'bending' or 'twisting', by what its shape is mostly.
  Eigen::ArrayXXd shape;  ///< On the grid below, largest 1.
};

/// How a reed bends. Empty fields where `why_not` says so.
struct Mechanics {
  Message why_not;  ///< Why nothing can be said; empty if it can.
  [[nodiscard]] bool known() const { return why_not.empty(); }
  Message cane;  ///< Where the moduli come from.
  double tip_patch_at_mm = 0.0, lip_at_mm = 0.0, lip_length_mm = 0.0;
  double imbalance_tolerance = 0.0;  ///< Left-right differences of stiffness beyond this are called outside.

  std::array<SpreadValue, kBendingFigureCount> figures;
  std::array<Verdict, kBendingFigureCount> verdicts{};  ///< Of the imbalances' shape; 'cannot tell' for the rest.
  /// How far a figure moves for 10 um off one square millimetre at each cell: N/mm, or a share for imbalances.
  std::array<Field, kBendingFigureCount> sensitivity;
  std::vector<ReedMode> modes;
  std::vector<ComplianceAt> along;
  Eigen::ArrayXXd bent_mm;  ///< Deflection where the lip has half closed it, on a grid of `shape_step_mm`; NaN outside.
  double shape_step_mm = 1.0;
  double shape_first_y_mm = 0.0;      ///< Column 0; row 0 lies half a step from the tip.
  std::optional<LyingOnRails> lying;  ///< Older results do not say.
  Closing closing;
  Strength strength;
  Messages sentence;  ///< How it bends, for people.
  [[nodiscard]] const SpreadValue& figure(BendingFigure f) const { return figures.at(index_of(f)); }
};

}  // namespace canewise
