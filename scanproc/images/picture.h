#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "scanproc/bytes/scan_file.h"

namespace canewise {

/// A photograph as brightness. Of colour pictures the brightest channel: a red line on white paper is bright in one
/// only.
struct GreyPicture {
  std::size_t columns = 0, rows = 0;
  std::uint16_t full_scale = 255;     ///< Value at which the camera can show no more.
  std::vector<std::uint16_t> values;  ///< rows x columns, columns fastest.
  [[nodiscard]] std::uint16_t at(std::size_t column, std::size_t row) const { return values[row * columns + column]; }
};

[[nodiscard]] bool looks_like_jpeg(std::string_view head);

/// A PNG, TIFF or JPEG of 8 or 16 bits, grey or colour, of at most 100 million pixels. Throws InputError.
[[nodiscard]] GreyPicture read_picture(const ScanFile& file);
[[nodiscard]] GreyPicture read_png_picture(const ScanFile& file);
[[nodiscard]] GreyPicture read_tiff_picture(const ScanFile& file);
[[nodiscard]] GreyPicture read_jpeg_picture(const ScanFile& file);

/// Refuses sizes that no photograph has, or none in a file so small, before anything is allocated. `bytes_per_pixel`:
/// what decoding takes at its height.
void check_picture_size(const ScanFile& file, std::size_t columns, std::size_t rows, std::size_t bytes_per_pixel = 2);

/// Brightest of `channels` interleaved values for each of `count` pixels.
template <typename Value>
void brightest_of(const Value* from, std::size_t count, std::size_t channels, std::uint16_t* to) {
  for (std::size_t i = 0; i < count; ++i) {
    Value brightest = from[i * channels];
    for (std::size_t k = 1; k < channels; ++k)
      brightest = from[i * channels + k] > brightest ? from[i * channels + k] : brightest;
    to[i] = brightest;
  }
}

}  // namespace canewise
