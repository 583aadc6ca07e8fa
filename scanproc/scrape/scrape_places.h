#pragma once

#include <array>
#include <optional>
#include <vector>

#include "scanproc/assess/assessment.h"
#include "scanproc/scrape/scrape_plan.h"
#include "scanproc/scrape/scrape_region.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

/// A stretch of a lane that one depth may come off, on one side or alike on both.
struct Place {
  StepAim aim = StepAim::balance;
  AcrossBand across = AcrossBand::rail;
  double from_mm = 0.0, to_mm = 0.0;
  struct Part {
    Side side;
    std::vector<PlanPoint> polygon;
    std::vector<Eigen::Index> cells;
  };
  std::vector<Part> parts;            ///< One, or left and right.
  std::vector<AlongBand> along;       ///< Bands that it reaches into, from the tip.
  double area_mm2 = 0.0;              ///< Of all parts.
  double surplus_mm = 0.0;            ///< Mean of what is too thick here: against the other side, or the target.
  double u95_mm = 0.0;                ///< Of that difference.
  double thickness_mm = 0.0;          ///< Mean.
  double most_mm = 0.0;               ///< Deeper, and its thinnest cell would be below the floor.
  std::array<double, 12> difference;  ///< Change of each zone's right minus left, per mm of depth.
  std::array<double, 24> half_zone;   ///< Change of each half zone's mean, per mm of depth, in the assessment's order.
};

/// Of Assessment::zone_thickness and Place::half_zone; `zone` as in ZoneMap::label.
[[nodiscard]] constexpr std::size_t half_zone_index(std::size_t zone, Side side) {
  return 2 * zone + (side == Side::right ? 1 : 0);
}

/// Makes places on one map.
class PlaceMaker {
 public:
  PlaceMaker(const ThicknessMap& map, const Outline& outline, const Assessment& assessment, double tip_margin_mm,
             double floor_mm);
  /// `sides`: one, or both. Empty where nothing may be scraped.
  [[nodiscard]] std::optional<Place> place(StepAim aim, const std::vector<Side>& sides, AcrossBand across,
                                           double from_mm, double to_mm) const;
  /// Ends of pieces of about `length_mm` along the vamp; no piece lies in two bands.
  [[nodiscard]] std::vector<double> stations(double length_mm) const;

 private:
  void measure(Place& place) const;
  const ThicknessMap& map_;
  const Assessment& assessment_;
  ScrapeField field_;
  double floor_mm_;
};

}  // namespace canewise
