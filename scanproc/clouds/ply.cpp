#include "scanproc/clouds/ply.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "scanproc/clouds/mesh.h"
#include "scanproc/clouds/ply_body.h"
#include "scanproc/clouds/ply_header.h"
#include "scanproc/clouds/records.h"

namespace canewise {
namespace {

using Triangles = std::vector<std::array<std::uint32_t, 3>>;

/// The elements that are a surface, as places in the header's list, and which list of a face holds its corners.
struct Parts {
  std::size_t vertices = 0;
  std::optional<std::size_t> faces;
  std::size_t corners = 0;
};

Parts find_parts(const ScanFile& file, const PlyHeader& header) {
  const auto& elements = header.elements;
  const auto vertices =
      std::find_if(elements.begin(), elements.end(), [](const auto& e) { return e.name == "vertex"; });
  if (vertices == elements.end()) file.fail({"ply.no_vertices"});
  Parts parts;
  parts.vertices = static_cast<std::size_t>(vertices - elements.begin());
  for (std::size_t i = 0; i < elements.size() && !parts.faces; ++i) {
    if (elements[i].name != "face" || elements[i].count == 0) continue;
    for (std::size_t k = 0; k < elements[i].properties.size() && !parts.faces; ++k) {
      const PlyProperty& property = elements[i].properties[k];
      if (!property.is_list || (property.name != "vertex_indices" && property.name != "vertex_index")) continue;
      parts.faces = i;
      parts.corners = k;
    }
  }
  return parts;
}

/// Which property is x, y, z.
std::array<std::size_t, 3> find_xyz(const ScanFile& file, const PlyElement& vertex) {
  std::array<std::size_t, 3> columns{};
  constexpr std::array<std::string_view, 3> names{"x", "y", "z"};
  for (std::size_t axis = 0; axis < 3; ++axis) {
    const auto& all = vertex.properties;
    const auto found =
        std::find_if(all.begin(), all.end(), [&](const auto& p) { return p.name == names.at(axis) && !p.is_list; });
    if (found == all.end()) {
      file.fail({"ply.no_coordinate", {{"property", text(names.at(axis))}}});
    }
    columns.at(axis) = static_cast<std::size_t>(found - all.begin());
  }
  return columns;
}

template <typename Body>
Cloud read_vertices(Body& body, const PlyElement& vertex, double mm_per_unit, Room& room) {
  const auto columns = find_xyz(body.file(), vertex);
  body.begin(vertex);
  std::vector<std::optional<std::size_t>> axis_of(vertex.properties.size());
  for (std::size_t axis = 0; axis < 3; ++axis) axis_of.at(columns.at(axis)) = axis;
  CloudBuilder builder(static_cast<std::size_t>(vertex.count), mm_per_unit, &room);
  for (std::uint64_t point = 0; point < vertex.count; ++point) {
    body.begin_row(point);
    std::array<double, 3> xyz{};
    for (std::size_t k = 0; k < vertex.properties.size(); ++k) {
      const PlyProperty& property = vertex.properties[k];
      if (axis_of[k]) {
        xyz.at(*axis_of[k]) = body.value(property.type);
      } else {
        body.skip(property.type, property.is_list ? body.list_size(property) : 1);
      }
    }
    builder.add(xyz[0], xyz[1], xyz[2]);
  }
  return std::move(builder).finish({});
}

/// Fixed-size records are read on two threads and without a step for each value.
Cloud read_packed_vertices(PlyBinaryBody& body, const PlyElement& vertex, double mm_per_unit, Room& room) {
  const auto columns = find_xyz(body.file(), vertex);
  RecordLayout layout;
  layout.stride = vertex.least_bytes();
  layout.big_endian = body.is_big_endian();
  std::size_t position = 0;
  for (std::size_t k = 0; k < vertex.properties.size(); ++k) {
    for (std::size_t axis = 0; axis < 3; ++axis) {
      if (columns.at(axis) != k) continue;
      layout.offset.at(axis) = position;
      layout.type.at(axis) = vertex.properties[k].type;
    }
    position += size_of(vertex.properties[k].type);
  }
  body.begin(vertex);
  Cloud cloud;
  if (room.take(vertex.count * 3 * sizeof(double)))
    cloud = read_records(body.file(), body.offset(), vertex.count, layout, mm_per_unit);
  body.skip_rows(vertex);
  return cloud;
}

/// Each face cut into a fan of triangles.
template <typename Body>
Triangles read_faces(Body& body, const PlyHeader& header, const Parts& parts, Room& room) {
  const PlyElement& faces = header.elements[*parts.faces];
  const auto vertices = static_cast<double>(header.elements[parts.vertices].count);
  body.begin(faces);
  Triangles triangles;
  for (std::uint64_t face = 0; face < faces.count; ++face) {
    body.begin_row(face);
    for (std::size_t k = 0; k < faces.properties.size(); ++k) {
      const PlyProperty& property = faces.properties[k];
      const std::uint64_t entries = property.is_list ? body.list_size(property) : 1;
      if (k != parts.corners) {
        body.skip(property.type, entries);
        continue;
      }
      TriangleFan fan(triangles, room);
      for (std::uint64_t entry = 0; entry < entries; ++entry) {
        const double index = body.value(property.type);
        if (!(index >= 0 && index < vertices && index == std::floor(index)))
          body.file().fail({"ply.no_such_vertex", {{"place", part(body.row().place())}}});
        fan.add(static_cast<std::uint32_t>(index));
      }
    }
  }
  return triangles;
}

/// Vertices and, where there are any, the triangles between them as one cloud.
Cloud with_faces(Cloud points, Triangles triangles, const std::string& format) {
  if (triangles.empty()) return points;
  Mesh mesh;
  mesh.vertices = std::move(points.points_mm);
  mesh.triangles = std::move(triangles);
  mesh.format = format;
  return cloud_from(mesh, 1.0);
}

/// The body's elements in their order, which is any; `read_points` reads the vertices.
template <typename Body, typename ReadPoints>
std::pair<Cloud, Triangles> read_body(Body body, const PlyHeader& header, const Parts& parts, Room& room,
                                      const ReadPoints& read_points) {
  Cloud cloud;
  Triangles triangles;
  const PlyElement& vertex = header.elements[parts.vertices];
  const std::size_t last = std::max(parts.vertices, parts.faces.value_or(0));
  for (std::size_t i = 0; i <= last; ++i) {
    const PlyElement& element = header.elements[i];
    if (i == parts.vertices) {
      cloud = read_points(body, vertex, room);
      // With vertices left out the faces' numbers would mean others; the points alone are safe.
      if (cloud.dropped_non_finite > 0) return {std::move(cloud), Triangles()};
    } else if (i == parts.faces) {
      triangles = read_faces(body, header, parts, room);
    } else {
      body.skip_rows(element);
    }
  }
  return {std::move(cloud), std::move(triangles)};
}

Cloud read_ascii(const ScanFile& file, const PlyHeader& header, const Parts& parts, double mm_per_unit) {
  const std::string text = file.all();
  const PlyAsciiBody start(file, std::string_view(text).substr(header.body_offset));
  auto [cloud, triangles] = read_in_little_room(file, Reading::whole_text, [&](Room& room) {
    return read_body(start, header, parts, room, [&](PlyAsciiBody& body, const PlyElement& vertex, Room& left) {
      return read_vertices(body, vertex, mm_per_unit, left);
    });
  });
  cloud.format = "PLY, ascii";
  return with_faces(std::move(cloud), std::move(triangles), "PLY mesh, ascii");
}

Cloud read_binary(const ScanFile& file, const PlyHeader& header, const Parts& parts, double mm_per_unit) {
  const bool big_endian = header.encoding == PlyEncoding::big_endian;
  const PlyBinaryBody start(file, header.body_offset, big_endian);
  auto [cloud, triangles] = read_in_little_room(file, Reading::in_pieces, [&](Room& room) {
    return read_body(start, header, parts, room, [&](PlyBinaryBody& body, const PlyElement& vertex, Room& left) {
      return vertex.has_list() ? read_vertices(body, vertex, mm_per_unit, left)
                               : read_packed_vertices(body, vertex, mm_per_unit, left);
    });
  });
  cloud.format = big_endian ? "PLY, binary big-endian" : "PLY, binary little-endian";
  return with_faces(std::move(cloud), std::move(triangles), "PLY mesh, binary");
}

}  // namespace

bool looks_like_ply(std::string_view head) { return head.starts_with("ply\n") || head.starts_with("ply\r"); }

Cloud read_ply(const ScanFile& file, double mm_per_unit) {
  const PlyHeader header = read_ply_header(file);
  const Parts parts = find_parts(file, header);
  return header.encoding == PlyEncoding::ascii ? read_ascii(file, header, parts, mm_per_unit)
                                               : read_binary(file, header, parts, mm_per_unit);
}

}  // namespace canewise
