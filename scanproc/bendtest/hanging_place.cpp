#include "scanproc/bendtest/hanging_place.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "scanproc/compare/thickness_at.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

constexpr double kBin_mm = 0.1, kReach_mm = 15.0;

/// Of heights over the map, along the reed: what the highest points of each bin show.
std::vector<double> upper_profile(const BenchView& loaded, const Result& reed, double low_e, double high_e) {
  std::vector<std::vector<double>> bins(static_cast<std::size_t>(kReach_mm / kBin_mm));
  for (Eigen::Index k = 0; k < loaded.tip_points_mm.cols(); ++k) {
    const Eigen::Vector3d p = loaded.tip_points_mm.col(k);
    const double e = p.y() / reed.outline.half_width_mm(p.x());
    if (p.x() < 0.0 || p.x() >= kReach_mm || e < low_e || e > high_e) continue;
    const double above = p.z() - thickness_at(reed.map, p.x(), p.y());
    if (std::isfinite(above)) bins[static_cast<std::size_t>(p.x() / kBin_mm)].push_back(above);
  }
  std::vector<double> profile;
  for (auto& values : bins) {
    constexpr std::size_t fewest = 3;
    if (values.size() < fewest) {
      profile.push_back(std::nan(""));
      continue;
    }
    const auto upper = values.begin() + static_cast<std::ptrdiff_t>(0.7 * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), upper, values.end());
    profile.push_back(*upper);
  }
  return profile;
}

/// How far a bin stands out from those some way to both sides.
std::vector<double> ridge_of(const std::vector<double>& profile) {
  constexpr int near = 7, far = 25;  // Bins.
  std::vector<double> ridge(profile.size(), 0.0);
  const auto n = static_cast<int>(profile.size());
  for (int k = 0; k < n; ++k) {
    const double here = profile[static_cast<std::size_t>(k)];
    std::vector<double> before, after;
    for (int d = near; d <= far; ++d) {
      if (k - d >= 0 && std::isfinite(profile[static_cast<std::size_t>(k - d)]))
        before.push_back(profile[static_cast<std::size_t>(k - d)]);
      if (k + d < n && std::isfinite(profile[static_cast<std::size_t>(k + d)]))
        after.push_back(profile[static_cast<std::size_t>(k + d)]);
    }
    constexpr std::size_t fewest = 5;
    if (std::isfinite(here) && before.size() >= fewest && after.size() >= fewest)
      ridge[static_cast<std::size_t>(k)] = here - 0.5 * (median(before) + median(after));
  }
  return ridge;
}

}  // namespace

std::optional<HangingPlace> find_thread(const BenchView& loaded, const Result& reed, LoadSide side) {
  // A hook lies on its rail alone.
  const double low = side == LoadSide::right ? 0.65 : -0.95, high = side == LoadSide::left ? -0.65 : 0.95;
  const std::vector<double> ridge = ridge_of(upper_profile(loaded, reed, low, high));
  const auto top = std::max_element(ridge.begin(), ridge.end());
  const double noise = mad_sigma(ridge, median(ridge));
  constexpr double lowest_mm = 0.06, stands_out = 6.0;
  if (top == ridge.end() || *top < std::max(lowest_mm, stands_out * noise)) return std::nullopt;
  // The middle of what is at least half as high, next to the top.
  auto from = top, to = top;
  constexpr double half = 0.5;
  constexpr int gap = 3;  // A line of the scan may miss the thread.
  const auto goes_on = [&](auto at, int way) {
    for (int k = 1; k <= gap; ++k) {
      const auto next = at + way * k;
      if (next < ridge.begin() || next >= ridge.end()) return 0;
      if (*next > half * *top) return k;
    }
    return 0;
  };
  for (int step = goes_on(from, -1); step > 0; step = goes_on(from, -1)) from -= step;
  for (int step = goes_on(to, 1); step > 0; step = goes_on(to, 1)) to += step;
  const double first = static_cast<double>(from - ridge.begin()) * kBin_mm,
               last = static_cast<double>(to - ridge.begin() + 1) * kBin_mm;
  constexpr double thickest_mm = 1.5;
  if (last - first > thickest_mm) return std::nullopt;
  constexpr double of_lines = 3.46410161513775459;  // Anywhere between two lines of the scan.
  const double width_mm = std::max(last - first, 2.0 * kBin_mm);
  return HangingPlace{0.5 * (first + last), width_mm / of_lines};
}

}  // namespace canewise
