#include "calib/camera_import.h"
#include "calib/rig_consistency.h"
#include "calib/step_scans.h"
#include "calib/steps.h"
#include "scanproc/core/budget.h"
#include "scanproc/words/decimals.h"

namespace canewise {

StepOutcome import_step(const ImportInputs& inputs, Rig rig) {
  const ScanFile file(inputs.file);
  std::optional<PictureSize> size;
  if (inputs.width > 0 && inputs.height > 0) size = PictureSize{inputs.width, inputs.height};
  const ImportedCamera imported = import_camera(file, size);
  const Camera& c = imported.camera;
  StepOutcome outcome;
  outcome.sentence.push_back({"calib.imported",
                              {{"file", text(inputs.file.filename().string())},
                               {"width", number(static_cast<double>(c.width))},
                               {"height", number(static_cast<double>(c.height))},
                               {"fx", number(c.fx, 1)},
                               {"fy", number(c.fy, 1)}}});
  outcome.details.push_back({"calib.imported_lens",
                             {{"cx", number(c.cx, 1)},
                              {"cy", number(c.cy, 1)},
                              {"k1", number(c.k1, 4)},
                              {"k2", number(c.k2, 4)},
                              {"p1", number(c.p1, 5)},
                              {"p2", number(c.p2, 5)},
                              {"k3", number(c.k3, 4)}}});
  outcome.details.push_back({"calib.imported_assumed",
                             {{"focal", number(100.0 * inputs.stated.u_focal_rel, 2)},
                              {"centre", number(inputs.stated.u_centre_px, decimals_of(inputs.stated.u_centre_px))}}});
  if (imported.rms_px) outcome.details.push_back({"calib.imported_rms", {{"off", number(*imported.rms_px, 2)}}});
  if (imported.made_at) outcome.details.push_back({"calib.imported_date", {{"date", text(*imported.made_at)}}});

  rig.camera = CalibratedCamera{c, covariance_of(c, inputs.stated), imported.rms_px.value_or(0.0), 0.0};
  rig.obtained["camera"] = "imported from " + inputs.file.filename().string() + ", " + today();
  // A plane or a stage that a step found hangs on the camera that it was found with; what a person wrote does not.
  const bool found_with_another =
      (rig.laser_plane && !rig.laser_plane->by_camera.isZero()) || (rig.stage && !rig.stage->by_camera.isZero());
  if (found_with_another) {
    outcome.details.push_back({"calib.import_changed"});
    forget_geometry(rig);
  }
  if (rig.is_laser_line()) {
    add_geometry(rig, "the uncertainties in the rig file");
    if (!(rig.scale_parts.at(kGeometryPart) < 1.0)) file.fail({"calib.import_no_fit"});
    outcome.details.push_back(
        {"calib.import_scale", {{"u95", number(100.0 * kCoverage95 * rig.scale_parts.at(kGeometryPart), 2)}}});
  }
  outcome.next.push_back(rig.is_laser_line() ? Message{"calib.next_plate"} : Message{"calib.next_plane_and_stage"});
  outcome.rig = std::move(rig);
  return outcome;
}

}  // namespace canewise
