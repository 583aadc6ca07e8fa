#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "scanproc/pipeline/check_result.h"
#include "scanproc/pipeline/fields_json.h"
#include "scanproc/pipeline/result_parts_json.h"
#include "scanproc/words/message_json.h"

namespace canewise {

using nlohmann::json;

// What came later takes its default in results of before.
void to_json(json& object, const LocalNoise& noise) {
  object = {{"bin_sd_mm", noise.bin_sd_mm},
            {"bins_per_cell", noise.bins_per_cell},
            {"covariance_sum_mm2", noise.covariance_sum_mm2},
            {"filled_share", noise.filled_share},
            {"far_sum_mm2", noise.far_sum_mm2},
            {"far_reach_mm", noise.far_reach_mm},
            {"smooth_mm", noise.smooth_mm},
            {"smooth_length_mm", noise.smooth_length_mm}};
}
void from_json(const json& object, LocalNoise& noise) {
  object.at("bin_sd_mm").get_to(noise.bin_sd_mm);
  object.at("bins_per_cell").get_to(noise.bins_per_cell);
  object.at("covariance_sum_mm2").get_to(noise.covariance_sum_mm2);
  object.at("filled_share").get_to(noise.filled_share);
  noise.far_sum_mm2 = object.value("far_sum_mm2", 0.0);
  noise.far_reach_mm = object.value("far_reach_mm", 0.0);
  noise.smooth_mm = object.value("smooth_mm", 0.0);
  noise.smooth_length_mm = object.value("smooth_length_mm", 0.0);
}

// The macros name each type's members once for both directions; a member's name is its key, unit included.
// NOLINTBEGIN(cppcoreguidelines-macro-usage)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(SideLine, offset_mm, slope, u_offset_mm, scatter_mm)

// NOLINTEND(cppcoreguidelines-macro-usage)

json json_from(const Outline& o) {
  return {{"left", o.left},
          {"right", o.right},
          {"length_mm", o.length_mm},
          {"u_length_mm", o.u_length_mm},
          {"tip_arc_radius_mm", o.tip_arc_radius_mm},
          {"u_tip_arc_radius_mm", o.u_tip_arc_radius_mm},
          {"corner_drop_mm", o.corner_drop_mm},
          {"u_corner_drop_mm", o.u_corner_drop_mm},
          {"tip_edge_mm", o.tip_edge_mm},
          {"tip_edge_first_y_mm", o.tip_edge_first_y_mm},
          {"tip_edge_step_mm", o.tip_edge_step_mm},
          {"chipped", o.chipped},
          {"chip_unclear", o.chip_unclear},
          {"shadowed_left", o.shadowed_left},
          {"shadowed_right", o.shadowed_right}};
}

Outline outline_from(const json& object) {
  Outline o;
  object.at("left").get_to(o.left);
  object.at("right").get_to(o.right);
  object.at("length_mm").get_to(o.length_mm);
  object.at("u_length_mm").get_to(o.u_length_mm);
  object.at("tip_arc_radius_mm").get_to(o.tip_arc_radius_mm);
  object.at("u_tip_arc_radius_mm").get_to(o.u_tip_arc_radius_mm);
  object.at("corner_drop_mm").get_to(o.corner_drop_mm);
  object.at("u_corner_drop_mm").get_to(o.u_corner_drop_mm);
  object.at("tip_edge_mm").get_to(o.tip_edge_mm);
  object.at("tip_edge_first_y_mm").get_to(o.tip_edge_first_y_mm);
  object.at("tip_edge_step_mm").get_to(o.tip_edge_step_mm);
  object.at("chipped").get_to(o.chipped);
  o.chip_unclear = object.value("chip_unclear", false);  // Results of before have none.
  object.at("shadowed_left").get_to(o.shadowed_left);
  object.at("shadowed_right").get_to(o.shadowed_right);
  return o;
}

json json_from(const FrameUncertainty& frame) {
  return {{"x_mm", frame.x_mm},           {"y_mm", frame.y_mm},
          {"yaw_rad", frame.yaw_rad},     {"pivot_x_mm", frame.pivot_x_mm},
          {"scale_rel", frame.scale_rel}, {"plate_plane", rows_from(Eigen::MatrixXd(frame.plate_plane))}};
}

FrameUncertainty frame_from(const json& object) {
  FrameUncertainty frame;
  object.at("x_mm").get_to(frame.x_mm);
  object.at("y_mm").get_to(frame.y_mm);
  object.at("yaw_rad").get_to(frame.yaw_rad);
  object.at("pivot_x_mm").get_to(frame.pivot_x_mm);
  frame.scale_rel = object.value("scale_rel", 0.0);  // Results of before have none.
  frame.plate_plane = matrix_from(object.at("plate_plane"), 3);
  return frame;
}

json json_from(const Registration& registration) {
  json sizes = json::array();
  for (Eigen::Index k = 0; k < 6; ++k) sizes.push_back(std::sqrt(registration.covariance(k, k)));
  return {{"method", registration.method},
          {"one_pose", registration.one_pose},
          {"residual_mm", registration.residual_mm},
          {"u_shift_xyz_mm_and_turn_xyz_rad", std::move(sizes)},
          {"covariance", rows_from(Eigen::MatrixXd(registration.covariance))}};
}

Registration registration_from(const json& object) {
  Registration registration;
  object.at("method").get_to(registration.method);
  registration.one_pose = object.value("one_pose", false);
  object.at("residual_mm").get_to(registration.residual_mm);
  if (object.contains("covariance")) {
    registration.covariance = matrix_from(object.at("covariance"), 6);
    return registration;
  }
  // Results of before kept the sizes alone.
  const json& u = object.at("u_shift_xyz_mm_and_turn_xyz_rad");
  for (Eigen::Index k = 0; k < 6; ++k) {
    const auto value = u.at(static_cast<std::size_t>(k)).get<double>();
    registration.covariance(k, k) = value * value;
  }
  return registration;
}

json json_from(const ThicknessMap& map) {
  json object{{"cell_mm", map.grid.cell_mm},          {"rows", map.grid.rows},
              {"columns", map.grid.columns},          {"thickness_mm", rows_from(map.thickness_mm)},
              {"u_mm", rows_from(map.u_mm)},          {"noise", map.noise},
              {"point_noise_mm", map.point_noise_mm}, {"outlier_share", map.outlier_share}};
  if (map.table_mm.size() > 0) object["table_mm"] = rows_from(map.table_mm);
  return object;
}

ThicknessMap map_from(const json& object) {
  ThicknessMap map;
  map.grid.cell_mm = object.at("cell_mm").get<double>();
  map.grid.rows = object.at("rows").get<Eigen::Index>();
  map.grid.columns = object.at("columns").get<Eigen::Index>();
  map.thickness_mm = small_field_from(object.at("thickness_mm"));
  map.u_mm = small_field_from(object.at("u_mm"));
  object.at("noise").get_to(map.noise);
  map.point_noise_mm = object.at("point_noise_mm").get<double>();
  map.outlier_share = object.at("outlier_share").get<double>();
  const auto has_shape = [&](const Field& field) {
    return field.rows() == map.grid.rows && field.cols() == map.grid.columns;
  };
  if (object.contains("table_mm")) {
    map.table_mm = small_field_from(object.at("table_mm"));
    if (!has_shape(map.table_mm)) throw Impossible{Message("result.table_shape")};
  }
  if (!has_shape(map.thickness_mm) || !has_shape(map.u_mm)) throw Impossible{Message("result.map_shape")};
  return map;
}

}  // namespace canewise
