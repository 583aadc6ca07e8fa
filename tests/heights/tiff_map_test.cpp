// Height maps in floating-point TIFF files, which say neither what their pixels nor what their heights mean.
#include "scanproc/heights/tiff_map.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <tiffio.h>

#include "fixtures/write_surface.h"
#include "tests/bytes/file_bytes.h"
#include "tests/support/in_english.h"

namespace canewise {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

/// Heights from 0 to 6 mm, as a reed on its plate has them; 41 columns, 29 rows, no two alike.
HeightMap wedge() {
  HeightMap map;
  map.columns = 41;
  map.rows = 29;
  for (std::size_t i = 0; i < map.columns * map.rows; ++i) {
    map.z_mm.push_back(0.14 * static_cast<double>(i % map.columns) + 0.01 * static_cast<double>(i / map.columns));
  }
  return map;
}

HeightMap read(const std::string& bytes, const TiffMapOptions& options = {}) {
  return test::with_file(bytes, [&](const ScanFile& file) { return read_tiff_map(file, options); });
}
std::string refusal(const std::string& bytes, const TiffMapOptions& options = {}) {
  return test::refusal(bytes, [&](const ScanFile& file) { return read_tiff_map(file, options); });
}
TiffMapOptions pitch(double mm) {
  TiffMapOptions options;
  options.pitch_mm = mm;
  return options;
}
TiffMapOptions heights_in(LengthUnit unit) {
  TiffMapOptions options;
  options.height_unit = unit;
  return options;
}

struct Kind {
  int bits = 32, samples = 1, format = SAMPLEFORMAT_IEEEFP;
  int unit = RESUNIT_CENTIMETER;  ///< 0: no resolution at all.
  double per_unit_x = 200.0, per_unit_y = 200.0;
  bool tiled = false;
};

/// The wedge in mm as a TIFF of any kind, written with the format's own library.
std::string tiff(const Kind& kind) {
  const HeightMap map = wedge();
  const test::TempFolder folder;
  const auto path = folder.path() / "out.tif";
  TIFF* out = TIFFOpen(path.c_str(), "w");
  TIFFSetField(out, TIFFTAG_IMAGEWIDTH, static_cast<std::uint32_t>(map.columns));
  TIFFSetField(out, TIFFTAG_IMAGELENGTH, static_cast<std::uint32_t>(map.rows));
  TIFFSetField(out, TIFFTAG_BITSPERSAMPLE, kind.bits);
  TIFFSetField(out, TIFFTAG_SAMPLESPERPIXEL, kind.samples);
  TIFFSetField(out, TIFFTAG_PLANARCONFIG, PLANARCONFIG_CONTIG);
  TIFFSetField(out, TIFFTAG_SAMPLEFORMAT, kind.format);
  TIFFSetField(out, TIFFTAG_PHOTOMETRIC, kind.samples == 1 ? PHOTOMETRIC_MINISBLACK : PHOTOMETRIC_RGB);
  if (kind.unit != 0) {
    TIFFSetField(out, TIFFTAG_RESOLUTIONUNIT, kind.unit);
    TIFFSetField(out, TIFFTAG_XRESOLUTION, kind.per_unit_x);
    TIFFSetField(out, TIFFTAG_YRESOLUTION, kind.per_unit_y);
  }
  if (kind.tiled) {
    TIFFSetField(out, TIFFTAG_TILEWIDTH, 64);
    TIFFSetField(out, TIFFTAG_TILELENGTH, 32);
    std::vector<float> tile(64 * 32, 1.0F);
    TIFFWriteTile(out, tile.data(), 0, 0, 0, 0);
  } else {
    for (std::size_t row = 0; row < map.rows; ++row) {
      std::string bytes;
      const auto put = [&](auto value) { bytes.append(reinterpret_cast<const char*>(&value), sizeof(value)); };
      for (std::size_t column = 0; column < map.columns; ++column) {
        const double z = map.z_mm[row * map.columns + column];
        for (int sample = 0; sample < kind.samples; ++sample) {
          if (kind.format != SAMPLEFORMAT_IEEEFP) {
            put(static_cast<std::uint16_t>(1000 * z));
          } else if (kind.bits == 64) {
            put(z);
          } else {
            put(static_cast<float>(z));
          }
        }
      }
      TIFFWriteScanline(out, bytes.data(), static_cast<std::uint32_t>(row), 0);
    }
  }
  TIFFClose(out);
  return ScanFile(path).all();
}

// Half the last place of a single-precision number below 8 mm.
constexpr double kSingle = 8.0 * 0x1p-25;

TEST(TiffMap, HeightsAndPitchComeFromTheFile) {
  const HeightMap truth = wedge();
  const HeightMap map = read(fixtures::tiff_floats(truth, 1.0, 0.05));
  EXPECT_EQ(map.columns, 41U);
  EXPECT_EQ(map.rows, 29U);
  EXPECT_NEAR(map.step_x_mm, 0.05, 1e-9);  // The format keeps a resolution in single precision.
  EXPECT_NEAR(map.step_y_mm, 0.05, 1e-9);
  EXPECT_LE(test::greatest_difference(map.z_mm, truth.z_mm), kSingle);
  EXPECT_THAT(test::each_in_english(map.notes), IsEmpty());
}

TEST(TiffMap, DoublesKeepAllTheirBits) {
  Kind kind;
  kind.bits = 64;
  EXPECT_EQ(test::differing_bits(read(tiff(kind)).z_mm, wedge().z_mm), 0U);
}

TEST(TiffMap, PitchMayDifferAlongAndAcrossAndMayBeStatedInInches) {
  Kind kind;
  kind.per_unit_x = 400;
  kind.per_unit_y = 100;
  EXPECT_NEAR(read(tiff(kind)).step_x_mm, 10.0 / 400, 1e-12);
  EXPECT_NEAR(read(tiff(kind)).step_y_mm, 10.0 / 100, 1e-12);
  kind.unit = RESUNIT_INCH;
  kind.per_unit_x = kind.per_unit_y = 508;
  EXPECT_NEAR(read(tiff(kind)).step_x_mm, 0.05, 1e-12);
  EXPECT_NEAR(read(tiff(kind)).step_y_mm, 0.05, 1e-12);
}

TEST(TiffMap, AGivenPitchWins) {
  for (const double in_file : {0.0, 0.05}) {
    const HeightMap map = read(fixtures::tiff_floats(wedge(), 1.0, in_file), pitch(0.033));
    EXPECT_EQ(map.step_x_mm, 0.033);
    EXPECT_EQ(map.step_y_mm, 0.033);
  }
}

TEST(TiffMap, WithoutAPitchItIsRefused) {
  EXPECT_THAT(refusal(fixtures::tiff_floats(wedge(), 1.0, 0.0)), HasSubstr("--pitch-mm"));
  Kind kind;
  kind.unit = RESUNIT_NONE;  // A ratio of the two sides and no length.
  EXPECT_THAT(refusal(tiff(kind)), HasSubstr("--pitch-mm"));
  kind.unit = RESUNIT_CENTIMETER;
  kind.per_unit_y = 0.0;
  EXPECT_THAT(refusal(tiff(kind)), HasSubstr("--pitch-mm"));
}

TEST(TiffMap, AResolutionOfScreensAndPrintersIsNoPitch) {
  for (const double dots_per_inch : {72.0, 96.0, 300.0}) {
    Kind kind;
    kind.unit = RESUNIT_INCH;
    kind.per_unit_x = kind.per_unit_y = dots_per_inch;
    EXPECT_THAT(refusal(tiff(kind)), HasSubstr("--pitch-mm")) << dots_per_inch;
    EXPECT_EQ(read(tiff(kind), pitch(0.04)).step_x_mm, 0.04) << dots_per_inch;
  }
}

TEST(TiffMap, TheUnitIsTheOneInWhichTheHeightsSpanAReed) {
  for (const auto& [unit, note] : {std::pair{LengthUnit::um, "only um gives the size of a reed"},
                                   {LengthUnit::m, "only m gives the size of a reed"}}) {
    const HeightMap map = read(fixtures::tiff_floats(wedge(), mm_per(unit), 0.05));
    EXPECT_LE(test::greatest_difference(map.z_mm, wedge().z_mm), kSingle) << note;
    EXPECT_THAT(test::each_in_english(map.notes), ElementsAre(HasSubstr(note)));
  }
}

TEST(TiffMap, AGivenUnitWinsAndIsNoGuess) {
  for (const LengthUnit unit : {LengthUnit::um, LengthUnit::m, LengthUnit::mm, LengthUnit::in}) {
    const HeightMap map = read(fixtures::tiff_floats(wedge(), mm_per(unit), 0.05), heights_in(unit));
    EXPECT_LE(test::greatest_difference(map.z_mm, wedge().z_mm), kSingle);
    EXPECT_THAT(test::each_in_english(map.notes), IsEmpty());
  }
  // Also against what the range would say.
  const HeightMap map = read(fixtures::tiff_floats(wedge(), 1.0, 0.05), heights_in(LengthUnit::um));
  EXPECT_NEAR(map.z_mm[40], 0.14e-3 * 40, 1e-9);
}

TEST(TiffMap, HeightsThatSpanNoReedInAnyUnitAreRefused) {
  for (const double mm_per_unit : {0.05, 20.0}) {  // 120 and 0.3 as mm, as um far too little, as m far too much.
    EXPECT_THAT(refusal(fixtures::tiff_floats(wedge(), mm_per_unit, 0.05)), HasSubstr("--units")) << mm_per_unit;
  }
  HeightMap flat = wedge();
  flat.z_mm.assign(flat.z_mm.size(), 3.0);
  EXPECT_THAT(refusal(fixtures::tiff_floats(flat, 1.0, 0.05)), HasSubstr("--units"));
}

TEST(TiffMap, AFewWildHeightsDoNotHideTheUnit) {
  HeightMap map = wedge();
  map.z_mm[5] = 1e6;
  map.z_mm[700] = -1e6;
  EXPECT_THAT(test::each_in_english(read(fixtures::tiff_floats(map, 1e-3, 0.05)).notes),
              ElementsAre(HasSubstr("only um")));
}

TEST(TiffMap, WhatIsNotFiniteWasNotMeasured) {
  HeightMap map = wedge();
  map.z_mm[3] = std::numeric_limits<double>::quiet_NaN();
  map.z_mm[400] = std::numeric_limits<double>::infinity();
  map.z_mm[800] = -std::numeric_limits<double>::infinity();
  const std::string bytes = fixtures::tiff_floats(map, 1.0, 0.05);
  const HeightMap back = read(bytes);
  for (const std::size_t i : {3U, 400U, 800U}) EXPECT_TRUE(std::isnan(back.z_mm[i])) << i;
  const Cloud cloud = test::with_file(bytes, [](const ScanFile& file) { return cloud_from(read_tiff_map(file, {})); });
  EXPECT_EQ(cloud.points_mm.cols(), 41 * 29 - 3);
  EXPECT_TRUE(cloud.unit_known);
  map.z_mm.assign(map.z_mm.size(), std::numeric_limits<double>::quiet_NaN());
  EXPECT_THAT(refusal(fixtures::tiff_floats(map, 1.0, 0.05)), HasSubstr("--units"));
}

TEST(TiffMap, OtherKindsAreRefusedWithAHint) {
  Kind kind;
  kind.bits = 16;
  kind.format = SAMPLEFORMAT_UINT;
  EXPECT_THAT(refusal(tiff(kind)), AllOf(HasSubstr("whole numbers"), HasSubstr("folder"), HasSubstr("camera.toml")));
  kind = {};
  kind.samples = 3;
  EXPECT_THAT(refusal(tiff(kind)), HasSubstr("colour"));
  kind = {};
  kind.tiled = true;
  EXPECT_THAT(refusal(tiff(kind)), HasSubstr("tiles"));
}

TEST(TiffMap, DamagedFilesAreRefused) {
  const std::string good = fixtures::tiff_floats(wedge(), 1.0, 0.05);
  for (const std::size_t left : {std::size_t{4}, std::size_t{8}, good.size() / 2})
    EXPECT_THAT(refusal(good.substr(0, left)), HasSubstr("damaged")) << left;
  // One bit of the packed heights.
  std::string flipped = good;
  flipped[60] = static_cast<char>(flipped[60] ^ 0x10);
  EXPECT_THAT(refusal(flipped), AllOf(HasSubstr("row"), HasSubstr("damaged")));
}

TEST(TiffMap, ASizeThatTheFileCannotHoldIsRefusedBeforeAnythingIsAllocated) {
  // Width and length in the first directory: tags 256 and 257, values 8 bytes into an entry of 12 (TIFF 6.0, section
  // 2).
  std::string bytes = fixtures::tiff_floats(wedge(), 1.0, 0.05);
  const auto directory = test::number_at<std::uint32_t>(bytes, 4);
  for (std::size_t entry = 0; entry < 2; ++entry) {
    const std::size_t at = directory + 2 + 12 * entry;
    ASSERT_EQ(test::number_at<std::uint16_t>(bytes, at), 256 + entry);
    bytes = test::patched(bytes, at + 2, std::uint16_t{4});  // LONG.
    bytes = test::patched(bytes, at + 8, std::uint32_t{1000000});
  }
  EXPECT_LT(test::peak_growth([&] { EXPECT_THAT(refusal(bytes), HasSubstr("far too small")); }), test::kLittleMemory);
}

}  // namespace
}  // namespace canewise
