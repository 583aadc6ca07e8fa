// Triangles of a file as CGAL (www.cgal.org) and Open3D (Zhou, Park & Koltun, arXiv:1801.09847) read them, and the
// thickness of a closed surface as CGAL's tree of its facets is pierced.
#include <CGAL/AABB_face_graph_triangle_primitive.h>
#include <CGAL/AABB_traits.h>
#include <CGAL/AABB_tree.h>
#include <CGAL/IO/OBJ.h>
#include <CGAL/IO/PLY.h>
#include <CGAL/IO/STL.h>
#include <CGAL/Polygon_mesh_processing/measure.h>
#include <CGAL/Polygon_mesh_processing/polygon_soup_to_polygon_mesh.h>
#include <CGAL/Simple_cartesian.h>
#include <CGAL/Surface_mesh.h>
#include <gtest/gtest.h>
#include <open3d/geometry/TriangleMesh.h>
#include <open3d/io/TriangleMeshIO.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "fixtures/reed.h"
#include "fixtures/write_surface.h"
#include "scanproc/clouds/obj.h"
#include "scanproc/clouds/stl.h"
#include "scanproc/datum/place_reed.h"
#include "scanproc/scan/read_scan.h"
#include "scanproc/thickness/measure_thickness.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

using Kernel = CGAL::Simple_cartesian<double>;
using Point = Kernel::Point_3;
using SurfaceMesh = CGAL::Surface_mesh<Point>;

/// Corners of each triangle, in the file's order.
using Corners = std::vector<std::array<Eigen::Vector3d, 3>>;

Corners corners_of(const Mesh& mesh) {
  Corners corners;
  for (const auto& t : mesh.triangles)
    corners.push_back({mesh.vertices.col(t[0]), mesh.vertices.col(t[1]), mesh.vertices.col(t[2])});
  return corners;
}

struct Soup {
  std::vector<Point> points;
  std::vector<std::vector<std::size_t>> faces;
};

/// CGAL's reading as a soup of triangles.
Soup cgal_soup(const std::filesystem::path& path) {
  Soup soup;
  const std::string suffix = path.extension().string();
  const bool read = suffix == ".stl"   ? CGAL::IO::read_STL(path.string(), soup.points, soup.faces)
                    : suffix == ".obj" ? CGAL::IO::read_OBJ(path.string(), soup.points, soup.faces)
                                       : CGAL::IO::read_PLY(path.string(), soup.points, soup.faces);
  EXPECT_TRUE(read) << path;
  return soup;
}

Corners corners_of(const Soup& soup) {
  Corners corners;
  for (const auto& face : soup.faces) {
    EXPECT_EQ(face.size(), 3U);
    std::array<Eigen::Vector3d, 3> triangle;
    for (std::size_t k = 0; k < 3; ++k) {
      const Point& p = soup.points[face[k]];
      triangle.at(k) = {p.x(), p.y(), p.z()};
    }
    corners.push_back(triangle);
  }
  return corners;
}

Corners open3d_corners(const std::filesystem::path& path) {
  open3d::geometry::TriangleMesh mesh;
  EXPECT_TRUE(open3d::io::ReadTriangleMesh(path.string(), mesh)) << path;
  Corners corners;
  for (const auto& t : mesh.triangles_) {
    const auto at = [&](int k) { return mesh.vertices_[static_cast<std::size_t>(t(k))]; };
    corners.push_back({at(0), at(1), at(2)});
  }
  return corners;
}

/// Greatest distance between the corners of two lists of triangles; a triangle may begin at another corner.
double apart(const Corners& a, const Corners& b) {
  if (a.size() != b.size()) return std::numeric_limits<double>::infinity();
  double greatest = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t turn = 0; turn < 3; ++turn) {
      double worst = 0.0;
      for (std::size_t k = 0; k < 3; ++k) worst = std::max(worst, (a[i].at(k) - b[i].at((k + turn) % 3)).norm());
      least = std::min(least, worst);
    }
    greatest = std::max(greatest, least);
  }
  return greatest;
}

