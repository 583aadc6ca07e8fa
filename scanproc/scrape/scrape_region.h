#pragma once

#include <vector>

#include "scanproc/assess/assessment.h"
#include "scanproc/scrape/footprint.h"
#include "scanproc/scrape/scrape_plan.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

/// Even-odd rule; a point on the rim may fall to either side.
[[nodiscard]] bool holds(const std::vector<PlanPoint>& polygon, double x_mm, double y_mm);

/// A place without what hangs over the rim, as it is drawn.
[[nodiscard]] std::vector<PlanPoint> on_reed(std::vector<PlanPoint> polygon, const Outline& outline);

/// How far a place reaches across one side at a station; both borders by their distance from the centreline.
struct Station {
  double x_mm = 0.0, inner_mm = 0.0, outer_mm = 0.0;
};

/// A lane of one side between two stations.
struct SideLane {
  Side side = Side::left;
  AcrossBand across = AcrossBand::rail;
  double from_mm = 0.0, to_mm = 0.0;
};

/// A tool, and how near to the tip's edge it may come.
struct ScrapeTool {
  Footprint footprint;
  double tip_margin_mm = 0.0;
};

/// Where one tool may be used on one reed.
class ScrapeField {
 public:
  /// Not to be scraped: outside the vamp, heart, bark, not measured, and nearer than its margin to the tip's edge.
  ScrapeField(const ThicknessMap& map, const Outline& outline, const Assessment& assessment, const ScrapeTool& tool);

  [[nodiscard]] bool free(Eigen::Index row, Eigen::Index column) const { return free_(row, column); }
  /// So near to the centreline the border of a place may come: beside the heart a slip must not reach into it.
  [[nodiscard]] double innermost_mm(double x_mm) const;
  /// A border so far behind what stays at the tip keeps even a cut that slips out of it.
  [[nodiscard]] double sure_of_tip_mm() const { return footprint_.reach_to_tip_mm(); }
  /// Share of a place's depth that a slip takes off what stays at the tip, if its border lies so far behind that.
  [[nodiscard]] double share_at_tip(double behind_mm) const;

  /// The outline of what this tool cuts of these stations: no narrower than the tool but where it hangs over the rim,
  /// clear of heart and bark, and `behind_mm` behind what stays at the tip. Empty if nothing worth the name is left.
  [[nodiscard]] std::vector<PlanPoint> polygon(Side side, std::vector<Station> stations, double behind_mm,
                                               double least_width_mm) const;
  /// The same of a lane.
  [[nodiscard]] std::vector<PlanPoint> lane_polygon(const SideLane& lane, double least_width_mm) const;
  /// Indices (column-major, as a Field lies in memory) of the free cells inside the polygon.
  [[nodiscard]] std::vector<Eigen::Index> cells_in(const std::vector<PlanPoint>& polygon) const;
  [[nodiscard]] const Footprint& footprint() const { return footprint_; }

 private:
  /// Where the reed ends across, at its side or at the tip's arc.
  [[nodiscard]] double edge_mm(double x_mm) const;
  /// So far out a place may reach at a station so that its border stays behind the tip's arc.
  [[nodiscard]] double behind_tip_mm(double x_mm, double sign, double behind_mm) const;
  void fit(Station& station, double least_width_mm) const;
  [[nodiscard]] double first_bark_mm(Side side, const std::vector<Station>& stations) const;
  const ThicknessMap* map_;
  const Outline* outline_;
  const Assessment* assessment_;
  UncutSurface uncut_;
  double tip_margin_mm_;
  Footprint footprint_;
  CellMask free_;
};

}  // namespace canewise
