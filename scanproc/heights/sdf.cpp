#include "scanproc/heights/sdf.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstring>
#include <iterator>
#include <limits>
#include <optional>
#include <stdexcept>

#include "scanproc/bytes/number_text.h"
#include "scanproc/clouds/records.h"
#include "scanproc/clouds/room.h"
#include "scanproc/core/parallel.h"
#include "scanproc/core/units.h"

namespace canewise {
namespace {

constexpr std::size_t kMagicSize = 8;

struct Edition {
  bool ascii = false;
  bool second = false;         ///< 2.0: counts of four bytes, two more data types.
  bool rows_reversed = false;  ///< Older variants store the last row first.
};

std::optional<Edition> edition_of(std::string_view magic) {
  if (magic == "aISO-1.0") return Edition{.ascii = true};
  if (magic == "bISO-1.0") return Edition{};
  if (magic == "aISO-2.0") return Edition{.ascii = true, .second = true};
  if (magic == "bISO-2.0") return Edition{.second = true};
  if (magic == "aBCR-1.0") return Edition{.ascii = true, .rows_reversed = true};
  if (magic == "bBCR-1.0") return Edition{.rows_reversed = true};
  if (magic == "aBCR-0.0") return Edition{.ascii = true, .second = true, .rows_reversed = true};
  return std::nullopt;
}

struct Header {
  std::uint64_t points = 0, profiles = 0;
  double x_scale = 0, y_scale = 0, z_scale = 0;
  int compression = -1, data_type = -1, check_type = -1;
};

/// How heights of a data type are stored, and which stored value stands for 'not measured'.
struct Storage {
  ScalarType type;
  double missing;
};

std::optional<Storage> storage_of(int data_type, bool second_edition) {
  switch (data_type) {
    case 5:
      return Storage{ScalarType::int16, -32768.0};
    case 6:
      return Storage{ScalarType::int32, -2147483648.0};
    case 7:
      return Storage{ScalarType::float64, std::numeric_limits<double>::lowest()};
    case 3:
      if (second_edition) return Storage{ScalarType::float32, std::numeric_limits<float>::lowest()};
      break;
    case 4:
      if (second_edition) return Storage{ScalarType::int8, -128.0};
      break;
    default:
      break;
  }
  return std::nullopt;
}

Storage check_header(const ScanFile& file, const Header& h, const Edition& edition) {
  const auto storage = storage_of(h.data_type, edition.second);
  if (!storage) {
    file.fail({"sdf.data_type", {{"type", number(h.data_type)}}});
  }
  if (h.compression != 0 || h.check_type != 0) {
    file.fail({"sdf.compressed"});
  }
  if (h.points == 0 || h.profiles == 0) file.fail({"sdf.no_heights"});
  const auto usable = [](double scale) { return scale > 0.0 && std::isfinite(mm_per(LengthUnit::m) * scale); };
  if (h.profiles == 1 && h.points > 1) {
    file.fail({"sdf.single_profile"});
  }
  if (!usable(h.x_scale) || !usable(h.y_scale) || !usable(h.z_scale)) {
    file.fail({"sdf.scale"});
  }
  return *storage;
}

HeightMap empty_map(const Header& h, const char* format) {
  HeightMap map;
  map.columns = static_cast<std::size_t>(h.points);
  map.rows = static_cast<std::size_t>(h.profiles);
  map.step_x_mm = mm_per(LengthUnit::m) * h.x_scale;
  map.step_y_mm = mm_per(LengthUnit::m) * h.y_scale;
  map.format = format;
  return map;
}

[[noreturn]] void fail_too_short(const ScanFile& file, const Header& h) {
  file.fail({"sdf.short", {{"points", digits(h.points)}, {"profiles", digits(h.profiles)}}});
}

void reverse_rows(HeightMap& map) {
  for (std::size_t row = 0; row < map.rows / 2; ++row) {
    const auto at = [&](std::size_t r) { return map.z_mm.begin() + static_cast<std::ptrdiff_t>(r * map.columns); };
    std::swap_ranges(at(row), at(row + 1), at(map.rows - 1 - row));
  }
}

template <typename T>
T field(const std::string& head, std::size_t& at) {
  std::array<char, sizeof(T)> raw{};
  std::memcpy(raw.data(), head.data() + at, sizeof(T));
  at += sizeof(T);
  if constexpr (std::endian::native == std::endian::big) std::reverse(raw.begin(), raw.end());
  return std::bit_cast<T>(raw);
}

/// Heights of a binary body, read in pieces.
struct StoredHeights {
  const ScanFile& file;
  std::size_t offset;
  Storage storage;
  double mm_per_step;

