// Text, refusals and cut files: tests/clouds/mesh_test.cpp.
#include "scanproc/clouds/stl.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdint>
#include <string>

#include "tests/bytes/file_bytes.h"

namespace canewise {
namespace {

template <typename T>
void append(std::string& bytes, T value) {
  bytes.append(reinterpret_cast<const char*>(&value), sizeof(value));
}

/// A binary STL written by hand: 80 bytes of title, a count, then 50 bytes a facet: normal, three corners, two bytes of
/// attributes. Corner k of facet i lies at (10 i + k, -i - 0.5 k, 0.25).
std::string binary(std::uint32_t facets, float normal_z = 1.0F) {
  std::string bytes(80, ' ');
  append(bytes, facets);
  for (std::uint32_t i = 0; i < facets; ++i) {
    for (const float part : {0.0F, 0.0F, normal_z}) append(bytes, part);
    for (std::uint32_t k = 0; k < 3; ++k) {
      append(bytes, static_cast<float>(10 * i + k));
      append(bytes, -static_cast<float>(i) - 0.5F * static_cast<float>(k));
      append(bytes, 0.25F);
    }
    append(bytes, std::uint16_t{0xBEEF});
  }
  return bytes;
}

TEST(StlSpec, CornersOfABinaryFileComeInTheirOrder) {
  const Mesh mesh = test::with_file(binary(3), read_stl);
  ASSERT_EQ(mesh.triangles.size(), 3U);
  for (std::uint32_t i = 0; i < 3; ++i) {
    for (std::uint32_t k = 0; k < 3; ++k) {
      EXPECT_EQ(mesh.vertices.col(mesh.triangles[i].at(k)), Eigen::Vector3d(10.0 * i + k, -1.0 * i - 0.5 * k, 0.25))
          << i << ' ' << k;
    }
  }
}

TEST(StlSpec, TheNormalsInTheFileAreNotUsed) {
  const Mesh up = test::with_file(binary(2, 1.0F), read_stl);
  for (const float wrong : {-1.0F, 0.0F, std::nanf("")}) {
    const Mesh other = test::with_file(binary(2, wrong), read_stl);
    EXPECT_EQ(other.vertices, up.vertices);
    EXPECT_EQ(other.triangles, up.triangles);
  }
}

TEST(StlSpec, ABinaryFileIsToldByItsLength) {
  const std::string bytes = binary(3);
  const std::string head = bytes.substr(0, 84);
  EXPECT_TRUE(looks_like_stl(head, bytes.size()));
  EXPECT_FALSE(looks_like_stl(head, bytes.size() - 1)) << "cut short";
  EXPECT_TRUE(looks_like_stl(head, bytes.size() + 512)) << "some writers add a remark";
  EXPECT_FALSE(looks_like_stl(head, bytes.size() + 513)) << "that is no remark any more";
  EXPECT_FALSE(looks_like_stl(head.substr(0, 83), bytes.size())) << "no whole count";
  EXPECT_FALSE(looks_like_stl(binary(0), 84)) << "no facet";
}

TEST(StlSpec, ATextFileIsToldByItsWords) {
  EXPECT_TRUE(looks_like_stl("solid reed\nfacet normal 0 0 1\n", 1000));
  EXPECT_FALSE(looks_like_stl("solid reed\n", 1000));
  EXPECT_FALSE(looks_like_stl("a solid\nfacet\n", 1000));
  EXPECT_FALSE(looks_like_stl(std::string("solid\0facet", 11), 1000)) << "text holds no noughts";
  EXPECT_FALSE(looks_like_stl("", 0));
}

}  // namespace
}  // namespace canewise
