#include "scanproc/clouds/obj.h"

#include <algorithm>
#include <array>
#include <string>

#include "scanproc/bytes/number_text.h"
#include "scanproc/clouds/records.h"

namespace canewise {
namespace {

constexpr std::array<std::string_view, 14> kWords{"v", "vt", "vn", "vp",     "f",      "p",      "l",
                                                  "g", "o",  "s",  "usemtl", "mtllib", "cstype", "end"};

Eigen::Vector3d vertex_of(const ScanFile& file, std::string_view line, std::uint64_t line_number) {
  Eigen::Vector3d vertex;
  for (double& coordinate : vertex) {
    const std::string_view number = next_word(line);
    const auto value = number_from<double>(number);
    if (!value) {
      file.fail(number.empty()
                    ? Message{"scan_text.number_missing", {{"line", digits(line_number)}}}
                    : Message{"scan_text.no_number", {{"line", digits(line_number)}, {"word", excerpt(number)}}});
    }
    coordinate = *value;
  }
  return vertex;
}

Mesh read_lines(const ScanFile& file, std::string_view rest, Room& room) {
  PointList vertices(0, &room);
  Mesh mesh;
  std::uint32_t largest = 0;
  bool faces = false;
  for (std::size_t line_number = 1; !rest.empty(); ++line_number) {
    std::string_view line = next_line(rest);
    const std::string_view word = next_word(line);
    if (word == "v") {
      vertices.add(vertex_of(file, line, line_number));
    } else if (word == "f") {
      TriangleFan fan(mesh.triangles, room);
      for (std::string_view corner = next_word(line); !corner.empty(); corner = next_word(line)) {
        const auto index = number_from<std::int64_t>(corner.substr(0, corner.find('/')));
        // Counted from 1, or backwards from the last vertex so far.
        const auto seen = static_cast<std::int64_t>(vertices.seen());
        const std::int64_t from_zero = !index ? -1 : *index > 0 ? *index - 1 : seen + *index;
        if (!index || *index == 0 || from_zero < 0 || from_zero >= std::int64_t{0xFFFFFFFF})
          file.fail({"obj.impossible_vertex", {{"line", digits(line_number)}, {"vertex", excerpt(corner)}}});
        fan.add(static_cast<std::uint32_t>(from_zero));
        largest = std::max(largest, static_cast<std::uint32_t>(from_zero));
      }
      if (fan.corners() < 3) file.fail({"obj.few_corners", {{"line", digits(line_number)}}});
      faces = true;
    }
  }
  if (faces && largest >= vertices.seen()) {
    file.fail({"obj.no_such_vertex",
               {{"vertex", digits(largest + std::uint64_t{1})}, {"vertices", digits(vertices.seen())}}});
  }
  mesh.vertices = std::move(vertices).take();
  mesh.format = !faces ? "OBJ, points" : "OBJ mesh";
  return mesh;
}

}  // namespace

bool looks_like_obj(std::string_view head) {
  bool vertex = false;
  while (!head.empty()) {
    const bool last = head.find_first_of("\r\n") == std::string_view::npos;  // Perhaps cut in the middle of a word.
    std::string_view line = next_line(head);
    const std::string_view word = next_word(line);
    if (word.empty() || word.front() == '#' || last) continue;
    if (std::find(kWords.begin(), kWords.end(), word) == kWords.end()) return false;
    vertex = vertex || word == "v" || word == "mtllib" || word == "o" || word == "g";
  }
  return vertex;
}

Mesh read_obj(const ScanFile& file) {
  const std::string text = file.all();
  return read_in_little_room(file, Reading::whole_text, [&](Room& room) { return read_lines(file, text, room); });
}

}  // namespace canewise
