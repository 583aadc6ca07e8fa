#include "scanproc/scan/read_scan.h"

#include <array>

#include "scanproc/bytes/number_text.h"
#include "scanproc/clouds/mesh.h"
#include "scanproc/clouds/obj.h"
#include "scanproc/clouds/pcd.h"
#include "scanproc/clouds/ply.h"
#include "scanproc/clouds/stl.h"
#include "scanproc/clouds/text_points.h"
#include "scanproc/core/error.h"
#include "scanproc/frames/depth_folder.h"
#include "scanproc/frames/laser_folder.h"
#include "scanproc/heights/sdf.h"
#include "scanproc/heights/x3p.h"
#include "scanproc/images/grey_image.h"

namespace canewise {
namespace {

/// One row a format. The first whose test matches reads the file, so the least specific comes last.
struct FormatReader {
  bool (*looks_like)(std::string_view head, std::uint64_t file_size);
  Cloud (*read)(const ScanFile& file, const ReadOptions& options);
};
using Head = std::string_view;
using Size = std::uint64_t;
constexpr std::array kFormatReaders{
    FormatReader{[](Head h, Size) { return looks_like_ply(h); },
                 [](const ScanFile& f, const ReadOptions& o) { return read_ply(f, mm_per(o.unit)); }},
    FormatReader{[](Head h, Size) { return looks_like_x3p(h); },
                 [](const ScanFile& f, const ReadOptions&) { return read_x3p(f); }},
    FormatReader{[](Head h, Size) { return looks_like_sdf(h); },
                 [](const ScanFile& f, const ReadOptions&) { return cloud_from(read_sdf(f)); }},
    FormatReader{[](Head h, Size) { return looks_like_tiff(h); },
                 [](const ScanFile& f, const ReadOptions& o) { return cloud_from(read_tiff_map(f, o.tiff)); }},
    FormatReader{[](Head h, Size) { return looks_like_png(h); },
                 [](const ScanFile& f, const ReadOptions&) -> Cloud { f.fail({"read_scan.picture"}); }},
    FormatReader{looks_like_stl,
                 [](const ScanFile& f, const ReadOptions& o) { return cloud_from(read_stl(f), mm_per(o.unit)); }},
    FormatReader{[](Head h, Size) { return looks_like_pcd(h); },
                 [](const ScanFile& f, const ReadOptions& o) { return read_pcd(f, mm_per(o.unit)); }},
    FormatReader{[](Head h, Size) { return looks_like_obj(h); },
                 [](const ScanFile& f, const ReadOptions& o) { return cloud_from(read_obj(f), mm_per(o.unit)); }},
    FormatReader{[](Head h, Size) { return looks_like_text(h); },
                 [](const ScanFile& f, const ReadOptions& o) { return read_text_points(f, mm_per(o.unit)); }},
};
constexpr std::size_t kHeadBytes = 16384;  // Some programs begin with a page of remarks.

}  // namespace

Cloud read_scan(const ScanFile& file, const ReadOptions& options) {
  const std::string head = file.head(kHeadBytes);
  for (const auto& reader : kFormatReaders) {
    if (!reader.looks_like(head, file.size())) continue;
    Cloud cloud = reader.read(file, options);
    if (cloud.points_mm.cols() == 0) {
      file.fail(cloud.dropped_non_finite > 0
                    ? Message{"read_scan.none_finite", {{"points", digits(cloud.dropped_non_finite)}}}
                    : Message{"read_scan.no_points"});
    }
    return cloud;
  }
  file.fail({"read_scan.unknown_format"});
}

Cloud read_scan(const std::filesystem::path& path, const ReadOptions& options) {
  std::error_code error;
  if (!std::filesystem::is_directory(path, error)) return read_scan(ScanFile(path), options);
  if (is_depth_folder(path)) return read_depth_folder(path, options.rig);
  if (options.rig == nullptr || !options.rig->is_laser_line()) {
    throw InputError({"in_file", {{"file", text(path.string())}, {"what", part({"read_scan.needs_rig"})}}});
  }
  return read_laser_folder(path, *options.rig, options.progress);
}

HeightMap read_height_map(const ScanFile& file, const ReadOptions& options) {
  const std::string head = file.head(kHeadBytes);
  if (looks_like_x3p(head)) return read_x3p_map(file);
  if (looks_like_sdf(head)) return read_sdf(file);
  if (looks_like_tiff(head)) return read_tiff_map(file, options.tiff);
  file.fail({"read_scan.no_height_map"});
}

std::string scan_sha256(const std::filesystem::path& path) {
  std::error_code error;
  if (!std::filesystem::is_directory(path, error)) return ScanFile(path).sha256();
  return is_depth_folder(path) ? depth_folder_sha256(path) : laser_folder_sha256(path);
}

}  // namespace canewise
