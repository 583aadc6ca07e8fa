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
  jpeg_progress_mgr progress{};
};

/// Each scan goes over the whole picture, and takes a few bytes of the file.
void bound_scans(j_common_ptr info) {
  constexpr int most_scans = 100;
  if (reinterpret_cast<jpeg_decompress_struct*>(info)->input_scan_number > most_scans) leave(info);
}

/// The library leaves by a long jump: nothing with a destructor is made in here.
bool read_header(Decoded& d, const std::string& bytes) {
  d.info.err = jpeg_std_error(&d.failure.base);
  d.failure.base.error_exit = leave;
  d.failure.base.output_message = silent;
  if (setjmp(d.failure.back) != 0) return false;
  jpeg_create_decompress(&d.info);
  jpeg_mem_src(&d.info, reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
  d.progress.progress_monitor = bound_scans;
  d.info.progress = &d.progress;
  return jpeg_read_header(&d.info, TRUE) == JPEG_HEADER_OK;
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
    // Scan by scan the whole picture is held besides, two bytes for each value.
    const auto held = jpeg_has_multiple_scans(&d.info) != 0 ? 2 * static_cast<std::size_t>(d.info.num_components) : 0;
    check_picture_size(file, d.picture.columns, d.picture.rows, 2 + held);
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
