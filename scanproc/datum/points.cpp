#include "scanproc/datum/points.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <utility>
#include <vector>

namespace canewise {
namespace {

std::uint32_t hash_of(const double* p) {
  std::uint64_t h = 0x9E3779B97F4A7C15ULL;
  for (int k = 0; k < 3; ++k) h = (h ^ std::bit_cast<std::uint64_t>(p[k])) * 0xBF58476D1CE4E5B9ULL, h ^= h >> 32U;
  return static_cast<std::uint32_t>(h);
}

/// One bit a hash value, so small that it stays in the cache.
class BitSet {
 public:
  explicit BitSet(std::size_t entries)
      : words_(std::bit_ceil(16 * entries + 1024) / 64), mask_(64 * words_.size() - 1) {}
  /// Sets the bit; true if it was set before.
  bool set(std::uint32_t hash) {
    std::uint64_t& word = words_[(hash & mask_) / 64];
    const std::uint64_t bit = std::uint64_t{1} << (hash % 64);
    const bool before = (word & bit) != 0;
    word |= bit;
    return before;
  }
  [[nodiscard]] bool has(std::uint32_t hash) const { return (words_[(hash & mask_) / 64] >> (hash % 64) & 1U) != 0; }

 private:
  std::vector<std::uint64_t> words_;
  std::uint64_t mask_;
};

/// A point's hash and its index.
using Suspect = std::pair<std::uint32_t, std::uint32_t>;

/// The hash's top bit chooses the part. No more parts than these, because each reads all hashes.
constexpr std::size_t kHashParts = 2;

/// The points of one part whose hash occurs more than once there, and some others.
std::vector<Suspect> suspects_of(const std::vector<std::uint32_t>& hashes, std::size_t part) {
  const auto mine = [&](std::uint32_t h) { return (h >> 31U) == part; };
  BitSet seen(hashes.size() / kHashParts);
  std::vector<std::uint32_t> repeated;
  for (const std::uint32_t h : hashes) {
    if (mine(h) && seen.set(h)) repeated.push_back(h);
  }
  std::vector<Suspect> suspects;
  if (repeated.empty()) return suspects;
  BitSet wanted(repeated.size());
  for (const std::uint32_t h : repeated) wanted.set(h);
  for (std::size_t i = 0; i < hashes.size(); ++i) {
    if (mine(hashes[i]) && wanted.has(hashes[i])) suspects.emplace_back(hashes[i], static_cast<std::uint32_t>(i));
  }
  return suspects;
}

/// Marks the second and later copies of equal points by a NaN height; returns their number. A bit set finds the few
/// points whose hash occurred before; only those and their likes are sorted and compared to the last bit.
std::size_t mark_duplicates(Eigen::Matrix3Xd& points) {
  const auto n = static_cast<std::size_t>(points.cols());
  std::vector<std::uint32_t> hashes(n);
  parallel_parts(n, [&](std::size_t, std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) hashes[i] = hash_of(points.data() + 3 * i);
  });
  std::array<std::vector<Suspect>, kHashParts> suspects;
  const auto less = [&](const Suspect& a, const Suspect& b) {
    if (a.first != b.first) return a.first < b.first;
    for (Eigen::Index k = 0; k < 3; ++k) {
      if (points(k, a.second) != points(k, b.second)) return points(k, a.second) < points(k, b.second);
    }
    return a.second < b.second;
  };
  const auto find = [&](std::size_t part) {
    suspects.at(part) = suspects_of(hashes, part);
    std::sort(suspects.at(part).begin(), suspects.at(part).end(), less);
  };
  run_together({[&] { find(0); }, [&] { find(1); }});
  std::size_t found = 0;
  for (const auto& list : suspects) {
    // From the back, so that a copy's predecessor still has its height when it is looked at.
    for (std::size_t k = list.size(); k-- > 1;) {
      if (list[k].first != list[k - 1].first || points.col(list[k].second) != points.col(list[k - 1].second)) continue;
      points(2, list[k].second) = std::nan("");
      ++found;
    }
  }
  return found;
}

}  // namespace

void transform_in_place(Eigen::Matrix3Xd& points, const Eigen::Isometry3d& pose) {
  const Eigen::Matrix3d rotation = pose.linear();
  const Eigen::Vector3d shift = pose.translation();
  parallel_parts(static_cast<std::size_t>(points.cols()), [&](std::size_t, std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) {
      const auto column = static_cast<Eigen::Index>(i);
      const Eigen::Vector3d p = points.col(column);
      points.col(column) = rotation * p + shift;
    }
  });
}

std::size_t drop_duplicates(Eigen::Matrix3Xd& points, Eigen::VectorXf& u) {
  const std::size_t found = mark_duplicates(points);
  if (found > 0) keep_points(points, u, [](const Eigen::Vector3d& p) { return !std::isnan(p.z()); });
  return found;
}

std::size_t drop_duplicates(Eigen::Matrix3Xd& points) {
  Eigen::VectorXf none;
  return drop_duplicates(points, none);
}

}  // namespace canewise
