#pragma once

#include <optional>
#include <string>

#include "scanproc/bytes/scan_file.h"
#include "scanproc/rig/camera.h"

namespace canewise {

/// What a camera file of OpenCV says. It gives no uncertainty.
struct ImportedCamera {
  Camera camera;
  std::optional<double> rms_px;        ///< Reprojection error of its calibration, if it says so.
  std::optional<std::string> made_at;  ///< As the file words it.
};

/// Size of the camera's pictures, for a file that does not say it.
struct PictureSize {
  std::size_t width = 0, height = 0;
};

/// Reads a camera file as OpenCV's cv::FileStorage writes it (YAML, XML or JSON), under any of the names that its
/// samples and tutorials use: camera_matrix, Camera_Matrix, cameraMatrix or K; distortion_coefficients,
/// Distortion_Coefficients, distCoeffs or D; image_width and image_height, image_Width and image_Height, or imageSize.
/// Both number pixel centres from 0, so that the values stay as they are. Throws InputError: no such file, a name that
/// is missing or there twice, a skewed matrix, a fisheye's model, more coefficients than k1 k2 p1 p2 k3 unless nought,
/// a size that differs from `size`.
[[nodiscard]] ImportedCamera import_camera(const ScanFile& file, const std::optional<PictureSize>& size);

}  // namespace canewise
