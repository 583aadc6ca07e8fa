#include "scanproc/heights/x3p.h"

#include <fmt/format.h>

#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <bit>
#include <cctype>
#include <cmath>
#include <limits>
#include <pugixml.hpp>
#include <stdexcept>
#include <string_view>
#include <vector>

#include "scanproc/bytes/number_text.h"
#include "scanproc/bytes/zip_archive.h"
#include "scanproc/clouds/records.h"
#include "scanproc/core/md5.h"
#include "scanproc/core/parallel.h"
#include "scanproc/core/units.h"

namespace canewise {
namespace {

struct Axis {
  bool absolute = false;
  ScalarType type = ScalarType::float64;
  double mm_per_step = 0.0;  ///< Of an index, or of a stored value.
  double offset_mm = 0.0;
};

/// Record 1 and the dimensions of record 3.
struct Layout {
  std::array<Axis, 3> axes;
  Eigen::Matrix3d rotation = Eigen::Matrix3d::Identity();
  bool rotated = false;
  bool is_list = false;
  std::uint64_t columns = 0, rows = 0, layers = 1;
  [[nodiscard]] std::uint64_t count() const { return columns * rows * layers; }
  /// Of one point in a binary member, which holds its absolute axes.
  [[nodiscard]] std::size_t record_bytes() const {
    std::size_t bytes = 0;
    for (const Axis& axis : axes) bytes += axis.absolute ? size_of(axis.type) : 0;
    return bytes;
  }
};

/// Stored values by axis; empty for an incremental axis. z always is absolute.
struct Stored {
  std::array<std::vector<double>, 3> values;
};

std::string_view local_name(std::string_view name) {
  const auto colon = name.find(':');
  return colon == std::string_view::npos ? name : name.substr(colon + 1);
}

pugi::xml_node child(const pugi::xml_node& parent, std::string_view name) {
  for (const auto& node : parent.children()) {
    if (local_name(node.name()) == name) return node;
  }
  return {};
}

std::string text_of(const pugi::xml_node& node) {
  const std::string_view text = node.child_value();
  const auto first = text.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos) return {};
  return std::string(text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1));
}

double number_in(const ScanFile& file, const pugi::xml_node& parent, std::string_view name, double fallback) {
  const std::string text = text_of(child(parent, name));
  if (text.empty()) return fallback;
  const auto value = number_from<double>(text);
  if (!value) file.fail({"x3p.no_number", {{"element", excerpt(name)}, {"word", excerpt(text)}}});
  return *value;
}

std::uint64_t whole_in(const ScanFile& file, const pugi::xml_node& parent, std::string_view name,
                       std::uint64_t fallback) {
  const std::string text = text_of(child(parent, name));
  if (text.empty() && fallback > 0) return fallback;
  const auto value = number_from<std::uint32_t>(text);
  if (!value || *value == 0) file.fail({"x3p.no_count", {{"element", excerpt(name)}, {"word", excerpt(text)}}});
  return *value;
}

Axis axis_from(const ScanFile& file, const pugi::xml_node& axes, const char* name) {
  const pugi::xml_node node = child(axes, name);
  if (!node) file.fail({"x3p.no_axis", {{"axis", text(name)}}});
  Axis axis;
  const bool is_z = std::string_view(name) == "CZ";
  const std::string kind = text_of(child(node, "AxisType"));
  axis.absolute = is_z || kind == "A";
  if (kind != "A" && kind != "I")
    file.fail({"x3p.axis_type", {{"element", text("AxisType")}, {"word", excerpt(kind)}}});
  const std::string type = text_of(child(node, "DataType"));
  if (type == "I") {
    axis.type = ScalarType::int16;
  } else if (type == "L") {
    axis.type = ScalarType::int32;
  } else if (type == "F") {
    axis.type = ScalarType::float32;
  } else if (type == "D" || (type.empty() && !axis.absolute)) {
    axis.type = ScalarType::float64;
  } else {
    file.fail({"x3p.data_type", {{"element", text("DataType")}, {"word", excerpt(type)}}});
  }
  // A missing increment of an absolute axis means that values are metres already; some writers say so with 'NaN'.
  double increment = number_in(file, node, "Increment", axis.absolute ? 1.0 : 0.0);
  if (axis.absolute && std::isnan(increment)) increment = 1.0;
  if (!std::isfinite(mm_per(LengthUnit::m) * increment) || increment == 0.0) {
    file.fail({"x3p.increment", {{"element", text("Increment")}, {"axis", text(name)}}});
  }
  const double offset = number_in(file, node, "Offset", 0.0);
  axis.mm_per_step = mm_per(LengthUnit::m) * increment;
  axis.offset_mm = std::isfinite(offset) ? mm_per(LengthUnit::m) * offset : 0.0;
  return axis;
}

