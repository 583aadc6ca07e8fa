#include "scanproc/pipeline/unit_guess.h"

#include <algorithm>
#include <sstream>
#include <string>
#include <vector>

#include "scanproc/core/error.h"

namespace canewise {
namespace {

std::string short_number(double value) {
  std::ostringstream text;
  text.precision(3);
  text << value;
  return text.str();
}

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

// A scan of a reed in any pose spans at least two thirds of its length and at most a tray of plates.
constexpr double kSmallest_mm = 38.0, kLargest_mm = 700.0;

bool fits(double extent, LengthUnit unit) {
  const double mm = extent * mm_per(unit);
  return mm >= kSmallest_mm && mm <= kLargest_mm;
}

}  // namespace

void check_unit(const Cloud& cloud_as_mm, LengthUnit unit) {
  const double extent = extent_of(cloud_as_mm);
  if (fits(extent, unit)) return;
  std::string message = "read in " + std::string(name_of(unit)) + " the scan spans " +
                        short_number(extent * mm_per(unit)) + " mm, which is no reed on a plate.";
  for (const LengthUnit other : {LengthUnit::mm, LengthUnit::um, LengthUnit::m, LengthUnit::in}) {
    if (fits(extent, other)) message += " --units " + std::string(name_of(other)) + " would make sense.";
  }
  throw NotMeasurable(message);
}

LengthUnit guess_unit(const Cloud& cloud_as_mm) {
  const double extent = extent_of(cloud_as_mm);
  if (fits(extent, LengthUnit::mm)) return LengthUnit::mm;
  std::vector<LengthUnit> candidates;
  for (const LengthUnit unit : {LengthUnit::um, LengthUnit::m, LengthUnit::in}) {
    if (fits(extent, unit)) candidates.push_back(unit);
  }
  if (candidates.size() == 1) return candidates.front();
  throw NotMeasurable(
      "the scan spans " + short_number(extent) +
      " in the file's numbers, which is no reed on a plate in mm, um, m or in. Scan the whole reed, or name "
      "the unit with --units.");
}

void rescale(Cloud& cloud_as_mm, LengthUnit unit) {
  if (unit != LengthUnit::mm) cloud_as_mm.points_mm *= mm_per(unit);
}

}  // namespace canewise
