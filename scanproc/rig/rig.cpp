#include "scanproc/rig/rig.h"

#include <array>
#include <cmath>

#include "scanproc/bytes/settings.h"
#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/rig/geometry_uncertainty.h"
#include "scanproc/rig/rig_laser.h"
#include "scanproc/rig/settings_matrix.h"

namespace canewise {
namespace {

PlateForm plate_form_of(Settings settings) {
  PlateForm form;
  form.origin_mm = vector_of(settings, "origin_mm", false);
  form.along = vector_of(settings, "along", true);
  form.normal = vector_of(settings, "normal", true);
  settings.number_into(form.step_mm, "step_mm", 0.1, 100.0);
  settings.number_into(form.u_um, "u_um", 0.0, kLargestSetting);
  double columns = 0;
  settings.number_into(columns, "columns", 1, 2000);
  constexpr std::size_t most = 100000;
  // Where the plate was not seen the file says so by a number that no plate has.
  const auto heights = settings.numbers_up_to("heights_um", most, -kLargestSetting, kLargestSetting);
  const auto width = static_cast<std::size_t>(columns);
  if (width == 0 || heights.empty() || heights.size() % width != 0) settings.fail("heights_um", {"rig.broken_rows"});
  form.heights_um.resize(static_cast<Eigen::Index>(heights.size() / width), static_cast<Eigen::Index>(width));
  for (std::size_t i = 0; i < heights.size(); ++i) {
    form.heights_um(static_cast<Eigen::Index>(i / width), static_cast<Eigen::Index>(i % width)) =
        heights[i] <= -kLargestSetting ? std::nan("") : heights[i];
  }
  settings.refuse_unknown();
  return form;
}

DepthCorrection depth_of(Settings settings) {
  DepthCorrection depth;
  const auto whole = [&](const char* key, std::size_t& value, double high) {
    double number = 0;
    settings.number_into(number, key, 1, high);
    if (number < 1) settings.fail(key, {"rig.missing"});
    value = static_cast<std::size_t>(number);
  };
  whole("width", depth.width, 20000);
  whole("height", depth.height, 20000);
  whole("columns", depth.columns, 1000);
  whole("rows", depth.rows, 1000);
  depth.depths_mm = settings.numbers_up_to("depths_mm", 100, 0.0, 1e6);
  depth.errors_um = settings.numbers_up_to("errors_um", 200000, -1e6, 1e6);
  for (std::size_t i = 1; i < depth.depths_mm.size(); ++i) {
    if (!(depth.depths_mm[i] > depth.depths_mm[i - 1])) settings.fail("depths_mm", {"rig.must_rise"});
  }
  if (depth.depths_mm.empty() || depth.errors_um.size() != depth.depths_mm.size() * depth.rows * depth.columns)
    settings.fail("errors_um", {"rig.depth_errors"});
  settings.number_into(depth.u_um, "u_um", 0.0, kLargestSetting);
  settings.number_into(depth.noise_um, "noise_um", 0.0, kLargestSetting);
  settings.number_into(depth.noise_per_depth_um, "noise_per_depth_um", -kLargestSetting, kLargestSetting);
  settings.number_into(depth.frame_correlation, "frame_correlation", -1.0, 1.0);
  double frames = 0;
  settings.number_into(frames, "advised_frames", 0, 1e6);
  depth.advised_frames = static_cast<std::size_t>(frames);
  settings.refuse_unknown();
  return depth;
}

HeightScale height_scale_of(Settings settings) {
  HeightScale scale;
  settings.number_into(scale.factor, "factor", 0.5, 2.0);
  settings.number_into(scale.u_rel, "u_rel", 0.0, 1.0);
  if (settings.has("up")) scale.up = vector_of(settings, "up", true);
  settings.refuse_unknown();
  return scale;
}

LightDepth light_of(Settings settings) {
  LightDepth light;
  settings.number_into(light.offset_um, "offset_um", -1000.0, 1000.0);
  settings.number_into(light.per_mm_um, "per_mm_um", -1000.0, 1000.0);
  settings.number_into(light.per_slope_um, "per_slope_um", -10000.0, 10000.0);
  settings.number_into(light.middle_mm, "middle_mm", 0.0, 10.0);
  covariance_into(settings, "covariance_um2", light.covariance_um2);
  settings.number_into(light.scatter_um, "scatter_um", 0.0, kLargestSetting);
  if (const auto name = settings.text("state")) {
    const auto state = moisture_from(*name);
    if (!state) settings.fail("state", {"touch.state"});
    light.state = *state;
  }
  settings.refuse_unknown();
  return light;
}

SmallestDifference smallest_of(Settings settings) {
  SmallestDifference smallest;
  settings.number_into(smallest.tip_um, "tip_um", 0.0, kLargestSetting);
  settings.number_into(smallest.rails_um, "rails_um", 0.0, kLargestSetting);
  settings.number_into(smallest.tip_outside_um, "tip_outside_um", 0.0, kLargestSetting);
  settings.number_into(smallest.rails_outside_um, "rails_outside_um", 0.0, kLargestSetting);
  settings.refuse_unknown();
  return smallest;
}

Pads pads_of(Settings settings) {
  Pads pads;
  const auto height = settings.number("above_table_mm", -100.0, 100.0);
  if (!height) settings.fail("above_table_mm", {"rig.no_pads_height"});
  pads.above_table_mm = *height;
  settings.number_into(pads.u_above_table_um, "u_above_table_um", 0.0, kLargestSetting);
  settings.refuse_unknown();
  return pads;
}

Carrier carrier_of(Settings settings) {
  Carrier carrier;
  if (const auto diameter = settings.number("sphere_diameter_mm", 1.0, 60.0)) carrier.sphere_diameter_mm = *diameter;
  const auto edges = settings.numbers("block_edges_mm", 3, 2.0, 100.0);
  if (!edges.empty()) carrier.block_edges_mm = std::array<double, 3>{edges[0], edges[1], edges[2]};
  settings.number_into(carrier.u_size_um, "u_size_um", 0.0, kLargestSetting);
  settings.refuse_unknown();
  return carrier;
}

/// What the file states beside the defaults, and of a laser rig what its own uncertainties leave unsure.
void complete(Rig& rig, const std::string& file) {
  for (const auto& key : kPriorKeys) {
    if (rig.priors.*(key.member) != Priors{}.*(key.member))
      rig.obtained.try_emplace(key.name, "stated in the rig file");
  }
  if (!rig.is_laser_line() || rig.obtained.contains("scale_rel") || rig.scale_parts.contains(kGeometryPart)) return;
  const double across = rig.laser_plane->q.normalized().dot(rig.stage->motion.normalized());
  constexpr double along_the_sheet = 0.05;
  if (std::abs(across) < along_the_sheet) {
    throw InputError({"rig.stage_along_light", {{"file", text(file)}}});
  }
  add_geometry(rig, "the uncertainties in the rig file");
  if (!(rig.priors.scale_rel < 1.0)) {
    throw InputError({"rig.parts_do_not_fit", {{"file", text(file)}}});
  }
  if (rig.obtained.contains("plate_form_um")) return;
  rig.priors.plate_form_um = std::hypot(Priors{}.plate_form_um, propagate_geometry(rig).form_um);
  rig.obtained["plate_form_um"] = "assumed plate, and the uncertainties in the rig file";
}

}  // namespace

void combine_scale(Rig& rig) {
  if (rig.scale_parts.empty()) return;
  double sum = 0.0;
  std::string how;
  for (const auto& [name, value] : rig.scale_parts) {
    sum += square(value);
    how += (how.empty() ? "" : ", ") + name;
  }
  rig.priors.scale_rel = std::sqrt(sum);
  rig.obtained["scale_rel"] = "sum of " + how;
}

void add_geometry(Rig& rig, const std::string& how) {
  const GeometryUncertainty geometry = propagate_geometry(rig);
  rig.scale_parts[kGeometryPart] = std::max({geometry.height_rel, geometry.length_rel, geometry.width_rel});
  rig.scale_parts.try_emplace("temperature", 1e-4);
  rig.obtained[std::string("scale of ") + kGeometryPart] = how;
  combine_scale(rig);
}

std::string identity_of(const Rig& rig) {
  return rig.calibrated_at.empty() ? std::string() : rig.name + ", " + rig.calibrated_at;
}

Rig read_rig(const std::filesystem::path& path) {
  Settings settings = Settings::read(path);
  Rig rig;
  if (const auto name = settings.text("name")) rig.name = *name;
  if (const auto mirrored = settings.flag("mirrored")) rig.mirrored = *mirrored;
  if (const auto found = settings.text("handedness_found")) rig.handedness_found = *found;
  if (const auto at = settings.text("calibrated_at")) rig.calibrated_at = *at;
  Settings priors = settings.table("priors");
  for (const auto& key : kPriorKeys) priors.number_into(rig.priors.*(key.member), key.name, 0.0, kLargestSetting);
  priors.refuse_unknown();
  rig.obtained = settings.table("obtained").all_texts();
  rig.scale_parts = settings.table("scale_parts").all_numbers(0.0, 1.0);
  if (settings.has("pads")) rig.pads = pads_of(settings.table("pads"));
  if (settings.has("carrier")) rig.carrier = carrier_of(settings.table("carrier"));
  if (settings.has("camera")) rig.camera = camera_table(settings.table("camera"));
  if (settings.has("laser_plane")) rig.laser_plane = laser_plane_table(settings.table("laser_plane"));
  if (settings.has("stage")) rig.stage = stage_table(settings.table("stage"));
  if (settings.has("plate_form")) rig.plate_form = plate_form_of(settings.table("plate_form"));
  if (settings.has("depth")) rig.depth = depth_of(settings.table("depth"));
  if (settings.has("height_scale")) rig.height_scale = height_scale_of(settings.table("height_scale"));
  if (settings.has("light")) rig.light = light_of(settings.table("light"));
  if (settings.has("smallest")) rig.smallest = smallest_of(settings.table("smallest"));
  for (Settings& check : settings.tables("check")) {
    CheckRecord record;
    if (const auto at = check.text("at")) record.at = *at;
    check.number_into(record.heart_um, "heart_um", -kLargestSetting, kLargestSetting);
    check.number_into(record.rails_um, "rails_um", -kLargestSetting, kLargestSetting);
    check.refuse_unknown();
    rig.checks.push_back(record);
  }
  settings.refuse_unknown();
  complete(rig, path.string());
  return rig;
}

}  // namespace canewise