Layout layout_from(const ScanFile& file, const pugi::xml_node& root) {
  Layout layout;
  const pugi::xml_node record1 = child(root, "Record1"), record3 = child(root, "Record3");
  const pugi::xml_node axes = child(record1, "Axes");
  if (!axes || !record3) file.fail({"x3p.no_axes"});
  layout.axes = {axis_from(file, axes, "CX"), axis_from(file, axes, "CY"), axis_from(file, axes, "CZ")};
  if (const pugi::xml_node rotation = child(axes, "Rotation")) {
    for (int i = 0; i < 3; ++i) {
      for (int j = 0; j < 3; ++j) {
        const std::string name = fmt::format("r{}{}", i + 1, j + 1);
        layout.rotation(i, j) = number_in(file, rotation, name, kNoHeight);
      }
    }
    constexpr double tolerance = 1e-3;
    const Eigen::Matrix3d product = layout.rotation * layout.rotation.transpose();
    if (!((product - Eigen::Matrix3d::Identity()).cwiseAbs().maxCoeff() < tolerance) ||
        layout.rotation.determinant() < 0) {
      file.fail({"x3p.rotation", {{"element", text("Rotation")}}});
    }
    layout.rotated = !layout.rotation.isIdentity(1e-12);
  }
  if (const pugi::xml_node matrix = child(record3, "MatrixDimension")) {
    layout.columns = whole_in(file, matrix, "SizeX", 0);
    layout.rows = whole_in(file, matrix, "SizeY", 1);
    layout.layers = whole_in(file, matrix, "SizeZ", 1);
  } else {
    layout.is_list = true;
    layout.columns = whole_in(file, record3, "ListDimension", 0);
    layout.rows = 1;
    if (!layout.axes[0].absolute || !layout.axes[1].absolute) file.fail({"x3p.list_without_xy"});
  }
  constexpr std::uint64_t most_points = 1ULL << 33U;
  if (layout.columns * layout.rows > most_points || layout.layers > most_points / (layout.columns * layout.rows))
    file.fail({"x3p.too_many"});
  return layout;
}

/// An archive and the folder in it that holds the surface: a file that was unpacked and packed again often lies in one.
struct Package {
  const ZipArchive& zip;
  std::string folder;  ///< "" or ending in '/'.

  /// Names in a description start at its own folder; some writers start at the archive's root all the same.
  [[nodiscard]] std::string member(const std::string& name) const {
    return name.empty() || zip.size_of_member(folder + name) ? folder + name : name;
  }
};

Package open_package(const ScanFile& file, const ZipArchive& zip) {
  const std::vector<std::string> folders = zip.folders_of("main.xml");
  if (folders.empty()) file.fail({"x3p.no_main"});
  const auto depth = [](const std::string& folder) { return std::count(folder.begin(), folder.end(), '/'); };
  if (folders.size() > 1 && depth(folders[0]) == depth(folders[1])) {
    file.fail({"x3p.more_than_one",
               {{"first", excerpt(folders[0] + "main.xml")}, {"second", excerpt(folders[1] + "main.xml")}}});
  }
  return {zip, folders.front()};
}

