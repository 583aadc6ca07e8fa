#include <fmt/format.h>

#include "calib/camera_import.h"
#include "calib/rig_consistency.h"
#include "calib/steps.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/utc.h"

namespace canewise {

StepOutcome import_step(const ImportInputs& inputs, Rig rig) {
  const ScanFile file(inputs.file);
  std::optional<PictureSize> size;
  if (inputs.width > 0 && inputs.height > 0) size = PictureSize{inputs.width, inputs.height};
  const ImportedCamera imported = import_camera(file, size);
  const Camera& c = imported.camera;
  StepOutcome outcome;
  outcome.sentence =
      fmt::format("The camera of {} is in the rig now: {} by {} pixels, focal lengths {:.1f} and {:.1f} px.",
                  inputs.file.filename().string(), c.width, c.height, c.fx, c.fy);
  outcome.details.push_back(
      fmt::format("middle {:.1f}, {:.1f} px; distortion k1 {:.4f}, k2 {:.4f}, p1 {:.5f}, p2 {:.5f}, k3 {:.4f}", c.cx,
                  c.cy, c.k1, c.k2, c.p1, c.p2, c.k3));
  outcome.details.push_back(fmt::format(
      "Such a file says nothing of how sure it is. Assumed, one standard uncertainty each: focal lengths {:.2f} %, "
      "middle "
      "{:g} px (--u-focal-rel, --u-centre-px). 'canewise calibrate camera' finds it out from the photographs.",
      100.0 * inputs.stated.u_focal_rel, inputs.stated.u_centre_px));
  if (imported.rms_px)
    outcome.details.push_back(fmt::format("its own calibration missed its corners by {:.2f} px", *imported.rms_px));
  if (imported.made_at) outcome.details.push_back("calibrated, it says: " + *imported.made_at);

  rig.camera = CalibratedCamera{c, covariance_of(c, inputs.stated), imported.rms_px.value_or(0.0), 0.0};
  rig.obtained["camera"] = "imported from " + inputs.file.filename().string() + ", " + now_utc().substr(0, 10);
  // A plane or a stage that a step found hangs on the camera that it was found with; what a person wrote does not.
  const bool found_with_another =
      (rig.laser_plane && !rig.laser_plane->by_camera.isZero()) || (rig.stage && !rig.stage->by_camera.isZero());
  if (found_with_another) {
    outcome.details.emplace_back("Plane of light and stage were found with the camera as it was: calibrate both anew.");
    forget_geometry(rig);
  }
  if (rig.is_laser_line()) {
    add_geometry(rig, "the uncertainties in the rig file");
    if (!(rig.scale_parts.at(kGeometryPart) < 1.0)) {
      file.fail(
          "does not fit the plane of light and the stage in the rig file: this camera would not see a reed there.");
    }
    outcome.details.push_back(fmt::format(
        "with the plane of light and the stage in the rig file, lengths and heights are known to {:.2f} % (95 %)",
        100.0 * kCoverage95 * rig.scale_parts.at(kGeometryPart)));
  }
  outcome.next =
      rig.is_laser_line()
          ? "next: scan the empty plate three times, lifted and wiped between, and run 'canewise calibrate plate SCAN "
            "SCAN SCAN'."
          : "next: 'canewise calibrate plane', then 'stage'; or write both into the rig file by hand (docs/rig.md says "
            "how).";
  outcome.rig = std::move(rig);
  return outcome;
}

}  // namespace canewise
