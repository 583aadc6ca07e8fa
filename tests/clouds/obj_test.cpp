// Faces, vertices and refusals of whole files: tests/clouds/mesh_test.cpp.
#include "scanproc/clouds/obj.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/bytes/file_bytes.h"
#include "tests/support/refusals.h"

namespace canewise {
namespace {

TEST(ObjSpec, IsToldByItsFirstWords) {
  EXPECT_TRUE(looks_like_obj("v 0 0 0\nv 1 0 0\n"));
  EXPECT_TRUE(looks_like_obj("# a remark\n\n  # another\nvn 0 0 1\r\nv 1 0 0\r\nf 1 1 1\r\n"));
  EXPECT_FALSE(looks_like_obj("vn 0 0 1\nf 1 2 3\n")) << "no vertex";
  EXPECT_FALSE(looks_like_obj("v 0 0 0\nvertex 1 0 0\n")) << "a word of another format";
  EXPECT_FALSE(looks_like_obj("1 2 3\n4 5 6\n"));
  EXPECT_FALSE(looks_like_obj("# only a remark\n"));
  EXPECT_FALSE(looks_like_obj(""));
}

TEST(ObjSpec, AHeadThatIsCutInTheMiddleOfAWordIsUnderstood) { EXPECT_TRUE(looks_like_obj("v 0 0 0\nv 1 0 0\nusem")); }

TEST(ObjSpec, CoordinatesStandInTheOrderOfTheFile) {
  const Mesh mesh = test::with_file("v 1.5 -2 3e1\nv 4 nan 6\n", read_obj);
  ASSERT_EQ(mesh.vertices.cols(), 2);
  EXPECT_EQ(mesh.vertices.col(0), Eigen::Vector3d(1.5, -2.0, 30.0));
  EXPECT_TRUE(std::isnan(mesh.vertices(1, 1))) << "a mesh may hold what is not finite; its cloud does not";
}

TEST(ObjSpec, VerticesAndFacesBeyondTheRoomOfTheFirstReadingAreThereToo) {
  constexpr int vertices = 1'500'000, corners = 1'000'000;  // 36 and 24 MB; the first reading has 48.
  std::string text;
  for (int i = 0; i < vertices; ++i) text += "v 1 2 3\n";
  text += "v 4 5 6\nf";
  for (int i = 1; i < corners; ++i) text += " 2";
  const Mesh mesh = test::with_file(text + " -1\n", read_obj);
  ASSERT_EQ(mesh.vertices.cols(), vertices + 1);
  EXPECT_EQ(mesh.vertices.col(vertices), Eigen::Vector3d(4.0, 5.0, 6.0));
  ASSERT_EQ(mesh.triangles.size(), static_cast<std::size_t>(corners - 2));
  EXPECT_EQ(mesh.triangles.front(), (std::array<std::uint32_t, 3>{1, 1, 1}));
  EXPECT_EQ(mesh.triangles.back(), (std::array<std::uint32_t, 3>{1, 1, vertices}));
}

TEST(ObjSpec, RefusalsCountEveryLine) {
  const test::TempFolder folder;
  const auto path = folder.file("a.obj", "# one\r\n\r\nv 0 0 0\r\nf 1 1\r\n");
  const test::Refusal refusal = test::refusal_of([&] { return read_obj(ScanFile(path)); });
  EXPECT_EQ(refusal.id, "obj.few_corners");
  EXPECT_EQ(refusal.number("line"), 4.0) << "remarks and empty lines too";
  EXPECT_EQ(refusal.file, path.string());
}

TEST(ObjSpec, AFaceMayNameTheLastVertexAndNoLaterOne) {
  const std::string vertices = "v 0 0 0\nv 1 0 0\nv 0 1 0\n";
  EXPECT_EQ(test::with_file(vertices + "f 3 2 1\n", read_obj).triangles.front()[0], 2U);
  const test::TempFolder folder;
  const auto path = folder.file("a.obj", vertices + "f 1 4 2\nf 1 2 3\n");
  const test::Refusal refusal = test::refusal_of([&] { return read_obj(ScanFile(path)); });
  EXPECT_EQ(refusal.id, "obj.no_such_vertex");
  EXPECT_EQ(refusal.number("vertex"), 4.0);
  EXPECT_EQ(refusal.number("vertices"), 3.0);
}

}  // namespace
}  // namespace canewise
