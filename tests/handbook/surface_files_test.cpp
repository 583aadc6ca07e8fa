// Surface-metrology files against Gwyddion (Necas & Klapetek, Cent. Eur. J. Phys. 10 (2012) 181), which has readers of
// its own for X3P and SDF and writes SDF as text. Its file modules run here without any window: they are loaded into
// the test as its own program would load them.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <libgwyddion/gwyddion.h>
#include <libgwymodule/gwymodule-file.h>
#include <libgwymodule/gwymoduleloader.h>
#include <libprocess/gwyprocess.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <limits>
#include <memory>
#include <random>
#include <string>
#include <vector>

#include "fixtures/write_surface.h"
#include "scanproc/heights/sdf.h"
#include "scanproc/heights/x3p.h"
#include "tests/support/temp_file.h"

// Of libgwydraw and libgwyapp, whose headers ask for a window system's.
extern "C" {
void gwy_draw_type_init();
void gwy_app_data_browser_set_gui_enabled(gboolean enabled);
void gwy_app_data_browser_add(GwyContainer* data);
void gwy_app_data_browser_select_data_field(GwyContainer* data, gint id);
}

namespace canewise {
namespace {

constexpr double kMissing = std::numeric_limits<double>::quiet_NaN();

struct Unref {
  void operator()(void* object) const { g_object_unref(object); }
};
using Container = std::unique_ptr<GwyContainer, Unref>;

class SurfaceFiles : public testing::Test {
 protected:
  static void SetUpTestSuite() {
    gwy_type_init();
    gwy_process_type_init();
    gwy_draw_type_init();
    gwy_app_data_browser_set_gui_enabled(FALSE);
    for (const char* module : {"file.so", "opengps.so"}) {
      const std::string path = std::string(GWYDDION_FILE_MODULES) + "/" + module;
      GError* error = nullptr;
      ASSERT_NE(gwy_module_register_module(path.c_str(), &error), nullptr) << (error != nullptr ? error->message : "");
    }
  }

