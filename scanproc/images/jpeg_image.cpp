#include <csetjmp>
#include <cstdio>
// The library's header needs size_t and FILE before it.
#include <jpeglib.h>

#include "scanproc/images/picture.h"

namespace canewise {
namespace {

struct Failure {
  jpeg_error_mgr base{};
  std::jmp_buf back{};
};

void leave(j_common_ptr info) { std::longjmp(reinterpret_cast<Failure*>(info->err)->back, 1); }
void silent(j_common_ptr) {}

/// What must outlive the long jump.
struct Decoded {
  jpeg_decompress_struct info{};
  Failure failure;
  std::vector<unsigned char> row;
  GreyPicture picture;
  bool too_large = false;
};

/// The library leaves by a long jump: nothing with a destructor is made in here.
bool read_header(Decoded& d, const std::string& bytes) {
  d.info.err = jpeg_std_error(&d.failure.base);
  d.failure.base.error_exit = leave;
  d.failure.base.output_message = silent;
  if (setjmp(d.failure.back) != 0) return false;
  jpeg_create_decompress(&d.info);
  jpeg_mem_src(&d.info, reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
  if (jpeg_read_header(&d.info, TRUE) != JPEG_HEADER_OK) return false;
  return true;
}

bool read_rows(Decoded& d) {
  if (setjmp(d.failure.back) != 0) return false;
  const auto channels = static_cast<std::size_t>(d.info.output_components);
  while (d.info.output_scanline < d.info.output_height) {
    unsigned char* row = d.row.data();
    const std::size_t at = d.info.output_scanline;
    jpeg_read_scanlines(&d.info, &row, 1);
    brightest_of(row, d.picture.columns, channels, d.picture.values.data() + at * d.picture.columns);
  }
  return d.failure.base.num_warnings == 0;  // A cut-short file only warns and leaves grey rows.
}

bool start(Decoded& d) {
  if (setjmp(d.failure.back) != 0) return false;
  d.info.out_color_space = d.info.num_components == 1 ? JCS_GRAYSCALE : JCS_RGB;
  jpeg_start_decompress(&d.info);
  return true;
}

}  // namespace

bool looks_like_jpeg(std::string_view head) { return head.starts_with("\xFF\xD8\xFF"); }

GreyPicture read_jpeg_picture(const ScanFile& file) {
  const std::string bytes = file.all();
  Decoded d;
  const auto damaged = [&]() {
    jpeg_destroy_decompress(&d.info);
    file.fail({"jpeg.damaged"});
  };
  if (!read_header(d, bytes)) damaged();
  d.picture.columns = d.info.image_width;
  d.picture.rows = d.info.image_height;
  try {
    check_picture_size(file, d.picture.columns, d.picture.rows);
    if (!start(d)) damaged();
    d.picture.values.resize(d.picture.columns * d.picture.rows);
    d.row.resize(d.picture.columns * static_cast<std::size_t>(d.info.output_components));
  } catch (...) {
    jpeg_destroy_decompress(&d.info);
    throw;
  }
  if (!read_rows(d)) damaged();
  jpeg_destroy_decompress(&d.info);
  return std::move(d.picture);
}

}  // namespace canewise
