#include "scanproc/heights/tiff_map.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

#include "scanproc/images/grey_image.h"

namespace canewise {
namespace {

/// The unit in which all but the outermost 2 % of the heights span a reed: 1 to 30 mm. Empty if none or several do.
std::optional<LengthUnit> unit_by_range(const std::vector<double>& heights) {
  std::vector<double> sample;
  const std::size_t step = std::max<std::size_t>(1, heights.size() / 50000);
  for (std::size_t i = 0; i < heights.size(); i += step) {
    if (std::isfinite(heights[i])) sample.push_back(heights[i]);
  }
  if (sample.empty()) return std::nullopt;
  std::sort(sample.begin(), sample.end());
  const std::size_t trim = sample.size() / 100;
  const double range = sample[sample.size() - 1 - trim] - sample[trim];
  std::optional<LengthUnit> found;
  for (const LengthUnit unit : {LengthUnit::mm, LengthUnit::um, LengthUnit::m}) {
    constexpr double lowest_mm = 1.0, highest_mm = 30.0;
    if (range * mm_per(unit) >= lowest_mm && range * mm_per(unit) <= highest_mm) found = unit;
  }
  return found;
}

}  // namespace

HeightMap read_tiff_map(const ScanFile& file, const TiffMapOptions& options) {
  FloatImage image = read_tiff_floats(file);
  HeightMap map;
  map.columns = image.columns;
  map.rows = image.rows;
  const auto pitch_x = options.pitch_mm ? options.pitch_mm : image.pitch_x_mm;
  const auto pitch_y = options.pitch_mm ? options.pitch_mm : image.pitch_y_mm;
  if (!pitch_x || !pitch_y) file.fail({"tiff_map.no_pitch"});
  map.step_x_mm = *pitch_x;
  map.step_y_mm = *pitch_y;
  const auto unit = options.height_unit ? options.height_unit : unit_by_range(image.values);
  if (!unit) {
    file.fail({"tiff_map.no_unit"});
  }
  if (!options.height_unit && *unit != LengthUnit::mm) {
    map.notes.push_back({"tiff_map.unit_by_range", {{"unit", text(name_of(*unit))}}});
  }
  map.z_mm = std::move(image.values);
  for (double& z : map.z_mm) {
    z *= mm_per(*unit);
    if (!std::isfinite(z)) z = std::numeric_limits<double>::quiet_NaN();
  }
  map.format = "TIFF height map";
  return map;
}

}  // namespace canewise
