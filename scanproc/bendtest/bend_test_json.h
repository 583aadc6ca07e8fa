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
};
/// `path`: the file or its folder. Throws InputError.
[[nodiscard]] ReadBendTest read_bend_test(const std::filesystem::path& path);

}  // namespace canewise
