#include "scanproc/pipeline/unit_guess.h"

#include <algorithm>
#include <string>
#include <vector>

#include "scanproc/core/error.h"

namespace canewise {
namespace {

/// Longest side of the box that holds all but the outermost 0.5 % of the points on each axis.
double extent_of(const Cloud& cloud) {
  double extent = 0.0;
  std::vector<double> values;
  const Eigen::Index step = std::max<Eigen::Index>(1, cloud.points_mm.cols() / 20000);
  for (int axis = 0; axis < 3; ++axis) {
    values.clear();
    for (Eigen::Index i = 0; i < cloud.points_mm.cols(); i += step) values.push_back(cloud.points_mm(axis, i));
    std::sort(values.begin(), values.end());
    const auto trim = values.size() / 200;
    extent = std::max(extent, values[values.size() - 1 - trim] - values[trim]);
  }
  return extent;
}

}  // namespace

LengthUnit guess_unit(const Cloud& cloud_as_mm) {
  // A scan of a reed in any pose spans at least two thirds of its length and at most a tray of plates.
  constexpr double smallest_mm = 38.0, largest_mm = 700.0;
  const double extent = extent_of(cloud_as_mm);
  const auto fits = [&](LengthUnit unit) {
    const double mm = extent * mm_per(unit);
    return mm >= smallest_mm && mm <= largest_mm;
  };
  if (fits(LengthUnit::mm)) return LengthUnit::mm;
  std::vector<LengthUnit> candidates;
  for (const LengthUnit unit : {LengthUnit::um, LengthUnit::m, LengthUnit::in}) {
    if (fits(unit)) candidates.push_back(unit);
  }
  if (candidates.size() == 1) return candidates.front();
  throw NotMeasurable(
      "the scan spans " + std::to_string(extent) +
      " in the file's numbers, which is no reed on a plate in mm, um, m or in. Scan the whole reed, or name "
      "the unit with --units.");
}

void rescale(Cloud& cloud_as_mm, LengthUnit unit) {
  if (unit != LengthUnit::mm) cloud_as_mm.points_mm *= mm_per(unit);
}

}  // namespace canewise
