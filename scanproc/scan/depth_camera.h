#pragma once

#include <Eigen/Core>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace canewise {

/// Intrinsics of a depth camera, pixel centres at whole numbers; model of [Brown1971] as image libraries store it.
struct DepthCamera {
  std::size_t width = 0, height = 0;
  double fx = 0, fy = 0, cx = 0, cy = 0;
  double k1 = 0, k2 = 0, p1 = 0, p2 = 0, k3 = 0;
  double depth_unit_mm = 1.0;       ///< Millimetres per stored step.
  std::vector<std::string> frames;  ///< File names; empty: every image of the folder, in the order of their names.
};

/// Reads camera.toml or camera.json: width, height, fx, fy, cx, cy, optional distortion = [k1, k2, p1, p2, k3],
/// depth_unit_mm and frames. Throws InputError.
[[nodiscard]] DepthCamera read_depth_camera(const std::filesystem::path& path);

/// Image place (pixels) of a direction (x/z, y/z).
[[nodiscard]] Eigen::Vector2d project(const DepthCamera& camera, const Eigen::Vector2d& direction);

/// Direction (x/z, y/z) that the pixel (u, v) looks in: the model inverted by Newton's method. Empty where the model
/// folds over itself, as large distortions do far from the centre.
[[nodiscard]] std::optional<Eigen::Vector2d> direction_of(const DepthCamera& camera, double u, double v);

}  // namespace canewise
