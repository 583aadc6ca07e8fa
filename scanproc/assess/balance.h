#pragma once

#include <array>
#include <vector>

#include "scanproc/assess/conformity.h"
#include "scanproc/assess/zones.h"
#include "scanproc/datum/instrument.h"

namespace canewise {

/// A zone of which less than this was seen gets no verdict but 'cannot tell'.
inline constexpr double kFewestCovered = 0.7;

/// Left against right in one zone pair. Positive: the right side is thicker.
struct ZoneBalance {
  AlongBand along = AlongBand::tip;
  AcrossBand across = AcrossBand::centre;
  ZoneMean difference;
  double tolerance_mm = 0.0;
  Verdict verdict = Verdict::cannot_tell;
  double worst_mm = 0.0;  ///< Largest difference of a cell pair, by magnitude, with its sign.
  double worst_x_mm = 0.0, worst_y_mm = 0.0;
  double area_beyond_u_mm2 = 0.0;  ///< Of one side, where the difference exceeds its own U95.
  double volume_mm3 = 0.0;         ///< Integral of the difference over one side of the zone.
  double u_volume_mm3 = 0.0;
  double smallest_visible_mm = 0.0;  ///< A true difference this large shows in 95 % of scans.
  double surely_outside_mm = 0.0;    ///< A true difference this large is called outside in 95 % of scans.
};

struct Balance {
  Field difference_mm;             ///< Right minus left, the same on both halves; NaN where a partner is missing.
  Field u_difference_mm;           ///< Standard uncertainty of a cell pair's difference.
  std::vector<ZoneBalance> zones;  ///< Four bands along times three across, tip first, centre first.
  Verdict verdict = Verdict::cannot_tell;  ///< outside if any zone is; within if all are; else cannot tell.
};

/// Right minus left of every cell pair, rows x columns, the same on both halves; NaN where a partner is missing.
[[nodiscard]] Field difference_of_sides(const ThicknessMap& map);

/// Nobody has proved it, but the difference is surely there and nearly as large as the tolerance or larger, and a scan
/// like this could prove the zone even.
[[nodiscard]] bool is_suspect(const ZoneBalance& zone);

/// What both sides have in common cancels; roll, turn, offset of the centreline and twist do not.
[[nodiscard]] Balance assess_balance(const ThicknessMap& map, const ZoneMap& zones, const ReedTolerances& tolerances);

/// Of the differences in this band.
[[nodiscard]] double tolerance_mm(const Balance& balance, AlongBand band);
/// At a station: between two bands the tolerance changes over two millimetres, so that no fault ends because a band
/// does.
[[nodiscard]] double tolerance_at_mm(const Balance& balance, double x_mm, double vamp_length_mm);

/// outside if any is, within if all are.
[[nodiscard]] Verdict overall(const std::vector<Verdict>& verdicts);

}  // namespace canewise
