#include "scanproc/heights/height_map.h"

#include "scanproc/clouds/records.h"
#include "scanproc/core/parallel.h"

namespace canewise {

Cloud cloud_from(const HeightMap& map) {
  Cloud cloud;
  if (map.z_mm.empty()) return cloud;
  cloud.points_mm.resize(3, static_cast<Eigen::Index>(map.z_mm.size()));
  std::array<std::size_t, kParallelParts> begins{}, kept{};
  parallel_parts(map.z_mm.size(), [&](std::size_t part, std::size_t begin, std::size_t end) {
    std::size_t column = begin % map.columns, row = begin / map.columns;
    double* out = cloud.points_mm.data() + 3 * begin;
    for (std::size_t i = begin; i < end; ++i) {
      *out++ = map.origin_x_mm + map.step_x_mm * static_cast<double>(column);
      *out++ = map.origin_y_mm + map.step_y_mm * static_cast<double>(row);
      *out++ = map.z_mm[i];
      if (++column == map.columns) column = 0, ++row;
    }
    begins.at(part) = begin;
    kept.at(part) = keep_finite(cloud.points_mm, begin, end);
  });
  join_parts(cloud, begins, kept);
  cloud.format = map.format;
  cloud.unit_known = true;
  cloud.notes = map.notes;
  cloud.dropped_non_finite = 0;  // A node that was not measured is no damage.
  return cloud;
}

}  // namespace canewise
