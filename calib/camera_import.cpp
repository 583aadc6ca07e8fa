#include "calib/camera_import.h"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <initializer_list>
#include <opencv2/core.hpp>
#include <vector>

namespace canewise {
namespace {

constexpr std::uint64_t kLargestFile = 4U << 20U;

/// The one node of the file that has one of the names.
cv::FileNode named(const ScanFile& file, const cv::FileStorage& storage, std::initializer_list<const char*> names) {
  cv::FileNode found;
  std::string first;
  for (const char* name : names) {
    const cv::FileNode node = storage[name];
    if (node.empty()) continue;
    if (!found.empty()) {
      file.fail("holds '" + first + "' and '" + name + "', two statements of one thing. Leave out the wrong one.");
    }
    found = node;
    first = name;
  }
  return found;
}

double number_of(const ScanFile& file, const cv::FileNode& node, const std::string& what) {
  if (!node.isInt() && !node.isReal()) file.fail("holds no number where " + what + " should stand.");
  const auto value = static_cast<double>(node);
  if (!std::isfinite(value)) file.fail("holds no number where " + what + " should stand.");
  return value;
}

struct Matrix {
  std::size_t rows = 0, columns = 0;
  std::vector<double> values;
};

/// A matrix as the library writes it (rows, cols, data), or a plain list. Read number by number: what a file promises
/// is never allocated before it is there.
Matrix matrix_of(const ScanFile& file, const cv::FileNode& node, const std::string& what) {
  Matrix matrix;
  const cv::FileNode data = node.isMap() ? node["data"] : node;
  constexpr std::size_t most = 64;
  if (!data.isSeq() || data.size() > most) file.fail("holds no matrix where " + what + " should stand.");
  for (const auto& value : data) matrix.values.push_back(number_of(file, value, what));
  matrix.rows = matrix.values.size();
  matrix.columns = 1;
  if (node.isMap()) {
    const auto side = [&](const char* key) {
      const double value = number_of(file, node[key], "the size of " + what);
      return value >= 0.0 && value <= static_cast<double>(most) ? static_cast<std::size_t>(value) : most + 1;
    };
    matrix.rows = side("rows");
    matrix.columns = side("cols");
  }
  if (matrix.rows * matrix.columns != matrix.values.size()) {
    file.fail(fmt::format("says that {} is {} by {}, but lists {} numbers.", what, matrix.rows, matrix.columns,
                          matrix.values.size()));
  }
  return matrix;
}

void set_matrix(const ScanFile& file, const cv::FileStorage& storage, Camera& camera) {
  const cv::FileNode node = named(file, storage, {"camera_matrix", "Camera_Matrix", "cameraMatrix", "K"});
  if (node.empty()) {
    file.fail(
        "holds no 'camera_matrix'. Import the file that OpenCV's calibration wrote, with camera_matrix, "
        "distortion_coefficients, image_width and image_height.");
  }
  const Matrix m = matrix_of(file, node, "the camera matrix");
  const bool is_list = m.columns == 1 && m.rows == 9;
  if (!is_list && (m.rows != 3 || m.columns != 3)) file.fail("its camera matrix is not 3 by 3.");
  const auto& v = m.values;
  constexpr double rounding = 1e-6;
  if (std::abs(v[1]) > rounding * std::abs(v[0])) {
    file.fail(
        fmt::format("its camera has a skew of {:g}, which no lens formula here knows. Calibrate it without.", v[1]));
  }
  if (std::abs(v[3]) > rounding || std::abs(v[6]) > rounding || std::abs(v[7]) > rounding ||
      std::abs(v[8] - 1.0) > rounding)
    file.fail("its camera matrix is not [fx 0 cx; 0 fy cy; 0 0 1].");
  constexpr double longest = 1e6;
  if (!(v[0] >= 1.0 && v[0] <= longest && v[4] >= 1.0 && v[4] <= longest))
    file.fail("its focal lengths are no numbers of pixels.");
  camera.fx = v[0], camera.cx = v[2], camera.fy = v[4], camera.cy = v[5];
}

void set_distortion(const ScanFile& file, const cv::FileStorage& storage, Camera& camera) {
  for (const char* flag : {"fisheye_model", "fisheye"}) {
    const cv::FileNode node = storage[flag];
    if (node.isInt() && static_cast<int>(node) != 0)
      file.fail("describes a fisheye lens by a formula of its own. Calibrate with the usual one (k1 k2 p1 p2 k3).");
  }
  const cv::FileNode node =
      named(file, storage, {"distortion_coefficients", "Distortion_Coefficients", "dist_coeffs", "distCoeffs", "D"});
  if (node.empty()) file.fail("holds no 'distortion_coefficients'. A lens without any is written as five noughts.");
  const Matrix m = matrix_of(file, node, "the distortion");
  constexpr std::size_t known = 5, fewest = 4;
  if (m.values.size() < fewest || (m.rows != 1 && m.columns != 1)) {
    file.fail(
        fmt::format("lists {} distortion coefficients; k1 k2 p1 p2 and, if found, k3 are needed.", m.values.size()));
  }
  for (std::size_t i = known; i < m.values.size(); ++i) {
    if (m.values[i] == 0.0) continue;
    file.fail(fmt::format(
        "uses {} distortion coefficients, and canewise knows five (k1 k2 p1 p2 k3). Calibrate again without the "
        "rational, thin prism and tilted models.",
        m.values.size()));
  }
  std::array<double, known> d{};
  std::copy_n(m.values.begin(), std::min(known, m.values.size()), d.begin());
  camera.k1 = d[0], camera.k2 = d[1], camera.p1 = d[2], camera.p2 = d[3], camera.k3 = d[4];
}

void set_size(const ScanFile& file, const cv::FileStorage& storage, const std::optional<PictureSize>& size,
              Camera& camera) {
  const auto side = [&](const cv::FileNode& node, const char* what) {
    const double value = number_of(file, node, what);
    constexpr double longest = 20000;
    if (!(value >= 2 && value <= longest && value == std::floor(value)))
      file.fail(std::string("holds no whole number of pixels where ") + what + " should stand.");
    return static_cast<std::size_t>(value);
  };
  const cv::FileNode width = named(file, storage, {"image_width", "image_Width"}),
                     height = named(file, storage, {"image_height", "image_Height"}),
                     both = named(file, storage, {"imageSize", "image_size"});
  if (!width.empty() && !height.empty()) {
    camera.width = side(width, "the picture's width"), camera.height = side(height, "the picture's height");
  } else if (both.isSeq() && both.size() == 2) {
    camera.width = side(both[0], "the picture's width"), camera.height = side(both[1], "the picture's height");
  } else if (size) {
    camera.width = size->width, camera.height = size->height;
  } else {
    file.fail("does not say how large the camera's pictures are. Say it: --width and --height, in pixels.");
  }
  if (size && (size->width != camera.width || size->height != camera.height)) {
    file.fail(fmt::format("says {} by {} pixels, and --width and --height say {} by {}. One of the two is wrong.",
                          camera.width, camera.height, size->width, size->height));
  }
}

}  // namespace

ImportedCamera import_camera(const ScanFile& file, const std::optional<PictureSize>& size) {
  if (file.size() > kLargestFile) file.fail("is far too large for a camera file, which holds a few numbers.");
  ImportedCamera imported;
  try {
    const cv::FileStorage storage(file.all(), cv::FileStorage::READ | cv::FileStorage::MEMORY);
    if (!storage.isOpened() || !storage.root().isMap())
      file.fail("is no camera file of OpenCV (YAML, XML or JSON, as its calibration samples write it).");
    set_matrix(file, storage, imported.camera);
    set_distortion(file, storage, imported.camera);
    set_size(file, storage, size, imported.camera);
    const cv::FileNode rms =
        named(file, storage, {"avg_reprojection_error", "Avg_Reprojection_Error", "reprojection_error", "rms"});
    if (rms.isInt() || rms.isReal()) imported.rms_px = number_of(file, rms, "the reprojection error");
    const cv::FileNode made = named(file, storage, {"calibration_time", "calibration_Time"});
    if (made.isString()) imported.made_at = static_cast<std::string>(made);
  } catch (const cv::Exception&) {
    file.fail(
        "is no camera file of OpenCV (YAML, XML or JSON, as its calibration samples write it), or it is damaged.");
  }
  constexpr double off = 0.5;  // The lens looks at the picture: a middle far outside belongs to other pictures.
  const Camera& c = imported.camera;
  const auto outside = [](double at, std::size_t side) {
    return at < -off * static_cast<double>(side) || at > (1.0 + off) * static_cast<double>(side);
  };
  if (outside(c.cx, c.width) || outside(c.cy, c.height)) {
    file.fail(
        fmt::format("puts the picture's middle at {:.0f}, {:.0f}, far outside {} by {} pixels. Is the size right?",
                    c.cx, c.cy, c.width, c.height));
  }
  return imported;
}

}  // namespace canewise
