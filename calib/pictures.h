#pragma once

#include <string>
#include <vector>

#include "calib/board.h"
#include "calib/camera_calibration.h"
#include "calib/check_chart.h"
#include "calib/depth_calibration.h"
#include "calib/gauge_study.h"
#include "calib/handedness.h"
#include "calib/laser_plane_calibration.h"
#include "calib/plate_calibration.h"
#include "calib/reversal.h"
#include "calib/rig_budget.h"
#include "calib/stage_calibration.h"
#include "calib/step_gauge.h"
#include "calib/touch.h"
#include "scanproc/words/speech.h"

namespace canewise {

// PNG pictures to judge a calibration step by: what is right, what is wrong and where.

/// Where the boards were, how far corners miss (enlarged), and each photograph's error.
[[nodiscard]] std::string camera_png(const CameraCalibration& calibration, const Speech& speech);
/// Distance of the line's points from the plane over the picture, and each pose's mean.
[[nodiscard]] std::string plane_png(const LaserPlaneCalibration& calibration, const Camera& camera,
                                    const Speech& speech);
/// Off the straight way along the stage.
[[nodiscard]] std::string stage_png(const StageCalibration& calibration, const Speech& speech);
/// Depth errors of the picture's parts at the first and last distance, noise against depth.
[[nodiscard]] std::string depth_png(const DepthCalibration& calibration, const Speech& speech);
/// Form of the plate.
[[nodiscard]] std::string plate_png(const PlateCalibration& calibration, const Speech& speech);
/// Measured minus true height of each strip, and the profiles.
[[nodiscard]] std::string step_png(const GaugeCheck& check, const Speech& speech);
/// Reed's and rig's part of each zone's difference, and the seatings.
[[nodiscard]] std::string reversal_png(const Reversal& reversal, const Speech& speech);
/// Control charts of the piece that does not change.
[[nodiscard]] std::string check_png(const CheckChart& heart, const CheckChart& rails, const Messages& verdict,
                                    const Speech& speech);
/// Every reed's values by person, and what the scatter is made of.
struct StudyPicture {
  Message quantity;
  Messages verdict;
  std::vector<std::string> reeds, people;
  std::vector<double> values_um;  ///< Reeds x people x trials.
  GaugeStudy study;
};
[[nodiscard]] std::string study_png(const StudyPicture& picture, const Speech& speech);
/// One thing measured many times.
struct TypeOnePicture {
  Messages verdict;
  std::vector<double> values_um;
  TypeOne study;
  double reference_um = 0.0;  ///< NaN if not known.
  double tolerance_width_um = 0.0;
};
[[nodiscard]] std::string type_one_png(const TypeOnePicture& picture, const Speech& speech);
/// Difference against mean [BlandAltman1986], and against the slope.
[[nodiscard]] std::string touch_png(const TouchCheck& check, const Speech& speech);
/// Reed and mark from above, tip up.
[[nodiscard]] std::string hand_png(const Handedness& hand, const Speech& speech);
/// Shares of the budget.
[[nodiscard]] std::string budget_png(const RigBudget& budget, const std::string& rig_name, const Speech& speech);

}  // namespace canewise
