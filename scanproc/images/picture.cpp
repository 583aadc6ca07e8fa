#include "scanproc/images/picture.h"

#include "scanproc/bytes/number_text.h"
#include "scanproc/images/grey_image.h"

namespace canewise {

void check_picture_size(const ScanFile& file, std::size_t columns, std::size_t rows, std::size_t bytes_per_pixel) {
  constexpr std::size_t most_pixels = 100'000'000, longest_side = 30'000;
  if (columns == 0 || rows == 0) file.fail({"photo.no_pixels"});
  if (columns > longest_side || rows > longest_side || columns * rows > most_pixels) {
    file.fail({"photo.too_large", {{"columns", digits(columns)}, {"rows", digits(rows)}}});
  }
  // A camera's noise packs to a tenth of a byte a pixel even where it saw darkness; nothing at all packs to a
  // thousandth.
  constexpr std::uint64_t spare = 24U << 20U, most_packed = 48;
  if (columns * rows * bytes_per_pixel > spare + most_packed * file.size())
    file.fail({"photo.too_packed", {{"columns", digits(columns)}, {"rows", digits(rows)}}});
}

GreyPicture read_picture(const ScanFile& file) {
  const std::string head = file.head(8);
  if (looks_like_png(head)) return read_png_picture(file);
  if (looks_like_tiff(head)) return read_tiff_picture(file);
  if (looks_like_jpeg(head)) return read_jpeg_picture(file);
  file.fail({"photo.unknown_format"});
}

}  // namespace canewise
