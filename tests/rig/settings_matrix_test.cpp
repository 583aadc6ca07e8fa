#include "scanproc/rig/settings_matrix.h"

#include <gtest/gtest.h>

#include <functional>
#include <string>

#include "tests/support/refusals.h"

namespace canewise {
namespace {

Settings settings_of(const std::string& text) { return Settings::parse(text, "rig.toml"); }

/// Id of the refusal, which names the file and the key 'm'.
std::string refusal_of(const std::function<void()>& work) {
  const test::Refusal refusal = test::refusal_of(work);
  EXPECT_EQ(refusal.file, "rig.toml");
  EXPECT_NE(refusal.words.find("'m'"), std::string::npos) << refusal.words;
  return refusal.id;
}
template <int Rows, int Columns>
Eigen::Matrix<double, Rows, Columns> matrix_of(const std::string& text) {
  Settings settings = settings_of(text);
  Eigen::Matrix<double, Rows, Columns> matrix = Eigen::Matrix<double, Rows, Columns>::Constant(-7.0);
  matrix_into<Rows, Columns>(settings, "m", matrix);
  return matrix;
}
Eigen::Matrix2d covariance_of(const std::string& numbers) {
  Settings settings = settings_of("m = [" + numbers + "]\n");
  Eigen::Matrix2d matrix = Eigen::Matrix2d::Zero();
  covariance_into<2>(settings, "m", matrix);
  return matrix;
}

TEST(SettingsMatrix, NumbersFillAMatrixRowByRow) {
  const auto matrix = matrix_of<2, 3>("m = [1, 2, 3, 4.5, 5, 6]\n");
  EXPECT_EQ(matrix(0, 2), 3.0);
  EXPECT_EQ(matrix(1, 0), 4.5);
  EXPECT_EQ(matrix(1, 2), 6.0);
  EXPECT_EQ((matrix_of<3, 1>("m = [1, 2, 3]\n")), Eigen::Vector3d(1, 2, 3));
}

TEST(SettingsMatrix, WhereTheKeyIsAbsentTheMatrixStaysAsItIs) {
  EXPECT_EQ((matrix_of<2, 2>("other = 1\n")), Eigen::Matrix2d::Constant(-7.0));
}

TEST(SettingsMatrix, AnotherCountOfNumbersIsRefused) {
  for (const char* text :
       {"m = [1, 2, 3]\n", "m = [1, 2, 3, 4, 5]\n", "m = [1, 2, 3, nan]\n", "m = 1\n", "m = [1, 2, 3, 'four']\n"})
    EXPECT_EQ(refusal_of([&] { (void)matrix_of<2, 2>(text); }), "settings.no_numbers") << text;
}

TEST(SettingsMatrix, ACovarianceMayBeCorrelatedOrNought) {
  EXPECT_EQ(covariance_of("4, -3, -3, 9")(0, 1), -3.0);
  EXPECT_EQ(covariance_of("4, 6, 6, 9")(1, 0), 6.0) << "wholly correlated";
  EXPECT_EQ(covariance_of("0, 0, 0, 0"), Eigen::Matrix2d::Zero());
  EXPECT_NO_THROW((void)covariance_of("4e-20, 0, 0, 9e-20")) << "however small";
}

TEST(SettingsMatrix, WhatIsNoCovarianceIsRefused) {
  for (const char* numbers : {"4, 1, 2, 9", "-1, 0, 0, 1", "4, 7, 7, 9", "4e-20, 0, 0, -9e-20"})
    EXPECT_EQ(refusal_of([&] { (void)covariance_of(numbers); }), "settings.no_covariance") << numbers;
}

TEST(SettingsMatrix, RoundingOfAWrittenCovarianceIsForgiven) {
  // A millionth of the largest entry.
  EXPECT_NO_THROW((void)covariance_of("4, 6.0000005, 6, 9"));
  EXPECT_NO_THROW((void)covariance_of("4, 6.000001, 6.000001, 9"));
  EXPECT_EQ(refusal_of([] { (void)covariance_of("4, 1.00002, 1, 9"); }), "settings.no_covariance");
}

TEST(SettingsMatrix, AVectorIsThreeNumbersOfAnyLengthOrOfLengthOne) {
  Settings settings = settings_of("m = [0.0, -3.0, 4.0]\nunit = [0.0, -0.6, 0.8]\n");
  EXPECT_EQ(vector_of(settings, "m", false), Eigen::Vector3d(0, -3, 4));
  EXPECT_EQ(vector_of(settings, "unit", true), Eigen::Vector3d(0, -0.6, 0.8));
  EXPECT_EQ(vector_of(settings, "absent", false), Eigen::Vector3d::Zero());
  EXPECT_EQ(refusal_of([&] { (void)vector_of(settings, "m", true); }), "settings.no_unit_vector");
}

}  // namespace
}  // namespace canewise
