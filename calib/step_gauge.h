#pragma once

#include <optional>
#include <string>
#include <vector>

#include "scanproc/clouds/cloud.h"
#include "scanproc/core/progress.h"
#include "scanproc/rig/rig.h"
#include "scanproc/words/message.h"

namespace canewise {

/// Height of a ridge (positive) or depth of a groove (negative) of one profile.
struct StepHeight {
  double height_mm = 0.0;
  double noise_mm = 0.0;  ///< Standard deviation of the points about the model.
  std::size_t points = 0;
};

/// [ISO5436-1], type A1: least squares z = a x + b + h delta over three widths about the feature, delta = +1 on the
/// outer two thirds of a width at each side (leaving out the third beside each edge), -1 on the middle third of the
/// feature; the step is -2 h. Points elsewhere are ignored. Empty where a part holds fewer than two points.
[[nodiscard]] std::optional<StepHeight> step_height_a1(const std::vector<double>& x_mm, const std::vector<double>& z_mm,
                                                       double centre_mm, double width_mm);

/// One scan of a strip of known thickness that lies on the plate.
struct GaugeScan {
  double height_um = 0.0;  ///< Mean over its profiles.
  double u_um = 0.0;       ///< Standard uncertainty of that mean from the profiles' scatter.
  double width_mm = 0.0;
  std::vector<double> profile_um;  ///< Each profile's step, along the strip.
  Eigen::Vector3d up = Eigen::Vector3d::UnitZ();
  double flatness_um = 0.0;      ///< Plate beside it: range of all but the outermost 5 % of its points' distances.
  double flatness_all_um = 0.0;  ///< Range of all, 3 mm bins' means.
};
/// Finds the strip on the plate and evaluates profiles 1 mm apart. Throws InputError that names `name`: no strip, too
/// short, too little plate beside it.
[[nodiscard]] GaugeScan measure_gauge(const Cloud& cloud, double nominal_um, const Rig& rig, const std::string& name);

/// One strip, scanned several times.
struct GaugeStep {
  double nominal_um = 0.0, u_nominal_um = 0.0;
  std::vector<GaugeScan> scans;
};

/// A ball of known diameter, reduced after [ISO10360-8] and [ISO10360-13].
struct BallCheck {
  double diameter_mm = 0.0, u_diameter_um = 0.0;
  double size_error_um = 0.0;  ///< Found diameter minus known.
  double form_95_um = 0.0;     ///< Range of radial distances that holds 95 % of the points.
  double form_25_um = 0.0;     ///< Range over 25 places, each a mean of its neighbourhood.
  std::size_t points = 0;
};
[[nodiscard]] BallCheck check_ball(const Cloud& cloud, double diameter_mm, double u_diameter_um,
                                   const std::string& name);

struct GaugeCheck {
  std::vector<GaugeStep> steps;
  std::vector<BallCheck> balls;
  double scale = 1.0, u_scale = 0.0;  ///< Measured over true height.
  double repeatability_um = 0.0;      ///< Standard deviation of single scans of one strip; NaN without repeats.
  double linearity_um = 0.0;          ///< Largest distance of a strip's mean from the line...
  std::size_t odd_strip = 0;          ///< ...and whose it is.
  double u_linearity_um = 0.0;        ///< Standard uncertainty of that distance.
  HeightScale correction;             ///< Heights times this are right.
  bool scale_is_off = false;          ///< By more than its uncertainty allows (95 %).
  bool is_linear = true;
  Messages verdict;
};

/// Scale through the origin by weighted least squares, each strip's mean with its own and the scans' uncertainty.
[[nodiscard]] GaugeCheck evaluate_gauge(std::vector<GaugeStep> steps, std::vector<BallCheck> balls);

}  // namespace canewise
