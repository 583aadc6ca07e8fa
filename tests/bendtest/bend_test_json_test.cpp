#include "scanproc/bendtest/bend_test_json.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "scanproc/core/error.h"
#include "tests/support/temp_file.h"

namespace canewise::test {
namespace {

BendTest by_hand() {
  BendTest test;
  test.tested_at = "2026-03-01T10:00:00Z";
  test.measured_at = "2026-02-28T10:00:00Z";
  test.reed = {"B3-7", "B3", "Anna"};
  test.mass_g = 100.0;
  test.stock_height_mm = {3.0, 0.01};
  test.butt_width_mm = {11.6, 0.02};
  test.relative_thickness_mm = Eigen::ArrayXXd::Constant(16, 8, 0.5);
  test.relative_thickness_mm(3, 3) = std::nan("");
  test.grid = {0.25, 2, 2};
  test.cane.cane.e_l_mpa = 11234.5;
  test.cane.left_right = -0.043;
  for (Eigen::Index k = 0; k < 6; ++k) test.cane.covariance(k, k) = 1e-3 * static_cast<double>(k + 1);
  test.cane.covariance(0, 4) = test.cane.covariance(4, 0) = -5e-4;
  test.cane.state = MoistureState::wet;
  test.cane.tested_at = test.tested_at;
  BentBy weight;
  weight.side = LoadSide::left;
  weight.measured_mm = Field::Constant(2, 2, 0.12345F);
  weight.measured_mm(1, 1) = std::nanf("");
  weight.u_mm = weight.computed_mm = weight.measured_mm;
  test.weights.push_back(weight);
  return test;
}

TEST(BendTestFile, WhatMeasureReadsIsWhatWasWritten) {
  const TempFolder folder;
  folder.file(kBendTestFile, json_from_bend_test(by_hand()));
  const BendTest written = by_hand();
  const ReadBendTest read = read_bend_test(folder.path());
  EXPECT_EQ(read.cane.cane.e_l_mpa, written.cane.cane.e_l_mpa);
  EXPECT_EQ(read.cane.left_right, written.cane.left_right);
  EXPECT_EQ(read.cane.covariance, written.cane.covariance);
  EXPECT_EQ(read.cane.state, MoistureState::wet);
  EXPECT_EQ(read.cane.tested_at, written.tested_at);
  EXPECT_EQ(read.reed.label, "B3-7");
  EXPECT_EQ(read.measured_at, written.measured_at);
}

TEST(BendTestFile, DeflectionsAreTenthsOfAMicrometreAndNullWhereNothingWasSeen) {
  const auto document = nlohmann::json::parse(json_from_bend_test(by_hand()));
  const auto& weight = document.at("weights").at(0);
  EXPECT_EQ(weight.at("side"), "left");
  EXPECT_EQ(weight.at("measured_tenths_um").at(0).at(1), 1235) << "0.12345 mm, as single precision has it";
  EXPECT_TRUE(weight.at("measured_tenths_um").at(1).at(1).is_null());
}

TEST(BendTestFile, AResultOfAnotherReedIsFoundOut) {
  const TempFolder folder;
  folder.file(kBendTestFile, json_from_bend_test(by_hand()));
  const ReadBendTest read = read_bend_test(folder.path());
  EXPECT_TRUE(std::isnan(read.relative_thickness_mm(3, 3)));
  const auto refused = [&](auto change) {
    Result result;
    result.assessment.cut.stock_height_mm = {3.0, 0.01};
    result.assessment.cut.butt_width_mm = {11.6, 0.02};
    result.relative_thickness_mm = Eigen::ArrayXXd::Constant(16, 8, 0.5);
    change(result);
    try {
      check_reed_of(read, result);
    } catch (const NotMeasurable& error) {
      return error.message().id == "bendtest.of_other_reed";
    }
    return false;
  };
  EXPECT_FALSE(refused([](Result&) {}));
  EXPECT_FALSE(refused([](Result& r) { r.relative_thickness_mm -= 0.15; })) << "it was scraped since";
  EXPECT_TRUE(refused([](Result& r) { r.relative_thickness_mm.bottomRows(8) += 0.1; })) << "cane does not grow";
  EXPECT_TRUE(refused([](Result& r) { r.assessment.cut.stock_height_mm.value = 3.2; }));
  EXPECT_TRUE(refused([](Result& r) { r.assessment.cut.butt_width_mm.value = 11.3; }));
}

TEST(BendTestFile, ForeignOldAndImpossibleOnesAreRefusedByTheirNames) {
  const TempFolder folder;
  const auto refusal = [&](const std::string& bytes) {
    const auto path = folder.file("some.json", bytes);
    try {
      static_cast<void>(read_bend_test(path));
    } catch (const InputError& error) {
      EXPECT_THAT(error.what(), testing::HasSubstr("some.json"));
      return true;
    }
    return false;
  };
  for (const char* bytes : {"", "{", "[]", "7", "null", R"({"format": 3})", R"({"format": "canewise-comparison"})"})
    EXPECT_TRUE(refusal(bytes)) << bytes;
  const auto changed = [&](auto change) {
    auto document = nlohmann::json::parse(json_from_bend_test(by_hand()));
    change(document);
    return refusal(document.dump());
  };
  EXPECT_FALSE(changed([](auto&) {})) << "else nothing below is tested";
  EXPECT_TRUE(changed([](auto& d) { d["version"] = 2; }));
  EXPECT_TRUE(changed([](auto& d) { d["cane"]["e_l_mpa"] = -5.0; }));
  EXPECT_TRUE(changed([](auto& d) { d["cane"]["e_l_mpa"] = "stiff"; }));
  EXPECT_TRUE(changed([](auto& d) { d["cane"]["covariance"][0][0] = -1e-4; }));
  EXPECT_TRUE(changed([](auto& d) { d["cane"]["covariance"][0][1] = 9.0; }));
  EXPECT_TRUE(changed([](auto& d) { d["cane"]["covariance"].erase(0); }));
  EXPECT_TRUE(changed([](auto& d) { d["cane"]["right_over_left"] = 1.5; }));
  EXPECT_TRUE(changed([](auto& d) { d["cane"]["covariance"][0][0] = 1e300; }));
  EXPECT_TRUE(changed([](auto& d) {
    for (int i = 0; i < 6; ++i)
      for (int j = 0; j < 6; ++j) d["cane"]["covariance"][i][j] = i == j ? 0.04 : -0.0399;
  })) << "of no law";
  EXPECT_TRUE(changed([](auto& d) { d["cane"]["gradient_per_mm"] = 2.99; }));
  EXPECT_TRUE(changed([](auto& d) { d["cane"]["tested_at"] = std::string(3000, 'x'); }));
  EXPECT_TRUE(changed([](auto& d) { d["version"] = 1.9; }));
  EXPECT_TRUE(changed([](auto& d) { d["cane"]["state"] = "damp"; }));
  EXPECT_TRUE(changed([](auto& d) { d["reed"] = 5; }));
  EXPECT_THROW(static_cast<void>(read_bend_test(folder.path() / "not there")), InputError);
}

}  // namespace
}  // namespace canewise::test
