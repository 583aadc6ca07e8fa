#include "scanproc/scan/ply.h"

#include <optional>
#include <string>
#include <vector>

#include "scanproc/scan/number_text.h"
#include "scanproc/scan/records.h"

namespace canewise {
namespace {

constexpr std::size_t kHeaderLimit = 65536;

struct Property {
  std::string name;
  ScalarType type = ScalarType::float32;
  bool is_list = false;
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
    if (!scalar_type_from(count_type)) file.fail(where + " has the unknown type " + shown(count_type) + ".");
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
  return std::move(builder).finish("PLY, ascii");
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
  return cloud;
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
