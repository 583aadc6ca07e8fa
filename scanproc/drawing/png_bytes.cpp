#include "scanproc/drawing/png_bytes.h"

#include <png.h>

#include <cstddef>
#include <vector>

#include "scanproc/core/error.h"

namespace canewise {

std::string png_from_rgb24(const unsigned char* pixels, int width, int height, int stride) {
  std::string bytes;
  std::vector<png_byte> row(static_cast<std::size_t>(width) * 3);
  // C++ exceptions must not cross libpng's C frames, and longjmp must not cross destructors: both buffers live outside.
  png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, nullptr, nullptr, nullptr);
  png_infop info = png != nullptr ? png_create_info_struct(png) : nullptr;
  if (info == nullptr) {
    png_destroy_write_struct(&png, nullptr);
    throw OutputError({"drawing.no_memory"});
  }
  if (setjmp(png_jmpbuf(png)) != 0) {
    png_destroy_write_struct(&png, &info);
    throw OutputError({"drawing.no_png"});
  }
  png_set_write_fn(
      png, &bytes,
      [](png_structp p, png_bytep data, png_size_t length) {
        static_cast<std::string*>(png_get_io_ptr(p))->append(reinterpret_cast<const char*>(data), length);
      },
      nullptr);
  constexpr int fast_compression = 2;
  png_set_compression_level(png, fast_compression);
  png_set_filter(png, PNG_FILTER_TYPE_BASE, PNG_FILTER_SUB);
  png_set_IHDR(png, info, static_cast<png_uint_32>(width), static_cast<png_uint_32>(height), 8, PNG_COLOR_TYPE_RGB,
               PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
  png_write_info(png, info);
  for (int y = 0; y < height; ++y) {
    const unsigned char* in = pixels + static_cast<std::ptrdiff_t>(y) * stride;
    for (std::size_t x = 0; x < static_cast<std::size_t>(width); ++x) {
      row[3 * x] = in[4 * x + 2];
      row[3 * x + 1] = in[4 * x + 1];
      row[3 * x + 2] = in[4 * x];
    }
    png_write_row(png, row.data());
  }
  png_write_end(png, info);
  png_destroy_write_struct(&png, &info);
  return bytes;
}

}  // namespace canewise
