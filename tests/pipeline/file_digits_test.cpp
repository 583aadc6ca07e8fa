#include "scanproc/pipeline/file_digits.h"

#include <gtest/gtest.h>

#include <cmath>

namespace canewise {
namespace {

TEST(FileDigits, AreHundredthsOfAMicrometre) {
  EXPECT_EQ(file_digits_mm(1.234564), 1.23456);
  EXPECT_EQ(file_digits_mm(1.234566), 1.23457);
  EXPECT_EQ(file_digits_mm(-0.000014), -0.00001);
  EXPECT_EQ(file_digits_mm(-0.000016), -0.00002);
  EXPECT_EQ(file_digits_mm(0.000004), 0.0);
  EXPECT_EQ(file_digits_mm(0.5), 0.5);
  EXPECT_TRUE(std::isnan(file_digits_mm(std::nan(""))));
}

TEST(FileDigits, OnceRoundedAValueStays) {
  for (int k = -500000; k <= 500000; k += 777) {
    const double once = file_digits_mm(1.0000001e-5 * k);
    EXPECT_EQ(file_digits_mm(once), once) << k;
    Eigen::ArrayXXf field(1, 1);
    field << static_cast<float>(1.0000001e-5 * k);
    const Eigen::ArrayXXf single = file_digits(field);
    EXPECT_EQ(file_digits(single)(0, 0), single(0, 0)) << k;
  }
}

TEST(FileDigits, FieldsAreRoundedCellByCell) {
  Eigen::ArrayXXd field(2, 2);
  field << 3.141592, -2.718281, std::nan(""), 0.0;
  const Eigen::ArrayXXd rounded = file_digits(field);
  EXPECT_EQ(rounded(0, 0), 3.14159);
  EXPECT_EQ(rounded(0, 1), -2.71828);
  EXPECT_TRUE(std::isnan(rounded(1, 0)));
  EXPECT_EQ(rounded(1, 1), 0.0);
  const Eigen::ArrayXXf single = file_digits(Eigen::ArrayXXf(field.cast<float>()));
  EXPECT_EQ(single(0, 0), 3.14159F);
  EXPECT_EQ(single(0, 1), -2.71828F);
  EXPECT_TRUE(std::isnan(single(1, 0)));
}

TEST(FileDigits, SensitivitiesAreWholeMillionths) {
  EXPECT_EQ(file_millionths(0.0012344F), 1234);
  EXPECT_EQ(file_millionths(0.0012346F), 1235);
  EXPECT_EQ(file_millionths(-0.0000026F), -3);
  EXPECT_EQ(file_millionths(0.0F), 0);
}

}  // namespace
}  // namespace canewise