// ---------------------------------------------------------------------------------------------------------------------
// A closed surface of an invented reed.
// ---------------------------------------------------------------------------------------------------------------------

/// Half the reed's width at station x, the rounded tip included.
double half_width_at(const fixtures::Reed& reed, double x) {
  double low = 0.0, high = reed.half_width_mm(x);
  if (reed.inside(x, 0.9999 * high)) return high;
  for (int step = 0; step < 50; ++step) {
    const double middle = 0.5 * (low + high);
    (reed.inside(x, middle) ? low : high) = middle;
  }
  return low;
}

/// Top and underside as two height fields over one grid, stitched along the rim. Rows follow the outline, so that the
/// rim is smooth; x grows with the row, y with the column, and the underside is the plane z = 0.
Mesh reed_mesh(const fixtures::Reed& reed, int rows, int columns) {
  const double length = reed.shape().length_mm;
  std::vector<Eigen::Vector3d> vertices;
  const auto number = [&](int side, int row, int column) {
    return static_cast<std::uint32_t>(side * rows * columns + row * columns + column);
  };
  // The tip's arc is steep where it leaves the apex: stations lie denser there.
  const auto station = [&](int row) {
    const double t = static_cast<double>(row) / (rows - 1);
    constexpr double first = 0.02;
    return first + (length - 0.001 - first) * (0.25 * t * t * t + 0.75 * t);
  };
  for (const bool top : {true, false}) {
    for (int row = 0; row < rows; ++row) {
      const double x = station(row), half = half_width_at(reed, x);
      for (int column = 0; column < columns; ++column) {
        const double y = half * (2.0 * column / (columns - 1) - 1.0);
        vertices.emplace_back(x, y, top ? reed.thickness_mm(x, y) : 0.0);
      }
    }
  }
  Mesh mesh;
  const auto quad = [&](std::uint32_t a, std::uint32_t b, std::uint32_t c, std::uint32_t d) {
    mesh.triangles.push_back({a, b, c});
    mesh.triangles.push_back({a, c, d});
  };
  for (int r = 0; r + 1 < rows; ++r) {
    for (int c = 0; c + 1 < columns; ++c) {
      quad(number(0, r, c), number(0, r + 1, c), number(0, r + 1, c + 1), number(0, r, c + 1));
      quad(number(1, r, c), number(1, r, c + 1), number(1, r + 1, c + 1), number(1, r + 1, c));
    }
    quad(number(0, r, 0), number(1, r, 0), number(1, r + 1, 0), number(0, r + 1, 0));
    const int last = columns - 1;
    quad(number(0, r, last), number(0, r + 1, last), number(1, r + 1, last), number(1, r, last));
  }
  for (int c = 0; c + 1 < columns; ++c) {
    quad(number(0, 0, c), number(0, 0, c + 1), number(1, 0, c + 1), number(1, 0, c));
    const int last = rows - 1;
    quad(number(0, last, c), number(1, last, c), number(1, last, c + 1), number(0, last, c + 1));
  }
  mesh.vertices = Eigen::Map<Eigen::Matrix3Xd>(vertices.front().data(), 3, static_cast<Eigen::Index>(vertices.size()));
  return mesh;
}

// ---------------------------------------------------------------------------------------------------------------------
// Reading.
// ---------------------------------------------------------------------------------------------------------------------

struct Written {
  const char* name;
  std::string (*bytes)(const Mesh&);
  Mesh (*read)(const ScanFile&);
};

void PrintTo(const Written& written, std::ostream* out) { *out << written.name; }

class MeshFiles : public testing::TestWithParam<Written> {};

