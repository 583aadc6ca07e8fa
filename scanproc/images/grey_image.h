#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "scanproc/bytes/scan_file.h"

namespace canewise {

/// A grey image of whole numbers, 16 bits a pixel.
struct DepthImage {
  std::size_t columns = 0, rows = 0;
  std::vector<std::uint16_t> values;  ///< rows x columns, columns fastest.
};

[[nodiscard]] bool looks_like_png(std::string_view head);
[[nodiscard]] bool looks_like_tiff(std::string_view head);

/// A 16-bit grey PNG or TIFF of exactly the size given. Throws InputError for anything else, before it decodes.
[[nodiscard]] DepthImage read_depth_image(const ScanFile& file, std::size_t columns, std::size_t rows);
[[nodiscard]] DepthImage read_png(const ScanFile& file, std::size_t columns, std::size_t rows);
[[nodiscard]] DepthImage read_tiff_depth(const ScanFile& file, std::size_t columns, std::size_t rows);

/// A TIFF of floating-point heights, one sample a pixel.
struct FloatImage {
  std::size_t columns = 0, rows = 0;
  std::vector<double> values;                    ///< rows x columns, columns fastest; not finite = not measured.
  std::optional<double> pitch_x_mm, pitch_y_mm;  ///< From the file's resolution, if it states one in cm or inches.
};
[[nodiscard]] FloatImage read_tiff_floats(const ScanFile& file);

}  // namespace canewise
