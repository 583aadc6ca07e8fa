#include "scanproc/clouds/records.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstring>
#include <utility>
#include <vector>

#include "scanproc/bytes/number_text.h"
#include "scanproc/core/parallel.h"

namespace canewise {
namespace {

template <typename T>
double load(const char* bytes, bool big_endian) {
  std::array<char, sizeof(T)> raw{};
  std::memcpy(raw.data(), bytes, sizeof(T));
  if (big_endian != (std::endian::native == std::endian::big)) std::reverse(raw.begin(), raw.end());
  return static_cast<double>(std::bit_cast<T>(raw));
}

/// The common case (three neighbouring little-endian floats or doubles) without a branch for each value.
template <typename T>
void load_packed(const char* bytes, std::size_t stride, std::size_t count, double scale, double* out) {
  for (std::size_t i = 0; i < count; ++i) {
    std::array<T, 3> xyz{};
    std::memcpy(xyz.data(), bytes + i * stride, sizeof(xyz));
    for (std::size_t k = 0; k < 3; ++k) out[3 * i + k] = scale * static_cast<double>(xyz.at(k));
  }
}

bool is_packed(const RecordLayout& layout, ScalarType type) {
  const std::size_t size = size_of(type);
  return std::endian::native == std::endian::little && !layout.big_endian && layout.type[0] == type &&
         layout.type[1] == type && layout.type[2] == type && layout.offset[1] == layout.offset[0] + size &&
         layout.offset[2] == layout.offset[1] + size;
}

void decode_piece(const char* bytes, std::size_t count, const RecordLayout& layout, double scale, double* out) {
  if (is_packed(layout, ScalarType::float32)) {
    load_packed<float>(bytes + layout.offset[0], layout.stride, count, scale, out);
    return;
  }
  if (is_packed(layout, ScalarType::float64)) {
    load_packed<double>(bytes + layout.offset[0], layout.stride, count, scale, out);
    return;
  }
  for (std::size_t i = 0; i < count; ++i) {
    for (std::size_t k = 0; k < 3; ++k) {
      out[3 * i + k] =
          scale * decode_scalar(bytes + i * layout.stride + layout.offset.at(k), layout.type.at(k), layout.big_endian);
    }
  }
}

}  // namespace

std::size_t keep_finite(Eigen::Matrix3Xd& points, std::size_t begin, std::size_t end) {
  std::size_t kept = begin;
  for (std::size_t i = begin; i < end; ++i) {
    const auto column = static_cast<Eigen::Index>(i);
    // x - x is NaN for NaN and for both infinities.
    const double test = (points(0, column) - points(0, column)) + (points(1, column) - points(1, column)) +
                        (points(2, column) - points(2, column));
    if (test != 0.0) continue;
    if (kept != i) points.col(static_cast<Eigen::Index>(kept)) = points.col(column);
    ++kept;
  }
  return kept - begin;
}

void join_parts(Cloud& cloud, const std::array<std::size_t, kParallelParts>& begins,
                const std::array<std::size_t, kParallelParts>& kept) {
  const auto count = static_cast<std::size_t>(cloud.points_mm.cols());
  std::size_t total = kept[0];
  for (std::size_t part = 1; part < kParallelParts; ++part) {
    if (total != begins.at(part)) {
      std::memmove(cloud.points_mm.data() + 3 * total, cloud.points_mm.data() + 3 * begins.at(part),
                   3 * kept.at(part) * sizeof(double));
    }
    total += kept.at(part);
  }
  cloud.dropped_non_finite = count - total;
  if (total < count) cloud.points_mm.conservativeResize(Eigen::NoChange, static_cast<Eigen::Index>(total));
}

std::size_t size_of(ScalarType type) {
  switch (type) {
    case ScalarType::int8:
    case ScalarType::uint8:
      return 1;
    case ScalarType::int16:
    case ScalarType::uint16:
      return 2;
    case ScalarType::int32:
    case ScalarType::uint32:
    case ScalarType::float32:
      return 4;
    case ScalarType::float64:
      break;
  }
  return 8;
}

double decode_scalar(const char* bytes, ScalarType type, bool big_endian) {
  switch (type) {
    case ScalarType::int8:
      return load<std::int8_t>(bytes, big_endian);
    case ScalarType::uint8:
      return load<std::uint8_t>(bytes, big_endian);
    case ScalarType::int16:
      return load<std::int16_t>(bytes, big_endian);
    case ScalarType::uint16:
      return load<std::uint16_t>(bytes, big_endian);
    case ScalarType::int32:
      return load<std::int32_t>(bytes, big_endian);
    case ScalarType::uint32:
      return load<std::uint32_t>(bytes, big_endian);
    case ScalarType::float32:
      return load<float>(bytes, big_endian);
    case ScalarType::float64:
      break;
  }
  return load<double>(bytes, big_endian);
}

Cloud read_records(const ScanFile& file, std::uint64_t offset, std::uint64_t count, const RecordLayout& layout,
                   double mm_per_unit) {
  const std::uint64_t room = file.size() > offset ? (file.size() - offset) / layout.stride : 0;
  if (count > room) {
    file.fail({"records.short", {{"promised", digits(count)}, {"room", digits(room)}}});
  }
  Cloud cloud;
  cloud.points_mm.resize(3, static_cast<Eigen::Index>(count));
  std::array<std::size_t, kParallelParts> kept{};
  std::array<std::size_t, kParallelParts> begins{};
  parallel_parts(static_cast<std::size_t>(count), [&](std::size_t part, std::size_t begin, std::size_t end) {
    const std::size_t piece = std::max<std::size_t>(1, (std::size_t{1} << 19U) / layout.stride);
    std::vector<char> buffer(std::min(piece, end - begin) * layout.stride);
    for (std::size_t i = begin; i < end; i += piece) {
      const std::size_t n = std::min(piece, end - i);
      file.read_at(offset + i * layout.stride, std::span(buffer.data(), n * layout.stride));
      decode_piece(buffer.data(), n, layout, mm_per_unit, cloud.points_mm.data() + 3 * i);
    }
    begins.at(part) = begin;
    kept.at(part) = keep_finite(cloud.points_mm, begin, end);
  });
  join_parts(cloud, begins, kept);
  return cloud;
}

PointList::PointList(std::size_t expected, Room* room) : room_(room) {
  points_.resize(3, static_cast<Eigen::Index>(std::max<std::size_t>(expected, 16)));
}

void PointList::add(const Eigen::Vector3d& point) {
  ++seen_;
  if (room_ != nullptr && !room_->take(sizeof(point))) return;
  if (static_cast<Eigen::Index>(stored_) == points_.cols())
    points_.conservativeResize(Eigen::NoChange, 2 * points_.cols());
  points_.col(static_cast<Eigen::Index>(stored_)) = point;
  ++stored_;
}

Eigen::Matrix3Xd PointList::take() && {
  points_.conservativeResize(Eigen::NoChange, static_cast<Eigen::Index>(stored_));
  return std::move(points_);
}

CloudBuilder::CloudBuilder(std::size_t expected, double mm_per_unit, Room* room)
    : points_(expected, room), mm_per_unit_(mm_per_unit) {}

void CloudBuilder::add(double x, double y, double z) {
  const Eigen::Vector3d point_mm = mm_per_unit_ * Eigen::Vector3d(x, y, z);
  if (point_mm.allFinite()) {
    points_.add(point_mm);
  } else {
    ++dropped_;
  }
}

Cloud CloudBuilder::finish(std::string format) && {
  Cloud cloud;
  cloud.points_mm = std::move(points_).take();
  cloud.dropped_non_finite = dropped_;
  cloud.format = std::move(format);
  return cloud;
}

}  // namespace canewise
