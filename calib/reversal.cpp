#include "calib/reversal.h"

#include <fmt/format.h>

#include <Eigen/QR>
#include <algorithm>
#include <cmath>

#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"

namespace canewise {
namespace {

/// Mean of maps that may differ by a row or a column at the rim; NaN where one is missing.
Result mean_of(const std::vector<Result>& results) {
  Result mean = results.front();
  Field& sum = mean.map.thickness_mm;
  for (std::size_t k = 1; k < results.size(); ++k) {
    const Field& other = results[k].map.thickness_mm;
    const Eigen::Index shift = (results[k].map.grid.columns - mean.map.grid.columns) / 2;
    for (Eigen::Index c = 0; c < sum.cols(); ++c) {
      for (Eigen::Index r = 0; r < sum.rows(); ++r) {
        const Eigen::Index from = c + shift;
        sum(r, c) += r < other.rows() && from >= 0 && from < other.cols() ? other(r, from) : std::nanf("");
      }
    }
  }
  sum /= static_cast<float>(results.size());
  return mean;
}

struct Pooled {
  double height = 0, pitch = 0, roll = 0, freedom = 0;
  void add(const std::vector<MapTilt>& tilts) {
    for (const MapTilt& t : tilts)
      height += square(t.height_um), pitch += square(t.pitch_um), roll += square(t.roll_um);
    freedom += static_cast<double>(tilts.size()) - 1.0;
  }
};

/// Mean and standard uncertainty of a zone's difference over seatings.
std::pair<double, double> zone_mean(const std::vector<Result>& results, std::size_t zone) {
  double mean = 0.0, squares = 0.0;
  const auto n = static_cast<double>(results.size());
  const auto value = [&](const Result& r) {
    return um_from_mm(r.assessment.balance.zones.at(zone).difference.mean_mm);
  };
  for (const auto& r : results) mean += value(r) / n;
  for (const auto& r : results) squares += square(value(r) - mean);
  return {mean, std::sqrt(squares / (n - 1.0) / n)};
}

}  // namespace

MapTilt tilt_between(const Result& map, const Result& reference) {
  constexpr double alike_mm = 1.0;
  if (std::abs(map.outline.length_mm - reference.outline.length_mm) > alike_mm ||
      std::abs(map.outline.half_width_mm(0) - reference.outline.half_width_mm(0)) > 0.5 * alike_mm)
    throw UsageError({"reversal.different_size"});
  return tilt_between(map.map, reference.map, reference.outline);
}

Reversal evaluate_reversal(const std::vector<Result>& straight, const std::vector<Result>& turned) {
  if (straight.size() < kFewestSeatings || turned.size() < kFewestSeatings) {
    throw UsageError(
        {"reversal.too_few",
         {{"straight", count(straight.size())}, {"turned", count(turned.size())}, {"fewest", count(kFewestSeatings)}}});
  }
  for (const auto* group : {&straight, &turned}) {
    for (const Result& result : *group) {
      if (result.state != straight.front().state) throw UsageError({"reversal.states"});
    }
  }
  Reversal reversal;
  const Result mean_straight = mean_of(straight), mean_turned = mean_of(turned);
  for (const Result& r : straight) reversal.straight.push_back(tilt_between(r, mean_straight));
  for (const Result& r : turned) reversal.turned.push_back(tilt_between(r, mean_turned));
  Pooled pooled;
  pooled.add(reversal.straight);
  pooled.add(reversal.turned);
  reversal.degrees_of_freedom = pooled.freedom;
  reversal.seating_height_um = std::sqrt(pooled.height / pooled.freedom);
  reversal.seating_pitch_um = std::sqrt(pooled.pitch / pooled.freedom);
  reversal.seating_roll_um = std::sqrt(pooled.roll / pooled.freedom);
  // A constant roll of the rig shows with one sign straight and the other turned: half their difference.
  reversal.rig_roll_um = 0.5 * tilt_between(mean_straight, mean_turned).roll_um;
  reversal.u_rig_roll_um =
      0.5 * reversal.seating_roll_um *
      std::sqrt(1.0 / static_cast<double>(straight.size()) + 1.0 / static_cast<double>(turned.size()));
  for (std::size_t z = 0; z < straight.front().assessment.balance.zones.size(); ++z) {
    const auto [a, u_a] = zone_mean(straight, z);
    const auto [b, u_b] = zone_mean(turned, z);
    if (std::isnan(a) || std::isnan(b)) continue;
    Reversal::Zone zone;
    const ZoneBalance& pair = straight.front().assessment.balance.zones[z];
    zone.across = pair.across, zone.along = pair.along;
    zone.name = std::string(name_of(pair.across)) + ", " + std::string(name_of(pair.along));
    zone.reed_um = 0.5 * (a + b);
    zone.rig_um = 0.5 * (a - b);
    zone.u_reed_um = zone.u_rig_um = 0.5 * std::hypot(u_a, u_b);
    reversal.zones.push_back(std::move(zone));
  }
  const bool clear = std::abs(reversal.rig_roll_um) > kCoverage95 * reversal.u_rig_roll_um;
  constexpr double small_um = 1.0;
  reversal.verdict.push_back({"reversal.rolls", {{"roll", um(reversal.seating_roll_um, 1)}}});
  if (clear && std::abs(reversal.rig_roll_um) > small_um) {
    reversal.verdict.push_back({"reversal.rig_favours",
                                {{"side", word(reversal.rig_roll_um > 0.0 ? "right" : "left")},
                                 {"by", um(std::abs(reversal.rig_roll_um), 1)}}});
  } else {
    const double most_um = std::max(std::abs(reversal.rig_roll_um), kCoverage95 * reversal.u_rig_roll_um);
    reversal.verdict.push_back({"reversal.rig_is_even", {{"by", um(most_um, 1)}}});
  }
  return reversal;
}

void apply_reversal(Rig& rig, const Reversal& reversal, const std::string& date) {
  // A normal law whose spread is known from nu degrees of freedom: Student's, sqrt(nu / (nu - 2)) wider
  // ([JCGM101], 6.4.9).
  const double nu = reversal.degrees_of_freedom, wider = std::sqrt(nu / std::max(1.0, nu - 2.0));
  const std::string how =
      fmt::format("reversal of {}, {} seatings", date, reversal.straight.size() + reversal.turned.size());
  rig.priors.seating_offset_um = wider * reversal.seating_height_um;
  rig.priors.seating_pitch_um = wider * reversal.seating_pitch_um;
  rig.priors.seating_roll_um = std::hypot(wider * reversal.seating_roll_um, reversal.rig_roll_um);
  for (const char* name : {"seating_offset_um", "seating_pitch_um", "seating_roll_um"}) rig.obtained[name] = how;
}

}  // namespace canewise
