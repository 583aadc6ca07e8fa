#include <algorithm>
#include <cmath>

#include "scanproc/datum/aligned.h"

namespace canewise {

double Outline::tip_edge_at(double y_mm) const {
  if (tip_edge_mm.empty()) return 0.0;
  const double k = (y_mm - tip_edge_first_y_mm) / tip_edge_step_mm;
  if (k <= 0.0) return tip_edge_mm.front();
  const auto last = tip_edge_mm.size() - 1;
  if (k >= static_cast<double>(last)) return tip_edge_mm.back();
  const auto low = static_cast<std::size_t>(k);
  const double share = k - static_cast<double>(low);
  return (1.0 - share) * tip_edge_mm[low] + share * tip_edge_mm[low + 1];
}

bool Outline::holds(double x_mm, double y_mm, double margin_mm) const {
  if (x_mm > length_mm - margin_mm || y_mm < left.at(x_mm) + margin_mm || y_mm > right.at(x_mm) - margin_mm)
    return false;
  constexpr double behind_any_tip_edge_mm = 8.0;
  if (x_mm > behind_any_tip_edge_mm) return true;
  // The corners are steep: the margin counts across the edge as well as along x.
  return x_mm >= std::max(tip_edge_at(y_mm - margin_mm), tip_edge_at(y_mm + margin_mm)) + margin_mm;
}

}  // namespace canewise
