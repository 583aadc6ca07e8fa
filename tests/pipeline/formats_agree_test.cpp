// One reed, one surface, every format: the map must not depend on the file that it came in.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "fixtures/render.h"
#include "fixtures/write_cloud.h"
#include "fixtures/write_surface.h"
#include "scanproc/core/error.h"
#include "scanproc/pipeline/pipeline.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/report/map_files.h"
#include "scanproc/report/outputs.h"
#include "scanproc/scan/read_scan.h"
#include "tests/support/in_english.h"
#include "tests/support/temp_file.h"
#include "tests/support/two_sided_scans.h"

namespace canewise {
namespace {

using testing::HasSubstr;

constexpr double kStep_mm = 0.125;

const fixtures::Reed& reed() {
  static const fixtures::Reed one({}, {.heavy_rail_um = 40.0, .roughness_um = 1.5});
  return one;
}
const HeightMap& surface() {
  static const HeightMap map = fixtures::height_map_of_scene(reed(), kStep_mm, 7.0, 2.0, 1);
  return map;
}

Result measure_path(const std::filesystem::path& path, const MeasureOptions& options = {}) {
  MeasureInputs inputs;
  inputs.scans = {path};
  return measure(inputs, options);
}

Result measure_bytes(const std::string& bytes, const MeasureOptions& options = {}) {
  const test::TempFolder folder;
  return measure_path(folder.file("scan", bytes), options);
}

/// With more digits than a file holds: a result keeps hundredths of a micrometre.
MeasureOptions as_measured() {
  MeasureOptions options;
  options.whole = true;
  return options;
}

/// Largest difference of two maps in micrometres; they must have the same cells but for `spared` of them at the rim.
double difference_um(const ThicknessMap& a, const ThicknessMap& b, int spared = 0) {
  EXPECT_EQ(a.grid.rows, b.grid.rows);
  EXPECT_EQ(a.grid.columns, b.grid.columns);
  double largest = 0.0;
  int unlike = 0;
  for (Eigen::Index r = 0; r < std::min(a.grid.rows, b.grid.rows); ++r) {
    for (Eigen::Index c = 0; c < std::min(a.grid.columns, b.grid.columns); ++c) {
      unlike += a.measured(r, c) != b.measured(r, c);
      if (a.measured(r, c) && b.measured(r, c))
        largest = std::max(largest, 1e3 * std::abs(static_cast<double>(a.thickness_mm(r, c) - b.thickness_mm(r, c))));
    }
  }
  EXPECT_LE(unlike, spared);
  return largest;
}

TEST(FormatsAgree, OnTheSameSurfaceWithinTheirRounding) {
  const ThicknessMap truth = measure_bytes(fixtures::ply_binary(cloud_from(surface()), false, true), as_measured()).map;
  const Mesh mesh = fixtures::mesh_of(surface());
  struct Case {
    const char* name;
    std::string bytes;
    double tolerance_um;  ///< What the stored numbers' last digit does to a map, largest over ten thousand cells.
  };
  const std::vector<Case> cases{
      {"x3p double", fixtures::x3p_file(surface(), {}), 0.01},
      {"x3p float", fixtures::x3p_file(surface(), {.z_type = 'F'}), 0.01},
      {"x3p int32 of a nanometre",
       fixtures::x3p_file(surface(), {.z_type = 'L', .z_increment_m = 1e-9, .with_validity = true}), 0.01},
      {"x3p int16 of 0.2 um",
       fixtures::x3p_file(surface(), {.z_type = 'I', .z_increment_m = 2e-7, .with_validity = true}), 0.3},
      {"x3p absolute axes", fixtures::x3p_file(surface(), {.absolute_axes = true}), 0.01},
      {"x3p point list", fixtures::x3p_file(surface(), {.point_list = true}), 0.01},
      {"sdf binary", fixtures::sdf_file(surface(), {}), 0.01},
      {"sdf ascii", fixtures::sdf_file(surface(), {.magic = "aISO-1.0"}), 0.01},
      {"sdf second edition, floats", fixtures::sdf_file(surface(), {.magic = "bISO-2.0", .data_type = 3}), 0.01},
      {"tiff, mm", fixtures::tiff_floats(surface(), 1.0, kStep_mm), 0.02},
      {"tiff, um", fixtures::tiff_floats(surface(), 1e-3, kStep_mm), 0.02},
      {"pcd", fixtures::pcd_binary(cloud_from(surface())), 0.02},
      {"text", fixtures::text_points(cloud_from(surface()), ',', true), 0.02},
  };
  for (const auto& one : cases) {
    SCOPED_TRACE(one.name);
    const Result result = measure_bytes(one.bytes, as_measured());
    EXPECT_LT(difference_um(result.map, truth, 4), one.tolerance_um);
    EXPECT_THAT(test::in_english(result.headline), HasSubstr("right rail"));
    EXPECT_FALSE(result.scans.front().unit_guessed);
  }
}

TEST(FormatsAgree, MeshesOfTheSameSurfaceKeepItsTruth) {
  const Mesh mesh = fixtures::mesh_of(surface());
  const ThicknessMap stl = measure_bytes(fixtures::stl_binary(mesh)).map;
  EXPECT_LT(difference_um(measure_bytes(fixtures::obj_text(mesh)).map, stl, 4), 0.05);
  EXPECT_LT(difference_um(measure_bytes(fixtures::ply_mesh_binary(mesh)).map, stl, 4), 0.05);
  EXPECT_LT(difference_um(measure_bytes(fixtures::ply_mesh_ascii(mesh)).map, stl, 4), 0.05);
  // Between its vertices a mesh is flat where the cane is round: the truth is kept to a micrometre all the same.
  const test::MapErrors errors = test::map_errors(stl, reed());
  EXPECT_LT(std::abs(errors.mean_um), 1.0);
  EXPECT_LT(errors.rms_um, 2.0);
}

TEST(FormatsAgree, AClosedSurfaceGivesBothSidesAtOnce) {
  const fixtures::ReedLie form{.bow_um = 30.0, .cup_um = -4.0, .twist_um = 3.0};
  const Result result = measure_bytes(fixtures::stl_binary(fixtures::closed_mesh_of(reed(), form, 0.2)));
  EXPECT_EQ(result.datum, DatumMode::two_sided);
  ASSERT_TRUE(result.table.has_value());
  EXPECT_NEAR(result.table->bow_um.value, 30.0, 0.6);
  EXPECT_NEAR(result.table->cup_um.value, -4.0, 0.4);
  EXPECT_NEAR(result.table->twist_um.value, 3.0, 0.4);
  EXPECT_EQ(result.table->flat, Verdict::outside);
  const test::MapErrors errors = test::map_errors(result.map, reed());
  EXPECT_LT(std::abs(errors.mean_um), 1.0);
  EXPECT_LT(errors.rms_um, 3.0);
  // Everything of it survives the file.
  const Result again = result_from_json(json_from_result(result), "again");
  EXPECT_EQ(again.table->flat, Verdict::outside);
  EXPECT_NEAR(again.table->bow_um.value, result.table->bow_um.value, 1e-9);
  EXPECT_EQ(again.map.table_mm.rows(), result.map.grid.rows);
  EXPECT_EQ(phrase(again.registration->method), "one closed surface");
}

TEST(FormatsAgree, ARigThatMirrorsIsUndoneForAClosedSurfaceToo) {
  const test::TempFolder folder;
  MeasureInputs inputs;
  inputs.scans = {folder.file("closed.stl", fixtures::stl_binary(fixtures::closed_mesh_of(reed(), {}, 0.2)))};
  EXPECT_THAT(test::in_english(measure(inputs).headline), HasSubstr("right rail"));
  inputs.rig.mirrored = true;
  EXPECT_THAT(test::in_english(measure(inputs).headline), HasSubstr("left rail"));
}

TEST(FormatsAgree, FusedDepthFramesGiveTheSameReed) {
  const test::TempFolder folder;
  const fixtures::DepthScene scene = fixtures::close_depth_camera(8);
  folder.file("camera.json", fixtures::camera_json(scene.camera));
  const auto frames = fixtures::depth_frames(reed(), scene, 3);
  for (std::size_t i = 0; i < frames.size(); ++i)
    folder.file("frame-" + std::to_string(i) + (i % 2 == 0 ? ".png" : ".tif"),
                i % 2 == 0 ? fixtures::png_16_bit(frames[i]) : fixtures::tiff_16_bit(frames[i]));
  const Result result = measure_path(folder.path());
  EXPECT_THAT(result.scans.front().format, HasSubstr("8 depth frames"));
  EXPECT_THAT(test::in_english(result.headline), HasSubstr("right rail"));
  const test::MapErrors errors = test::map_errors(result.map, reed());
  EXPECT_LT(std::abs(errors.mean_um), 2.0);
  EXPECT_GT(errors.covered, 0.98);
  // The frames' noise averages out, as far as they are independent.
  const fixtures::DepthScene one = fixtures::close_depth_camera(1);
  const test::TempFolder single;
  single.file("camera.toml", fixtures::camera_toml(one.camera));
  single.file("frame.png", fixtures::png_16_bit(frames[0]));
  EXPECT_LT(result.map.point_noise_mm, 0.6 * measure_path(single.path()).map.point_noise_mm);
}

TEST(SavedMaps, ReadBackBitEqual) {
  const Result result = measure_bytes(fixtures::x3p_file(surface(), {}));
  const test::TempFolder folder;
  for (const MapFormat format : {MapFormat::x3p, MapFormat::sdf}) {
    const OutputFile file = map_file(result, format);
    const HeightMap read = read_height_map(ScanFile(folder.file(file.name, file.bytes)));
    ASSERT_EQ(read.columns, static_cast<std::size_t>(result.map.grid.rows));
    ASSERT_EQ(read.rows, static_cast<std::size_t>(result.map.grid.columns));
    EXPECT_NEAR(read.step_x_mm, result.map.grid.cell_mm, 1e-12);
    for (Eigen::Index c = 0; c < result.map.grid.columns; ++c) {
      for (Eigen::Index r = 0; r < result.map.grid.rows; ++r) {
        const double z = read.z_mm[static_cast<std::size_t>(c) * read.columns + static_cast<std::size_t>(r)];
        ASSERT_EQ(std::isnan(z), !result.map.measured(r, c));
        if (!std::isnan(z)) {
          ASSERT_EQ(static_cast<float>(z), result.map.thickness_mm(r, c));
        }
      }
    }
  }
}

TEST(SeveralScans, TheSameFileTwiceAddsNothing) {
  const test::TempFolder folder;
  const auto path = folder.file("scan.ply", fixtures::ply_binary(cloud_from(surface())));
  MeasureInputs inputs;
  inputs.scans = {path, path};
  const Result twice = measure(inputs);
  const Result once = measure_path(path);
  EXPECT_EQ(difference_um(twice.map, once.map), 0.0);
  EXPECT_LE(once.map.u_mm.isNaN().select(0.0F, once.map.u_mm - twice.map.u_mm).maxCoeff(), 1e-7F);
  EXPECT_EQ(twice.scans.size(), 2U);
}

}  // namespace
}  // namespace canewise
