#include "scanproc/scan/picture.h"

#include "scanproc/scan/grey_image.h"

namespace canewise {

void check_picture_size(const ScanFile& file, std::size_t columns, std::size_t rows) {
  constexpr std::size_t most_pixels = 100'000'000, longest_side = 30'000;
  if (columns == 0 || rows == 0) file.fail("is a picture without pixels. Export it again.");
  if (columns > longest_side || rows > longest_side || columns * rows > most_pixels) {
    file.fail("claims to be " + std::to_string(columns) + " by " + std::to_string(rows) +
              " pixels, more than any camera of a rig has. It is damaged, or no photograph.");
  }
}

GreyPicture read_picture(const ScanFile& file) {
  const std::string head = file.head(8);
  if (looks_like_png(head)) return read_png_picture(file);
  if (looks_like_tiff(head)) return read_tiff_picture(file);
  if (looks_like_jpeg(head)) return read_jpeg_picture(file);
  file.fail("is no PNG, TIFF or JPEG picture. Save the photographs or frames in one of these.");
}

}  // namespace canewise
