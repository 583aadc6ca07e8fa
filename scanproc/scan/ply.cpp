#include "scanproc/scan/ply.h"

#include <cstring>
#include <optional>
#include <string>
#include <vector>

#include "scanproc/scan/mesh.h"
#include "scanproc/scan/number_text.h"
#include "scanproc/scan/records.h"

namespace canewise {
namespace {

constexpr std::size_t kHeaderLimit = 65536;

struct Property {
  std::string name;
  ScalarType type = ScalarType::float32;
  bool is_list = false;
  ScalarType count_type = ScalarType::uint8;  ///< Of a list.
};

struct Element {
  std::string name;
  std::uint64_t count = 0;
  std::vector<Property> properties;

  [[nodiscard]] bool has_list() const {
    for (const auto& property : properties) {
      if (property.is_list) return true;
    }
    return false;
  }
  [[nodiscard]] std::size_t stride() const {
    std::size_t bytes = 0;
    for (const auto& property : properties) bytes += size_of(property.type);
    return bytes;
  }
};

enum class Encoding { ascii, little_endian, big_endian };

struct Header {
  std::optional<Encoding> encoding;
  std::vector<Element> elements;
  std::size_t body_offset = 0;
};

std::optional<ScalarType> scalar_type_from(std::string_view name) {
  if (name == "char" || name == "int8") return ScalarType::int8;
  if (name == "uchar" || name == "uint8") return ScalarType::uint8;
  if (name == "short" || name == "int16") return ScalarType::int16;
  if (name == "ushort" || name == "uint16") return ScalarType::uint16;
  if (name == "int" || name == "int32") return ScalarType::int32;
  if (name == "uint" || name == "uint32") return ScalarType::uint32;
  if (name == "float" || name == "float32") return ScalarType::float32;
  if (name == "double" || name == "float64") return ScalarType::float64;
  return std::nullopt;
}

void read_property(const ScanFile& file, Header& header, std::string_view words, const std::string& where) {
  if (header.elements.empty()) file.fail(where + " has a property before any element. Export the scan again.");
  Property property;
  std::string_view type_name = next_word(words);
  if (type_name == "list") {
    property.is_list = true;
    const std::string_view count_type = next_word(words);
    const auto known = scalar_type_from(count_type);
    if (!known) file.fail(where + " has the unknown type " + shown(count_type) + ".");
    property.count_type = *known;
    type_name = next_word(words);
  }
  const auto type = scalar_type_from(type_name);
  if (!type) file.fail(where + " has the unknown type " + shown(type_name) + ". Export with float or double.");
  property.type = *type;
  property.name = std::string(next_word(words));
  if (property.name.empty()) file.fail(where + " has a property without a name. Export the scan again.");
  header.elements.back().properties.push_back(std::move(property));
}

Header read_header(const ScanFile& file) {
  const std::string head = file.head(kHeaderLimit);
  std::string_view rest = head;
  Header header;
  for (int line_number = 1; !rest.empty(); ++line_number) {
    std::string_view line = next_line(rest);
    const std::string where = "line " + std::to_string(line_number) + " of its header";
    const std::string_view keyword = next_word(line);
    if (keyword == "end_header") {
      header.body_offset = head.size() - rest.size();
      // A CR LF header whose body starts with LF-like data cannot be told apart; next_line took both, as writers do.
      if (!header.encoding) file.fail("its header names no format (ascii or binary). Export the scan again.");
      return header;
    }
    if (keyword == "format") {
      const std::string_view name = next_word(line);
      if (name == "ascii")
        header.encoding = Encoding::ascii;
      else if (name == "binary_little_endian")
        header.encoding = Encoding::little_endian;
      else if (name == "binary_big_endian")
        header.encoding = Encoding::big_endian;
      else
        file.fail(where + " names the unknown format " + shown(name) + ".");
    } else if (keyword == "element") {
      Element element;
      element.name = std::string(next_word(line));
      const std::string_view count_word = next_word(line);
      const auto count = number_from<std::uint64_t>(count_word);
      if (!count) file.fail(where + " has the unreadable count " + shown(count_word) + ".");
      element.count = *count;
      header.elements.push_back(std::move(element));
    } else if (keyword == "property") {
      read_property(file, header, line, where);
    } else if (rest.empty()) {
      break;  // A word cut in the middle says nothing but that the file ends here.
    } else if (keyword != "ply" && keyword != "comment" && keyword != "obj_info" && !keyword.empty()) {
      file.fail(where + " starts with the unknown word " + shown(keyword) + ".");
    }
  }
  file.fail("its PLY header has no end_header in its first " + std::to_string(kHeaderLimit) +
            " bytes. It was cut short; export it again.");
}

struct VertexColumns {
  std::array<std::size_t, 3> index{};
};

VertexColumns find_xyz(const ScanFile& file, const Element& vertex) {
  VertexColumns columns;
  constexpr std::array<std::string_view, 3> names{"x", "y", "z"};
  for (std::size_t axis = 0; axis < 3; ++axis) {
    bool found = false;
    for (std::size_t i = 0; i < vertex.properties.size(); ++i) {
      if (vertex.properties[i].name == names.at(axis) && !vertex.properties[i].is_list) {
        columns.index.at(axis) = i;
        found = true;
        break;
      }
    }
    if (!found) {
      file.fail("its vertices have no property '" + std::string(names.at(axis)) + "'. Export points with x, y and z.");
    }
  }
  return columns;
}

using Triangles = std::vector<std::array<std::uint32_t, 3>>;

/// The face element behind the vertices, if its lists can be found without reading other lists.
struct Faces {
  const Element* element = nullptr;
  std::size_t list = 0;  ///< Which property.
};

Faces find_faces(const Header& header, std::size_t vertex_index) {
  for (std::size_t i = vertex_index + 1; i < header.elements.size(); ++i) {
    const Element& element = header.elements[i];
    if (element.count == 0) continue;
    for (std::size_t k = 0; k < element.properties.size(); ++k) {
      const Property& property = element.properties[k];
      if (element.name == "face" && property.is_list &&
          (property.name == "vertex_indices" || property.name == "vertex_index")) {
        return {&element, k};
      }
    }
    if (element.has_list()) break;
  }
  return {};
}

/// Cuts a face into a fan of triangles.
class FaceBuilder {
 public:
  FaceBuilder(const ScanFile& file, std::size_t vertices) : file_(file), vertices_(vertices) {}
  void begin() { corners_.clear(); }
  void corner(double index) {
    if (!(index >= 0 && index < static_cast<double>(vertices_))) {
      file_.fail("face " + std::to_string(faces_ + 1) + " names a vertex that is not there. Export it again.");
    }
    corners_.push_back(static_cast<std::uint32_t>(index));
  }
  void end() {
    ++faces_;
    for (std::size_t k = 2; k < corners_.size(); ++k) triangles_.push_back({corners_[0], corners_[k - 1], corners_[k]});
  }
  [[noreturn]] void fail_short() const {
    file_.fail("ends after " + std::to_string(faces_) + " of its faces. It was cut short; export it again.");
  }
  [[nodiscard]] Triangles take() && { return std::move(triangles_); }

