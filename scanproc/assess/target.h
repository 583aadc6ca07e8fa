#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "scanproc/assess/features.h"
#include "scanproc/assess/zones.h"
#include "scanproc/core/moisture.h"
#include "scanproc/words/message.h"

namespace canewise {

/// A thickness field to compare with, in relative coordinates.
struct Target {
  std::string name;        ///< As given to --target.
  std::string title;       ///< As its file gives it; shown as title_of says.
  std::string instrument;  ///< Name of the Instrument.
  std::string origin;      ///< 'built in, invented' or 'mean of 4 reeds', always in English; shown as origin_of says.
  int reeds = 0;           ///< It was made from; 0 for a built-in.
  Blank blank = Blank::medium;
  bool filed = false;
  MoistureState state = MoistureState::unknown;  ///< Of the reeds it was made from.
  std::string rig;  ///< Identity of the calibrated rig that measured all of them; empty: none or several.
  double vamp_length_mm = 0.0;
  /// Nodes: t = kNodesAlong values from 0 to 1 (rows), e = kNodesAcross values from -1 to 1 (columns).
  static constexpr Eigen::Index kNodesAlong = 41, kNodesAcross = 21;
  Eigen::ArrayXXd thickness_mm;  ///< kNodesAlong x kNodesAcross; NaN = unknown.
  Eigen::ArrayXXd tolerance_mm;  ///< Same shape: half-width of the band around it.

  [[nodiscard]] static double t_of(Eigen::Index row) { return static_cast<double>(row) / (kNodesAlong - 1); }
  [[nodiscard]] static double e_of(Eigen::Index column) {
    return 2.0 * static_cast<double>(column) / (kNodesAcross - 1) - 1.0;
  }
  /// Bilinear; NaN outside or next to unknown nodes.
  [[nodiscard]] double thickness_at(double t, double e) const { return interpolate(thickness_mm, t, e); }
  [[nodiscard]] double tolerance_at(double t, double e) const { return interpolate(tolerance_mm, t, e); }

 private:
  [[nodiscard]] static double interpolate(const Eigen::ArrayXXd& field, double t, double e);
};

/// What a target is called: a built-in by what it is, a player's own as its file says.
[[nodiscard]] Message title_of(const Target& target);
/// Where it comes from. Both need no more than name, title and origin, so that they hold for a stored result's target.
[[nodiscard]] Message origin_of(const Target& target);
[[nodiscard]] Message origin_of_mean(std::size_t reeds);

/// Half-width of a target's band at a share of the vamp where nothing better is known.
[[nodiscard]] double default_tolerance_mm(const ReedTolerances& tolerances, double t);

/// How one half zone stands to the target. Positive: thicker than the target.
struct ZoneDeviation {
  Zone zone;
  ZoneMean deviation;
  double target_mm = 0.0, tolerance_mm = 0.0;
  Verdict verdict = Verdict::cannot_tell;
};

struct TargetComparison {
  Target target;
  bool chosen_by_user = false;  ///< Else the nearest built-in: shown, never scraped to.
  Field deviation_mm;           ///< Map minus target, cell by cell.
  std::vector<ZoneDeviation> zones;
  Verdict verdict = Verdict::cannot_tell;
  double root_mean_square_mm = 0.0;
};

/// `rig` as Target::rig, of the map. Scans of one rig share its scale, its plate and how light enters cane: between a
/// map and a target of the same rig these cancel; between two rigs each brings its own. What differs from scan to scan
/// is in the map once and in the target over the number of its reeds.
[[nodiscard]] TargetComparison compare_with_target(const ZonedMap& reed, const CutFeatures& cut, const Target& target,
                                                   const std::string& rig = {});

/// Map minus target, cell by cell; NaN off the vamp and where either is not known.
[[nodiscard]] Field deviation_mm(const ZonedMap& reed, const Target& target);

/// Samples a measured map at a target's nodes.
[[nodiscard]] Eigen::ArrayXXd sample_for_target(const ThicknessMap& map, const Outline& outline, double vamp_length_mm);

/// A target from one or more measured reeds: their mean, and as tolerance the root of default tolerance squared plus
/// the spread squared (with one reed, the default alone). `samples` from sample_for_target.
[[nodiscard]] Target mean_target(const std::string& name, const ReedTolerances& tolerances,
                                 const std::vector<Eigen::ArrayXXd>& samples);

}  // namespace canewise
