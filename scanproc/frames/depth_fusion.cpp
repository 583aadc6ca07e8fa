#include "scanproc/frames/depth_fusion.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "scanproc/core/parallel.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

constexpr float kMissing = std::numeric_limits<float>::quiet_NaN();

/// Middle of a few whole numbers; reorders them.
double median_of(std::uint16_t* values, std::size_t count) {
  std::uint16_t* middle = values + count / 2;
  std::nth_element(values, middle, values + count);
  if (count % 2 == 1) return *middle;
  return 0.5 * (static_cast<double>(*middle) + *std::max_element(values, middle));
}

struct Pixel {
  float depth = kMissing;
  float sd = kMissing;
  float kept = 0;
};

/// `values` holds the depths of one pixel, nought where there was none; reorders.
Pixel robust_pixel(std::uint16_t* values, std::size_t frames) {
  std::uint16_t* end = std::partition(values, values + frames, [](std::uint16_t v) { return v != 0; });
  const auto count = static_cast<std::size_t>(end - values);
  Pixel pixel;
  if (2 * count < frames || count == 0) return pixel;
  const double middle = median_of(values, count);
  // Twice the deviations, so that they stay whole numbers.
  std::array<std::uint16_t, 1024> deviations;  // NOLINT(cppcoreguidelines-pro-type-member-init): filled below.
  for (std::size_t i = 0; i < count; ++i) {
    deviations.at(i) =
        static_cast<std::uint16_t>(std::min(65535.0, 2.0 * std::abs(static_cast<double>(values[i]) - middle)));
  }
  const double sigma = 1.4826 * 0.5 * median_of(deviations.data(), count);
  const double limit = std::max(3.0 * sigma, 1.5);
  double n = 0, sum = 0, squares = 0;
  for (std::size_t i = 0; i < count; ++i) {
    const double d = static_cast<double>(values[i]) - middle;
    if (std::abs(d) > limit) continue;
    n += 1, sum += d, squares += d * d;
  }
  pixel.depth = static_cast<float>(middle + sum / n);
  pixel.kept = static_cast<float>(n);
  if (n > 1) pixel.sd = static_cast<float>(std::sqrt(std::max(0.0, squares - sum * sum / n) / (n - 1)));
  return pixel;
}

/// Mean over a sample of pixels of the correlation between one frame and the next.
double correlation_between_frames(const std::vector<DepthImage>& frames, const FusedDepth& fused) {
  const std::size_t pixels = fused.depth.size();
  const std::size_t step = std::max<std::size_t>(1, pixels / 20000);
  double products = 0, squares = 0;
  for (std::size_t i = 0; i < pixels; i += step) {
    if (std::isnan(fused.depth[i])) continue;
    const auto deviation = [&](std::size_t f) {
      const double value = frames[f].values[i];
      const double d = value - static_cast<double>(fused.depth[i]);
      return value == 0.0 || std::abs(d) > 6.0 * std::max(1.0, fused.frame_sd) ? 0.0 : d;
    };
    for (std::size_t f = 0; f + 1 < frames.size(); ++f) {
      products += deviation(f) * deviation(f + 1);
      squares += 0.5 * (square(deviation(f)) + square(deviation(f + 1)));
    }
  }
  if (!(squares > 0.0)) return 0.0;
  // The mean was taken away from n values: it lowers the correlation by 1/(n - 1).
  const auto n = static_cast<double>(frames.size());
  return std::clamp(products / squares + 1.0 / (n - 1.0), 0.0, 0.99);
}

/// Mean variance of a pixel from frame to frame, in squared steps, without the wildest hundredth of the pixels.
double scatter_of(std::vector<double> deviations) {
  std::sort(deviations.begin(), deviations.end());
  deviations.resize(deviations.size() - deviations.size() / 100);
  double sum = 0.0;
  for (const double d : deviations) sum += square(d);
  return deviations.empty() ? 0.0 : sum / static_cast<double>(deviations.size());
}

/// Variance of the error that rounding leaves in a mean, by the variance of the noise before rounding [Widrow2008].
double ripple_variance(double noise_variance) {
  double variance = 0.0;
  constexpr int harmonics = 200;
  if (!(noise_variance > 0.0)) return 1.0 / 12.0;
  for (int k = 1; k <= harmonics; ++k) {
    const double wave = square(std::numbers::pi * k);
    variance += std::exp(-4.0 * wave * noise_variance) / (2.0 * wave);
  }
  return variance;
}

/// The same by the scatter that is seen behind rounding. Noise and rounding together have the noise's variance and
/// 1/12: part of that is scatter, the rest is the error that stays in the mean; so the noise is found by bisection.
double step_variance(double scatter) {
  double low = 0.0, high = scatter;
  constexpr int halvings = 40;
  for (int i = 0; i < halvings; ++i) {
    const double noise = 0.5 * (low + high);
    (scatter + ripple_variance(noise) - 1.0 / 12.0 > noise ? low : high) = noise;
  }
  return ripple_variance(0.5 * (low + high));
}

