#include "scanproc/heights/height_map.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numeric>

#include "scanproc/clouds/records.h"
#include "scanproc/core/parallel.h"

namespace canewise {

Cloud cloud_from(const HeightMap& map) {
  Cloud cloud;
  if (map.z_mm.empty()) return cloud;
  std::array<std::size_t, kParallelParts> begins{}, measured{}, kept{};
  parallel_parts(map.z_mm.size(), [&](std::size_t part, std::size_t begin, std::size_t end) {
    const auto at = [&](std::size_t i) { return map.z_mm.begin() + static_cast<std::ptrdiff_t>(i); };
    measured.at(part) =
        static_cast<std::size_t>(std::count_if(at(begin), at(end), [](double z) { return std::isfinite(z); }));
  });
  // Points for the measured nodes alone: a map may be empty for the most part.
  std::exclusive_scan(measured.begin(), measured.end(), begins.begin(), std::size_t{0});
  cloud.points_mm.resize(3, static_cast<Eigen::Index>(begins.back() + measured.back()));
  parallel_parts(map.z_mm.size(), [&](std::size_t part, std::size_t begin, std::size_t end) {
    std::size_t column = begin % map.columns, row = begin / map.columns;
    double* out = cloud.points_mm.data() + 3 * begins.at(part);
    for (std::size_t i = begin; i < end; ++i) {
      if (std::isfinite(map.z_mm[i])) {
        *out++ = map.origin_x_mm + map.step_x_mm * static_cast<double>(column);
        *out++ = map.origin_y_mm + map.step_y_mm * static_cast<double>(row);
        *out++ = map.z_mm[i];
      }
      if (++column == map.columns) column = 0, ++row;
    }
    kept.at(part) = keep_finite(cloud.points_mm, begins.at(part), begins.at(part) + measured.at(part));
  });
  join_parts(cloud, begins, kept);
  cloud.format = map.format;
  cloud.unit_known = true;
  cloud.notes = map.notes;
  cloud.dropped_non_finite = 0;  // A node that was not measured is no damage.
  return cloud;
}

}  // namespace canewise
