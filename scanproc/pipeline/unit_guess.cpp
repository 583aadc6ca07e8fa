#include "scanproc/pipeline/unit_guess.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "scanproc/core/error.h"
#include "scanproc/words/decimals.h"

namespace canewise {
namespace {

constexpr int kDigits = 3;  // That a person needs of an extent.

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
  const double spans_mm = extent * mm_per(unit);
  Messages others;
  for (const LengthUnit other : {LengthUnit::mm, LengthUnit::um, LengthUnit::m, LengthUnit::in}) {
    if (fits(extent, other)) others.push_back({"unit_guess.would_make_sense", {{"unit", text(name_of(other))}}});
  }
  const Argument read_in = text(name_of(unit)), spans = mm(spans_mm, significant_decimals(spans_mm, kDigits));
  if (others.empty()) throw NotMeasurable({"unit_guess.no_reed", {{"unit", read_in}, {"spans", spans}}});
  throw NotMeasurable({"unit_guess.no_reed_but", {{"unit", read_in}, {"spans", spans}, {"others", std::move(others)}}});
}

LengthUnit guess_unit(const Cloud& cloud_as_mm) {
  const double extent = extent_of(cloud_as_mm);
  if (fits(extent, LengthUnit::mm)) return LengthUnit::mm;
  std::vector<LengthUnit> candidates;
  for (const LengthUnit unit : {LengthUnit::um, LengthUnit::m, LengthUnit::in}) {
    if (fits(extent, unit)) candidates.push_back(unit);
  }
  if (candidates.size() == 1) return candidates.front();
  throw NotMeasurable({"unit_guess.none_fits", {{"spans", number(extent, significant_decimals(extent, kDigits))}}});
}

void rescale(Cloud& cloud_as_mm, LengthUnit unit) {
  if (unit != LengthUnit::mm) cloud_as_mm.points_mm *= mm_per(unit);
}

}  // namespace canewise
