#include "scanproc/clouds/pcd.h"

#include <liblzf/lzf.h>

#include <optional>
#include <string>
#include <vector>

#include "scanproc/bytes/number_text.h"
#include "scanproc/clouds/records.h"

namespace canewise {
namespace {

constexpr std::size_t kMostPcdHeader = 65536;
constexpr std::uint64_t kMaxFieldBytes = 1U << 16U;

struct Field {
  std::string name;
  std::uint64_t size = 4;
  char kind = 'F';
  std::uint64_t count = 1;
  [[nodiscard]] std::uint64_t bytes() const { return size * count; }
};

struct Header {
  std::vector<Field> fields;
  std::optional<std::uint64_t> width, height, points;
  std::string data;
  std::size_t body_offset = 0;
  /// Of all fields of one point, as a binary body stores them.
  [[nodiscard]] std::uint64_t point_bytes() const {
    std::uint64_t bytes = 0;
    for (const Field& field : fields) bytes += field.bytes();
    return bytes;
  }
};

std::vector<std::string_view> words_of(std::string_view line) {
  std::vector<std::string_view> words;
  for (auto word = next_word(line); !word.empty(); word = next_word(line)) words.push_back(word);
  return words;
}

std::uint64_t whole_number(const ScanFile& file, const std::string& keyword, std::string_view word) {
  const auto value = number_from<std::uint64_t>(word);
  if (!value) file.fail({"pcd.no_whole_number", {{"keyword", text(keyword)}, {"word", excerpt(word)}}});
  return *value;
}

void read_field_row(const ScanFile& file, Header& header, const std::string& keyword,
                    const std::vector<std::string_view>& words) {
  if (words.size() != header.fields.size()) {
    file.fail(
        {"pcd.entries",
         {{"keyword", text(keyword)}, {"entries", digits(words.size())}, {"fields", digits(header.fields.size())}}});
  }
  for (std::size_t i = 0; i < words.size(); ++i) {
    Field& field = header.fields[i];
    if (keyword == "TYPE") {
      field.kind = words[i].front();
      continue;
    }
    const std::uint64_t value = whole_number(file, keyword, words[i]);
    if (value == 0 || value > kMaxFieldBytes) {
      file.fail({"pcd.impossible_value", {{"keyword", text(keyword)}, {"word", excerpt(words[i])}}});
    }
    (keyword == "SIZE" ? field.size : field.count) = value;
  }
}

Header read_header(const ScanFile& file) {
  const std::string head = file.head(kMostPcdHeader + 1);
  std::string_view rest = head;
  Header header;
  while (!rest.empty()) {
    std::string_view line = next_line(rest);
    const std::string keyword(next_word(line));
    if (keyword.empty() || keyword.front() == '#') continue;
    const auto words = words_of(line);
    if (keyword == "FIELDS" || keyword == "COLUMNS") {
      header.fields.clear();
      for (const auto word : words) header.fields.push_back({.name = std::string(word)});
    } else if (keyword == "SIZE" || keyword == "TYPE" || keyword == "COUNT") {
      read_field_row(file, header, keyword, words);
    } else if ((keyword == "WIDTH" || keyword == "HEIGHT" || keyword == "POINTS") && !words.empty()) {
      const std::uint64_t value = whole_number(file, keyword, words[0]);
      (keyword == "WIDTH" ? header.width : keyword == "HEIGHT" ? header.height : header.points) = value;
    } else if (keyword == "DATA" && !words.empty()) {
      header.data = std::string(words[0]);
      header.body_offset = head.size() - rest.size();
      if (header.body_offset > kMostPcdHeader) break;
      return header;
    }
  }
  file.fail({"pcd.no_data_line", {{"bytes", digits(kMostPcdHeader)}}});
}

std::uint64_t point_count(const ScanFile& file, const Header& header) {
  if (header.points) return *header.points;
  if (!header.width) file.fail({"pcd.no_count"});
  const std::uint64_t height = header.height.value_or(1);
  if (height != 0 && *header.width > UINT64_MAX / height) file.fail({"pcd.too_large"});
  return *header.width * height;
}

ScalarType scalar_type_of(const ScanFile& file, const Field& field) {
  if (field.kind == 'F' && field.size == 4) return ScalarType::float32;
  if (field.kind == 'F' && field.size == 8) return ScalarType::float64;
  if (field.kind == 'I' && field.size == 1) return ScalarType::int8;
  if (field.kind == 'I' && field.size == 2) return ScalarType::int16;
  if (field.kind == 'I' && field.size == 4) return ScalarType::int32;
  if (field.kind == 'U' && field.size == 1) return ScalarType::uint8;
  if (field.kind == 'U' && field.size == 2) return ScalarType::uint16;
  if (field.kind == 'U' && field.size == 4) return ScalarType::uint32;
  file.fail({"pcd.field_type", {{"field", text(field.name)}}});
}

std::array<std::size_t, 3> find_xyz(const ScanFile& file, const Header& header) {
  std::array<std::size_t, 3> index{};
  constexpr std::array<std::string_view, 3> names{"x", "y", "z"};
  for (std::size_t axis = 0; axis < 3; ++axis) {
    bool found = false;
    for (std::size_t i = 0; i < header.fields.size() && !found; ++i) {
      if (header.fields[i].name != names.at(axis)) continue;
      index.at(axis) = i;
      found = true;
    }
    if (!found) file.fail({"pcd.no_field", {{"field", text(names.at(axis))}}});
  }
  return index;
}

CloudBuilder read_lines(const ScanFile& file, const Header& header, std::string_view rest, CloudBuilder builder) {
  const auto index = find_xyz(file, header);
  const std::uint64_t count = point_count(file, header);
  for (std::uint64_t point = 0; point < count; ++point) {
    if (rest.empty()) {
      file.fail({"pcd.ends_early", {{"points", digits(point)}, {"promised", digits(count)}}});
    }
    std::string_view line = next_line(rest);
    std::array<double, 3> xyz{};
    for (std::size_t i = 0; i < header.fields.size(); ++i) {
      for (std::uint64_t entry = 0; entry < header.fields[i].count; ++entry) {
        const std::string_view word = next_word(line);
        if (word.empty()) {
          file.fail({"pcd.few_numbers", {{"point", digits(point + 1)}}});
        }
        for (std::size_t axis = 0; axis < 3; ++axis) {
          if (index.at(axis) != i || entry != 0) continue;
          const auto value = number_from<double>(word);
          if (!value) file.fail({"pcd.no_number", {{"point", digits(point + 1)}, {"word", excerpt(word)}}});
          xyz.at(axis) = *value;
        }
      }
    }
    builder.add(xyz[0], xyz[1], xyz[2]);
  }
  return builder;
}

Cloud read_ascii(const ScanFile& file, const Header& header, std::uint64_t count, double mm_per_unit) {
  const std::string text = file.all();
  const std::string_view rest = std::string_view(text).substr(header.body_offset);
  if (count > rest.size() / 5) {
    file.fail({"records.short_text", {{"promised", digits(count)}, {"room", digits(rest.size() / 5)}}});
  }
  return read_in_little_room(file, Reading::whole_text, [&](Room& room) {
    CloudBuilder builder(static_cast<std::size_t>(count), mm_per_unit, &room);
    return read_lines(file, header, rest, std::move(builder)).finish("PCD, ascii");
  });
}

/// The fields of a compressed body, one after the other.
std::vector<char> unpacked_fields(const ScanFile& file, const Header& header, std::uint64_t count) {
  std::array<char, 8> sizes{};
  file.read_at(header.body_offset, sizes);
  const auto packed = static_cast<std::uint64_t>(decode_scalar(sizes.data(), ScalarType::uint32, false));
  const auto unpacked = static_cast<std::uint64_t>(decode_scalar(sizes.data() + 4, ScalarType::uint32, false));
  if (packed > file.size() - header.body_offset - 8) {
    file.fail({"pcd.compressed_short", {{"bytes", digits(packed)}}});
  }
  // An LZF token of 3 bytes yields at most 264: a larger growth is not LZF. Measured points hardly pack at all, so the
  // room that a file may ask for is bounded by its size, packed and as points: one takes two bytes at the very least.
  constexpr std::uint64_t spare = 32U << 20U, point_bytes = 3 * sizeof(double), least_packed = 2;
  const std::uint64_t stride = header.point_bytes();
  if (count > spare / point_bytes + file.size() / least_packed || unpacked / 88 > packed ||
      (packed == 0 && count > 0) || unpacked > spare + 2 * file.size() || stride == 0 || unpacked % stride != 0 ||
      unpacked / stride != count) {
    file.fail({"pcd.compressed_count", {{"promised", digits(count)}}});
  }
  std::vector<char> in(static_cast<std::size_t>(packed));
  std::vector<char> out(static_cast<std::size_t>(unpacked));
  file.read_at(header.body_offset + 8, in);
  if (count > 0 && lzf_decompress(in.data(), static_cast<unsigned int>(packed), out.data(),
                                  static_cast<unsigned int>(unpacked)) != unpacked) {
    file.fail({"pcd.compressed_damaged"});
  }
  return out;
}

Cloud read_compressed(const ScanFile& file, const Header& header, std::uint64_t count, double mm_per_unit) {
  const auto index = find_xyz(file, header);
  const std::vector<char> bytes = unpacked_fields(file, header, count);
  // Compressed files store one field after the other, each for all points.
  std::array<std::size_t, 3> starts{};
  std::array<ScalarType, 3> types{};
  std::array<std::size_t, 3> steps{};
  std::size_t position = 0;
  for (std::size_t i = 0; i < header.fields.size(); ++i) {
    for (std::size_t axis = 0; axis < 3; ++axis) {
      if (index.at(axis) != i) continue;
      starts.at(axis) = position;
      types.at(axis) = scalar_type_of(file, header.fields[i]);
      steps.at(axis) = static_cast<std::size_t>(header.fields[i].bytes());
    }
    position += static_cast<std::size_t>(header.fields[i].bytes() * count);
  }
  CloudBuilder builder(static_cast<std::size_t>(count), mm_per_unit);
  for (std::size_t point = 0; point < count; ++point) {
    std::array<double, 3> xyz{};
    for (std::size_t axis = 0; axis < 3; ++axis) {
      xyz.at(axis) = decode_scalar(bytes.data() + starts.at(axis) + point * steps.at(axis), types.at(axis), false);
    }
    builder.add(xyz[0], xyz[1], xyz[2]);
  }
  return std::move(builder).finish("PCD, compressed");
}

}  // namespace

bool looks_like_pcd(std::string_view head) {
  return head.starts_with("# .PCD") || head.starts_with("VERSION .7") || head.starts_with("VERSION 0.7");
}

Cloud read_pcd(const ScanFile& file, double mm_per_unit) {
  const Header header = read_header(file);
  const std::uint64_t count = point_count(file, header);
  if (header.data == "ascii") return read_ascii(file, header, count, mm_per_unit);

  const auto index = find_xyz(file, header);
  RecordLayout layout;
  for (std::size_t i = 0; i < header.fields.size(); ++i) {
    for (std::size_t axis = 0; axis < 3; ++axis) {
      if (index.at(axis) != i) continue;
      layout.offset.at(axis) = layout.stride;
      layout.type.at(axis) = scalar_type_of(file, header.fields[i]);
    }
    layout.stride += static_cast<std::size_t>(header.fields[i].bytes());
  }
  if (header.data == "binary") {
    Cloud cloud = read_records(file, {.offset = header.body_offset, .count = count}, layout, mm_per_unit);
    cloud.format = "PCD, binary";
    return cloud;
  }
  if (header.data == "binary_compressed") return read_compressed(file, header, count, mm_per_unit);
  file.fail({"pcd.unknown_data", {{"word", excerpt(header.data)}}});
}

}  // namespace canewise
