// Fields as rows of numbers in result.json, and back.
#include "scanproc/pipeline/fields_json.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "scanproc/pipeline/check_result.h"

namespace canewise {
namespace {

using nlohmann::json;
constexpr float kNaN = std::numeric_limits<float>::quiet_NaN();

// Thickness of two rows and three columns, in millimetres; one cell was not measured.
TEST(FieldsJson, AFieldIsWrittenRowByRowToAHundredthOfAMicrometre) {
  Eigen::ArrayXXf field(2, 3);
  field << 0.1F, kNaN, 0.300004F, 1.25F, -0.000006F, 3.0F;
  EXPECT_EQ(rows_from(field), json::parse("[[0.1,null,0.3],[1.25,-0.00001,3.0]]"));
  EXPECT_EQ(rows_from(Eigen::ArrayXXd(field.cast<double>())), rows_from(field));
}

TEST(FieldsJson, AFieldReadsBackAsItWasWritten) {
  Eigen::ArrayXXf field(2, 3);
  field << 0.1F, 0.2F, 0.3F, 1.25F, 2.0F, 3.12345F;
  const Eigen::ArrayXXf back = small_field_from(rows_from(field));
  ASSERT_EQ(back.rows(), 2);
  ASSERT_EQ(back.cols(), 3);
  EXPECT_TRUE((back == field).all());
  EXPECT_EQ(field_from(json::array()).size(), 0);
  EXPECT_EQ(field_from(json::parse("[[],[]]")).rows(), 2);
}

TEST(FieldsJson, RowsOfUnequalLengthAreRefused) {
  EXPECT_THROW((void)field_from(json::parse("[[1,2],[3]]")), Impossible);
  EXPECT_THROW((void)field_from(json::parse("[[1],[2,3]]")), Impossible);
  EXPECT_THROW((void)field_from(json::parse("[[1],[\"2\"]]")), json::exception);
  EXPECT_THROW((void)field_from(json::parse("[1,2]")), std::exception);
}

// Sensitivities: 1.234567 is 1,234,567 millionths.
TEST(FieldsJson, MillionthsAreWholeNumbers) {
  Eigen::ArrayXXf field(1, 3);
  field << 1.234567F, -0.0000004F, kNaN;
  EXPECT_EQ(millionths_from(field), json::parse("[[1234567,0,null]]"));
  const Eigen::ArrayXXf back = field_from_millionths(json::parse("[[1234567,-3,250000]]"));
  EXPECT_FLOAT_EQ(back(0, 0), 1.234567F);
  EXPECT_FLOAT_EQ(back(0, 1), -3e-6F);
  EXPECT_FLOAT_EQ(back(0, 2), 0.25F);
}

TEST(FieldsJson, AMatrixKeepsEveryDigitAndHasExactlyTheSizeAsked) {
  Eigen::MatrixXd matrix(2, 2);
  matrix << 1.0 / 3.0, 1e-9, 2.0, -4.5;
  EXPECT_EQ(matrix_from(rows_from(matrix), 2), matrix);
  EXPECT_THROW((void)matrix_from(rows_from(matrix), 3), Impossible);
  try {
    (void)matrix_from(rows_from(matrix), 1);
  } catch (const Impossible& impossible) {
    EXPECT_EQ(impossible.why.id, "result.matrix_size");
  }
  EXPECT_THROW((void)matrix_from(rows_from(matrix), 1), Impossible) << "more than asked is not the matrix asked for";
  EXPECT_THROW((void)matrix_from(json::parse("[[1,2],[3]]"), 2), Impossible);
}

}  // namespace
}  // namespace canewise
