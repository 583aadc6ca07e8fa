// Inputs that an earlier reader took for something else without a word.
#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <random>
#include <stdexcept>

#include "fixtures/write_surface.h"
#include "scanproc/clouds/stl.h"
#include "scanproc/core/error.h"
#include "scanproc/core/md5.h"
#include "scanproc/frames/depth_folder.h"
#include "scanproc/frames/depth_fusion.h"
#include "scanproc/heights/sdf.h"
#include "scanproc/heights/x3p.h"
#include "scanproc/rig/depth_camera.h"
#include "scanproc/scan/read_scan.h"
#include "tests/bytes/file_bytes.h"

namespace canewise {
namespace {

TEST(Stl, AFacetThatIsNeverClosedIsRefusedInsteadOfShiftingAllOthers) {
  const std::string good =
      "facet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 0 1 0\nendloop\nendfacet\n";
  const std::string open = "facet normal 0 0 1\nouter loop\nvertex 9 9 9\nvertex 8 8 8\n";
  EXPECT_THROW((void)test::with_file("solid s\n" + open + good + good + "endsolid s\n", read_stl), InputError);
  EXPECT_THROW((void)test::with_file("solid s\n" + good + open + "endsolid s\n", read_stl), InputError);
}

TEST(Obj, APageOfRemarksAtItsHeadDoesNoHarm) {
  std::string text;
  for (int i = 0; i < 40; ++i) text += "# " + std::string(50, 'x') + "\n";
  text += "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\n";
  EXPECT_EQ(test::with_file(text, [](const ScanFile& f) { return read_scan(f); }).format, "OBJ mesh");
}

TEST(Pcd, ACompressedPartOfNoBytesIsRefused) {
  const std::string head =
      "VERSION 0.7\nFIELDS x y z\nSIZE 4 4 4\nTYPE F F F\nCOUNT 1 1 1\nWIDTH 4\nHEIGHT 1\nPOINTS 4\nDATA "
      "binary_compressed\n";
  const auto read = [](const ScanFile& f) { return read_scan(f); };
  EXPECT_THROW((void)test::with_file(head + std::string("\0\0\0\0\x30\0\0\0abc", 11), read), InputError);
}

TEST(SdfWriter, AHeightThatIsTheMarkOfNothingIsRefused) {
  HeightMap map;
  map.columns = map.rows = 2;
  map.step_x_mm = map.step_y_mm = 1;
  map.z_mm = {1, 2, 3, std::numeric_limits<double>::lowest()};
  EXPECT_THROW((void)sdf_bytes(map, SdfEncoding::binary), std::invalid_argument);
}

TEST(X3p, SizesWhoseProductWrapsAroundAreRefused) {
  const std::string data(32, '\1');  // 2147549185 x 2 x 4294836226 is 2^64 + 4.
  const std::string xml =
      "<p:ISO5436_2 xmlns:p=\"x\"><Record1><Axes><CX><AxisType>I</AxisType><Increment>1e-6</Increment></CX><CY>"
      "<AxisType>I</AxisType><Increment>1e-6</Increment></CY><CZ><AxisType>A</AxisType><DataType>D</DataType></CZ></"
      "Axes>"
      "</Record1><Record3><MatrixDimension><SizeX>2147549185</SizeX><SizeY>2</SizeY><SizeZ>4294836226</SizeZ>"
      "</MatrixDimension><DataLink><PointDataLink>d</PointDataLink><MD5ChecksumPointData>" +
      md5(data) + "</MD5ChecksumPointData></DataLink></Record3></p:ISO5436_2>";
  EXPECT_THROW((void)test::with_file(fixtures::x3p_from(xml, {{"d", data}}), read_x3p), InputError);
}

TEST(DepthCameraModel, FarBeyondTheFoldThereIsNoDirection) {
  DepthCamera camera;
  camera.fx = camera.fy = 100;
  camera.k1 = -0.5;
  for (double px = 55; px < 100000; px *= 1.1) {
    EXPECT_FALSE(direction_of(camera, px, 0)) << px;
    EXPECT_FALSE(direction_of(camera, 0.6 * px, -0.8 * px)) << px;
  }
}

TEST(DepthFolder, AFineStepDoesNotCostTheSlope) {
  DepthCamera camera;
  camera.width = 160, camera.height = 120, camera.fx = camera.fy = 600, camera.cx = 80, camera.cy = 60;
  camera.depth_unit_mm = 0.01;
  DepthImage image;
  image.columns = 160, image.rows = 120;
  for (int v = 0; v < 120; ++v) {
    for (int u = 0; u < 160; ++u)
      image.values.push_back(static_cast<std::uint16_t>(std::lround(200.0 / (1.0 + 0.4 * (u - 80) / 600.0) / 0.01)));
  }
  const test::TempFolder folder;
  (void)folder.file("camera.toml", fixtures::camera_toml(camera));
  (void)folder.file("a.png", fixtures::png_16_bit(image));
  EXPECT_EQ(read_depth_folder(folder.path()).points_mm.cols(), 160 * 120);
}

TEST(FuseDepth, StepsThatNoiseHardlyBlursStayInDoubt) {
  DepthImage still;
  still.columns = still.rows = 4;
  still.values.assign(16, 1000);
  EXPECT_DOUBLE_EQ(fuse_depth({still}).step_u, 1.0 / std::sqrt(12.0));
  for (const double s : {0.15, 0.2, 0.25, 0.3, 0.35}) {
    std::mt19937_64 random(1);
    std::normal_distribution<double> normal;
    constexpr std::size_t side = 300;
    std::vector<DepthImage> frames(30);
    for (auto& frame : frames) {
      frame.columns = frame.rows = side;
      for (std::size_t i = 0; i < side * side; ++i) {
        const double depth = 3000 + 0.0371 * static_cast<double>(i % side) + 0.0433 * static_cast<double>(i / side);
        frame.values.push_back(static_cast<std::uint16_t>(std::lround(depth + s * normal(random))));
      }
    }
    // Variance of the mean error over all places between two steps: the Fourier series of rounding [Widrow2008].
    double variance = 0;
    for (int k = 1; k < 100; ++k) {
      variance += std::exp(-4 * std::pow(std::numbers::pi * k * s, 2)) / (2 * std::pow(std::numbers::pi * k, 2));
    }
    const double u = fuse_depth(frames).step_u;
    EXPECT_GE(u, 0.8 * std::sqrt(variance)) << "noise of " << s << " steps";
    EXPECT_LE(u, 1.3 * std::sqrt(variance) + 0.005) << "noise of " << s << " steps";
  }
}

}  // namespace
}  // namespace canewise