/// A file of the archive, unpacked.
struct Member {
  std::string name;
  std::string bytes;
};

/// `element` of the link states the member's sum.
void check_sum(const ScanFile& file, const pugi::xml_node& link, const char* element, const Member& member) {
  std::string wanted = text_of(child(link, element)).substr(0, 32);
  std::transform(wanted.begin(), wanted.end(), wanted.begin(), [](unsigned char c) { return std::tolower(c); });
  if (wanted.empty()) file.fail({"x3p.no_sum", {{"element", text(element)}, {"member", excerpt(member.name)}}});
  if (md5(member.bytes) != wanted) file.fail({"x3p.wrong_data_sum", {{"member", excerpt(member.name)}}});
}

std::string read_heights(const ScanFile& file, const Package& package, const pugi::xml_node& link,
                         const Layout& layout) {
  const std::uint64_t count = layout.count(), expected = count * layout.record_bytes();
  const std::string stated_name = text_of(child(link, "PointDataLink")), name = package.member(stated_name);
  const auto size = stated_name.empty() ? std::nullopt : package.zip.size_of_member(name);
  if (!size) file.fail({"x3p.no_heights_member", {{"member", excerpt(stated_name)}}});
  if (*size != expected) {
    file.fail({"x3p.member_size",
               {{"promised", digits(count)},
                {"bytes", digits(expected)},
                {"member", excerpt(name)},
                {"held", digits(*size)}}});
  }
  // What unpacks to many times the archive's size is no scan: measured heights hardly pack.
  constexpr std::uint64_t spare = 48U << 20U, most_packed = 24;
  const auto stored_axes = std::count_if(layout.axes.begin(), layout.axes.end(), [](auto& a) { return a.absolute; });
  if (count * sizeof(double) * static_cast<std::uint64_t>(stored_axes) > spare + most_packed * file.size())
    file.fail({"zip.too_large", {{"member", excerpt(name)}}});
  Member heights{name, package.zip.read_member(name, spare + 2 * file.size())};
  check_sum(file, link, "MD5ChecksumPointData", heights);
  return std::move(heights.bytes);
}

/// Which points were measured, a bit each. Empty: all.
struct ValidPoints {
  std::string bits;
  [[nodiscard]] bool holds(std::size_t i) const {
    return bits.empty() || (static_cast<unsigned char>(bits[i / 8]) >> (i % 8) & 1U) != 0;
  }
};

ValidPoints read_valid_points(const ScanFile& file, const Package& package, const pugi::xml_node& link,
                              std::uint64_t count) {
  const std::string stated_name = text_of(child(link, "ValidPointsLink"));
  if (stated_name.empty()) return {};
  const std::string name = package.member(stated_name);
  Member valid{name, package.zip.read_member(name, (count + 7) / 8)};
  if (valid.bytes.size() != (count + 7) / 8) file.fail({"x3p.valid_short", {{"member", excerpt(name)}}});
  check_sum(file, link, "MD5ChecksumValidPoints", valid);
  return {std::move(valid.bytes)};
}

/// Whether any height was measured.
bool holds_a_height(const std::string& bytes, const ValidPoints& valid, const Layout& layout) {
  const Axis& z_axis = layout.axes[2];
  const std::size_t record = layout.record_bytes(), z_offset = record - size_of(z_axis.type);
  for (std::size_t i = 0; i < layout.count(); ++i) {
    if (valid.holds(i) && std::isfinite(decode_scalar(bytes.data() + i * record + z_offset, z_axis.type, false)))
      return true;
  }
  return false;
}

