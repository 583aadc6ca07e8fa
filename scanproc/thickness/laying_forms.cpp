#include "scanproc/thickness/laying_forms.h"

#include <algorithm>
#include <cmath>

#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

double half_millimetre_station(const ThicknessMap& map) {
  for (Eigen::Index row = 0; row < map.grid.rows; ++row) {
    double sum = 0.0;
    int count = 0;
    for (Eigen::Index column = 0; column < map.grid.columns; ++column) {
      if (std::abs(map.grid.y_mm(column)) > 1.0 || !map.measured(row, column)) continue;
      sum += map.thickness_mm(row, column);
      ++count;
    }
    if (count > 0 && sum / count >= 0.5) return map.grid.x_mm(row);
  }
  return map.grid.x_mm(map.grid.rows - 1);
}

}  // namespace

LayingForms::LayingForms(const ThicknessMap& map, const Outline& outline)
    : length_mm_(outline.length_mm), half_mm_(outline.half_width_mm(0.0)), curl_to_mm_(half_millimetre_station(map)) {}

double LayingForms::bow(double x_mm) const { return 1.0 - square(along(x_mm)); }

double LayingForms::cup(double y_mm) const { return 1.0 - square(y_mm / half_mm_); }

double LayingForms::tip_lift(double x_mm) const {
  return x_mm < curl_to_mm_ ? square(1.0 - std::max(0.0, x_mm) / curl_to_mm_) : 0.0;
}

}  // namespace canewise
