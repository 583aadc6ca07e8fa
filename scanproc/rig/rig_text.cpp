#include <toml++/toml.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "scanproc/bytes/dated_copy.h"
#include "scanproc/rig/rig.h"

namespace canewise {
namespace {

template <typename Derived>
toml::array list_of(const Eigen::MatrixBase<Derived>& matrix) {
  toml::array list;
  for (Eigen::Index r = 0; r < matrix.rows(); ++r) {
    for (Eigen::Index c = 0; c < matrix.cols(); ++c) list.push_back(static_cast<double>(matrix(r, c)));
  }
  return list;
}

toml::array list_of(const std::vector<double>& values) {
  toml::array list;
  for (const double value : values) list.push_back(value);
  return list;
}

std::int64_t whole(std::size_t value) { return static_cast<std::int64_t>(value); }

toml::table table_of(const CalibratedCamera& c) {
  const auto p = c.camera.parameters();
  return toml::table{{"width", whole(c.camera.width)},
                     {"height", whole(c.camera.height)},
                     {"fx", p(0)},
                     {"fy", p(1)},
                     {"cx", p(2)},
                     {"cy", p(3)},
                     {"distortion", list_of(p.tail<5>())},
                     {"covariance", list_of(c.covariance)},
                     {"rms_px", c.rms_px},
                     {"cross_validated_px", c.cross_validated_px}};
}

toml::table table_of(const LaserPlane& p) {
  return toml::table{{"q_per_mm", list_of(p.q)},
                     {"covariance", list_of(p.covariance)},
                     {"by_camera", list_of(p.by_camera)},
                     {"middle_mm", list_of(p.middle_mm)},
                     {"crosses_columns", p.crosses_columns},
                     {"line_sigma_px", p.line_sigma_px},
                     {"centre_noise_px", p.centre_noise_px},
                     {"residual_um", p.residual_um}};
}

toml::table table_of(const Stage& s) {
  return toml::table{{"motion", list_of(s.motion)},          {"covariance", list_of(s.covariance)},
                     {"by_camera", list_of(s.by_camera)},    {"travel_per_frame_mm", s.travel_per_frame_mm},
                     {"straightness_um", s.straightness_um}, {"out_of_square_deg", s.out_of_square_deg}};
}

toml::table table_of(const PlateForm& f) {
  toml::array heights;
  constexpr double not_seen = -1e5;
  for (Eigen::Index r = 0; r < f.heights_um.rows(); ++r) {
    for (Eigen::Index c = 0; c < f.heights_um.cols(); ++c)
      heights.push_back(std::isnan(f.heights_um(r, c)) ? not_seen : f.heights_um(r, c));
  }
  return toml::table{{"origin_mm", list_of(f.origin_mm)},
                     {"along", list_of(f.along)},
                     {"normal", list_of(f.normal)},
                     {"step_mm", f.step_mm},
                     {"columns", static_cast<std::int64_t>(f.heights_um.cols())},
                     {"heights_um", heights},
                     {"u_um", f.u_um}};
}

toml::table table_of(const DepthCorrection& d) {
  return toml::table{{"width", whole(d.width)},
                     {"height", whole(d.height)},
                     {"columns", whole(d.columns)},
                     {"rows", whole(d.rows)},
                     {"depths_mm", list_of(d.depths_mm)},
                     {"errors_um", list_of(d.errors_um)},
                     {"u_um", d.u_um},
                     {"noise_um", d.noise_um},
                     {"noise_per_depth_um", d.noise_per_depth_um},
                     {"frame_correlation", d.frame_correlation},
                     {"advised_frames", whole(d.advised_frames)}};
}

toml::table table_of(const LightDepth& l) {
  return toml::table{{"offset_um", l.offset_um},
                     {"per_mm_um", l.per_mm_um},
                     {"per_slope_um", l.per_slope_um},
                     {"middle_mm", l.middle_mm},
                     {"covariance_um2", list_of(l.covariance_um2)},
                     {"scatter_um", l.scatter_um},
                     {"state", std::string(name_of(l.state))}};
}

toml::table table_of(const SmallestDifference& s) {
  toml::table table;
  const auto add = [&](const char* key, double value) {
    if (!std::isnan(value)) table.insert(key, value);
  };
  add("tip_um", s.tip_um);
  add("rails_um", s.rails_um);
  add("tip_outside_um", s.tip_outside_um);
  add("rails_outside_um", s.rails_outside_um);
  return table;
}

toml::table table_of(const Carrier& c) {
  toml::table table{{"u_size_um", c.u_size_um}};
  if (c.sphere_diameter_mm) table.insert("sphere_diameter_mm", *c.sphere_diameter_mm);
  if (c.block_edges_mm)
    table.insert("block_edges_mm", toml::array{(*c.block_edges_mm)[0], (*c.block_edges_mm)[1], (*c.block_edges_mm)[2]});
  return table;
}

}  // namespace

std::string rig_text(const Rig& rig) {
  toml::table file{{"name", rig.name}, {"mirrored", rig.mirrored}};
  if (!rig.handedness_found.empty()) file.insert("handedness_found", rig.handedness_found);
  if (!rig.calibrated_at.empty()) file.insert("calibrated_at", rig.calibrated_at);
  toml::table priors;
  for (const auto& key : kPriorKeys) priors.insert(key.name, rig.priors.*(key.member));
  file.insert("priors", std::move(priors));
  toml::table obtained, parts;
  for (const auto& [name, how] : rig.obtained) obtained.insert(name, how);
  for (const auto& [name, value] : rig.scale_parts) parts.insert(name, value);
  if (!obtained.empty()) file.insert("obtained", std::move(obtained));
  if (!parts.empty()) file.insert("scale_parts", std::move(parts));
  if (rig.pads) {
    file.insert("pads", toml::table{{"above_table_mm", rig.pads->above_table_mm},
                                    {"u_above_table_um", rig.pads->u_above_table_um}});
  }
  file.insert("carrier", table_of(rig.carrier));
  if (rig.camera) file.insert("camera", table_of(*rig.camera));
  if (rig.laser_plane) file.insert("laser_plane", table_of(*rig.laser_plane));
  if (rig.stage) file.insert("stage", table_of(*rig.stage));
  if (rig.plate_form) file.insert("plate_form", table_of(*rig.plate_form));
  if (rig.depth) file.insert("depth", table_of(*rig.depth));
  if (rig.height_scale) {
    file.insert("height_scale", toml::table{{"factor", rig.height_scale->factor},
                                            {"u_rel", rig.height_scale->u_rel},
                                            {"up", list_of(rig.height_scale->up)}});
  }
  if (rig.light) file.insert("light", table_of(*rig.light));
  if (rig.smallest) file.insert("smallest", table_of(*rig.smallest));
  if (!rig.checks.empty()) {
    toml::array checks;
    for (const auto& check : rig.checks)
      checks.push_back(toml::table{{"at", check.at}, {"heart_um", check.heart_um}, {"rails_um", check.rails_um}});
    file.insert("check", std::move(checks));
  }
  std::ostringstream out;
  out << "# What is known of this scanner. Written by 'canewise calibrate'; values that no step found are "
         "assumptions.\n"
      << file << "\n";
  return out.str();
}

std::string save_rig(const std::filesystem::path& path, const Rig& rig) {
  return write_keeping_old(path, rig_text(rig));
}

}  // namespace canewise
