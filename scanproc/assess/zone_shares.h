#pragma once

#include "scanproc/assess/zones.h"

namespace canewise {

/// How a half zone's cells stand for the zone: its borders end nowhere that a cell does, and the outermost cells of a
/// rail are not measured. So the cells at a border count as far as the zone reaches, and stand for the middle of what
/// they stand for.
struct ZoneShares {
  Field weight;    ///< 1: a whole cell; nought off the zone and where nothing was measured.
  Field shift_mm;  ///< To the right, from the cell's middle to that of what it stands for.
};

/// Of both sides.
[[nodiscard]] ZoneShares zone_shares(const ThicknessMap& map, const ZoneMap& zones, AlongBand along, AcrossBand across);

}  // namespace canewise