Stored stored_in(const std::string& bytes, const ValidPoints& valid, const Layout& layout) {
  Stored stored;
  const std::size_t record = layout.record_bytes();
  std::size_t offset = 0;
  for (std::size_t k = 0; k < 3; ++k) {
    const Axis& axis = layout.axes.at(k);
    if (!axis.absolute) continue;
    auto& values = stored.values.at(k);
    values.resize(static_cast<std::size_t>(layout.count()));
    parallel_parts(values.size(), [&](std::size_t, std::size_t begin, std::size_t end) {
      for (std::size_t i = begin; i < end; ++i) {
        const double value = decode_scalar(bytes.data() + i * record + offset, axis.type, false);
        const double place = axis.offset_mm + axis.mm_per_step * value;
        values[i] = std::isfinite(place) ? place : kNoHeight;
      }
    });
    offset += size_of(axis.type);
  }
  auto& z = stored.values[2];
  for (std::size_t i = 0; i < z.size(); ++i) {
    if (!valid.holds(i)) z[i] = kNoHeight;
  }
  return stored;
}

Stored read_binary(const ScanFile& file, const Package& package, const pugi::xml_node& link, const Layout& layout) {
  const std::string bytes = read_heights(file, package, link, layout);
  const ValidPoints valid = read_valid_points(file, package, link, layout.count());
  // Everything is known to be whole before the heights themselves are stored, and that there are any.
  if (!holds_a_height(bytes, valid, layout)) file.fail({"read_scan.no_points"});
  return stored_in(bytes, valid, layout);
}

Stored read_list(const ScanFile& file, const pugi::xml_node& list, const Layout& layout) {
  Stored stored;
  std::uint64_t point = 0;
  for (const auto& datum : list.children()) {
    if (local_name(datum.name()) != "Datum") continue;
    if (++point > layout.count()) break;
    std::string_view text = datum.child_value();
    for (std::size_t k = 0; k < 3; ++k) {
      const Axis& axis = layout.axes.at(k);
      if (!axis.absolute) continue;
      const auto end = text.find(';');
      std::string_view word = text.substr(0, end);
      text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
      while (!word.empty() && std::string_view(" \t\r\n").find(word.front()) != std::string_view::npos)
        word.remove_prefix(1);
      while (!word.empty() && std::string_view(" \t\r\n").find(word.back()) != std::string_view::npos)
        word.remove_suffix(1);
      double value = kNoHeight;
      if (!word.empty()) {
        const auto number = number_from<double>(word);
        if (!number) file.fail({"x3p.no_number_in_list", {{"point", digits(point)}, {"word", excerpt(word)}}});
        value = axis.offset_mm + axis.mm_per_step * *number;
      }
      stored.values.at(k).push_back(std::isfinite(value) ? value : kNoHeight);
    }
  }
  if (point != layout.count()) {
    const Argument promised = digits(layout.count());
    file.fail(point > layout.count() ? Message{"x3p.lists_more", {{"promised", promised}}}
                                     : Message{"x3p.lists_fewer", {{"promised", promised}, {"listed", digits(point)}}});
  }
  return stored;
}

/// Reading a document takes many times its size; how many shows from what it is made of.
void check_document_size(const ScanFile& file, const std::string& xml) {
  if (xml.find("<!DOCTYPE") != std::string::npos || xml.find("<!ENTITY") != std::string::npos)
    file.fail({"x3p.entities"});
  constexpr std::size_t node_bytes = 64, attribute_bytes = 40, most_bytes = 48U << 20U;
  const auto occurrences = [&](char c) { return static_cast<std::size_t>(std::count(xml.begin(), xml.end(), c)); };
  if (xml.size() + node_bytes * 2 * occurrences('<') + attribute_bytes * occurrences('=') >
      most_bytes + 2 * file.size())
    file.fail({"x3p.long_list"});
}

struct Surface {
  Layout layout;
  Stored stored;
  Messages notes;
};

