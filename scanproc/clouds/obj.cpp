#include "scanproc/clouds/obj.h"

#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "scanproc/bytes/number_text.h"

namespace canewise {
namespace {

constexpr std::array<std::string_view, 14> kWords{"v", "vt", "vn", "vp",     "f",      "p",      "l",
                                                  "g", "o",  "s",  "usemtl", "mtllib", "cstype", "end"};

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
  std::string_view rest = text;
  std::vector<double> numbers;
  Mesh mesh;
  std::vector<std::uint32_t> corners;
  std::uint32_t largest = 0;
  for (std::size_t line_number = 1; !rest.empty(); ++line_number) {
    std::string_view line = next_line(rest);
    const std::string_view word = next_word(line);
    if (word == "v") {
      for (int k = 0; k < 3; ++k) {
        const std::string_view number = next_word(line);
        const auto value = number_from<double>(number);
        if (!value) {
          file.fail(number.empty()
                        ? Message{"scan_text.number_missing", {{"line", digits(line_number)}}}
                        : Message{"scan_text.no_number", {{"line", digits(line_number)}, {"word", excerpt(number)}}});
        }
        numbers.push_back(*value);
      }
    } else if (word == "f") {
      corners.clear();
      const auto seen = static_cast<std::int64_t>(numbers.size() / 3);
      for (std::string_view corner = next_word(line); !corner.empty(); corner = next_word(line)) {
        const auto index = number_from<std::int64_t>(corner.substr(0, corner.find('/')));
        // Counted from 1, or backwards from the last vertex so far.
        const std::int64_t from_zero = !index ? -1 : *index > 0 ? *index - 1 : seen + *index;
        if (!index || *index == 0 || from_zero < 0 || from_zero >= std::int64_t{0xFFFFFFFF})
          file.fail({"obj.impossible_vertex", {{"line", digits(line_number)}, {"vertex", excerpt(corner)}}});
        corners.push_back(static_cast<std::uint32_t>(from_zero));
        largest = std::max(largest, corners.back());
      }
      if (corners.size() < 3) file.fail({"obj.few_corners", {{"line", digits(line_number)}}});
      for (std::size_t k = 2; k < corners.size(); ++k)
        mesh.triangles.push_back({corners[0], corners[k - 1], corners[k]});
    }
  }
  const auto vertices = static_cast<Eigen::Index>(numbers.size() / 3);
  if (!mesh.triangles.empty() && static_cast<Eigen::Index>(largest) >= vertices) {
    file.fail({"obj.no_such_vertex",
               {{"vertex", digits(largest + std::uint64_t{1})}, {"vertices", digits(numbers.size() / 3)}}});
  }
  mesh.vertices = Eigen::Map<const Eigen::Matrix3Xd>(numbers.data(), 3, vertices);
  mesh.format = mesh.triangles.empty() ? "OBJ, points" : "OBJ mesh";
  return mesh;
}

}  // namespace canewise
