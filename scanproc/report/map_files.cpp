#include "scanproc/report/map_files.h"

#include "scanproc/heights/sdf.h"
#include "scanproc/heights/x3p.h"

namespace canewise {

HeightMap height_map_of(const ThicknessMap& map) {
  HeightMap heights;
  heights.columns = static_cast<std::size_t>(map.grid.rows);
  heights.rows = static_cast<std::size_t>(map.grid.columns);
  heights.step_x_mm = heights.step_y_mm = map.grid.cell_mm;
  heights.origin_x_mm = map.grid.x_mm(0);
  heights.origin_y_mm = map.grid.y_mm(0);
  heights.z_mm.reserve(heights.columns * heights.rows);
  for (Eigen::Index c = 0; c < map.grid.columns; ++c) {
    for (Eigen::Index r = 0; r < map.grid.rows; ++r)
      heights.z_mm.push_back(static_cast<double>(map.thickness_mm(r, c)));
  }
  heights.format = "thickness map";
  return heights;
}

OutputFile map_file(const Result& result, MapFormat format, const Speech& speech) {
  const HeightMap heights = height_map_of(result.map);
  if (format == MapFormat::sdf) return {"thickness.sdf", sdf_bytes(heights, SdfEncoding::binary)};
  const Message comment{"report.map_file", {{"headline", result.headline}}};
  return {"thickness.x3p", x3p_bytes(heights, {result.measured_at, sentence(comment, speech)})};
}

}  // namespace canewise
