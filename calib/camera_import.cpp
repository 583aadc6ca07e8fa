#include "calib/camera_import.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <initializer_list>
#include <opencv2/core.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "scanproc/bytes/number_text.h"
#include "scanproc/words/decimals.h"

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
    if (!found.empty()) file.fail({"camera_file.two_names", {{"first", text(first)}, {"second", text(name)}}});
    found = node;
    first = name;
  }
  return found;
}

/// `what` should stand there: a word of the messages.
double number_of(const ScanFile& file, const cv::FileNode& node, const std::string& what) {
  const Message no_number{"camera_file.no_number", {{"what", word(what)}}};
  if (!node.isInt() && !node.isReal()) file.fail(no_number);
  const auto value = static_cast<double>(node);
  if (!std::isfinite(value)) file.fail(no_number);
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
  if (!data.isSeq() || data.size() > most) file.fail({"camera_file.no_matrix", {{"what", word(what)}}});
  for (const auto& value : data) matrix.values.push_back(number_of(file, value, what));
  matrix.rows = matrix.values.size();
  matrix.columns = 1;
  if (node.isMap()) {
    const auto side = [&](const char* key) {
      const double value = number_of(file, node[key], what + " size");
      return value >= 0.0 && value <= static_cast<double>(most) ? static_cast<std::size_t>(value) : most + 1;
    };
    matrix.rows = side("rows");
    matrix.columns = side("cols");
  }
  if (matrix.rows * matrix.columns != matrix.values.size()) {
    file.fail({"camera_file.matrix_count",
               {{"what", word(what)},
                {"rows", count(matrix.rows)},
                {"columns", count(matrix.columns)},
                {"numbers", count(matrix.values.size())}}});
  }
  return matrix;
}

/// A camera of the file's focal lengths and middle, and nothing else yet.
Camera with_matrix(const ScanFile& file, const cv::FileStorage& storage) {
  const cv::FileNode node = named(file, storage, {"camera_matrix", "Camera_Matrix", "cameraMatrix", "K"});
  if (node.empty()) file.fail({"camera_file.no_camera_matrix"});
  const Matrix m = matrix_of(file, node, "camera matrix");
  const bool is_list = m.columns == 1 && m.rows == 9;
  if (!is_list && (m.rows != 3 || m.columns != 3)) file.fail({"camera_file.not_3_by_3"});
  const auto& v = m.values;
  constexpr double rounding = 1e-6;
  if (std::abs(v[1]) > rounding * std::abs(v[0]))
    file.fail({"camera_file.skew", {{"skew", number(v[1], decimals_of(v[1]))}}});
  if (std::abs(v[3]) > rounding || std::abs(v[6]) > rounding || std::abs(v[7]) > rounding ||
      std::abs(v[8] - 1.0) > rounding)
    file.fail({"camera_file.matrix_form"});
  constexpr double longest = 1e6;
  if (!(v[0] >= 1.0 && v[0] <= longest && v[4] >= 1.0 && v[4] <= longest)) file.fail({"camera_file.focal_lengths"});
  Camera camera;
  camera.fx = v[0], camera.cx = v[2], camera.fy = v[4], camera.cy = v[5];
  return camera;
}

Camera with_distortion(Camera camera, const ScanFile& file, const cv::FileStorage& storage) {
  for (const char* flag : {"fisheye_model", "fisheye"}) {
    const cv::FileNode node = storage[flag];
    if (node.isInt() && static_cast<int>(node) != 0) file.fail({"camera_file.fisheye"});
  }
  const cv::FileNode node =
      named(file, storage, {"distortion_coefficients", "Distortion_Coefficients", "dist_coeffs", "distCoeffs", "D"});
  if (node.empty()) file.fail({"camera_file.no_distortion"});
  const Matrix m = matrix_of(file, node, "distortion");
  constexpr std::size_t known = 5, fewest = 4;
  if (m.values.size() < fewest || (m.rows != 1 && m.columns != 1))
    file.fail({"camera_file.few_coefficients", {{"n", count(m.values.size())}}});
  for (std::size_t i = known; i < m.values.size(); ++i) {
    if (m.values[i] == 0.0) continue;
    file.fail({"camera_file.many_coefficients", {{"n", count(m.values.size())}}});
  }
  std::array<double, known> d{};
  std::copy_n(m.values.begin(), std::min(known, m.values.size()), d.begin());
  camera.k1 = d[0], camera.k2 = d[1], camera.p1 = d[2], camera.p2 = d[3], camera.k3 = d[4];
  return camera;
}

