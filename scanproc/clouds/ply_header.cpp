#include "scanproc/clouds/ply_header.h"

#include <algorithm>
#include <string_view>
#include <utility>

#include "scanproc/bytes/number_text.h"

namespace canewise {
namespace {

constexpr std::size_t kMostPlyHeader = 65536;

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

void read_property(const ScanFile& file, PlyHeader& header, std::string_view words, const Argument& line) {
  if (header.elements.empty()) file.fail({"ply.property_first", {{"line", line}}});
  PlyProperty property;
  std::string_view type_name = next_word(words);
  if (type_name == "list") {
    property.is_list = true;
    const std::string_view count_type = next_word(words);
    const auto known = scalar_type_from(count_type);
    if (!known) file.fail({"ply.unknown_count_type", {{"line", line}, {"type", excerpt(count_type)}}});
    if (*known == ScalarType::float32 || *known == ScalarType::float64)
      file.fail({"ply.count_type", {{"line", line}, {"type", excerpt(count_type)}}});
    property.count_type = *known;
    type_name = next_word(words);
  }
  const auto type = scalar_type_from(type_name);
  if (!type) file.fail({"ply.unknown_type", {{"line", line}, {"type", excerpt(type_name)}}});
  property.type = *type;
  property.name = std::string(next_word(words));
  if (property.name.empty()) file.fail({"ply.property_name", {{"line", line}}});
  header.elements.back().properties.push_back(std::move(property));
}

}  // namespace

bool PlyElement::has_list() const {
  return std::any_of(properties.begin(), properties.end(), [](const PlyProperty& p) { return p.is_list; });
}

std::size_t PlyElement::least_bytes() const {
  std::size_t bytes = 0;
  for (const auto& property : properties) bytes += size_of(property.is_list ? property.count_type : property.type);
  return bytes;
}

PlyHeader read_ply_header(const ScanFile& file) {
  const std::string head = file.head(kMostPlyHeader + 1);
  std::string_view rest = head;
  PlyHeader header;
  std::optional<PlyEncoding> encoding;
  for (std::uint64_t line_number = 1; !rest.empty(); ++line_number) {
    std::string_view line = next_line(rest);
    const Argument where = digits(line_number);
    const std::string_view keyword = next_word(line);
    if (keyword == "end_header") {
      header.body_offset = head.size() - rest.size();
      if (header.body_offset > kMostPlyHeader) break;
      // A CR LF header whose body starts with LF-like data cannot be told apart; next_line took both, as writers do.
      if (!encoding) file.fail({"ply.no_format"});
      header.encoding = *encoding;
      return header;
    }
    if (keyword == "format") {
      const std::string_view name = next_word(line);
      if (name == "ascii") {
        encoding = PlyEncoding::ascii;
      } else if (name == "binary_little_endian") {
        encoding = PlyEncoding::little_endian;
      } else if (name == "binary_big_endian") {
        encoding = PlyEncoding::big_endian;
      } else {
        file.fail({"ply.unknown_format", {{"line", where}, {"format", excerpt(name)}}});
      }
    } else if (keyword == "element") {
      PlyElement element;
      element.name = std::string(next_word(line));
      const std::string_view count_word = next_word(line);
      const auto count = number_from<std::uint64_t>(count_word);
      if (!count) file.fail({"ply.unreadable_count", {{"line", where}, {"count", excerpt(count_word)}}});
      element.count = *count;
      header.elements.push_back(std::move(element));
    } else if (keyword == "property") {
      read_property(file, header, line, where);
    } else if (rest.empty()) {
      break;  // A word cut in the middle says nothing but that the file ends here.
    } else if (keyword != "ply" && keyword != "comment" && keyword != "obj_info" && !keyword.empty()) {
      file.fail({"ply.unknown_word", {{"line", where}, {"word", excerpt(keyword)}}});
    }
  }
  file.fail({"ply.no_end", {{"bytes", digits(kMostPlyHeader)}}});
}

}  // namespace canewise
