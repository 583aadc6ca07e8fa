#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "scanproc/datum/aligned.h"
#include "scanproc/thickness/thickness_map.h"
#include "scanproc/words/message.h"

namespace canewise {

enum class AlongBand : std::uint8_t { tip, front, middle, back };
enum class AcrossBand : std::uint8_t { centre, flank, rail };
enum class Side : std::int8_t { left = -1, right = 1 };

inline constexpr std::array kAlongBands{AlongBand::tip, AlongBand::front, AlongBand::middle, AlongBand::back};
inline constexpr std::array kAcrossBands{AcrossBand::centre, AcrossBand::flank, AcrossBand::rail};

/// Limits of the zones, an invented default: t is the share of the vamp from the tip, e the share of the local half
/// width.
struct ZoneLimits {
  static constexpr std::array<double, 5> t{0.0, 0.10, 0.25, 0.65, 1.0};
  static constexpr std::array<double, 4> e{0.0, 0.35, 0.70, 1.0};
};

/// One of the vamp's 24 half zones (the centre counts as two halves, so that they can be compared).
struct Zone {
  AlongBand along = AlongBand::tip;
  AcrossBand across = AcrossBand::centre;
  Side side = Side::left;
  friend bool operator==(const Zone&, const Zone&) = default;
};

[[nodiscard]] std::string_view name_of(AlongBand band);
[[nodiscard]] std::string_view name_of(AcrossBand band);
[[nodiscard]] std::string_view name_of(Side side);
/// 'left rail, front', as a part of a sentence.
[[nodiscard]] Message place_of(const Zone& zone);

/// Label of every cell: -1 outside the vamp, else along * 3 + across; the side follows from the column.
struct ZoneMap {
  Eigen::Array<std::int8_t, Eigen::Dynamic, Eigen::Dynamic> label;
  double vamp_length_mm = 0.0;
  double u_vamp_length_mm = 0.0;
  Eigen::ArrayXd half_width_mm;  ///< Of the reed, one for each row.
  [[nodiscard]] static std::int8_t label_of(AlongBand along, AcrossBand across) {
    return static_cast<std::int8_t>(3 * static_cast<int>(along) + static_cast<int>(across));
  }
};

using CellMask = Eigen::Array<bool, Eigen::Dynamic, Eigen::Dynamic>;

/// A reed's map with what tells where on the reed its cells lie.
struct ZonedMap {
  const ThicknessMap& map;
  const ZoneMap& zones;
  const Outline& outline;
  CellMask uncut = {};  ///< Where left against right tells nothing of the cut (uncut_cells); empty: nowhere.
  [[nodiscard]] bool is_cut(Eigen::Index row, Eigen::Index column) const {
    return uncut.size() == 0 || !uncut(row, column);
  }
};

[[nodiscard]] ZoneMap map_zones(const Grid& grid, const Outline& outline, double vamp_length_mm,
                                double u_vamp_length_mm = 0.0);

/// A mean over some cells and its uncertainty, split by source.
struct ZoneMean {
  double mean_mm = 0.0;  ///< NaN where no cell was measured.
  double u_mm = 0.0;     ///< Standard uncertainty of everything.
  double u_local_mm = 0.0;
  double u_place_mm = 0.0;         ///< Because the zones' limits hang on the vamp's end.
  std::vector<double> effects_mm;  ///< One for each of ThicknessMap::common: signed shift of the mean.
  Eigen::Index cells = 0;          ///< Measured.
  double covered = 0.0;            ///< Share of the zone's cells that were measured.
};

/// Share of the cells inside the rim that were measured.
[[nodiscard]] double covered_share(const ThicknessMap& map, const Outline& outline);

/// Mean thickness over one half zone, out to the reed's edge.
[[nodiscard]] ZoneMean zone_thickness(const ThicknessMap& map, const ZoneMap& zones, const Zone& zone);

/// Mean thickness over a zone pair, left and right together.
[[nodiscard]] ZoneMean band_thickness(const ThicknessMap& map, const ZoneMap& zones, AlongBand along,
                                      AcrossBand across);

/// Mean of right minus left, folded at equal distance from the centreline, over a zone pair.
[[nodiscard]] ZoneMean zone_difference(const ThicknessMap& map, const ZoneMap& zones, AlongBand along,
                                       AcrossBand across);

/// The same two means over any cells; of a mask's cells, the difference takes those on the right.
[[nodiscard]] ZoneMean thickness_over(const ThicknessMap& map, const CellMask& cells);
[[nodiscard]] ZoneMean difference_over(const ThicknessMap& map, const CellMask& cells);

}  // namespace canewise