Camera with_size(Camera camera, const ScanFile& file, const cv::FileStorage& storage,
                 const std::optional<PictureSize>& size) {
  const auto side = [&](const cv::FileNode& node, const char* what) {
    const double value = number_of(file, node, what);
    constexpr double longest = 20000;
    if (!(value >= 2 && value <= longest && value == std::floor(value)))
      file.fail({"camera_file.no_pixels", {{"what", word(what)}}});
    return static_cast<std::size_t>(value);
  };
  const cv::FileNode width = named(file, storage, {"image_width", "image_Width"}),
                     height = named(file, storage, {"image_height", "image_Height"}),
                     both = named(file, storage, {"imageSize", "image_size"});
  if (!width.empty() && !height.empty()) {
    camera.width = side(width, "width"), camera.height = side(height, "height");
  } else if (both.isSeq() && both.size() == 2) {
    camera.width = side(both[0], "width"), camera.height = side(both[1], "height");
  } else if (size) {
    camera.width = size->width, camera.height = size->height;
  } else {
    file.fail({"camera_file.no_size"});
  }
  if (size && (size->width != camera.width || size->height != camera.height)) {
    file.fail({"camera_file.other_size",
               {{"width", number(static_cast<double>(camera.width))},
                {"height", number(static_cast<double>(camera.height))},
                {"said_width", number(static_cast<double>(size->width))},
                {"said_height", number(static_cast<double>(size->height))}}});
  }
  return camera;
}

/// The library's parsers call themselves for each level of a text, and a few bytes make one: a bracket, a tag, a dash
/// of a list in a list. What closes is not looked at: it may stand in a remark. A calibration's file has some dozens.
bool may_nest_deeply(std::string_view text) {
  constexpr std::size_t most = 3000, most_in_line = 100;
  std::size_t opened = 0, in_line = 0, fullest_line = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i], next = i + 1 < text.size() ? text[i + 1] : '\n';
    if (c == '[' || c == '{' || (c == '<' && next != '/')) ++opened;
    const bool opens_a_value = (c == '-' || c == ':' || c == '?') && (is_blank(next) || next == '\n' || next == '\r');
    in_line = c == '\n' || c == ',' ? 0 : in_line + (opens_a_value ? 1 : 0);
    fullest_line = std::max(fullest_line, in_line);
  }
  return opened > most || fullest_line > most_in_line;
}

}  // namespace

ImportedCamera import_camera(const ScanFile& file, const std::optional<PictureSize>& size) {
  if (file.size() > kLargestFile) file.fail({"camera_file.too_large"});
  ImportedCamera imported;
  try {
    const std::string content = file.all();
    if (may_nest_deeply(content)) file.fail({"camera_file.damaged"});
    const cv::FileStorage storage(content, cv::FileStorage::READ | cv::FileStorage::MEMORY);
    if (!storage.isOpened() || !storage.root().isMap()) file.fail({"camera_file.none"});
    imported.camera = with_matrix(file, storage);
    imported.camera = with_distortion(imported.camera, file, storage);
    imported.camera = with_size(imported.camera, file, storage, size);
    const cv::FileNode rms =
        named(file, storage, {"avg_reprojection_error", "Avg_Reprojection_Error", "reprojection_error", "rms"});
    if (rms.isInt() || rms.isReal()) imported.rms_px = number_of(file, rms, "error");
    const cv::FileNode made = named(file, storage, {"calibration_time", "calibration_Time"});
    if (made.isString()) imported.made_at = static_cast<std::string>(made);
  } catch (const cv::Exception&) {
    file.fail({"camera_file.damaged"});
  }
  constexpr double off = 0.5;  // The lens looks at the picture: a middle far outside belongs to other pictures.
  const Camera& c = imported.camera;
  const auto outside = [](double at, std::size_t side) {
    return at < -off * static_cast<double>(side) || at > (1.0 + off) * static_cast<double>(side);
  };
  if (outside(c.cx, c.width) || outside(c.cy, c.height)) {
    file.fail({"camera_file.middle_outside",
               {{"x", number(c.cx)},
                {"y", number(c.cy)},
                {"width", number(static_cast<double>(c.width))},
                {"height", number(static_cast<double>(c.height))}}});
  }
  return imported;
}

}  // namespace canewise
