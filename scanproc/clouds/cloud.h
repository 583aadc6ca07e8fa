#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <string>
#include <vector>

#include "scanproc/words/message.h"

namespace canewise {

/// The points of one scan, in the scanner's own axes.
struct Cloud {
  Eigen::Matrix3Xd points_mm;          ///< 3 x N; every entry finite.
  std::size_t dropped_non_finite = 0;  ///< Points of the file that had a NaN or infinite coordinate.
  std::string format;                  ///< What the file was read as, for people: 'PLY, binary little-endian'.
  bool unit_known = false;             ///< The file says its own unit, so nothing has to be guessed.
  /// Standard uncertainty that neighbouring heights share and their scatter cannot show: steps of the stored depth that
  /// the noise is too small to blur.
  double height_step_u_mm = 0.0;
  /// Standard deviation of the errors that change slowly over the view, as far as the kind of scanner lets expect them;
  /// 0: what the rig's priors say.
  double assumed_slow_mm = 0.0;
  /// N standard uncertainties of the points' heights against each other, or empty where a scan does not say: points
  /// count less where it is large.
  Eigen::VectorXf u_mm;
  /// 3 x N, pointing out of the body: only of a closed surface, which shows both sides of the reed at once.
  Eigen::Matrix3Xf normals;
  Messages notes;  ///< What the reader has to say to people.
};

}  // namespace canewise
