#include "scanproc/images/picture.h"

#include "scanproc/bytes/number_text.h"
#include "scanproc/images/grey_image.h"

namespace canewise {

void check_picture_size(const ScanFile& file, std::size_t columns, std::size_t rows) {
  constexpr std::size_t most_pixels = 100'000'000, longest_side = 30'000;
  if (columns == 0 || rows == 0) file.fail({"photo.no_pixels"});
  if (columns > longest_side || rows > longest_side || columns * rows > most_pixels) {
    file.fail({"photo.too_large", {{"columns", digits(columns)}, {"rows", digits(rows)}}});
  }
}

GreyPicture read_picture(const ScanFile& file) {
  const std::string head = file.head(8);
  if (looks_like_png(head)) return read_png_picture(file);
  if (looks_like_tiff(head)) return read_tiff_picture(file);
  if (looks_like_jpeg(head)) return read_jpeg_picture(file);
  file.fail({"photo.unknown_format"});
}

}  // namespace canewise
