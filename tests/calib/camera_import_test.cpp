// Camera files of OpenCV: what the library writes is read back, in every format and under every usual name.
#include "calib/camera_import.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <opencv2/core.hpp>

#include "tests/bytes/file_bytes.h"

namespace canewise {
namespace {

using testing::AllOf;
using testing::HasSubstr;

struct Names {
  const char *matrix = "camera_matrix", *distortion = "distortion_coefficients", *width = "image_width",
             *height = "image_height";
};

struct Written {
  Names names{};
  const char* suffix = ".yml";
  std::vector<double> distortion{-0.11, 0.06, 4e-4, -3e-4, 0.02};
  bool with_size = true;
};

/// As the library itself writes it.
std::string file_of(const Written& w) {
  cv::FileStorage storage(w.suffix, cv::FileStorage::WRITE | cv::FileStorage::MEMORY);
  if (w.with_size) storage << w.names.width << 800 << w.names.height << 600;
  const cv::Mat matrix = (cv::Mat_<double>(3, 3) << 2400.5, 0, 407.3, 0, 2401.25, 295.9, 0, 0, 1);
  storage << w.names.matrix << matrix << w.names.distortion << cv::Mat(w.distortion, true);
  storage << "avg_reprojection_error" << 0.125 << "calibration_time"
          << "Tue 1 Jan";
  return storage.releaseAndGetString();
}

ImportedCamera read(const std::string& bytes, std::optional<PictureSize> size = {}) {
  return test::with_file(bytes, [&](const ScanFile& file) { return import_camera(file, size); });
}
std::string refusal(const std::string& bytes, std::optional<PictureSize> size = {}) {
  return test::refusal(bytes, [&](const ScanFile& file) { return import_camera(file, size); });
}

Eigen::Matrix<double, 9, 1> truth() {
  Eigen::Matrix<double, 9, 1> p;
  p << 2400.5, 2401.25, 407.3, 295.9, -0.11, 0.06, 4e-4, -3e-4, 0.02;
  return p;
}

TEST(CameraImport, EveryFormatAndEveryUsualNameGivesTheSameCamera) {
  for (const char* suffix : {".yml", ".xml", ".json"}) {
    for (const Names& names :
         {Names{}, Names{"Camera_Matrix", "Distortion_Coefficients", "image_Width", "image_Height"},
          Names{"cameraMatrix", "distCoeffs"}, Names{"K", "D"}}) {
      const ImportedCamera imported = read(file_of({names, suffix}));
      EXPECT_LT((imported.camera.parameters() - truth()).cwiseAbs().maxCoeff(), 1e-12) << suffix << names.matrix;
      EXPECT_EQ(imported.camera.width, 800U);
      EXPECT_EQ(imported.camera.height, 600U);
      EXPECT_EQ(imported.rms_px, 0.125);
      EXPECT_EQ(imported.made_at, "Tue 1 Jan");
    }
  }
}

TEST(CameraImport, AFileWrittenByHandWithPlainListsIsRead) {
  const ImportedCamera imported = read(
      "%YAML:1.0\n---\nimageSize: [ 800, 600 ]\ncameraMatrix: [ 2400.5, 0, 407.3, 0, 2401.25, 295.9, 0, 0, 1 ]\n"
      "distCoeffs: [ -0.11, 0.06, 4e-4, -3e-4, 0.02 ]\n");
  EXPECT_LT((imported.camera.parameters() - truth()).cwiseAbs().maxCoeff(), 1e-12);
  EXPECT_FALSE(imported.rms_px);
}

TEST(CameraImport, FourCoefficientsAreALensWithoutK3AndNoughtsBeyondTheFifthAreNone) {
  EXPECT_EQ(read(file_of({.distortion = {-0.11, 0.06, 4e-4, -3e-4}})).camera.k3, 0.0);
  EXPECT_EQ(read(file_of({.distortion = {-0.11, 0.06, 4e-4, -3e-4, 0.02, 0, 0, 0}})).camera.k3, 0.02);
}

TEST(CameraImport, TheSizeMayBeSaidAndMustAgree) {
  EXPECT_THAT(refusal(file_of({.with_size = false})), HasSubstr("--width and --height"));
  EXPECT_EQ(read(file_of({.with_size = false}), PictureSize{800, 600}).camera.width, 800U);
  EXPECT_THAT(refusal(file_of({}), PictureSize{640, 480}), AllOf(HasSubstr("800 by 600"), HasSubstr("640 by 480")));
  EXPECT_THAT(refusal(file_of({.with_size = false}), PictureSize{100, 80}), HasSubstr("far outside"));
}

std::string changed(const std::string& from, const std::string& to) {
  std::string text = file_of({});
  const auto at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from << " in\n" << text;
  return text.replace(at, from.size(), to);
}

TEST(CameraImport, LensesOfAnotherFormulaAreRefused) {
  EXPECT_THAT(refusal(file_of({.distortion = {-0.11, 0.06, 4e-4, -3e-4, 0.02, 0.5, 0, 0}})),
              AllOf(HasSubstr("8 distortion coefficients"), HasSubstr("rational")));
  EXPECT_THAT(refusal(file_of({.distortion = {-0.11, 0.06}})), HasSubstr("2 distortion coefficients"));
  EXPECT_THAT(refusal(changed("image_width: 800", "fisheye_model: 1\nimage_width: 800")), HasSubstr("fisheye"));
  EXPECT_THAT(refusal(changed("e+03, 0., 4.07", "e+03, 3., 4.07")), HasSubstr("skew"));
}

TEST(CameraImport, WhatIsNoCameraFileIsRefusedInWordsAndInLittleMemory) {
  EXPECT_THAT(refusal("dear diary\n"), HasSubstr("not a camera file of OpenCV"));
  EXPECT_THAT(refusal("%YAML:1.0\n---\n[ 1, 2"), HasSubstr("not a camera file of OpenCV"));
  EXPECT_THAT(refusal("<?xml version=\"1.0\"?>\n<opencv_storage><a></opencv_storage>"), HasSubstr("OpenCV"));
  EXPECT_THAT(refusal("%YAML:1.0\n---\nname: 3\n"), HasSubstr("'camera_matrix'"));
  EXPECT_THAT(refusal(changed("camera_matrix", "other_matrix")), HasSubstr("'camera_matrix'"));
  EXPECT_THAT(refusal(changed("distortion_coefficients", "other")), HasSubstr("'distortion_coefficients'"));
  EXPECT_THAT(refusal(changed("image_width: 800", "image_width: 800.5")), HasSubstr("width"));
  EXPECT_THAT(refusal(changed("image_width: 800", "image_width: -800")), HasSubstr("width"));
  EXPECT_THAT(refusal(changed("image_width: 800", "image_width: wide")), HasSubstr("width"));
  EXPECT_THAT(refusal(changed("image_width: 800", "image_width: 800\nK: [ 1, 2, 3 ]")), HasSubstr("'K'"));
  EXPECT_THAT(refusal(changed("2.4005000000000000e+03", ".NaN")), HasSubstr("no number"));
  EXPECT_THAT(refusal(changed("2.4005000000000000e+03", "-2400.5")), HasSubstr("focal"));
  EXPECT_LT(test::peak_growth([&] {
              EXPECT_THAT(refusal(changed("rows: 3", "rows: 1000000000")), HasSubstr("lists 9 numbers"));
              EXPECT_THAT(refusal(std::string(5U << 20U, ' ')), HasSubstr("too large"));
            }),
            test::kLittleMemory);
  for (std::size_t left = 1; left < file_of({}).size(); left += 7) {
    const std::string cut = file_of({}).substr(0, left);
    try {
      (void)read(cut);  // Cut behind all that is needed it may be whole.
    } catch (const InputError&) {
    }
  }
}

}  // namespace
}  // namespace canewise
