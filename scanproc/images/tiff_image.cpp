#include <tiffio.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdarg>
#include <cstring>
#include <memory>
#include <string>

#include "scanproc/bytes/number_text.h"
#include "scanproc/images/grey_image.h"
#include "scanproc/images/picture.h"

namespace canewise {
namespace {

/// The file's bytes as the library wants to read them.
struct Source {
  std::string bytes;
  std::size_t at = 0;
};

tmsize_t read_bytes(thandle_t handle, void* out, tmsize_t count) {
  auto* source = static_cast<Source*>(handle);
  const std::size_t n =
      std::min(static_cast<std::size_t>(std::max<tmsize_t>(0, count)), source->bytes.size() - source->at);
  std::memcpy(out, source->bytes.data() + source->at, n);
  source->at += n;
  return static_cast<tmsize_t>(n);
}

toff_t seek(thandle_t handle, toff_t offset, int whence) {
  auto* source = static_cast<Source*>(handle);
  const toff_t base = whence == SEEK_CUR ? source->at : whence == SEEK_END ? source->bytes.size() : 0;
  source->at = static_cast<std::size_t>(std::min<toff_t>(base + offset, source->bytes.size()));
  return source->at;
}

int silent(TIFF*, void*, const char*, const char*, va_list) { return 1; }

struct Close {
  void operator()(TIFF* tiff) const { TIFFClose(tiff); }
};
using Tiff = std::unique_ptr<TIFF, Close>;

Tiff open(const ScanFile& file, Source& source) {
  source.bytes = file.all();
  TIFFOpenOptions* options = TIFFOpenOptionsAlloc();
  constexpr tmsize_t spare = 8L << 20;
  TIFFOpenOptionsSetMaxSingleMemAlloc(options, spare + static_cast<tmsize_t>(file.size()));
  TIFFOpenOptionsSetErrorHandlerExtR(options, silent, nullptr);
  TIFFOpenOptionsSetWarningHandlerExtR(options, silent, nullptr);
  Tiff tiff(TIFFClientOpenExt(
      "scan", "rm", &source, read_bytes, [](thandle_t, void*, tmsize_t) -> tmsize_t { return 0; }, seek,
      [](thandle_t) { return 0; }, [](thandle_t h) -> toff_t { return static_cast<Source*>(h)->bytes.size(); },
      [](thandle_t, void**, toff_t*) { return 0; }, [](thandle_t, void*, toff_t) {}, options));
  TIFFOpenOptionsFree(options);
  if (!tiff) file.fail({"tiff.damaged"});
  return tiff;
}

struct Layout {
  std::uint32_t columns = 0, rows = 0;
  std::uint16_t bits = 1, samples = 1, format = SAMPLEFORMAT_UINT;
};

Layout layout_of(const ScanFile& file, TIFF* tiff) {
  Layout layout;
  TIFFGetField(tiff, TIFFTAG_IMAGEWIDTH, &layout.columns);
  TIFFGetField(tiff, TIFFTAG_IMAGELENGTH, &layout.rows);
  TIFFGetFieldDefaulted(tiff, TIFFTAG_BITSPERSAMPLE, &layout.bits);
  TIFFGetFieldDefaulted(tiff, TIFFTAG_SAMPLESPERPIXEL, &layout.samples);
  TIFFGetFieldDefaulted(tiff, TIFFTAG_SAMPLEFORMAT, &layout.format);
  if (layout.columns == 0 || layout.rows == 0) file.fail({"tiff.no_pixels"});
  if (layout.samples != 1) file.fail({"tiff.colour"});
  if (TIFFIsTiled(tiff) != 0) file.fail({"tiff.tiles"});
  // Others unpack whole strips at once.
  std::uint16_t packing = COMPRESSION_NONE;
  TIFFGetFieldDefaulted(tiff, TIFFTAG_COMPRESSION, &packing);
  constexpr std::array row_by_row{COMPRESSION_NONE,    COMPRESSION_LZW,      COMPRESSION_ADOBE_DEFLATE,
                                  COMPRESSION_DEFLATE, COMPRESSION_PACKBITS, COMPRESSION_ZSTD,
                                  COMPRESSION_LZMA};
  if (std::find(row_by_row.begin(), row_by_row.end(), packing) == row_by_row.end()) file.fail({"tiff.packing"});
  // Measured heights hardly pack, so the room that a file may ask for is bounded by its size.
  constexpr std::uint64_t spare = 40U << 20U, most_packed = 2;
  const std::uint64_t room = layout.format == SAMPLEFORMAT_IEEEFP ? sizeof(double) : sizeof(std::uint16_t);
  if (std::uint64_t{layout.columns} * layout.rows > (spare + most_packed * file.size()) / room)
    file.fail({"tiff.too_small"});
  return layout;
}

/// Rows in the machine's byte order, one after the other, handed to use(row, bytes).
template <typename Use>
void for_each_row(const ScanFile& file, TIFF* tiff, const Layout& layout, std::size_t bytes_per_pixel, const Use& use) {
  const tmsize_t row_bytes = TIFFScanlineSize(tiff);
  if (row_bytes < 0 || static_cast<std::size_t>(row_bytes) != bytes_per_pixel * layout.columns)
    file.fail({"tiff.row_width"});
  std::vector<char> row(static_cast<std::size_t>(row_bytes));
  for (std::uint32_t r = 0; r < layout.rows; ++r) {
    if (TIFFReadScanline(tiff, row.data(), r, 0) != 1)
      file.fail({"tiff.damaged_row", {{"row", digits(std::uint64_t{r} + 1)}, {"rows", digits(layout.rows)}}});
    use(r, row.data());
  }
}

}  // namespace

bool looks_like_tiff(std::string_view head) {
  return head.starts_with(std::string_view("II*\0", 4)) || head.starts_with(std::string_view("MM\0*", 4)) ||
         head.starts_with(std::string_view("II+\0", 4)) || head.starts_with(std::string_view("MM\0+", 4));
}

DepthImage read_tiff_depth(const ScanFile& file, std::size_t columns, std::size_t rows) {
  Source source;
  const Tiff tiff = open(file, source);
  const Layout layout = layout_of(file, tiff.get());
  if (layout.bits != 16 || layout.format != SAMPLEFORMAT_UINT) file.fail({"tiff.no_depths"});
  if (layout.columns != columns || layout.rows != rows) {
    file.fail({"depth_image.other_size",
               {{"columns", digits(layout.columns)},
                {"rows", digits(layout.rows)},
                {"camera_columns", digits(columns)},
                {"camera_rows", digits(rows)}}});
  }
  DepthImage image;
  image.columns = columns;
  image.rows = rows;
  image.values.resize(columns * rows);
  for_each_row(file, tiff.get(), layout, 2, [&](std::size_t r, const char* bytes) {
    std::memcpy(image.values.data() + r * columns, bytes, 2 * columns);
  });
  return image;
}

DepthImage read_depth_image(const ScanFile& file, std::size_t columns, std::size_t rows) {
  const std::string head = file.head(8);
  if (looks_like_png(head)) return read_png(file, columns, rows);
  if (looks_like_tiff(head)) return read_tiff_depth(file, columns, rows);
  file.fail({"depth_image.unknown_format"});
}

FloatImage read_tiff_floats(const ScanFile& file) {
  Source source;
  const Tiff tiff = open(file, source);
  const Layout layout = layout_of(file, tiff.get());
  if (layout.format != SAMPLEFORMAT_IEEEFP || (layout.bits != 32 && layout.bits != 64)) {
    file.fail({"tiff.whole_numbers"});
  }
  FloatImage image;
  image.columns = layout.columns;
  image.rows = layout.rows;
  image.values.resize(image.columns * image.rows);
  for_each_row(file, tiff.get(), layout, layout.bits / 8, [&](std::size_t r, const char* bytes) {
    for (std::size_t c = 0; c < image.columns; ++c) {
      double value = 0.0;
      if (layout.bits == 32) {
        float narrow = 0.0F;
        std::memcpy(&narrow, bytes + 4 * c, 4);
        value = narrow;
      } else {
        std::memcpy(&value, bytes + 8 * c, 8);
      }
      image.values[r * image.columns + c] = value;
    }
  });
  std::uint16_t unit = RESUNIT_NONE;
  TIFFGetFieldDefaulted(tiff.get(), TIFFTAG_RESOLUTIONUNIT, &unit);
  const double mm = unit == RESUNIT_CENTIMETER ? 10.0 : unit == RESUNIT_INCH ? 25.4 : 0.0;
  float x = 0.0F, y = 0.0F;
  const auto pitch = [mm, unit](float per_unit) -> std::optional<double> {
    if (!(mm > 0.0 && per_unit > 0.0F && std::isfinite(per_unit))) return std::nullopt;
    // What programs write for screens and printers where they know no pitch.
    if (unit == RESUNIT_INCH && (per_unit == 72.0F || per_unit == 96.0F || per_unit == 300.0F)) return std::nullopt;
    return mm / static_cast<double>(per_unit);
  };
  if (TIFFGetField(tiff.get(), TIFFTAG_XRESOLUTION, &x) == 1) image.pitch_x_mm = pitch(x);
  if (TIFFGetField(tiff.get(), TIFFTAG_YRESOLUTION, &y) == 1) image.pitch_y_mm = pitch(y);
  return image;
}

GreyPicture read_tiff_picture(const ScanFile& file) {
  Source source;
  const Tiff tiff = open(file, source);
  Layout layout;
  TIFFGetField(tiff.get(), TIFFTAG_IMAGEWIDTH, &layout.columns);
  TIFFGetField(tiff.get(), TIFFTAG_IMAGELENGTH, &layout.rows);
  TIFFGetFieldDefaulted(tiff.get(), TIFFTAG_BITSPERSAMPLE, &layout.bits);
  TIFFGetFieldDefaulted(tiff.get(), TIFFTAG_SAMPLESPERPIXEL, &layout.samples);
  TIFFGetFieldDefaulted(tiff.get(), TIFFTAG_SAMPLEFORMAT, &layout.format);
  std::uint16_t planar = PLANARCONFIG_CONTIG;
  TIFFGetFieldDefaulted(tiff.get(), TIFFTAG_PLANARCONFIG, &planar);
  check_picture_size(file, layout.columns, layout.rows);
  if ((layout.bits != 8 && layout.bits != 16) || layout.format != SAMPLEFORMAT_UINT || layout.samples > 4 ||
      (layout.samples > 1 && planar != PLANARCONFIG_CONTIG) || TIFFIsTiled(tiff.get()) != 0) {
    file.fail({"tiff.no_photograph"});
  }
  GreyPicture picture;
  picture.columns = layout.columns;
  picture.rows = layout.rows;
  picture.full_scale = layout.bits == 16 ? 65535 : 255;
  picture.values.resize(picture.columns * picture.rows);
  const std::size_t channels = layout.samples > 2 ? 3 : 1;  // Beyond colour there is only opacity.
  for_each_row(file, tiff.get(), layout, std::size_t{layout.samples} * layout.bits / 8,
               [&](std::size_t r, const char* bytes) {
                 std::uint16_t* to = picture.values.data() + r * picture.columns;
                 for (std::size_t c = 0; c < picture.columns; ++c) {
                   std::uint16_t brightest = 0;
                   for (std::size_t k = 0; k < channels; ++k) {
                     const std::size_t i = c * layout.samples + k;
                     std::uint16_t value = 0;
                     if (layout.bits == 16) {
                       std::memcpy(&value, bytes + 2 * i, 2);
                     } else {
                       value = static_cast<unsigned char>(bytes[i]);
                     }
                     brightest = std::max(brightest, value);
                   }
                   to[c] = brightest;
                 }
               });
  return picture;
}

}  // namespace canewise
