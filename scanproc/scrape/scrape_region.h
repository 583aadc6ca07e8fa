#pragma once

#include <vector>

#include "scanproc/assess/assessment.h"
#include "scanproc/scrape/scrape_plan.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

/// Cells that may be scraped, and what has been planned to come off so far.
class ScrapeField {
 public:
  /// Not to be scraped: outside the vamp, heart, bark, not measured, and nearer than `tip_margin_mm` to the tip's edge.
  ScrapeField(const ThicknessMap& map, const Outline& outline, const Assessment& assessment, double tip_margin_mm);

  [[nodiscard]] bool free(Eigen::Index row, Eigen::Index column) const { return free_(row, column); }
  [[nodiscard]] double removed_mm(Eigen::Index row, Eigen::Index column) const { return removed_mm_(row, column); }

  /// The outline of a lane between two stations, drawn so that it keeps clear of what must not be scraped.
  [[nodiscard]] std::vector<PlanPoint> lane_polygon(Side side, AcrossBand across, double from_mm, double to_mm) const;
  /// Free cells of one half zone inside the polygon.
  [[nodiscard]] Eigen::Index cells_in(const std::vector<PlanPoint>& polygon, const Zone& zone) const;
  void remove(const std::vector<PlanPoint>& polygon, double depth_mm);

  /// Mean removal over one half zone, over its measured cells.
  [[nodiscard]] double mean_removed_mm(const Zone& zone) const;
  /// Mean of the side's surplus along a zone, row by row, smoothed over 1.5 mm; NaN where not known.
  struct Row {
    double x_mm, surplus_mm;
  };
  [[nodiscard]] std::vector<Row> surplus_along(const Zone& zone) const;

 private:
  [[nodiscard]] bool in_zone(Eigen::Index row, Eigen::Index column, const Zone& zone) const;
  const ThicknessMap* map_;
  const Outline* outline_;
  const Assessment* assessment_;
  double tip_margin_mm_;
  Eigen::Array<bool, Eigen::Dynamic, Eigen::Dynamic> free_;
  Field removed_mm_;
};

}  // namespace canewise
