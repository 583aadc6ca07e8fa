// Surfaces of triangles: STL, OBJ and PLY files, and the points that are drawn on them.
#include "scanproc/clouds/mesh.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <map>

#include "fixtures/write_surface.h"
#include "scanproc/clouds/obj.h"
#include "scanproc/clouds/ply.h"
#include "scanproc/clouds/stl.h"
#include "scanproc/scan/read_scan.h"
#include "tests/bytes/file_bytes.h"
#include "tests/support/in_english.h"

namespace canewise {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;

Mesh stl(const std::string& bytes) { return test::with_file(bytes, read_stl); }
Mesh obj(const std::string& bytes) { return test::with_file(bytes, read_obj); }
Cloud scan(const std::string& bytes) {
  return test::with_file(bytes, [](const ScanFile& file) { return read_scan(file); });
}
std::string stl_refusal(const std::string& bytes) { return test::refusal(bytes, read_stl); }
std::string obj_refusal(const std::string& bytes) { return test::refusal(bytes, read_obj); }

/// A wavy sheet of 2 x 16 x 9 facets. Coordinates are whole 64ths below 64, which every format here holds exactly, and
/// vertices are numbered by their first use, as a reader of loose triangles numbers them.
Mesh sheet() {
  Mesh mesh;
  std::map<std::pair<int, int>, std::uint32_t> number;
  std::vector<Eigen::Vector3d> vertices;
  const auto vertex = [&](int i, int j) {
    const auto [entry, fresh] = number.emplace(std::pair(i, j), static_cast<std::uint32_t>(vertices.size()));
    if (fresh) {
      const double height = std::round(64.0 * (2.0 + std::sin(0.7 * i) * std::cos(0.5 * j))) / 64.0;
      vertices.emplace_back(4.0 * i - 5.25, 1.5 * j + 0.015625, height);
    }
    return entry->second;
  };
  for (int j = 0; j < 9; ++j) {
    for (int i = 0; i < 16; ++i) {
      const std::uint32_t a = vertex(i, j), b = vertex(i + 1, j), c = vertex(i + 1, j + 1), d = vertex(i, j + 1);
      mesh.triangles.push_back({a, b, c});
      mesh.triangles.push_back({a, c, d});
    }
  }
  mesh.vertices = Eigen::Map<Eigen::Matrix3Xd>(vertices.front().data(), 3, static_cast<Eigen::Index>(vertices.size()));
  return mesh;
}

constexpr double kEdge = 10.0;
const Eigen::Vector3d kCorner(3.0, -2.0, 5.0);

/// A cube with edges of 10 mm, corner at (3, -2, 5), facets turned outwards.
Mesh cube() {
  Mesh mesh;
  mesh.vertices.resize(3, 8);
  for (int i = 0; i < 8; ++i) mesh.vertices.col(i) = kCorner + kEdge * Eigen::Vector3d(i & 1, i >> 1 & 1, i >> 2 & 1);
  mesh.triangles = {{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
                    {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}};
  return mesh;
}

Mesh flipped(Mesh mesh) {
  for (auto& t : mesh.triangles) std::swap(t[1], t[2]);
  return mesh;
}

/// Distance from the cube's surface.
double off_cube(const Eigen::Vector3d& p) {
  const Eigen::Array3d inside = (p - kCorner).array(), beyond = inside - kEdge;
  const Eigen::Array3d out = inside.min(-beyond);  // Least distance to the two faces of each axis, negative outside.
  if (out.minCoeff() >= 0.0) return out.minCoeff();
  return out.min(0.0).matrix().norm();
}

// ---------------------------------------------------------------------------------------------------------------------
// Formats.
// ---------------------------------------------------------------------------------------------------------------------

TEST(MeshFormats, AllGiveTheSameCloud) {
  const Mesh mesh = sheet();
  const Cloud wanted = cloud_from(mesh, 1.0);
  ASSERT_GT(wanted.points_mm.cols(), 790000);
  for (const auto& [bytes, format] : {std::pair{fixtures::stl_binary(mesh), "STL, binary"},
                                      {fixtures::stl_ascii(mesh), "STL, ascii"},
                                      {fixtures::obj_text(mesh), "OBJ mesh"},
                                      {fixtures::ply_mesh_ascii(mesh), "PLY mesh, ascii"},
                                      {fixtures::ply_mesh_binary(mesh), "PLY mesh, binary"}}) {
    const Cloud cloud = scan(bytes);
    EXPECT_EQ(cloud.format, format);
    ASSERT_EQ(cloud.points_mm.cols(), wanted.points_mm.cols()) << format;
    EXPECT_EQ((cloud.points_mm - wanted.points_mm).cwiseAbs().maxCoeff(), 0.0) << format;
    EXPECT_FALSE(cloud.unit_known) << format;
    EXPECT_EQ(cloud.dropped_non_finite, 0U) << format;
  }
}

TEST(MeshFormats, UnitsScaleToMillimetres) {
  const Mesh mesh = cube();
  for (const auto& bytes : {fixtures::stl_binary(mesh), fixtures::obj_text(mesh), fixtures::ply_mesh_binary(mesh)}) {
    const Cloud cloud = test::with_file(
        bytes, [](const ScanFile& file) { return read_scan(file, ReadOptions{.unit = LengthUnit::in}); });
    const Eigen::Vector3d low = 25.4 * kCorner, high = 25.4 * (kCorner + Eigen::Vector3d::Constant(kEdge));
    EXPECT_LT((cloud.points_mm.rowwise().minCoeff() - low).norm(), 1e-12);
    EXPECT_LT((cloud.points_mm.rowwise().maxCoeff() - high).norm(), 1e-12);
  }
}

TEST(MeshFormats, AnOrdinaryMeshLosesNoMoreThanSinglePrecision) {
  Mesh mesh = sheet();
  mesh.vertices *= 1.0 / 3.0;
  for (const auto& read_back : {stl(fixtures::stl_binary(mesh)), stl(fixtures::stl_ascii(mesh))}) {
    ASSERT_EQ(read_back.triangles.size(), mesh.triangles.size());
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
      for (std::size_t k = 0; k < 3; ++k) {
        const Eigen::Vector3d apart =
            read_back.vertices.col(read_back.triangles[i].at(k)) - mesh.vertices.col(mesh.triangles[i].at(k));
        EXPECT_LE(apart.cwiseAbs().maxCoeff(), 32.0 * 0x1p-25) << "facet " << i;
      }
    }
  }
}

TEST(Stl, BinaryFilesMayBeginWithTheWordOfTextFiles) {
  const std::string bytes = fixtures::stl_binary(cube());
  ASSERT_THAT(bytes, testing::StartsWith("solid"));
  EXPECT_EQ(stl(bytes).format, "STL, binary");
  EXPECT_EQ(stl(bytes).triangles.size(), 12U);
  // Even with a word that such text holds.
  std::string misleading = bytes;
  misleading.replace(0, 26, "solid\n facet normal 0 0 1\n");
  EXPECT_EQ(stl(misleading).format, "STL, binary");
  EXPECT_EQ(scan(misleading).format, "STL, binary");
  // And with a remark at its end.
  EXPECT_EQ(stl(bytes + "made yesterday").triangles.size(), 12U);
}

TEST(Stl, TextMayHoldSeveralSolidsAndAnyWhiteSpace) {
  const std::string text =
      "solid a\r\n\tfacet normal 0 0 1\r\n outer loop\r\nvertex 0 0 0\r\nvertex\t1e0   0 0\r\n  vertex 0 +1.0 0\r\n"
      "endloop\r\nendfacet\r\nendsolid a\r\n\r\nsolid b\nfacet normal 0 0 1\nouter loop\nvertex 0 0 1\nvertex 1 0 "
      "1\nvertex 0 1 1\nendloop\nendfacet\nendsolid b";
  const Mesh mesh = stl(text);
  ASSERT_EQ(mesh.triangles.size(), 2U);
  EXPECT_EQ(mesh.vertices.col(1), Eigen::Vector3d(1, 0, 0));
  EXPECT_EQ(mesh.vertices.col(5), Eigen::Vector3d(0, 1, 1));
}

std::string facet(const std::string& vertices) {
  return "solid s\nfacet normal 0 0 1\nouter loop\n" + vertices + "endloop\nendfacet\nendsolid s\n";
}

TEST(Stl, RefusalsNameTheLine) {
  EXPECT_THAT(stl_refusal(facet("vertex 0 0 0\nvertex 1 0 0\nvertex 0 one 0\n")),
              AllOf(HasSubstr("line 6"), HasSubstr("'one'")));
  EXPECT_THAT(stl_refusal(facet("vertex 0 0 0\nvertex 1 0\nvertex 0 1 0\n")), HasSubstr("line 5"));
  EXPECT_THAT(stl_refusal(facet("vertex 0 0 0\nvertex 1 0 0\n")), AllOf(HasSubstr("line 7"), HasSubstr("2 corners")));
  EXPECT_THAT(stl_refusal(facet("vertex 0 0 0\nvertex 1 0 0\nvertex 1 1 0\nvertex 0 1 0\n")),
              AllOf(HasSubstr("line 7"), HasSubstr("more than three")));
  EXPECT_THAT(stl_refusal(facet("vertex 0 0 0\ncolour 1 0 0\n")), AllOf(HasSubstr("line 5"), HasSubstr("'colour'")));
}

TEST(Stl, FilesThatWereCutShortAreRefused) {
  const std::string text = fixtures::stl_ascii(cube());
  const std::string body = text.substr(0, text.find("endsolid"));
  EXPECT_THAT(stl_refusal(body), HasSubstr("endsolid"));
  EXPECT_THAT(stl_refusal(text.substr(0, text.find("vertex", 300))), HasSubstr("endsolid"));
  const std::string bytes = fixtures::stl_binary(cube());
  EXPECT_THAT(test::refusal(bytes.substr(0, bytes.size() - 1), [](const ScanFile& f) { return read_scan(f); }),
              HasSubstr("no format"));
  // A count that the file cannot hold.
  EXPECT_LT(test::peak_growth([&] {
              EXPECT_THAT(test::refusal(test::patched(bytes, 80, std::uint32_t{0xFFFFFFFF}),
                                        [](const ScanFile& f) { return read_scan(f); }),
                          HasSubstr("no format"));
            }),
            test::kLittleMemory);
}

TEST(Obj, IndicesMayCountBackwardsAndCornersMayNameTexturesAndNormals) {
  // The format's forms of a corner: v, v/vt, v//vn and v/vt/vn; negative numbers count back from the last vertex so
  // far.
  const std::string vertices = "v 0 0 0\nv 1 0 0\nv 1 1 0\nv 0 1 0\n";
  const std::string others = "vt 0 0\nvt 1 0\nvt 1 1\nvn 0 0 1\n";
  for (const char* face : {"f 1 2 3", "f 1/1 2/2 3/3", "f 1//1 2//1 3//1", "f 1/1/1 2/2/1 3/3/1", "f -4 -3 -2",
                           "f -4/-3/-1 -3/-2/-1 -2/-1/-1", "f\t1  2\t3  \r"}) {
    const Mesh mesh = obj(vertices + others + face + "\n");
    ASSERT_EQ(mesh.vertices.cols(), 4) << face;
    EXPECT_THAT(mesh.triangles, ElementsAre(std::array<std::uint32_t, 3>{0, 1, 2})) << face;
  }
  // Backwards from the last vertex so far, not from the last of the file.
  const Mesh interleaved = obj(vertices + "f -4 -3 -2\nv 5 5 5\nf -3 -2 -1\n");
  EXPECT_THAT(interleaved.triangles,
              ElementsAre(std::array<std::uint32_t, 3>{0, 1, 2}, std::array<std::uint32_t, 3>{2, 3, 4}));
  // A face may come before its vertices.
  EXPECT_EQ(obj("f 1 2 3\n" + vertices).triangles.size(), 1U);
}

TEST(Obj, FacesOfMoreCornersBecomeAFan) {
  const Mesh mesh = obj("v 0 0 0\nv 1 0 0\nv 2 1 0\nv 1 2 0\nv 0 2 0\nf 1 2 3 4\nf 5/1 4/1 3/1 2/1 1/1\n");
  EXPECT_THAT(mesh.triangles, ElementsAre(std::array<std::uint32_t, 3>{0, 1, 2}, std::array<std::uint32_t, 3>{0, 2, 3},
                                          std::array<std::uint32_t, 3>{4, 3, 2}, std::array<std::uint32_t, 3>{4, 2, 1},
                                          std::array<std::uint32_t, 3>{4, 1, 0}));
}

TEST(Obj, WhatIsNoSurfaceIsSkippedAndVerticesMayCarryColours) {
  const Mesh mesh = obj(
      "# a remark\nmtllib reed.mtl\no reed\ng all\nv 0 0 0 0.5 0.5 0.5\nv 1 0 0 1.0\nv 0 1 0\nusemtl cane\ns off\nl 1 "
      "2\np 3\nf 1 2 3\n");
  EXPECT_EQ(mesh.vertices.cols(), 3);
  EXPECT_EQ(mesh.vertices.col(1), Eigen::Vector3d(1, 0, 0));
  EXPECT_EQ(mesh.triangles.size(), 1U);
}

TEST(Obj, VerticesAloneAreAPointCloud) {
  const Cloud cloud = scan("v 1 2 3\nv 4 5 6\nv 7 8 10\nv 1 1 1\n");
  EXPECT_EQ(cloud.format, "OBJ, points");
  ASSERT_EQ(cloud.points_mm.cols(), 4);
  EXPECT_EQ(cloud.points_mm.col(2), Eigen::Vector3d(7, 8, 10));
  EXPECT_EQ(cloud.normals.cols(), 0);
}

TEST(Obj, RefusalsNameTheLine) {
  const std::string vertices = "v 0 0 0\nv 1 0 0\nv 1 1 0\n";
  EXPECT_THAT(obj_refusal("v 0 0 0\nv 1 x 0\n"), AllOf(HasSubstr("line 2"), HasSubstr("'x'")));
  EXPECT_THAT(obj_refusal("v 0 0 0\nv 1 0\n"), AllOf(HasSubstr("line 2"), HasSubstr("missing")));
  EXPECT_THAT(obj_refusal(vertices + "f 1 2\n"), AllOf(HasSubstr("line 4"), HasSubstr("three corners")));
  for (const char* corner : {"0", "-4", "x", "/1", "1.5", "4294967296", "-9223372036854775808", "99999999999999999999"})
    EXPECT_THAT(obj_refusal(vertices + "f 1 2 " + corner + "\n"), AllOf(HasSubstr("line 4"), HasSubstr("impossible")));
  EXPECT_THAT(obj_refusal(vertices + "f 1 2 4\n"), AllOf(HasSubstr("vertex 4"), HasSubstr("only 3")));
}

std::string ply(const std::string& vertices, const std::string& faces, int vertex_count, int face_count) {
  return fmt::format(
             "ply\nformat ascii 1.0\nelement vertex {}\nproperty float x\nproperty float y\nproperty float z\nelement "
             "face {}\nproperty list uchar int vertex_indices\nend_header\n",
             vertex_count, face_count) +
         vertices + faces;
}

TEST(PlyMesh, RefusalsNameTheFace) {
  const auto refusal = [](const std::string& bytes) {
    return test::refusal(bytes, [](const ScanFile& file) { return read_scan(file); });
  };
  const std::string vertices = "0 0 0\n1 0 0\n0 1 0\n";
  EXPECT_THAT(refusal(ply(vertices, "3 0 1 2\n3 0 1 3\n", 3, 2)), HasSubstr("face 2 names a vertex that is not there"));
  EXPECT_THAT(refusal(ply(vertices, "3 0 1 -1\n", 3, 1)), HasSubstr("face 1"));
  EXPECT_THAT(refusal(ply(vertices, "3 0 1 2\n", 3, 2)), HasSubstr("ends after 1 of the 2 faces"));
  EXPECT_THAT(refusal(ply(vertices, "4 0 1 2\n", 3, 1)), HasSubstr("face 1 has too few numbers"));
  std::string cut = fixtures::ply_mesh_binary(cube());
  cut.resize(cut.size() - 1);
  EXPECT_THAT(refusal(cut), HasSubstr("ends after 11 of the 12 faces"));
}

TEST(PlyMesh, FacesOfMoreCornersBecomeAFan) {
  const Cloud quad = scan(ply("0 0 0\n1 0 0\n1 1 0\n0 1 0\n", "4 0 1 2 3\n", 4, 1));
  const Cloud fan = scan(ply("0 0 0\n1 0 0\n1 1 0\n0 1 0\n", "3 0 1 2\n3 0 2 3\n", 4, 2));
  EXPECT_EQ(quad.points_mm, fan.points_mm);
}

// ---------------------------------------------------------------------------------------------------------------------
// Points on the surface.
// ---------------------------------------------------------------------------------------------------------------------

class ClosedCube : public testing::TestWithParam<bool> {};

TEST_P(ClosedCube, NormalsPointOutHoweverTheFacetsAreTurned) {
  const Mesh mesh = GetParam() ? flipped(cube()) : cube();
  const Cloud cloud = cloud_from(mesh, 1.0, 20000);
  ASSERT_GT(cloud.points_mm.cols(), 19000);
  ASSERT_EQ(cloud.normals.cols(), cloud.points_mm.cols());
  const Eigen::Vector3d middle = kCorner + Eigen::Vector3d::Constant(0.5 * kEdge);
  for (Eigen::Index i = 0; i < cloud.points_mm.cols(); ++i) {
    const Eigen::Vector3d normal = cloud.normals.col(i).cast<double>(), arm = cloud.points_mm.col(i) - middle;
    ASSERT_NEAR(normal.norm(), 1.0, 1e-6);
    if (i < 8) {
      EXPECT_GT(normal.dot(arm), 0.0) << "corner " << i;  // A vertex shares the normals of its facets.
    } else {
      // Square to a face: half an edge from the middle.
      ASSERT_NEAR(normal.dot(arm), 0.5 * kEdge, 1e-5) << "point " << i;
    }
  }
}

TEST_P(ClosedCube, NormalsSurviveLooseTriangles) {
  // STL repeats each vertex for each facet; equal places are one vertex all the same.
  const Mesh mesh = GetParam() ? flipped(cube()) : cube();
  const Cloud cloud = scan(fixtures::stl_binary(mesh));
  EXPECT_EQ(cloud.normals.cols(), cloud.points_mm.cols());
  const Eigen::Vector3d middle = kCorner + Eigen::Vector3d::Constant(0.5 * kEdge);
  const Eigen::RowVectorXd outward =
      (cloud.points_mm.colwise() - middle).cwiseProduct(cloud.normals.cast<double>()).colwise().sum();
  EXPECT_GT(outward.minCoeff(), 0.0);
}

INSTANTIATE_TEST_SUITE_P(Facets, ClosedCube, testing::Bool(),
                         [](const auto& turned) { return turned.param ? "inwards" : "outwards"; });

TEST(MeshPoints, EveryPointLiesOnTheSurface) {
  for (const double mm_per_unit : {1.0, 25.4}) {
    const Cloud cloud = cloud_from(cube(), mm_per_unit);
    ASSERT_GT(cloud.points_mm.cols(), 790000);
    double furthest = 0.0;
    for (Eigen::Index i = 0; i < cloud.points_mm.cols(); ++i)
      furthest = std::max(furthest, off_cube(cloud.points_mm.col(i) / mm_per_unit));
    EXPECT_LT(furthest, 1e-12 * kEdge);
  }
}

TEST(MeshPoints, TheVerticesThemselvesComeFirst) {
  const Mesh mesh = sheet();
  const Cloud cloud = cloud_from(mesh, 2.0);
  EXPECT_EQ(Eigen::Matrix3Xd(cloud.points_mm.leftCols(mesh.vertices.cols())), Eigen::Matrix3Xd(2.0 * mesh.vertices));
  // A mesh that is finer than what is wanted stays as it is, without a remark on facets.
  const Cloud fine = cloud_from(mesh, 1.0, 100);
  EXPECT_EQ(fine.points_mm, mesh.vertices);
  EXPECT_THAT(test::each_in_english(fine.notes), testing::IsEmpty());
  EXPECT_THAT(test::each_in_english(cloud.notes), ElementsAre(HasSubstr("surface of facets")));
}

TEST(MeshPoints, AnOpenSurfaceHasNoNormals) {
  Mesh open = cube();
  open.triangles.pop_back();
  EXPECT_EQ(cloud_from(open, 1.0, 1000).normals.cols(), 0);
  EXPECT_EQ(cloud_from(sheet(), 1.0, 1000).normals.cols(), 0);
  // Nor has one whose facets are turned this way and that, or that has a facet twice.
  Mesh mixed = cube();
  std::swap(mixed.triangles[3][0], mixed.triangles[3][1]);
  EXPECT_EQ(cloud_from(mixed, 1.0, 1000).normals.cols(), 0);
  Mesh doubled = cube();
  doubled.triangles.push_back(doubled.triangles.front());
  EXPECT_EQ(cloud_from(doubled, 1.0, 1000).normals.cols(), 0);
}

TEST(MeshPoints, VerticesWithoutAPlaceAreDroppedCountedAndTheirFacetsWithThem) {
  Mesh mesh = cube();
  mesh.vertices(1, 7) = std::numeric_limits<double>::quiet_NaN();
  for (const auto& [bytes, dropped] : {std::pair{fixtures::stl_binary(mesh), 3U},  // Once for each facet that uses it.
                                       {fixtures::stl_ascii(mesh), 3U},
                                       {fixtures::obj_text(mesh), 1U}}) {
    const Cloud cloud = scan(bytes);
    EXPECT_EQ(cloud.dropped_non_finite, dropped) << cloud.format;
    EXPECT_TRUE(cloud.points_mm.allFinite());
    EXPECT_EQ(cloud.normals.cols(), 0) << "no longer closed";
    // Facets at the lost corner are no surface: nothing is drawn next to it.
    const Eigen::Vector3d lost = kCorner + Eigen::Vector3d::Constant(kEdge);
    EXPECT_GT((cloud.points_mm.colwise() - lost).colwise().norm().minCoeff(), 0.7 * kEdge) << cloud.format;
    double furthest = 0.0;
    for (Eigen::Index i = 0; i < cloud.points_mm.cols(); ++i)
      furthest = std::max(furthest, off_cube(cloud.points_mm.col(i)));
    EXPECT_LT(furthest, 1e-12 * kEdge);
  }
  // A PLY then gives its other vertices alone.
  for (const auto& bytes : {fixtures::ply_mesh_ascii(mesh), fixtures::ply_mesh_binary(mesh)}) {
    const Cloud cloud = scan(bytes);
    EXPECT_EQ(cloud.dropped_non_finite, 1U);
    EXPECT_EQ(cloud.points_mm, cube().vertices.leftCols(7));
  }
}

TEST(MeshPoints, NothingFiniteIsNoScan) {
  Mesh mesh = cube();
  mesh.vertices.setConstant(std::numeric_limits<double>::infinity());
  EXPECT_THAT(test::refusal(fixtures::stl_binary(mesh), [](const ScanFile& file) { return read_scan(file); }),
              HasSubstr("none of its 36 points has finite coordinates"));
}

/// Points in each half-millimetre square of a 20 x 20 mm sheet.
Eigen::ArrayXXi counts_on_square(const Cloud& cloud) {
  Eigen::ArrayXXi counts = Eigen::ArrayXXi::Zero(40, 40);
  for (Eigen::Index i = 0; i < cloud.points_mm.cols(); ++i) {
    const auto cell = [&](Eigen::Index axis) {
      return std::min<Eigen::Index>(39, static_cast<Eigen::Index>(2.0 * cloud.points_mm(axis, i)));
    };
    ++counts(cell(0), cell(1));
  }
  return counts;
}

Mesh square_of_two() {
  Mesh mesh;
  mesh.vertices.resize(3, 4);
  mesh.vertices << 0, 20, 20, 0, 0, 0, 20, 20, 1, 1, 1, 1;
  mesh.triangles = {{0, 1, 2}, {0, 2, 3}};
  return mesh;
}

TEST(MeshPoints, LargeFacetsAreCoveredEvenly) {
  // Eight points a square: drawn at random, half a dozen of the 1600 squares would be empty.
  const Eigen::ArrayXXi sparse = counts_on_square(cloud_from(square_of_two(), 1.0, 8 * 1600));
  EXPECT_GE(sparse.minCoeff(), 1);
  EXPECT_LE(sparse.maxCoeff(), 3 * 8);
  // Five hundred a square, the default: at random they would scatter by 22.
  const Eigen::ArrayXXi dense = counts_on_square(cloud_from(square_of_two(), 1.0));
  EXPECT_GE(dense.minCoeff(), 400);
  EXPECT_LE(dense.maxCoeff(), 600);
}

TEST(MeshPoints, SmallAndLargeFacetsGetTheSameDensity) {
  // The left half in 2 facets, the right half in 800.
  Mesh mesh;
  std::vector<Eigen::Vector3d> vertices{{0, 0, 1}, {10, 0, 1}, {10, 20, 1}, {0, 20, 1}};
  mesh.triangles = {{0, 1, 2}, {0, 2, 3}};
  for (int j = 0; j <= 20; ++j) {
    for (int i = 0; i <= 20; ++i) vertices.emplace_back(10 + 0.5 * i, j, 1);
  }
  const auto at = [](int i, int j) { return static_cast<std::uint32_t>(4 + 21 * j + i); };
  for (int j = 0; j < 20; ++j) {
    for (int i = 0; i < 20; ++i) {
      mesh.triangles.push_back({at(i, j), at(i + 1, j), at(i + 1, j + 1)});
      mesh.triangles.push_back({at(i, j), at(i + 1, j + 1), at(i, j + 1)});
    }
  }
  mesh.vertices = Eigen::Map<Eigen::Matrix3Xd>(vertices.front().data(), 3, static_cast<Eigen::Index>(vertices.size()));
  const Cloud cloud = cloud_from(mesh, 1.0, 40000);
  const auto left = static_cast<double>((cloud.points_mm.row(0).array() < 10.0).count());
  // Each of the small facets gets a whole number of points, 24 or 25, which is half a point of 25 from its share; the
  // sheet's rim adds 41 vertices to 20000.
  EXPECT_NEAR(left, 20000, 10);
  EXPECT_NEAR(static_cast<double>(cloud.points_mm.cols()) - left, 20000, 20000 * 0.5 / 25 + 50);
}

}  // namespace
}  // namespace canewise