 private:
  const ScanFile& file_;
  std::size_t vertices_, faces_ = 0;
  std::vector<std::uint32_t> corners_;
  Triangles triangles_;
};

Triangles read_ascii_faces(const ScanFile& file, const Header& header, std::size_t vertex_index, const Faces& faces,
                           std::size_t vertices, std::string_view rest) {
  FaceBuilder builder(file, vertices);
  for (std::size_t i = vertex_index + 1; &header.elements[i] != faces.element; ++i) {
    for (std::uint64_t line = 0; line < header.elements[i].count && !rest.empty(); ++line) (void)next_line(rest);
  }
  for (std::uint64_t face = 0; face < faces.element->count; ++face) {
    if (rest.empty()) builder.fail_short();
    std::string_view line = next_line(rest);
    builder.begin();
    for (std::size_t k = 0; k <= faces.list; ++k) {
      const auto first = number_from<double>(next_word(line));
      if (!first) builder.fail_short();
      if (!faces.element->properties[k].is_list) continue;
      for (double entry = 0; entry < *first; ++entry) {
        const auto value = number_from<double>(next_word(line));
        if (!value) builder.fail_short();
        if (k == faces.list) builder.corner(*value);
      }
    }
    builder.end();
  }
  return std::move(builder).take();
}

Triangles read_binary_faces(const ScanFile& file, const Header& header, std::size_t vertex_index, const Faces& faces,
                            std::size_t vertices, std::uint64_t offset) {
  FaceBuilder builder(file, vertices);
  for (std::size_t i = vertex_index + 1; &header.elements[i] != faces.element; ++i) {
    const Element& element = header.elements[i];
    if (element.stride() > 0 && element.count > file.size() / element.stride()) builder.fail_short();
    offset += element.count * element.stride();
  }
  if (offset > file.size()) builder.fail_short();
  std::vector<char> bytes(static_cast<std::size_t>(file.size() - offset));
  file.read_at(offset, bytes);
  const bool big = header.encoding == Encoding::big_endian;
  std::size_t at = 0;
  const auto next = [&](ScalarType type) {
    if (size_of(type) > bytes.size() - at) builder.fail_short();
    const double value = decode_scalar(bytes.data() + at, type, big);
    at += size_of(type);
    return value;
  };
  // A face takes at least the byte of its count: more faces than bytes are a damaged header.
  if (faces.element->count > bytes.size()) builder.fail_short();
  for (std::uint64_t face = 0; face < faces.element->count; ++face) {
    builder.begin();
    for (std::size_t k = 0; k < faces.element->properties.size(); ++k) {
      const Property& property = faces.element->properties[k];
      if (!property.is_list) {
        (void)next(property.type);
        continue;
      }
      const double entries = next(property.count_type);
      for (double entry = 0; entry < entries; ++entry) {
        const double value = next(property.type);
        if (k == faces.list) builder.corner(value);
      }
    }
    builder.end();
  }
  return std::move(builder).take();
}

/// Vertices and, where there are any, the triangles between them as one cloud.
Cloud with_faces(const Header& header, Cloud points, Triangles triangles) {
  if (triangles.empty()) return points;
  Mesh mesh;
  mesh.vertices = std::move(points.points_mm);
  mesh.triangles = std::move(triangles);
  mesh.format = header.encoding == Encoding::ascii ? "PLY mesh, ascii" : "PLY mesh, binary";
  return cloud_from(mesh, 1.0);
}

Cloud read_ascii(const ScanFile& file, const Header& header, std::size_t vertex_index, double mm_per_unit) {
  const std::string text = file.all();
  std::string_view rest = std::string_view(text).substr(header.body_offset);
  const Element& vertex = header.elements[vertex_index];
  const VertexColumns columns = find_xyz(file, vertex);
  if (vertex.count > rest.size() / 5) {  // 'x y z' and a line end need at least six bytes; the last may lack its end.
    file.fail("its header promises " + std::to_string(vertex.count) + " points, but the file has room for at most " +
              std::to_string(rest.size() / 5) + ". It was cut short or its header is damaged; export it again.");
  }
  for (std::size_t i = 0; i < vertex_index; ++i) {
    for (std::uint64_t line = 0; line < header.elements[i].count && !rest.empty(); ++line) (void)next_line(rest);
  }
  CloudBuilder builder(static_cast<std::size_t>(vertex.count), mm_per_unit);
  for (std::uint64_t point = 0; point < vertex.count; ++point) {
    if (rest.empty()) {
      file.fail("ends after " + std::to_string(point) + " of the " + std::to_string(vertex.count) +
                " points that its header promises. It was cut short; export it again.");
    }
    std::string_view line = next_line(rest);
    std::array<double, 3> xyz{};
    for (std::size_t i = 0; i < vertex.properties.size(); ++i) {
      const std::string_view word = next_word(line);
      if (word.empty()) {
        file.fail("point " + std::to_string(point + 1) + " has too few numbers. It was cut short; export it again.");
      }
      for (std::size_t axis = 0; axis < 3; ++axis) {
        if (columns.index.at(axis) != i) continue;
        const auto value = number_from<double>(word);
        if (!value) {
          file.fail("point " + std::to_string(point + 1) + ": " + shown(word) + " is not a number. Export it again.");
        }
        xyz.at(axis) = *value;
      }
      if (vertex.properties[i].is_list) {
        const auto entries = number_from<std::uint32_t>(word);
        for (std::uint32_t entry = 0; entries && entry < *entries && !line.empty(); ++entry) (void)next_word(line);
      }
    }
    builder.add(xyz[0], xyz[1], xyz[2]);
  }
  Cloud cloud = std::move(builder).finish("PLY, ascii");
  const Faces faces = find_faces(header, vertex_index);
  // With vertices left out the faces' numbers would mean others; the points alone are safe.
  if (faces.element == nullptr || cloud.dropped_non_finite > 0) return cloud;
  Triangles triangles = read_ascii_faces(file, header, vertex_index, faces, vertex.count, rest);
  return with_faces(header, std::move(cloud), std::move(triangles));
}

Cloud read_binary(const ScanFile& file, const Header& header, std::size_t vertex_index, double mm_per_unit) {
  const Element& vertex = header.elements[vertex_index];
  std::uint64_t offset = header.body_offset;
  for (std::size_t i = 0; i <= vertex_index; ++i) {
    const Element& element = header.elements[i];
    if (element.has_list()) {
      file.fail("its element '" + element.name +
                "' holds a list before or among the vertices, which is not supported. Export points with x, y and z.");
    }
    const std::uint64_t stride = element.stride();
    if (i < vertex_index && stride > 0 && element.count > file.size() / stride) {
      file.fail("its element '" + element.name + "' is larger than the file. Its header is damaged; export it again.");
    }
    if (i < vertex_index) offset += element.count * stride;
  }
  const VertexColumns columns = find_xyz(file, vertex);
  RecordLayout layout;
  layout.stride = vertex.stride();
  layout.big_endian = header.encoding == Encoding::big_endian;
  std::size_t position = 0;
  for (std::size_t i = 0; i < vertex.properties.size(); ++i) {
    for (std::size_t axis = 0; axis < 3; ++axis) {
      if (columns.index.at(axis) == i) {
        layout.offset.at(axis) = position;
        layout.type.at(axis) = vertex.properties[i].type;
      }
    }
    position += size_of(vertex.properties[i].type);
  }
  Cloud cloud = read_records(file, offset, vertex.count, layout, mm_per_unit);
  cloud.format = layout.big_endian ? "PLY, binary big-endian" : "PLY, binary little-endian";
  const Faces faces = find_faces(header, vertex_index);
  if (faces.element == nullptr || cloud.dropped_non_finite > 0) return cloud;
  Triangles triangles = read_binary_faces(file, header, vertex_index, faces, static_cast<std::size_t>(vertex.count),
                                          offset + vertex.count * layout.stride);
  return with_faces(header, std::move(cloud), std::move(triangles));
}

}  // namespace

bool looks_like_ply(std::string_view head) { return head.starts_with("ply\n") || head.starts_with("ply\r"); }

Cloud read_ply(const ScanFile& file, double mm_per_unit) {
  const Header header = read_header(file);
  for (std::size_t i = 0; i < header.elements.size(); ++i) {
    if (header.elements[i].name != "vertex") continue;
    return header.encoding == Encoding::ascii ? read_ascii(file, header, i, mm_per_unit)
                                              : read_binary(file, header, i, mm_per_unit);
  }
  file.fail("it has no vertices. Export the scan as points.");
}

}  // namespace canewise
