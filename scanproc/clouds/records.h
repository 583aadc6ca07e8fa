#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>

#include "scanproc/bytes/scan_file.h"
#include "scanproc/clouds/cloud.h"
#include "scanproc/clouds/room.h"
#include "scanproc/core/parallel.h"

namespace canewise {

enum class ScalarType { int8, uint8, int16, uint16, int32, uint32, float32, float64 };

[[nodiscard]] std::size_t size_of(ScalarType type);

/// Where x, y and z lie in the fixed-size records of a binary file.
struct RecordLayout {
  std::size_t stride = 0;               ///< Bytes from one record to the next.
  std::array<std::size_t, 3> offset{};  ///< Of x, y, z from the record's start.
  std::array<ScalarType, 3> type{};
  bool big_endian = false;
};

/// Reads `count` records from `offset` on, in pieces and on two threads; drops and counts non-finite points.
/// Checks count against the file's length before it allocates. Throws InputError.
[[nodiscard]] Cloud read_records(const ScanFile& file, std::uint64_t offset, std::uint64_t count,
                                 const RecordLayout& layout, double mm_per_unit);

/// Moves the finite points of columns [begin, end) to the front of that range; returns how many they are.
[[nodiscard]] std::size_t keep_finite(Eigen::Matrix3Xd& points, std::size_t begin, std::size_t end);
/// Closes the gaps behind the `kept` points of each part and counts what was dropped.
void join_parts(Cloud& cloud, const std::array<std::size_t, kParallelParts>& begins,
                const std::array<std::size_t, kParallelParts>& kept);

/// One value at `bytes`, converted to double.
[[nodiscard]] double decode_scalar(const char* bytes, ScalarType type, bool big_endian);

/// Points that come one by one, as many as `room` holds, if there is one; the others are counted.
class PointList {
 public:
  explicit PointList(std::size_t expected, Room* room = nullptr);
  void add(const Eigen::Vector3d& point);
  [[nodiscard]] std::size_t seen() const { return seen_; }
  [[nodiscard]] Eigen::Matrix3Xd take() &&;

 private:
  Eigen::Matrix3Xd points_;
  Room* room_;
  std::size_t stored_ = 0, seen_ = 0;
};

/// Collects points that come one by one (text formats), dropping and counting non-finite ones.
class CloudBuilder {
 public:
  CloudBuilder(std::size_t expected, double mm_per_unit, Room* room = nullptr);
  void add(double x, double y, double z);
  [[nodiscard]] std::size_t seen() const { return points_.seen() + dropped_; }
  [[nodiscard]] Cloud finish(std::string format) &&;

 private:
  PointList points_;
  double mm_per_unit_;
  std::size_t dropped_ = 0;
};

}  // namespace canewise
