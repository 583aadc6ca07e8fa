#include "scanproc/clouds/stl.h"

#include <array>
#include <limits>
#include <string>
#include <vector>

#include "scanproc/bytes/number_text.h"
#include "scanproc/clouds/records.h"
#include "scanproc/core/parallel.h"

namespace canewise {
namespace {

constexpr std::uint64_t kHeaderBytes = 84, kTriangleBytes = 50;

std::uint64_t stated_count(std::string_view head) {
  std::uint64_t count = 0;
  for (std::size_t i = 4; i-- > 0;) count = count << 8U | static_cast<unsigned char>(head[80 + i]);
  return count;
}

bool is_binary(std::string_view head, std::uint64_t file_size) {
  if (head.size() < kHeaderBytes) return false;
  const std::uint64_t end = kHeaderBytes + kTriangleBytes * stated_count(head);
  constexpr std::uint64_t trailing = 512;  // Some writers add a remark.
  return stated_count(head) > 0 && file_size >= end && file_size <= end + trailing;
}

bool is_ascii(std::string_view head) {
  return head.starts_with("solid") && head.find('\0') == std::string_view::npos &&
         head.find("facet") != std::string_view::npos;
}

Mesh mesh_of_corners(Eigen::Matrix3Xd corners, const char* format) {
  Mesh mesh;
  mesh.triangles.resize(static_cast<std::size_t>(corners.cols() / 3));
  std::uint32_t next = 0;
  for (auto& triangle : mesh.triangles) triangle = {next, next + 1, next + 2}, next += 3;
  mesh.vertices = std::move(corners);
  mesh.format = format;
  return mesh;
}

Mesh read_binary(const ScanFile& file, std::uint64_t count) {
  if (count > std::numeric_limits<std::uint32_t>::max() / 3) file.fail({"stl.too_many"});
  Eigen::Matrix3Xd corners(3, static_cast<Eigen::Index>(3 * count));
  parallel_parts(static_cast<std::size_t>(count), [&](std::size_t, std::size_t begin, std::size_t end) {
    constexpr std::size_t piece = 8192;
    std::vector<char> buffer(std::min(piece, end - begin) * kTriangleBytes);
    for (std::size_t i = begin; i < end; i += piece) {
      const std::size_t n = std::min(piece, end - i);
      file.read_at(kHeaderBytes + i * kTriangleBytes, std::span(buffer.data(), n * kTriangleBytes));
      for (std::size_t k = 0; k < n; ++k) {
        constexpr std::size_t normal_bytes = 12;
        for (std::size_t j = 0; j < 9; ++j) {
          corners(static_cast<Eigen::Index>(9 * (i + k) + j)) =
              decode_scalar(buffer.data() + k * kTriangleBytes + normal_bytes + 4 * j, ScalarType::float32, false);
        }
      }
    }
  });
  return mesh_of_corners(std::move(corners), "STL, binary");
}

Eigen::Vector3d corner_of(const ScanFile& file, std::string_view line, std::uint64_t line_number) {
  Eigen::Vector3d corner;
  for (double& coordinate : corner) {
    const std::string_view number = next_word(line);
    const auto value = number_from<double>(number);
    if (!value) file.fail({"stl.no_number", {{"line", digits(line_number)}, {"word", excerpt(number)}}});
    coordinate = *value;
  }
  return corner;
}

Eigen::Matrix3Xd read_corners_as_text(const ScanFile& file, std::string_view rest, Room& room) {
  PointList corners(0, &room);
  std::size_t in_facet = 0, line_number = 0;
  bool ended = false, open = false;
  while (!rest.empty()) {
    std::string_view line = next_line(rest);
    ++line_number;
    const std::string_view word = next_word(line);
    if (word == "facet" || word == "endsolid") {
      if (open) file.fail({"stl.never_closed", {{"line", digits(line_number)}}});
      ended = word == "endsolid";
      open = !ended;
      in_facet = 0;
    } else if (word == "endfacet") {
      open = false;
      if (in_facet != 3) file.fail({"stl.few_corners", {{"line", digits(line_number)}, {"corners", count(in_facet)}}});
    } else if (word == "vertex") {
      if (++in_facet > 3) file.fail({"stl.many_corners", {{"line", digits(line_number)}}});
      corners.add(corner_of(file, line, line_number));
    } else if (word != "solid" && word != "outer" && word != "endloop" && !word.empty()) {
      file.fail({"stl.unknown_word", {{"line", digits(line_number)}, {"word", excerpt(word)}}});
    }
  }
  if (!ended) file.fail({"stl.no_end"});
  return std::move(corners).take();
}

Mesh read_ascii(const ScanFile& file) {
  Eigen::Matrix3Xd corners;
  {
    const std::string text = file.all();
    corners = read_in_little_room(file, Reading::whole_text,
                                  [&](Room& room) { return read_corners_as_text(file, text, room); });
  }
  return mesh_of_corners(std::move(corners), "STL, ascii");
}

}  // namespace

bool looks_like_stl(std::string_view head, std::uint64_t file_size) {
  return is_binary(head, file_size) || is_ascii(head);
}

Mesh read_stl(const ScanFile& file) {
  const std::string head = file.head(512);
  return is_binary(head, file.size()) ? read_binary(file, stated_count(head)) : read_ascii(file);
}

}  // namespace canewise
