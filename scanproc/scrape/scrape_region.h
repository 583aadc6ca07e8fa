#pragma once

#include <vector>

#include "scanproc/assess/assessment.h"
#include "scanproc/scrape/scrape_plan.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

/// Even-odd rule; a point on the rim may fall to either side.
[[nodiscard]] bool holds(const std::vector<PlanPoint>& polygon, double x_mm, double y_mm);

/// Cells that may be scraped.
class ScrapeField {
 public:
  /// Not to be scraped: outside the vamp, heart, bark, not measured, and nearer than `tip_margin_mm` to the tip's edge.
  ScrapeField(const ThicknessMap& map, const Outline& outline, const Assessment& assessment, double tip_margin_mm);

  [[nodiscard]] bool free(Eigen::Index row, Eigen::Index column) const { return free_(row, column); }
  /// The outline of a lane between two stations, drawn so that it keeps clear of what must not be scraped.
  [[nodiscard]] std::vector<PlanPoint> lane_polygon(Side side, AcrossBand across, double from_mm, double to_mm) const;
  /// Indices (column-major, as a Field lies in memory) of the free cells inside the polygon.
  [[nodiscard]] std::vector<Eigen::Index> cells_in(const std::vector<PlanPoint>& polygon) const;

 private:
  const ThicknessMap* map_;
  const Outline* outline_;
  const Assessment* assessment_;
  double tip_margin_mm_;
  CellMask free_;
};

}  // namespace canewise
