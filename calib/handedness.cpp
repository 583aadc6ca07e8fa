#include "calib/handedness.h"

#include <array>
#include <cmath>
#include <map>

#include "scanproc/core/error.h"
#include "scanproc/datum/align.h"

namespace canewise {

Handedness check_handedness(Cloud cloud, Rig rig) {
  Handedness result;
  result.was_corrected = rig.mirrored;
  rig.mirrored = false;
  const Eigen::Matrix3Xd all = cloud.points_mm;
  const Aligned aligned = align(std::move(cloud), rig);
  result.outline = aligned.outline;
  const double half = aligned.outline.half_width_mm(0.0), length = aligned.outline.length_mm;
  constexpr double beside_mm = 1.5, reach_mm = 25.0, tallest_mm = 12.0;
  const double lowest_mm = std::max(0.06, 6.0 * aligned.plate_noise_mm);
  constexpr double cell_mm = 1.0;
  // Half a millimetre of stray points makes no mark: whole cells that stand off the plate do.
  std::map<std::pair<long, long>, std::array<int, 2>> cells;
  for (Eigen::Index i = 0; i < all.cols(); ++i) {
    const Eigen::Vector3d p = aligned.reed_from_scan * all.col(i);
    if (p.x() < -10.0 || p.x() > length + 10.0 || std::abs(p.y()) < half + beside_mm ||
        std::abs(p.y()) > half + reach_mm)
      continue;
    auto& cell =
        cells[{static_cast<long>(std::floor(p.x() / cell_mm)), static_cast<long>(std::floor(p.y() / cell_mm))}];
    ++cell[0];
    cell[1] += p.z() > lowest_mm && p.z() < tallest_mm;
  }
  double left = 0.0, right = 0.0;
  for (const auto& [at, count] : cells) {
    if (count[0] < 4 || 10 * count[1] < 8 * count[0]) continue;
    const Eigen::Vector2d middle((static_cast<double>(at.first) + 0.5) * cell_mm,
                                 (static_cast<double>(at.second) + 0.5) * cell_mm);
    (middle.y() < 0.0 ? left : right) += cell_mm * cell_mm;
    result.mark_points_mm.push_back(middle);
    result.mark_mm += middle;
  }
  constexpr double smallest_mm2 = 6.0;
  if (left + right < smallest_mm2) {
    throw NotMeasurable({"hand.no_mark"});
  }
  if (std::min(left, right) > 0.2 * std::max(left, right)) {
    throw NotMeasurable({"hand.both_sides"});
  }
  result.mark_mm /= static_cast<double>(result.mark_points_mm.size());
  result.mark_area_mm2 = left + right;
  result.mirrored = left > right;
  result.verdict = {result.mirrored ? Message{"hand.mirrors"} : Message{"hand.left_is_left"}};
  if (result.was_corrected && !result.mirrored) result.verdict.push_back({"hand.no_longer"});
  return result;
}

}  // namespace canewise