  /// Calls use(index, z_mm) for those of [begin, end) until it says false; not measured is kNoHeight.
  template <typename Use>
  void for_each(std::size_t begin, std::size_t end, const Use& use) const {
    constexpr std::size_t piece = 1U << 16U;
    const std::size_t size = size_of(storage.type);
    std::vector<char> buffer(std::min(piece, end - begin) * size);
    for (std::size_t i = begin; i < end; i += piece) {
      const std::size_t n = std::min(piece, end - i);
      file.read_at(offset + i * size, std::span(buffer.data(), n * size));
      for (std::size_t k = 0; k < n; ++k) {
        const double stored = decode_scalar(buffer.data() + k * size, storage.type, false);
        const bool missing = stored == storage.missing || !std::isfinite(stored);
        if (!use(i + k, missing ? kNoHeight : mm_per_step * stored)) return;
      }
    }
  }
  /// Heights take eight times the bytes of the smallest type: none are stored of a map that shows nothing.
  [[nodiscard]] bool any_measured(std::size_t count) const {
    bool any = false;
    for_each(0, count, [&](std::size_t, double z_mm) {
      any = !std::isnan(z_mm);
      return !any;
    });
    return any;
  }
};

HeightMap read_binary(const ScanFile& file, const Edition& edition) {
  const std::size_t header_size = edition.second ? 85 : 81;
  const std::string head = file.head(header_size);
  if (head.size() < header_size) file.fail({"sdf.ends_in_header"});
  Header h;
  std::size_t at = kMagicSize + 10 + 12 + 12;
  h.points = edition.second ? field<std::uint32_t>(head, at) : field<std::uint16_t>(head, at);
  h.profiles = edition.second ? field<std::uint32_t>(head, at) : field<std::uint16_t>(head, at);
  h.x_scale = field<double>(head, at);
  h.y_scale = field<double>(head, at);
  h.z_scale = field<double>(head, at);
  (void)field<double>(head, at);  // The resolution in z is for people.
  h.compression = field<std::uint8_t>(head, at);
  h.data_type = field<std::uint8_t>(head, at);
  h.check_type = field<std::uint8_t>(head, at);
  const Storage storage = check_header(file, h, edition);
  const std::size_t size = size_of(storage.type);
  if (h.points * h.profiles > (file.size() - header_size) / size) fail_too_short(file, h);
  const std::size_t count = static_cast<std::size_t>(h.points) * static_cast<std::size_t>(h.profiles);
  const StoredHeights stored{file, header_size, storage, mm_per(LengthUnit::m) * h.z_scale};
  if (!stored.any_measured(count)) file.fail({"read_scan.no_points"});
  HeightMap map = empty_map(h, "SDF, binary");
  map.z_mm.resize(count);
  parallel_parts(count, [&](std::size_t, std::size_t begin, std::size_t end) {
    stored.for_each(begin, end, [&](std::size_t i, double z_mm) {
      map.z_mm[i] = z_mm;
      return true;
    });
  });
  return map;
}

bool is_space(char c) { return is_blank(c) || c == '\r' || c == '\n'; }

std::string_view next_token(std::string_view& text) {
  std::size_t begin = 0;
  while (begin < text.size() && is_space(text[begin])) ++begin;
  std::size_t end = begin;
  while (end < text.size() && !is_space(text[end])) ++end;
  const std::string_view token = text.substr(begin, end - begin);
  text.remove_prefix(end);
  return token;
}

/// Heights of an ascii body, those that `room` holds.
std::vector<double> heights_of(const ScanFile& file, const Header& h, std::string_view rest, Room& room) {
  const std::uint64_t count = h.points * h.profiles;
  std::vector<double> z_mm;
  z_mm.reserve(static_cast<std::size_t>(count));
  const double mm_per_step = mm_per(LengthUnit::m) * h.z_scale;
  for (std::uint64_t i = 0; i < count; ++i) {
    const std::string_view token = next_token(rest);
    if (token.empty() || token == "*") fail_too_short(file, h);
    double height = kNoHeight;
    if (token != "BAD") {
      const auto value = number_from<double>(token);
      if (!value) file.fail({"sdf.no_height", {{"height", digits(i + 1)}, {"word", excerpt(token)}}});
      height = mm_per_step * *value;
    }
    if (room.take(sizeof(height))) z_mm.push_back(std::isfinite(height) ? height : kNoHeight);
  }
  return z_mm;
}

HeightMap read_ascii(const ScanFile& file, const Edition& edition) {
  const std::string text = file.all();
  std::string_view rest = text;
  (void)next_line(rest);  // The magic word; it was looked at.
  Header h;
  std::uint64_t line_number = 1;
  while (true) {
    if (rest.empty()) file.fail({"sdf.ends_in_header"});
    std::string_view line = next_line(rest);
    ++line_number;
    std::string_view words = line;
    const std::string_view name = next_word(words);
    if (name == "*") break;
    const std::size_t equals = line.find('=');
    if (name.empty() || equals == std::string_view::npos) continue;
    std::string_view after = line.substr(equals + 1);
    const std::string_view value = next_word(after);
    const std::string_view key = name.substr(0, name.find('='));
    const auto number = [&]() -> double {
      const auto read = number_from<double>(value);
      if (!read) file.fail({"sdf.no_number", {{"line", digits(line_number)}, {"word", excerpt(value)}}});
      return *read;
    };
    const auto whole = [&]() -> std::uint64_t {
      const auto read = number_from<std::uint32_t>(value);
      if (!read) file.fail({"sdf.no_whole_number", {{"line", digits(line_number)}, {"word", excerpt(value)}}});
      return *read;
    };
    if (key == "NumPoints") h.points = whole();
    if (key == "NumProfiles") h.profiles = whole();
    if (key == "Xscale") h.x_scale = number();
    if (key == "Yscale") h.y_scale = number();
    if (key == "Zscale") h.z_scale = number();
    if (key == "Compression") h.compression = static_cast<int>(whole());
    if (key == "DataType") h.data_type = static_cast<int>(whole());
    if (key == "CheckType") h.check_type = static_cast<int>(whole());
  }
  (void)check_header(file, h, edition);
  // A height and its white space take two characters; the last may lack the space.
  if (h.points * h.profiles > (rest.size() + 1) / 2) fail_too_short(file, h);
  HeightMap map = empty_map(h, "SDF, ascii");
  map.z_mm =
      read_in_little_room(file, Reading::whole_text, [&](Room& room) { return heights_of(file, h, rest, room); });
  return map;
}

void append_number(std::string& bytes, auto value) {
  auto raw = std::bit_cast<std::array<char, sizeof(value)>>(value);
  if constexpr (std::endian::native == std::endian::big) std::reverse(raw.begin(), raw.end());
  bytes.append(raw.data(), raw.size());
}

}  // namespace

bool looks_like_sdf(std::string_view head) { return edition_of(head.substr(0, kMagicSize)).has_value(); }

HeightMap read_sdf(const ScanFile& file) {
  const auto edition = edition_of(file.head(kMagicSize));
  if (!edition) file.fail({"sdf.unknown_edition"});
  HeightMap map = edition->ascii ? read_ascii(file, *edition) : read_binary(file, *edition);
  if (edition->rows_reversed) {
    reverse_rows(map);
    map.notes.push_back({"sdf.last_row_first"});
  }
  return map;
}

std::string sdf_bytes(const HeightMap& map, SdfEncoding encoding) {
  if (map.columns == 0 || map.rows == 0) throw std::invalid_argument("a height map needs at least one node");
  for (const double z : map.z_mm) {
    if (z == std::numeric_limits<double>::lowest() || std::isinf(z))
      throw std::invalid_argument("a height equals the format's mark for 'not measured'");
  }
  // Stored in millimetres with a scale of 0.001, so that reading multiplies by exactly one.
  constexpr double z_scale = 1e-3;
  constexpr std::size_t most_in_first_edition = 65535;
  const bool second = std::max(map.columns, map.rows) > most_in_first_edition;
  const double x_scale = map.step_x_mm / mm_per(LengthUnit::m), y_scale = map.step_y_mm / mm_per(LengthUnit::m);
  const std::string magic = std::string(encoding == SdfEncoding::ascii ? "a" : "b") + (second ? "ISO-2.0" : "ISO-1.0");
  constexpr std::string_view no_date = "000000000000", maker = "canewise  ";
  if (encoding == SdfEncoding::ascii) {
    std::string text = fmt::format(
        "{}\r\nManufacID = canewise\r\nCreateDate = {}\r\nModDate = {}\r\nNumPoints = {}\r\nNumProfiles = {}\r\n"
        "Xscale = {}\r\nYscale = {}\r\nZscale = {}\r\nZresolution = -1\r\nCompression = 0\r\nDataType = 7\r\n"
        "CheckType = 0\r\n*\r\n",
        magic, no_date, no_date, map.columns, map.rows, x_scale, y_scale, z_scale);
    for (std::size_t i = 0; i < map.z_mm.size(); ++i) {
      const char* end = (i + 1) % map.columns == 0 ? "\r\n" : " ";
      if (std::isnan(map.z_mm[i])) {
        fmt::format_to(std::back_inserter(text), "BAD{}", end);
      } else {
        fmt::format_to(std::back_inserter(text), "{}{}", map.z_mm[i], end);  // The shortest text that reads back.
      }
    }
    return text + "*\r\n*\r\n";
  }
  std::string bytes = magic;
  bytes.append(maker).append(no_date).append(no_date);
  for (const std::size_t count : {map.columns, map.rows}) {
    if (second) {
      append_number(bytes, static_cast<std::uint32_t>(count));
    } else {
      append_number(bytes, static_cast<std::uint16_t>(count));
    }
  }
  constexpr double unknown_resolution = -1.0;
  for (const double value : {x_scale, y_scale, z_scale, unknown_resolution}) append_number(bytes, value);
  constexpr std::string_view no_compression_float64_no_check("\0\7\0", 3);
  bytes.append(no_compression_float64_no_check);
  bytes.reserve(bytes.size() + 8 * map.z_mm.size());
  for (const double z : map.z_mm) append_number(bytes, std::isnan(z) ? std::numeric_limits<double>::lowest() : z);
  return bytes;
}

}  // namespace canewise
