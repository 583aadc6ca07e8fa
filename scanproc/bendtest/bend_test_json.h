#pragma once

#include <filesystem>
#include <string>

#include "scanproc/bendtest/bend_test.h"

namespace canewise {

inline constexpr const char* kBendTestFile = "bend-test.json";
inline constexpr const char* kBendTestFormat = "canewise-bend-test";

/// bend-test.json: cane, sentences, deflections in tenths of a micrometre.
[[nodiscard]] std::string json_from_bend_test(const BendTest& test);

/// What measure takes from such a file; what else stands there is for readers.
struct ReadBendTest {
  MeasuredCane cane;
  ReedName reed;
  std::string measured_at;  ///< Of the result that the thickness is from.
  Measured stock_height_mm, butt_width_mm;
  Eigen::ArrayXXd relative_thickness_mm;
};
/// `path`: the file or its folder. Throws InputError.
[[nodiscard]] ReadBendTest read_bend_test(const std::filesystem::path& path);

/// Throws NotMeasurable where a result cannot be of the reed that was bent: another stock or butt, or thicker somewhere
/// than it was. Reeds of one cut that differ by less pass.
void check_reed_of(const ReadBendTest& test, const Result& result);

}  // namespace canewise