TEST_P(MeshFiles, GiveTheTrianglesThatCgalAndOpen3dFind) {
  const Mesh mesh = reed_mesh(fixtures::Reed{{}}, 120, 41);
  const test::TempFolder folder;
  const auto path = folder.file(GetParam().name, GetParam().bytes(mesh));
  const Corners ours = corners_of(GetParam().read(ScanFile(path)));
  ASSERT_EQ(ours.size(), mesh.triangles.size());
  // Text is read to the last bit of a double by all but Open3D, which takes single precision in places: 2^-25 of 68 mm
  // for each coordinate. A binary file holds nothing finer.
  const double cgal = apart(ours, corners_of(cgal_soup(path)));
  const double open3d = apart(ours, open3d_corners(path));
  RecordProperty("cgal_mm", std::to_string(cgal));
  EXPECT_LE(cgal, 1e-12);
  EXPECT_LE(open3d, std::sqrt(3.0) * 128.0 * 0x1p-25);
}

INSTANTIATE_TEST_SUITE_P(Formats, MeshFiles,
                         testing::Values(Written{"binary.stl", fixtures::stl_binary, read_stl},
                                         Written{"text.stl", fixtures::stl_ascii, read_stl},
                                         Written{"text.obj", fixtures::obj_text, read_obj}),
                         [](const auto& format) { return std::to_string(format.index); });

TEST(PlyMeshFiles, HoldTheTrianglesThatCgalAndOpen3dFind) {
  // The reader keeps no triangles of a PLY, only points on them: its vertices come first, in the file's order.
  // Whole 64ths of a millimetre pass through text and single precision unchanged, so that both draw the same points.
  Mesh mesh = reed_mesh(fixtures::Reed{{}}, 120, 41);
  mesh.vertices = (64.0 * mesh.vertices).array().round() / 64.0;
  for (const auto& [name, bytes] :
       {std::pair{"binary.ply", fixtures::ply_mesh_binary(mesh)}, {"text.ply", fixtures::ply_mesh_ascii(mesh)}}) {
    SCOPED_TRACE(name);
    const test::TempFolder folder;
    const auto path = folder.file(name, bytes);
    Mesh theirs;
    const Soup soup = cgal_soup(path);
    theirs.vertices.resize(3, static_cast<Eigen::Index>(soup.points.size()));
    for (std::size_t i = 0; i < soup.points.size(); ++i)
      theirs.vertices.col(static_cast<Eigen::Index>(i)) << soup.points[i].x(), soup.points[i].y(), soup.points[i].z();
    for (const auto& face : soup.faces) {
      theirs.triangles.push_back({static_cast<std::uint32_t>(face.at(0)), static_cast<std::uint32_t>(face.at(1)),
                                  static_cast<std::uint32_t>(face.at(2))});
    }
    const Cloud wanted = cloud_from(theirs, 1.0);
    const Cloud ours = read_scan(ScanFile(path));
    ASSERT_EQ(ours.points_mm.cols(), wanted.points_mm.cols());
    EXPECT_EQ((ours.points_mm - wanted.points_mm).cwiseAbs().maxCoeff(), 0.0);
    EXPECT_EQ(apart(corners_of(mesh), open3d_corners(path)), 0.0);
  }
}

// ---------------------------------------------------------------------------------------------------------------------
// Piercing.
// ---------------------------------------------------------------------------------------------------------------------

using Tree = CGAL::AABB_tree<CGAL::AABB_traits<Kernel, CGAL::AABB_face_graph_triangle_primitive<SurfaceMesh>>>;

/// Length of the line along the thickness at (x, y) of the reed frame that lies inside the surface. Empty unless it
/// enters once and leaves once.
std::optional<double> pierced_mm(const Tree& tree, const Eigen::Isometry3d& mesh_from_reed, double x, double y) {
  const Eigen::Vector3d high = mesh_from_reed * Eigen::Vector3d(x, y, 50.0);
  const Eigen::Vector3d low = mesh_from_reed * Eigen::Vector3d(x, y, -50.0);
  const Kernel::Segment_3 line(Point(high.x(), high.y(), high.z()), Point(low.x(), low.y(), low.z()));
  std::vector<Tree::Intersection_and_primitive_id<Kernel::Segment_3>::Type> hits;
  tree.all_intersections(line, std::back_inserter(hits));
  double least = std::numeric_limits<double>::infinity(), most = -least;
  for (const auto& hit : hits) {
    const Point* p = boost::get<Point>(&hit.first);
    if (p == nullptr) return std::nullopt;
    const double depth = (Eigen::Vector3d(p->x(), p->y(), p->z()) - high).norm();
    least = std::min(least, depth);
    most = std::max(most, depth);
  }
  if (hits.size() < 2) return std::nullopt;
  return most - least;
}

