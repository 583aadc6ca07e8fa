#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <string>

namespace canewise {

/// The points of one scan, in the scanner's own axes.
struct Cloud {
  Eigen::Matrix3Xd points_mm;          ///< 3 x N; every entry finite.
  std::size_t dropped_non_finite = 0;  ///< Points of the file that had a NaN or infinite coordinate.
  std::string format;                  ///< What the file was read as, for people: 'PLY, binary little-endian'.
};

}  // namespace canewise
