#include "scanproc/scan/read_scan.h"

#include <array>

#include "scanproc/scan/pcd.h"
#include "scanproc/scan/ply.h"
#include "scanproc/scan/text_points.h"

namespace canewise {
namespace {

/// One row a format. The first whose test matches reads the file, so the least specific comes last.
struct FormatReader {
  bool (*looks_like)(std::string_view head);
  Cloud (*read)(const ScanFile& file, double mm_per_unit);
};
constexpr std::array kFormatReaders{
    FormatReader{looks_like_ply, read_ply},
    FormatReader{looks_like_pcd, read_pcd},
    FormatReader{looks_like_text, read_text_points},
};

}  // namespace

Cloud read_scan(const ScanFile& file, LengthUnit unit) {
  constexpr std::size_t head_bytes = 512;
  const std::string head = file.head(head_bytes);
  for (const auto& reader : kFormatReaders) {
    if (!reader.looks_like(head)) continue;
    Cloud cloud = reader.read(file, mm_per(unit));
    if (cloud.points_mm.cols() == 0) {
      file.fail(cloud.dropped_non_finite > 0
                    ? "none of its " + std::to_string(cloud.dropped_non_finite) +
                          " points has finite coordinates. Check the scanner's export settings."
                    : std::string("holds no points. Export the scan again."));
    }
    return cloud;
  }
  file.fail("is in no format that canewise reads (PLY, PCD, or text with one point a line). Export it as PLY.");
}

}  // namespace canewise