Surface read_surface(const ScanFile& file) {
  const ZipArchive zip(file);
  const Package package = open_package(file, zip);
  Surface surface;
  constexpr std::uint64_t largest_document = 16U << 20U;
  std::string xml = zip.read_member(package.folder + "main.xml", largest_document);
  check_document_size(file, xml);
  const std::string sum_of_xml = md5(xml);  // Before the parser writes into it.
  pugi::xml_document document;
  const auto parsed = document.load_buffer_inplace(xml.data(), xml.size(), pugi::parse_default, pugi::encoding_auto);
  if (!parsed) {
    file.fail({"x3p.damaged_xml", {{"byte", digits(static_cast<std::uint64_t>(parsed.offset))}}});
  }
  const pugi::xml_node root = document.document_element();
  if (local_name(root.name()) != "ISO5436_2") file.fail({"x3p.no_surface"});
  std::string sum_name = text_of(child(child(root, "Record4"), "ChecksumFile"));
  if (sum_name.empty()) sum_name = "md5checksum.hex";
  sum_name = package.member(sum_name);
  constexpr std::uint64_t largest_sum = 4096;
  if (zip.size_of_member(sum_name)) {
    std::string sum = zip.read_member(sum_name, largest_sum).substr(0, 32);
    std::transform(sum.begin(), sum.end(), sum.begin(), [](unsigned char c) { return std::tolower(c); });
    if (sum != sum_of_xml) file.fail({"x3p.wrong_sum"});
  } else {
    surface.notes.push_back({"x3p.without_sum"});
  }
  surface.layout = layout_from(file, root);
  const pugi::xml_node record3 = child(root, "Record3");
  if (const pugi::xml_node link = child(record3, "DataLink")) {
    surface.stored = read_binary(file, package, link, surface.layout);
  } else if (const pugi::xml_node list = child(record3, "DataList")) {
    surface.stored = read_list(file, list, surface.layout);
  } else {
    file.fail({"x3p.no_data"});
  }
  return surface;
}

bool is_height_map(const Layout& layout) {
  return !layout.is_list && !layout.rotated && layout.layers == 1 && !layout.axes[0].absolute &&
         !layout.axes[1].absolute;
}

HeightMap map_from(Surface surface) {
  HeightMap map;
  const auto& axes = surface.layout.axes;
  map.columns = static_cast<std::size_t>(surface.layout.columns);
  map.rows = static_cast<std::size_t>(surface.layout.rows);
  map.step_x_mm = axes[0].mm_per_step;
  map.step_y_mm = axes[1].mm_per_step;
  map.origin_x_mm = axes[0].offset_mm;
  map.origin_y_mm = axes[1].offset_mm;
  map.z_mm = std::move(surface.stored.values[2]);
  map.format = "X3P height map";
  map.notes = std::move(surface.notes);
  return map;
}

std::string xml_escaped(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == '<') {
      out += "&lt;";
    } else if (c == '&') {
      out += "&amp;";
    } else if (static_cast<unsigned char>(c) >= 0x20U) {
      out += c;
    }
  }
  return out;
}

}  // namespace

bool looks_like_x3p(std::string_view head) { return head.starts_with("PK\x03\x04"); }

Cloud read_x3p(const ScanFile& file) {
  Surface surface = read_surface(file);
  if (is_height_map(surface.layout)) return cloud_from(map_from(std::move(surface)));
  const Layout& layout = surface.layout;
  Cloud cloud;
  const auto count = static_cast<std::size_t>(layout.count());
  cloud.points_mm.resize(3, static_cast<Eigen::Index>(count));
  for (std::size_t i = 0; i < count; ++i) {
    const std::array<std::uint64_t, 3> index{i % layout.columns, i / layout.columns % layout.rows, 0};
    Eigen::Vector3d p;
    for (std::size_t k = 0; k < 3; ++k) {
      const Axis& axis = layout.axes.at(k);
      p(static_cast<Eigen::Index>(k)) = axis.absolute ? surface.stored.values.at(k)[i] - axis.offset_mm
                                                      : axis.mm_per_step * static_cast<double>(index.at(k));
    }
    if (layout.rotated) p = layout.rotation * p;
    for (std::size_t k = 0; k < 3; ++k) p(static_cast<Eigen::Index>(k)) += layout.axes.at(k).offset_mm;
    cloud.points_mm.col(static_cast<Eigen::Index>(i)) = p;
  }
  std::array<std::size_t, kParallelParts> begins{}, kept{};
  parallel_parts(count, [&](std::size_t part, std::size_t begin, std::size_t end) {
    begins.at(part) = begin;
    kept.at(part) = keep_finite(cloud.points_mm, begin, end);
  });
  join_parts(cloud, begins, kept);
  cloud.dropped_non_finite = 0;  // A point that was not measured is no damage.
  cloud.format = layout.is_list ? "X3P point list" : "X3P surface with its own x and y";
  cloud.unit_known = true;
  cloud.notes = std::move(surface.notes);
  return cloud;
}