/// Drops pixels that hang in the air between two neighbours on opposite sides.
void drop_flying(FusedDepth& fused, const std::vector<float>& sd) {
  const float noise = static_cast<float>(std::max(1.0, fused.frame_sd));
  // A still pixel scatters like its like; one at an edge sees now this surface, now that.
  const float unstable = 5.0F * noise, hanging = 8.0F * noise;
  std::vector<bool> flying(fused.depth.size(), false);
  const auto columns = static_cast<std::ptrdiff_t>(fused.columns);
  for (std::size_t row = 0; row < fused.rows; ++row) {
    for (std::size_t column = 0; column < fused.columns; ++column) {
      const std::size_t i = row * fused.columns + column;
      const float z = fused.depth[i];
      if (std::isnan(z)) continue;
      bool drop = !sd.empty() && sd[i] > unstable;
      const auto between = [&](std::ptrdiff_t offset, bool has_second) {
        const auto at = [&](std::ptrdiff_t steps) {
          return fused.depth[static_cast<std::size_t>(static_cast<std::ptrdiff_t>(i) + steps * offset)];
        };
        const float before = at(-1), after = at(1);
        const bool hangs =
            (z - before > hanging && after - z > hanging) || (before - z > hanging && z - after > hanging);
        if (!hangs || !has_second) return false;
        // A steep slope goes on beyond its neighbours; the surfaces on both sides of an edge do not.
        const bool goes_on = std::abs(before - at(-2)) > 0.5F * std::abs(z - before) &&
                             std::abs(at(2) - after) > 0.5F * std::abs(after - z);
        return !goes_on;
      };
      if (column > 0 && column + 1 < fused.columns) drop = drop || between(1, column > 1 && column + 2 < fused.columns);
      if (row > 0 && row + 1 < fused.rows) drop = drop || between(columns, row > 1 && row + 2 < fused.rows);
      flying[i] = drop;
    }
  }
  for (std::size_t i = 0; i < flying.size(); ++i) {
    if (!flying[i]) continue;
    fused.depth[i] = fused.u_depth[i] = kMissing;
    ++fused.dropped_flying;
  }
}

}  // namespace

FusedDepth fuse_depth(const std::vector<DepthImage>& frames) {
  if (frames.empty()) throw std::invalid_argument("no frame to fuse");
  FusedDepth fused;
  fused.columns = frames.front().columns;
  fused.rows = frames.front().rows;
  const std::size_t pixels = fused.columns * fused.rows;
  fused.depth.resize(pixels);
  fused.u_depth.assign(pixels, kMissing);
  // One frame has no scatter.
  std::vector<float> sd(frames.size() > 1 ? pixels : 0), kept(sd.size());
  parallel_parts(pixels, [&](std::size_t, std::size_t begin, std::size_t end) {
    // Whole stretches of each frame at a time: frame after frame for every pixel would miss the cache at each step.
    constexpr std::size_t stretch = 1024;
    std::vector<std::uint16_t> gathered(stretch * frames.size());
    for (std::size_t start = begin; start < end; start += stretch) {
      const std::size_t n = std::min(stretch, end - start);
      for (std::size_t f = 0; f < frames.size(); ++f) {
        const std::uint16_t* row = frames[f].values.data() + start;
        for (std::size_t i = 0; i < n; ++i) gathered[i * frames.size() + f] = row[i];
      }
      for (std::size_t i = 0; i < n; ++i) {
        const Pixel pixel = robust_pixel(gathered.data() + i * frames.size(), frames.size());
        fused.depth[start + i] = pixel.depth;
        if (sd.empty()) continue;
        sd[start + i] = pixel.sd;
        kept[start + i] = pixel.kept;
      }
    }
  });
  std::vector<double> sample;
  const std::size_t step = std::max<std::size_t>(1, pixels / 50000);
  for (std::size_t i = 0; i < sd.size(); i += step) {
    if (!std::isnan(sd[i])) sample.push_back(static_cast<double>(sd[i]));
  }
  const double scatter = scatter_of(sample);
  fused.frame_sd = sample.empty() ? 0.0 : median(std::move(sample));
  if (frames.size() > 1) {
    fused.frame_correlation = correlation_between_frames(frames, fused);
    // Frames that remember the last one are worth fewer: n (1 - r)/(1 + r).
    const double worth = (1.0 - fused.frame_correlation) / (1.0 + fused.frame_correlation);
    for (std::size_t i = 0; i < pixels; ++i) {
      const double n = std::max(1.0, worth * static_cast<double>(kept[i]));
      fused.u_depth[i] = static_cast<float>(static_cast<double>(sd[i]) / std::sqrt(n));
    }
  }
  drop_flying(fused, sd);
  fused.step_u = std::sqrt(step_variance(frames.size() > 1 ? scatter : 0.0));
  return fused;
}

}  // namespace canewise