class PiercedReed : public testing::TestWithParam<bool> {};

TEST_P(PiercedReed, IsAsThickAsTheTwoSidedMapSays) {
  const fixtures::Reed reed{{}};
  Mesh mesh = reed_mesh(reed, 500, 121);
  // Somewhere in space, as a file has it, and with facets turned either way.
  Eigen::Isometry3d pose = Eigen::Isometry3d::Identity();
  pose.linear() = Eigen::Quaterniond(0.3, -0.5, 0.7, 0.4).normalized().toRotationMatrix();
  pose.translation() = Eigen::Vector3d(12.0, -40.0, 7.0);
  mesh.vertices = pose * mesh.vertices;
  if (GetParam()) {
    for (auto& t : mesh.triangles) std::swap(t[1], t[2]);
  }
  const test::TempFolder folder;
  const auto path = folder.file("reed.stl", fixtures::stl_binary(mesh));

  // Theirs: the same file, its loose triangles joined.
  Soup soup = cgal_soup(path);
  SurfaceMesh surface;
  CGAL::Polygon_mesh_processing::polygon_soup_to_polygon_mesh(soup.points, soup.faces, surface);
  ASSERT_TRUE(CGAL::is_closed(surface));
  EXPECT_NEAR(std::abs(CGAL::Polygon_mesh_processing::volume(surface)), 1500.0, 500.0);  // A reed's, mm^3.
  Tree tree(faces(surface).first, faces(surface).second, surface);

  // Ours.
  const Aligned aligned = place_reed({cloud_from(read_stl(ScanFile(path)), 1.0)}, Rig{});
  EXPECT_EQ(aligned.datum, DatumMode::two_sided);
  const ThicknessMap map = measure_thickness(aligned, Rig{}.priors);
  const Eigen::Isometry3d mesh_from_reed = aligned.reed_from_scan.inverse();

  std::vector<double> errors_um;
  Eigen::Index measured = 0;
  for (Eigen::Index r = 0; r < map.grid.rows; ++r) {
    for (Eigen::Index c = 0; c < map.grid.columns; ++c) {
      if (!map.measured(r, c)) continue;
      ++measured;
      const double x = map.grid.x_mm(r), y = map.grid.y_mm(c);
      // A cell's footprint is 0.75 mm long: nearer to the rim part of it is cut off.
      if (!aligned.outline.holds(x, y, 1.0)) continue;
      const auto pierced = pierced_mm(tree, mesh_from_reed, x, y);
      ASSERT_TRUE(pierced) << x << ", " << y;
      errors_um.push_back(1e3 * (static_cast<double>(map.thickness_mm(r, c)) - *pierced));
    }
  }
  ASSERT_GT(errors_um.size(), 9000U) << "of " << measured << " measured cells";
  double mean = 0.0;
  for (double& e : errors_um) mean += e / static_cast<double>(errors_um.size()), e = std::abs(e);
  const auto at_95 = errors_um.begin() + static_cast<std::ptrdiff_t>(0.95 * static_cast<double>(errors_um.size()));
  std::nth_element(errors_um.begin(), at_95, errors_um.end());
  RecordProperty("mean_um", std::to_string(mean));
  RecordProperty("of_95_percent_um", std::to_string(*at_95));
  EXPECT_LT(std::abs(mean), 2.0);
  EXPECT_LT(*at_95, 5.0);
}

INSTANTIATE_TEST_SUITE_P(Facets, PiercedReed, testing::Bool(),
                         [](const auto& turned) { return turned.param ? "inwards" : "outwards"; });

}  // namespace
}  // namespace canewise