HeightMap read_x3p_map(const ScanFile& file) {
  Surface surface = read_surface(file);
  if (!is_height_map(surface.layout)) file.fail({"x3p.no_height_map"});
  return map_from(std::move(surface));
}

std::string x3p_bytes(const HeightMap& map, const X3pOrigin& origin) {
  if (map.columns == 0 || map.rows == 0) throw std::invalid_argument("a height map needs at least one node");
  std::string data;
  data.reserve(8 * map.z_mm.size());
  for (const double z : map.z_mm) {
    auto raw = std::bit_cast<std::array<char, 8>>(z / mm_per(LengthUnit::m));
    if constexpr (std::endian::native == std::endian::big) std::reverse(raw.begin(), raw.end());
    data.append(raw.data(), raw.size());
  }
  const auto axis = [](const char* name, const char* kind, double increment_mm, double offset_mm) {
    return fmt::format(
        "      <{0}>\n        <AxisType>{1}</AxisType>\n        <DataType>D</DataType>\n"
        "        <Increment>{2}</Increment>\n        <Offset>{3}</Offset>\n      </{0}>\n",
        name, kind, increment_mm / mm_per(LengthUnit::m), offset_mm / mm_per(LengthUnit::m));
  };
  const std::string xml = fmt::format(
      "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"no\"?>\n"
      "<p:ISO5436_2 xmlns:p=\"http://www.opengps.eu/2008/ISO5436_2\">\n"
      "  <Record1>\n    <Revision>ISO5436 - 2000</Revision>\n    <FeatureType>SUR</FeatureType>\n    <Axes>\n"
      "{0}{1}{2}    </Axes>\n  </Record1>\n"
      "  <Record2>\n    <Date>{3}</Date>\n    <Instrument>\n      <Manufacturer>canewise</Manufacturer>\n"
      "      <Model>height map</Model>\n      <Serial>not available</Serial>\n      <Version>not available</Version>\n"
      "    </Instrument>\n    <CalibrationDate>{3}</CalibrationDate>\n    <ProbingSystem>\n"
      "      <Type>Software</Type>\n      <Identification>canewise</Identification>\n    </ProbingSystem>\n"
      "    <Comment>{4}</Comment>\n  </Record2>\n"
      "  <Record3>\n    <MatrixDimension>\n      <SizeX>{5}</SizeX>\n      <SizeY>{6}</SizeY>\n      <SizeZ>1</SizeZ>\n"
      "    </MatrixDimension>\n    <DataLink>\n      <PointDataLink>bindata/data.bin</PointDataLink>\n"
      "      <MD5ChecksumPointData>{7}</MD5ChecksumPointData>\n    </DataLink>\n  </Record3>\n"
      "  <Record4>\n    <ChecksumFile>md5checksum.hex</ChecksumFile>\n  </Record4>\n</p:ISO5436_2>\n",
      axis("CX", "I", map.step_x_mm, map.origin_x_mm), axis("CY", "I", map.step_y_mm, map.origin_y_mm),
      axis("CZ", "A", mm_per(LengthUnit::m), 0.0), xml_escaped(origin.date), xml_escaped(origin.comment), map.columns,
      map.rows, md5(data));
  return zip_bytes({{"main.xml", xml}, {"bindata/data.bin", data}, {"md5checksum.hex", md5(xml) + " *main.xml\n"}});
}

}  // namespace canewise
