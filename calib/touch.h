#pragma once

#include <string>
#include <vector>

#include "scanproc/datum/aligned.h"
#include "scanproc/rig/rig.h"
#include "scanproc/thickness/thickness_map.h"
#include "scanproc/words/message.h"

namespace canewise {

/// One reading of a micrometer or dial gauge at a marked place of a reed (reed frame).
struct TouchReading {
  double x_mm = 0.0, y_mm = 0.0;
  double reading_mm = 0.0;
};

/// How the readings were taken.
struct TouchTool {
  double anvil_diameter_mm = 3.0;  ///< Flat, round.
  double force_n = 1.0;
  double u_place_mm = 0.2;    ///< Standard uncertainty of where a reading was taken, along and across.
  double u_reading_um = 2.0;  ///< Standard uncertainty of the tool, alike for all readings.
  MoistureState state = MoistureState::unknown;  ///< Of the reed.
};

/// The same place as light sees it and as touch does. Each part of the difference by itself.
struct TouchPlace {
  TouchReading reading;
  double mean_um = 0.0;         ///< Optical thickness, local mean at the contact's middle.
  double peaks_um = 0.0;        ///< How far over that a flat anvil comes to rest: form and fibre tops.
  double indentation_um = 0.0;  ///< How far the anvil presses them in.
  double difference_um =
      0.0;  ///< Touch, with peaks and indentation allowed for, minus optical mean: what light misses.
  double thickness_mm = 0.0, slope = 0.0;
  double u_um = 0.0;  ///< Of the difference, standard: noise of the place, peaks, indentation.
};

struct TouchCheck {
  std::vector<TouchPlace> places;
  LightDepth found;
  double bias_um = 0.0, sd_um = 0.0;                     ///< Of the differences.
  double low_um = 0.0, high_um = 0.0, u_limit_um = 0.0;  ///< Limits of agreement [BlandAltman1986] and their u.
  double p_thickness = 1.0, p_slope = 1.0;               ///< Of Student's tests that the bias does not follow them.
  Messages verdict;
};
inline constexpr std::size_t kFewestTouches = 8;

/// A flat anvil, parallel to the table, comes to rest on the highest place of the smooth surface (a polynomial fit)
/// within its area, and there on the fibres' tops, two standard deviations of the texture over the local mean (the
/// highest fortieth); the scanner's own noise, as the plate shows it, is taken off the scatter first. Pressing in:
/// force / area times thickness over a radial modulus of 400 MPa, as uncertain as it is large (order of magnitude from
/// memory). Light entering the cane makes it look thinner, a positive difference. So does nothing else that stays: what
/// the map's common effects say of how this reed lay, of its table, tip, plate and scale moves all places together, is
/// known by its priors alone and stands in the fit's covariance, so that one reed's bowed table is not taken for light.
/// The bias follows thickness or slope only where a test shows it (5 %). Throws UsageError: too few readings, places
/// off the reed, readings that are no thickness there (which unit?).
[[nodiscard]] TouchCheck check_touch(const Aligned& aligned, const ThicknessMap& map,
                                     const std::vector<TouchReading>& readings, const TouchTool& tool);

}  // namespace canewise
