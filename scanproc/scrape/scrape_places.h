#pragma once

#include <array>
#include <optional>
#include <vector>

#include "scanproc/assess/assessment.h"
#include "scanproc/scrape/footprint.h"
#include "scanproc/scrape/scrape_plan.h"
#include "scanproc/scrape/scrape_region.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

/// A stretch that one depth may come off, on one side or alike on both.
struct Place {
  StepAim aim = StepAim::balance;
  AcrossBand across = AcrossBand::rail;  ///< Where most of the cut lies.
  double from_mm = 0.0, to_mm = 0.0;
  struct Part {
    Side side;
    std::vector<PlanPoint> polygon;
    CutShare cut;  ///< As the tool leaves it, over cells of the vamp.
  };
  std::vector<Part> parts;       ///< One, or left and right.
  std::vector<AlongBand> along;  ///< Bands that it reaches into, from the tip.
  /// Layers of one fault lie over each other and carry its number; lanes have -1.
  int fault = -1;
  bool even_here = false;             ///< The map shows no fault here: it is for the bending.
  double area_mm2 = 0.0;              ///< Of all parts, a cell counting as much as it is cut.
  double surplus_mm = 0.0;            ///< Mean of what is too thick here: against the other side, or the target.
  double u95_mm = 0.0;                ///< Of that difference.
  double thickness_mm = 0.0;          ///< Mean.
  double most_mm = 0.0;               ///< Deeper, and its thinnest cell would be below the floor.
  double share_at_tip = 0.0;          ///< Of its depth, off what stays at the tip, if the hand slips that way.
  std::array<double, 12> difference;  ///< Change of each zone's right minus left, per mm of depth.
  std::array<double, 24> half_zone;   ///< Change of each half zone's mean, per mm of depth, in the assessment's order.
  std::vector<double> block;          ///< Change of each CaneBlock's right minus left, per mm of depth.
};

/// Of Assessment::zone_thickness and Place::half_zone; `zone` as in ZoneMap::label.
[[nodiscard]] constexpr std::size_t half_zone_index(std::size_t zone, Side side) {
  return 2 * zone + (side == Side::right ? 1 : 0);
}

/// A lane of the reed between two stations, on one side or both.
struct Lane {
  StepAim aim = StepAim::balance;
  std::vector<Side> sides;
  AcrossBand across = AcrossBand::rail;
  double from_mm = 0.0, to_mm = 0.0;
};

/// Makes places on one map.
class PlaceMaker {
 public:
  PlaceMaker(const ThicknessMap& map, const Assessment& assessment, const ScrapeField& field, double floor_mm);
  /// Empty where nothing may be scraped.
  [[nodiscard]] std::optional<Place> lane(const Lane& lane) const;
  /// On one side, between these borders; `behind_mm` behind what stays at the tip.
  [[nodiscard]] std::optional<Place> stretch(Side side, const std::vector<Station>& stations, double behind_mm) const;
  /// Ends of pieces of about `length_mm` along the vamp; no piece lies in two bands.
  [[nodiscard]] std::vector<double> stations(double length_mm) const;

 private:
  [[nodiscard]] bool add_part(Place& place, Side side, std::vector<PlanPoint> polygon) const;
  [[nodiscard]] bool measure(Place& place) const;
  void count_cut(Place& place, const Place::Part& part, std::array<double, 3>& across) const;
  const ThicknessMap& map_;
  const Assessment& assessment_;
  const ScrapeField& field_;
  double floor_mm_;
};

}  // namespace canewise
