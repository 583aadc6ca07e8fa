#include <png.h>

#include <bit>
#include <csetjmp>
#include <cstring>
#include <string>

#include "scanproc/bytes/number_text.h"
#include "scanproc/images/grey_image.h"
#include "scanproc/images/picture.h"

namespace canewise {
namespace {

/// What the library's callbacks share. The library leaves them by a long jump, so nothing with a destructor may be made
/// between set-jump and decoding.
struct Decoder {
  const char* data;
  std::size_t size;
  std::size_t at = 0;
};

void read_bytes(png_structp png, png_bytep out, std::size_t count) {
  auto* decoder = static_cast<Decoder*>(png_get_io_ptr(png));
  if (count > decoder->size - decoder->at) png_error(png, "");
  std::memcpy(out, decoder->data + decoder->at, count);
  decoder->at += count;
}

/// Remarks, profiles and the like are not even unpacked.
void keep_to_the_image(png_structp png) {
  constexpr png_alloc_size_t largest_chunk = 8U << 20U;
  constexpr png_uint_32 most_chunks = 8;
  png_set_chunk_malloc_max(png, largest_chunk);
  png_set_chunk_cache_max(png, most_chunks);
  constexpr int all_that_an_image_can_do_without = -1;
  png_set_keep_unknown_chunks(png, PNG_HANDLE_CHUNK_NEVER, nullptr, all_that_an_image_can_do_without);
}

enum class Outcome { read, damaged, wrong_kind, wrong_size };

struct Found {
  png_uint_32 columns = 0, rows = 0;
  int depth = 0, colour = 0;
};

/// Rows are decoded into `values`, which has room for columns * rows.
Outcome decode(Decoder& decoder, std::size_t columns, std::size_t rows, std::uint16_t* values, Found& found) {
  png_structp png = png_create_read_struct(
      PNG_LIBPNG_VER_STRING, nullptr, [](png_structp p, png_const_charp) { png_longjmp(p, 1); },
      [](png_structp, png_const_charp) {});
  png_infop info = png != nullptr ? png_create_info_struct(png) : nullptr;
  if (info == nullptr) {
    png_destroy_read_struct(&png, nullptr, nullptr);
    return Outcome::damaged;
  }
  if (setjmp(png_jmpbuf(png)) != 0) {
    png_destroy_read_struct(&png, &info, nullptr);
    return Outcome::damaged;
  }
  png_set_read_fn(png, &decoder, read_bytes);
  keep_to_the_image(png);
  png_read_info(png, info);
  found.columns = png_get_image_width(png, info);
  found.rows = png_get_image_height(png, info);
  found.depth = png_get_bit_depth(png, info);
  found.colour = png_get_color_type(png, info);
  constexpr int sixteen = 16;
  Outcome outcome = Outcome::read;
  if (found.columns != columns || found.rows != rows) outcome = Outcome::wrong_size;
  if (found.depth != sixteen || found.colour != PNG_COLOR_TYPE_GRAY) outcome = Outcome::wrong_kind;
  if (png_get_interlace_type(png, info) != PNG_INTERLACE_NONE) outcome = Outcome::wrong_kind;
  if (outcome == Outcome::read) {
    if constexpr (std::endian::native == std::endian::little) png_set_swap(png);
    png_read_update_info(png, info);
    for (std::size_t row = 0; row < rows; ++row)
      png_read_row(png, reinterpret_cast<png_bytep>(values + row * columns), nullptr);
  }
  png_destroy_read_struct(&png, &info, nullptr);
  return outcome;
}

/// Size and kind first, so that the caller can make room.
struct PictureReader {
  png_structp png = nullptr;
  png_infop info = nullptr;
  PictureReader() = default;
  PictureReader(const PictureReader&) = delete;
  PictureReader& operator=(const PictureReader&) = delete;
  ~PictureReader() { png_destroy_read_struct(&png, &info, nullptr); }
};

bool read_header(PictureReader& reader, Decoder& decoder, Found& found) {
  reader.png = png_create_read_struct(
      PNG_LIBPNG_VER_STRING, nullptr, [](png_structp p, png_const_charp) { png_longjmp(p, 1); },
      [](png_structp, png_const_charp) {});
  reader.info = reader.png != nullptr ? png_create_info_struct(reader.png) : nullptr;
  if (reader.info == nullptr) return false;
  if (setjmp(png_jmpbuf(reader.png)) != 0) return false;
  png_set_read_fn(reader.png, &decoder, read_bytes);
  keep_to_the_image(reader.png);
  png_read_info(reader.png, reader.info);
  found.columns = png_get_image_width(reader.png, reader.info);
  found.rows = png_get_image_height(reader.png, reader.info);
  if (png_get_interlace_type(reader.png, reader.info) != PNG_INTERLACE_NONE) return false;
  png_set_expand(reader.png);
  png_set_strip_alpha(reader.png);
  if constexpr (std::endian::native == std::endian::little) png_set_swap(reader.png);
  png_read_update_info(reader.png, reader.info);
  found.depth = png_get_bit_depth(reader.png, reader.info);
  found.colour = png_get_channels(reader.png, reader.info);
  return true;
}

bool read_rows(PictureReader& reader, const Found& found, unsigned char* row, std::uint16_t* values) {
  if (setjmp(png_jmpbuf(reader.png)) != 0) return false;
  const auto channels = static_cast<std::size_t>(found.colour);
  constexpr int sixteen = 16;
  for (std::size_t r = 0; r < found.rows; ++r) {
    png_read_row(reader.png, row, nullptr);
    std::uint16_t* to = values + r * found.columns;
    if (found.depth == sixteen) {
      brightest_of(reinterpret_cast<const std::uint16_t*>(row), found.columns, channels, to);
    } else {
      brightest_of(row, found.columns, channels, to);
    }
  }
  return true;
}

}  // namespace

bool looks_like_png(std::string_view head) { return head.starts_with("\x89PNG\r\n\x1a\n"); }

DepthImage read_png(const ScanFile& file, std::size_t columns, std::size_t rows) {
  const std::string bytes = file.all();
  // Measured depths hardly pack, so the room that a file may ask for is bounded by its size.
  constexpr std::size_t spare = 48U << 20U, most_packed = 2;
  if (columns * rows * 2 > spare + most_packed * bytes.size()) file.fail({"png.too_small"});
  DepthImage image;
  image.columns = columns;
  image.rows = rows;
  image.values.resize(columns * rows);
  Decoder decoder{bytes.data(), bytes.size()};
  Found found;
  switch (decode(decoder, columns, rows, image.values.data(), found)) {
    case Outcome::damaged:
      file.fail({"png.damaged"});
    case Outcome::wrong_kind:
      file.fail({"png.no_depths"});
    case Outcome::wrong_size:
      file.fail({"depth_image.other_size",
                 {{"columns", digits(found.columns)},
                  {"rows", digits(found.rows)},
                  {"camera_columns", digits(columns)},
                  {"camera_rows", digits(rows)}}});
    case Outcome::read:
      break;
  }
  return image;
}

GreyPicture read_png_picture(const ScanFile& file) {
  const std::string bytes = file.all();
  Decoder decoder{bytes.data(), bytes.size()};
  Found found;
  PictureReader reader;
  const auto refuse = [&file]() { file.fail({"png.damaged_or_interlaced"}); };
  if (!read_header(reader, decoder, found)) refuse();
  check_picture_size(file, found.columns, found.rows);
  constexpr int sixteen = 16;
  GreyPicture picture;
  picture.columns = found.columns;
  picture.rows = found.rows;
  picture.full_scale = found.depth == sixteen ? 65535 : 255;
  picture.values.resize(picture.columns * picture.rows);
  // Of 16-bit values, so that the row is aligned for them.
  std::vector<std::uint16_t> row(picture.columns * static_cast<std::size_t>(found.colour));
  if (!read_rows(reader, found, reinterpret_cast<unsigned char*>(row.data()), picture.values.data())) refuse();
  return picture;
}

}  // namespace canewise