  /// Their reading of a file, the format told by its content; step and heights in mm.
  static HeightMap theirs(const std::string& bytes, const std::string& suffix, const std::string& reader) {
    const test::TempFolder folder;
    const auto path = folder.file("surface" + suffix, bytes);
    HeightMap map;
    const char* detected = gwy_file_detect(path.c_str(), FALSE, GWY_FILE_OPERATION_LOAD);
    EXPECT_STREQ(detected, reader.c_str());
    GError* error = nullptr;
    const Container data(gwy_file_func_run_load(reader.c_str(), path.c_str(), GWY_RUN_NONINTERACTIVE, &error));
    if (!data) {
      ADD_FAILURE() << reader << ": " << (error != nullptr ? error->message : "no reason given");
      return map;
    }
    auto* field = GWY_DATA_FIELD(gwy_container_get_object_by_name(data.get(), "/0/data"));
    map.columns = static_cast<std::size_t>(gwy_data_field_get_xres(field));
    map.rows = static_cast<std::size_t>(gwy_data_field_get_yres(field));
    map.step_x_mm = 1e3 * gwy_data_field_get_dx(field);
    map.step_y_mm = 1e3 * gwy_data_field_get_dy(field);
    const double* z_m = gwy_data_field_get_data_const(field);
    for (std::size_t i = 0; i < map.columns * map.rows; ++i) map.z_mm.push_back(1e3 * z_m[i]);
    // Places without a height are filled in and marked in a mask.
    GObject* mask = nullptr;
    if (gwy_container_gis_object_by_name(data.get(), "/0/mask", &mask) != FALSE) {
      const double* masked = gwy_data_field_get_data_const(GWY_DATA_FIELD(mask));
      for (std::size_t i = 0; i < map.z_mm.size(); ++i) {
        if (masked[i] != 0.0) map.z_mm[i] = kMissing;
      }
    }
    return map;
  }
};

/// Heights of a few mm with nothing regular about them.
HeightMap rough_map(bool with_gaps) {
  HeightMap map;
  map.columns = 83;
  map.rows = 57;
  map.step_x_mm = 0.016;
  map.step_y_mm = 0.05;
  std::mt19937_64 random(3);
  std::normal_distribution<double> normal(1.0, 0.7);
  for (std::size_t i = 0; i < map.columns * map.rows; ++i)
    map.z_mm.push_back(with_gaps && i % 29 == 7 ? kMissing : normal(random));
  return map;
}

void expect_same(const HeightMap& a, const HeightMap& b, double relative) {
  ASSERT_EQ(a.columns, b.columns);
  ASSERT_EQ(a.rows, b.rows);
  EXPECT_NEAR(a.step_x_mm, b.step_x_mm, 1e-12);
  EXPECT_NEAR(a.step_y_mm, b.step_y_mm, 1e-12);
  ASSERT_EQ(a.z_mm.size(), b.z_mm.size());
  double worst = 0.0;
  std::size_t missing = 0, only_one = 0;
  for (std::size_t i = 0; i < a.z_mm.size(); ++i) {
    if (std::isnan(a.z_mm[i]) || std::isnan(b.z_mm[i])) {
      ++missing;
      only_one += std::isnan(a.z_mm[i]) != std::isnan(b.z_mm[i]) ? 1 : 0;
      continue;
    }
    worst = std::max(worst, std::abs(a.z_mm[i] - b.z_mm[i]) / std::abs(b.z_mm[i]));
  }
  EXPECT_EQ(only_one, 0U) << "of " << missing << " places without a height";
  EXPECT_LE(worst, relative);
}

// Heights pass through metres and a scale: a few roundings of a double.
constexpr double kRounding = 4 * std::numeric_limits<double>::epsilon();

TEST_F(SurfaceFiles, TheyReadOurX3pWithItsGaps) {
  // Their reader starts every grid at nought, so places are compared by node.
  for (const bool gaps : {false, true}) {
    const HeightMap map = rough_map(gaps);
    expect_same(theirs(x3p_bytes(map, {"2026-01-31T12:00:00Z", "test"}), ".x3p", "opengps"), map, kRounding);
  }
}

TEST_F(SurfaceFiles, TheyReadOurSdfInBothEncodings) {
  // Theirs knows no 'BAD' in text and no lowest value in binary files, so the map has no gaps.
  const HeightMap map = rough_map(false);
  expect_same(theirs(sdf_bytes(map, SdfEncoding::binary), ".sdf", "sdfile-bin"), map, kRounding);
  expect_same(theirs(sdf_bytes(map, SdfEncoding::ascii), ".sdf", "sdfile-txt"), map, kRounding);
}

TEST_F(SurfaceFiles, WeReadTheTextThatTheyWrite) {
  const HeightMap map = rough_map(false);
  const Container data(gwy_container_new());
  GwyDataField* field = gwy_data_field_new(static_cast<gint>(map.columns), static_cast<gint>(map.rows),
                                           1e-3 * map.step_x_mm * static_cast<double>(map.columns),
                                           1e-3 * map.step_y_mm * static_cast<double>(map.rows), FALSE);
  double* z_m = gwy_data_field_get_data(field);
  for (std::size_t i = 0; i < map.z_mm.size(); ++i) z_m[i] = 1e-3 * map.z_mm[i];
  gwy_container_set_object_by_name(data.get(), "/0/data", field);
  g_object_unref(field);
  gwy_app_data_browser_add(data.get());
  gwy_app_data_browser_select_data_field(data.get(), 0);
  const test::TempFolder folder;
  const auto path = folder.path() / "theirs.sdf";
  GError* error = nullptr;
  ASSERT_NE(gwy_file_func_run_export("sdfile-txt", data.get(), path.c_str(), GWY_RUN_NONINTERACTIVE, &error), FALSE)
      << (error != nullptr ? error->message : "");
  // They call it by an elder name, of the days before the standard; but for that word it is a text of edition 2.0 with
  // single-precision heights, of which they write six digits.
  std::string text = ScanFile(path).all();
  ASSERT_THAT(text, testing::StartsWith("aBCR-0.0\n"));
  ASSERT_THAT(text, testing::HasSubstr("DataType    = 3\n"));
  text.replace(0, 8, "aISO-2.0");
  expect_same(read_sdf(ScanFile(folder.file("renamed.sdf", text))), map, 5e-6);
}

TEST_F(SurfaceFiles, BothReadTheSameFromEveryKindThatTheyKnow) {
  const HeightMap map = rough_map(false);
  // Not the elder kin: whether those store the last row first is where implementations differ, and this one says no.
  for (const char* magic : {"bISO-1.0", "aISO-1.0"}) {
    for (const int type : {5, 6, 7}) {
      SCOPED_TRACE(std::string(magic) + ", type " + std::to_string(type));
      const std::string bytes =
          fixtures::sdf_file(map, {.magic = magic, .data_type = type, .z_scale = type == 5 ? 1e-6 : 1e-9});
      const test::TempFolder folder;
      const HeightMap ours = read_sdf(ScanFile(folder.file("same.sdf", bytes)));
      expect_same(theirs(bytes, ".sdf", magic[0] == 'a' ? "sdfile-txt" : "sdfile-bin"), ours, kRounding);
    }
  }
  for (const fixtures::X3pStyle& style : {fixtures::X3pStyle{},
                                          {.z_type = 'F'},
                                          {.z_type = 'I', .z_increment_m = 1e-6},
                                          {.z_type = 'L', .z_increment_m = 1e-9},
                                          {.as_list_in_xml = true}}) {
    SCOPED_TRACE(std::string("X3P, type ") + style.z_type);
    const std::string bytes = fixtures::x3p_file(map, style);
    const test::TempFolder folder;
    const HeightMap ours = read_x3p_map(ScanFile(folder.file("same.x3p", bytes)));
    expect_same(theirs(bytes, ".x3p", "opengps"), ours, kRounding);
  }
}

TEST_F(SurfaceFiles, BothReadTheSameGaps) {
  const HeightMap map = rough_map(true);
  for (const fixtures::X3pStyle& style : {fixtures::X3pStyle{},
                                          {.z_type = 'F'},
                                          {.z_type = 'L', .z_increment_m = 1e-9, .with_validity = true},
                                          {.z_type = 'I', .z_increment_m = 1e-6, .with_validity = true}}) {
    SCOPED_TRACE(std::string("X3P, type ") + style.z_type);
    const std::string bytes = fixtures::x3p_file(map, style);
    const test::TempFolder folder;
    const HeightMap ours = read_x3p_map(ScanFile(folder.file("same.x3p", bytes)));
    expect_same(theirs(bytes, ".x3p", "opengps"), ours, kRounding);
  }
}

}  // namespace
}  // namespace canewise
