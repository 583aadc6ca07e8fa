#include "scanproc/images/line_centres.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <stdexcept>

#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

constexpr double kFullShare = 0.985;  // Of full scale: some cameras clip a little below.

/// Derivatives of a Gaussian about a place `offset` pixels beyond a pixel's middle, sampled at the pixels.
struct Kernel {
  Kernel(double sigma, double offset) {
    const auto reach = static_cast<int>(std::ceil(3.5 * sigma)) + 1;
    const auto n = static_cast<std::size_t>(2 * reach + 1);
    std::vector<double> x(n), v(n), f(n), s(n);
    for (std::size_t k = 0; k < n; ++k) {
      x[k] = static_cast<double>(k) - reach - offset;
      const double g = std::exp(-0.5 * square(x[k] / sigma));
      v[k] = g;
      f[k] = x[k] * g;  // Correlated, not convolved: the sign turns.
      s[k] = (square(x[k] / sigma) - 1.0) * g;
    }
    // What sampling and the cut change, put right: of 1, x and x^2/2 each sees its own alone, and sees it as 1.
    const auto moment = [&](const std::vector<double>& kernel, int power) {
      double sum = 0.0;
      for (std::size_t k = 0; k < n; ++k)
        sum += kernel[k] * (power == 0 ? 1.0 : power == 1 ? x[k] : 0.5 * square(x[k]));
      return sum;
    };
    const auto take = [&](std::vector<double>& from, double share, const std::vector<double>& what) {
      for (std::size_t k = 0; k < n; ++k) from[k] -= share * what[k];
    };
    const auto scale = [&](std::vector<double>& kernel, double by) {
      for (double& entry : kernel) entry /= by;
    };
    scale(v, moment(v, 0));
    take(f, moment(f, 0), v);
    scale(f, moment(f, 1));
    take(v, moment(v, 1), f);
    take(s, moment(s, 0), v);
    take(s, moment(s, 1), f);
    scale(s, moment(s, 2));
    take(f, moment(f, 2), s);
    value.assign(v.begin(), v.end());
    first.assign(f.begin(), f.end());
    second.assign(s.begin(), s.end());
  }
  std::vector<float> value, first, second;
};

/// Kernels for places between pixels: the ridge's root is taken from a Taylor series, which is only good nearby.
class Kernels {
 public:
  static constexpr int kSteps = 8;  ///< In a pixel.
  explicit Kernels(double sigma) : reach_(static_cast<int>(std::ceil(3.5 * sigma)) + 1) {
    for (int k = -kSteps / 2; k <= kSteps / 2; ++k) kernels_.emplace_back(sigma, static_cast<double>(k) / kSteps);
  }
  [[nodiscard]] int reach() const { return reach_; }
  [[nodiscard]] const Kernel& middle() const { return at(0); }
  /// `step` of kSteps beyond the pixel's middle, at most half a pixel.
  [[nodiscard]] const Kernel& at(int step) const { return kernels_[static_cast<std::size_t>(step + kSteps / 2)]; }

 private:
  int reach_;
  std::vector<Kernel> kernels_;
};

struct Ridge {
  double x, y;    ///< Offset of the middle from the pixel.
  double nx, ny;  ///< Across the line.
  double bend;    ///< Second derivative across, negative.
  double brightness;
};

/// A place between pixels.
struct Place {
  int column, row;
  int step = 0;  ///< Eighths of a pixel below the pixel's middle.
};

/// [Steger1998]: the ridge point as seen from `place`.
std::optional<Ridge> ridge_at(const GreyPicture& picture, const Kernels& kernels, const Place& place) {
  const int n = kernels.reach();
  const auto [column, row, step] = place;
  const int columns = static_cast<int>(picture.columns), rows = static_cast<int>(picture.rows);
  if (column < n || row < n || column + n >= columns || row + n >= rows) return std::nullopt;
  const auto width = static_cast<std::size_t>(2 * n + 1);
  const Kernel& across = kernels.middle();
  const Kernel& down = kernels.at(step);
  float r = 0, rx = 0, ry = 0, rxx = 0, rxy = 0, ryy = 0;
  for (int j = -n; j <= n; ++j) {
    const std::uint16_t* from = picture.values.data() + static_cast<std::size_t>(row + j) * picture.columns +
                                static_cast<std::size_t>(column - n);
    float s = 0, sx = 0, sxx = 0;
    for (std::size_t i = 0; i < width; ++i) {
      const float v = from[i];
      s += v * across.value[i], sx += v * across.first[i], sxx += v * across.second[i];
    }
    const auto k = static_cast<std::size_t>(j + n);
    r += down.value[k] * s, rx += down.value[k] * sx, rxx += down.value[k] * sxx;
    ry += down.first[k] * s, rxy += down.first[k] * sx, ryy += down.second[k] * s;
  }
  // Eigenvector of the Hessian for the eigenvalue of largest size.
  const double a = rxx, b = rxy, c = ryy;
  const double mean = 0.5 * (a + c), root = std::hypot(0.5 * (a - c), b);
  const double bend = mean < 0.0 ? mean - root : mean + root;
  if (!(bend < 0.0)) return std::nullopt;  // A valley.
  double nx = b, ny = bend - a;
  if (std::abs(bend - c) > std::abs(bend - a)) nx = bend - c, ny = b;
  const double length = std::hypot(nx, ny);
  if (length > 0.0) {
    nx /= length, ny /= length;
  } else {
    nx = 0.0, ny = 1.0;
  }
  const double t = -(rx * nx + ry * ny) / (a * nx * nx + 2.0 * b * nx * ny + c * ny * ny);
  return Ridge{t * nx, t * ny, nx, ny, bend, r};
}

/// Where the ridge crosses a column: `row` is the pixel that the offsets count from.
struct Crossing {
  Ridge ridge;
  int row;
};

/// Follows the ridge from a bright pixel to where it crosses the column, first by pixels, then once more from the
/// nearest eighth of one: from farther away the series would be off by hundredths of a pixel.
std::optional<Crossing> settle(const GreyPicture& picture, const Kernels& kernels, const Place& from) {
  constexpr int most_steps = 4;
  constexpr double steep = 0.3;  // A line nearly along the column is not told by its crossing.
  Place place = from;
  for (int k = 0; k < most_steps; ++k) {
    auto ridge = ridge_at(picture, kernels, place);
    if (!ridge || std::abs(ridge->ny) < steep) return std::nullopt;
    const double offset = static_cast<double>(place.step) / Kernels::kSteps;
    const double down = offset + ridge->y + ridge->x * ridge->nx / ridge->ny;
    constexpr double close = 1.0 / Kernels::kSteps;
    if (std::abs(down - offset) <= close) {
      // The point on the ridge in this very column: all points of a line are alike but for where noise puts them.
      ridge->x = 0.0;
      ridge->y = down;
      return Crossing{*ridge, place.row};
    }
    if (std::abs(down) > 2.0 * kernels.reach()) return std::nullopt;
    const auto whole = static_cast<int>(std::lround(down));
    place.row += whole;
    place.step = static_cast<int>(std::lround((down - whole) * Kernels::kSteps));
    if (std::abs(place.row - from.row) > 2 * kernels.reach()) return std::nullopt;
  }
  return std::nullopt;
}

struct Candidate {
  int column = 0;
  LineCentre centre;
  int segment = -1;
};

struct Segment {
  int first = 0, last = 0;
  double row = 0.0, slope = 0.0;
  int count = 0;
  double score = 0.0;
};

/// Median and robust scatter of pixels far from any line: differences of neighbours, so that uneven light does not
/// count.
void measure_background(const GreyPicture& picture, FoundLine& found) {
  std::vector<double> values, steps;
  const std::size_t stride = std::max<std::size_t>(1, picture.values.size() / 20000) | 1U;
  std::size_t clipped = 0, looked = 0;
  const double full = kFullShare * picture.full_scale;
  for (std::size_t i = 0; i + 1 < picture.values.size(); i += stride) {
    if ((i + 1) % picture.columns == 0) continue;
    values.push_back(picture.values[i]);
    steps.push_back(static_cast<double>(picture.values[i + 1]) - picture.values[i]);
    clipped += picture.values[i] >= full;
    ++looked;
  }
  found.background = median(values);
  // Rounding to whole counts leaves at least a third of a count.
  found.noise = std::max(0.3, mad_sigma(steps, 0.0) / std::sqrt(2.0));
  found.clipped_share = looked > 0 ? static_cast<double>(clipped) / static_cast<double>(looked) : 0.0;
}

/// Rows [from, to) of every column that are not looked at.
struct SkippedRows {
  std::vector<std::uint16_t> from, to;
};

/// The brightest place of every column: its row, and the sum of it and its two neighbours.
struct BrightestRows {
  std::vector<std::uint32_t> sums, rows;
};

BrightestRows brightest_rows(const GreyPicture& picture, const SkippedRows& skipped) {
  const std::size_t columns = picture.columns;
  BrightestRows brightest{std::vector<std::uint32_t>(columns, 0), std::vector<std::uint32_t>(columns, 0)};
  const auto& [skip_from, skip_to] = skipped;
  auto& [best, where] = brightest;
  for (std::size_t row = 1; row + 1 < picture.rows; ++row) {
    const std::uint16_t* a = picture.values.data() + (row - 1) * columns;
    const std::uint16_t* b = a + columns;
    const std::uint16_t* c = b + columns;
    const auto r = static_cast<std::uint32_t>(row);
    for (std::size_t i = 0; i < columns; ++i) {
      const std::uint32_t sum = std::uint32_t{a[i]} + b[i] + c[i];
      const bool better = sum > best[i] && (r < skip_from[i] || r >= skip_to[i]);
      best[i] = better ? sum : best[i];
      where[i] = better ? r : where[i];
    }
  }
  return brightest;
}

double clipped_length(const GreyPicture& picture, int column, int row) {
  const double full = kFullShare * picture.full_scale;
  double length = 0.0;
  const auto at = [&](int r) { return picture.at(static_cast<std::size_t>(column), static_cast<std::size_t>(r)); };
  for (int r = row; r >= 0 && at(r) >= full; --r) length += 1.0;
  for (int r = row + 1; r < static_cast<int>(picture.rows) && at(r) >= full; ++r) length += 1.0;
  return length;
}

std::vector<Candidate> find_candidates(const GreyPicture& picture, const LineOptions& options, const FoundLine& look) {
  const Kernels kernels(options.sigma_px);
  const std::size_t columns = picture.columns;
  SkippedRows skipped{std::vector<std::uint16_t>(columns, 0), std::vector<std::uint16_t>(columns, 0)};
  constexpr double clear = 6.0;  // Standard deviations of a sum of three rows over the background.
  const double threshold = 3.0 * look.background + std::max(6.0, clear * std::sqrt(3.0) * look.noise);
  const double detector_noise = look.noise / (std::sqrt(8.0 * std::numbers::pi) * square(options.sigma_px));
  std::vector<Candidate> candidates;
  const auto wide = static_cast<int>(std::ceil(4.0 * options.sigma_px)) + 2;
  constexpr double faint = 0.25;  // Of the first: a weaker second line is no rival.
  std::vector<double> first(columns, 0.0);
  for (int look_number = 0; look_number < 2; ++look_number) {
    const auto [best, where] = brightest_rows(picture, skipped);
    for (std::size_t i = 0; i < columns; ++i) {
      if (best[i] < threshold) continue;
      int row = static_cast<int>(where[i]);
      const auto column = static_cast<int>(i);
      if (look_number == 0) {
        // Everything that hangs together with the first line is hidden from the second look.
        int from = row, to = row;
        const double half = 0.5 * (best[i] / 3.0 - look.background) + look.background;
        while (from > 0 && picture.at(i, static_cast<std::size_t>(from)) > half) --from;
        while (to + 1 < static_cast<int>(picture.rows) && picture.at(i, static_cast<std::size_t>(to)) > half) ++to;
        skipped.from[i] = static_cast<std::uint16_t>(std::max(0, from - wide));
        skipped.to[i] = static_cast<std::uint16_t>(std::min(static_cast<int>(picture.rows), to + wide + 1));
        first[i] = best[i] - 3.0 * look.background;
        row = (from + to) / 2;
      } else if (best[i] - 3.0 * look.background < faint * first[i]) {
        continue;
      }
      const auto crossing = settle(picture, kernels, {.column = column, .row = row});
      if (!crossing || -crossing->ridge.bend < 5.0 * detector_noise) continue;
      const Ridge& ridge = crossing->ridge;
      Candidate candidate;
      candidate.column = column;
      LineCentre& c = candidate.centre;
      c.column = column + ridge.x;
      c.row = crossing->row + ridge.y;
      c.normal_column = ridge.nx, c.normal_row = ridge.ny;
      c.brightness = ridge.brightness - look.background;
      const double clipped = clipped_length(picture, column, crossing->row);
      c.clipped = clipped >= 2.0;
      constexpr double part_of_uniform = 0.25;
      const double clipping = c.clipped ? part_of_uniform * clipped / std::sqrt(12.0) : 0.0;
      c.u_px = std::sqrt(square(detector_noise / ridge.bend) + square(options.centre_noise_px) + square(clipping));
      candidates.push_back(candidate);
    }
  }
  std::stable_sort(candidates.begin(), candidates.end(),
                   [](const Candidate& a, const Candidate& b) { return a.column < b.column; });
  return candidates;
}

/// Links candidates that continue each other.
std::vector<Segment> link(std::vector<Candidate>& candidates) {
  std::vector<Segment> segments;
  std::vector<int> open;
  constexpr int widest_gap = 3;
  constexpr double step = 1.5;
  for (Candidate& candidate : candidates) {
    int chosen = -1;
    double nearest = std::numeric_limits<double>::infinity();
    std::erase_if(open,
                  [&](int k) { return candidate.column - segments[static_cast<std::size_t>(k)].last > widest_gap; });
    for (const int k : open) {
      const Segment& s = segments[static_cast<std::size_t>(k)];
      const int gap = candidate.column - s.last;
      if (gap < 1) continue;
      const double off = std::abs(candidate.centre.row - s.row - s.slope * gap);
      if (off < step * std::max(1.0, std::abs(s.slope)) + 0.3 * gap && off < nearest) nearest = off, chosen = k;
    }
    if (chosen < 0) {
      chosen = static_cast<int>(segments.size());
      segments.push_back({candidate.column, candidate.column, candidate.centre.row, 0.0, 0, 0.0});
      open.push_back(chosen);
    }
    Segment& s = segments[static_cast<std::size_t>(chosen)];
    if (s.count > 0) {
      const double slope = (candidate.centre.row - s.row) / (candidate.column - s.last);
      s.slope += (s.count > 4 ? 0.3 : 0.5) * (slope - s.slope);
    }
    s.last = candidate.column;
    s.row = candidate.centre.row;
    s.score += candidate.centre.brightness;
    ++s.count;
    candidate.segment = chosen;
  }
  return segments;
}

/// Where a line ends the detector sees light on one side only, and a slanting line's middle is pulled inward; it even
/// goes on a little beyond the end. Brightness tells: half of the line's own at the end, 93 % one and a half widths
/// inside.
void trim_ends(std::vector<Candidate>& candidates, const std::vector<Segment>& segments, double sigma_px) {
  std::vector<std::vector<Candidate*>> members(segments.size());
  for (Candidate& c : candidates) members[static_cast<std::size_t>(c.segment)].push_back(&c);
  const auto from = static_cast<std::size_t>(std::ceil(3.0 * sigma_px)), to = 2 * from;
  constexpr double inside = 0.93;
  for (auto& line : members) {
    if (line.size() < 2 * to) continue;
    for (int end = 0; end < 2; ++end) {
      std::vector<double> inner;
      for (std::size_t k = from; k < to; ++k) inner.push_back(line[k]->centre.brightness);
      const double level = inside * median(inner);
      for (std::size_t k = 0; k < from && line[k]->centre.brightness < level; ++k) line[k]->segment = -1;
      std::reverse(line.begin(), line.end());
    }
  }
  std::erase_if(candidates, [](const Candidate& c) { return c.segment < 0; });
}

GreyPicture transposed(const GreyPicture& picture) {
  GreyPicture turned;
  turned.columns = picture.rows;
  turned.rows = picture.columns;
  turned.full_scale = picture.full_scale;
  turned.values.resize(picture.values.size());
  constexpr std::size_t block = 32;  // Stays in the cache.
  for (std::size_t r0 = 0; r0 < picture.rows; r0 += block) {
    for (std::size_t c0 = 0; c0 < picture.columns; c0 += block) {
      for (std::size_t r = r0; r < std::min(picture.rows, r0 + block); ++r) {
        for (std::size_t c = c0; c < std::min(picture.columns, c0 + block); ++c)
          turned.values[c * picture.rows + r] = picture.values[r * picture.columns + c];
      }
    }
  }
  return turned;
}

}  // namespace

FoundLine find_line(const GreyPicture& picture, const LineOptions& options) {
  if (!options.crosses_columns) {
    FoundLine found = find_line(transposed(picture), {options.sigma_px, true, options.centre_noise_px});
    for (LineCentre& c : found.centres) {
      std::swap(c.column, c.row);
      std::swap(c.normal_column, c.normal_row);
    }
    return found;
  }
  FoundLine found;
  measure_background(picture, found);
  std::vector<Candidate> candidates = find_candidates(picture, options, found);
  const std::vector<Segment> segments = link(candidates);
  trim_ends(candidates, segments, options.sigma_px);
  constexpr int shortest = 6, long_enough = 15;
  constexpr double alike = 0.5;
  for (std::size_t i = 0; i < candidates.size();) {
    std::size_t end = i;
    const Candidate* best = nullptr;
    const Candidate* second = nullptr;
    const auto score = [&](const Candidate* c) { return segments[static_cast<std::size_t>(c->segment)].score; };
    const auto length = [&](const Candidate* c) { return segments[static_cast<std::size_t>(c->segment)].count; };
    for (; end < candidates.size() && candidates[end].column == candidates[i].column; ++end) {
      const Candidate* c = &candidates[end];
      if (length(c) < shortest) {
        ++found.stray;
        continue;
      }
      if (best == nullptr || score(c) > score(best)) {
        second = best;
        best = c;
      } else {
        second = c;
      }
    }
    if (best != nullptr) {
      if (second != nullptr && length(second) >= long_enough &&
          second->centre.brightness > alike * best->centre.brightness) {
        ++found.ambiguous;
      } else {
        found.centres.push_back(best->centre);
      }
    }
    i = end;
  }
  return found;
}

LineLook look_at_line(const std::vector<GreyPicture>& pictures) {
  if (pictures.empty()) throw std::invalid_argument("look_at_line: no picture");
  LineLook look;
  std::array<std::vector<double>, 2> widths;
  std::array<std::size_t, 2> found_in{};
  for (const GreyPicture& picture : pictures) {
    for (const bool across : {true, false}) {
      const GreyPicture turned = across ? GreyPicture{} : transposed(picture);
      const GreyPicture& seen = across ? picture : turned;
      const FoundLine found = find_line(seen, {2.0, true, 0.0});
      auto& list = widths.at(across ? 0 : 1);
      found_in.at(across ? 0 : 1) += found.centres.size();
      for (const LineCentre& c : found.centres) {
        if (c.clipped || std::abs(c.normal_row) < 0.8) continue;
        // Second moment of the profile over its background, in a window of a few times itself.
        double width = 2.0;
        for (int round = 0; round < 5; ++round) {
          const auto reach = static_cast<int>(std::ceil(3.0 * width));
          double sum = 0, moment = 0;
          const auto row = static_cast<int>(std::lround(c.row)), column = static_cast<int>(std::lround(c.column));
          for (int j = -reach; j <= reach; ++j) {
            if (row + j < 0 || row + j >= static_cast<int>(seen.rows)) continue;
            const double v =
                std::max(0.0, seen.at(static_cast<std::size_t>(column), static_cast<std::size_t>(row + j)) -
                                  found.background - found.noise);
            sum += v, moment += v * square(row + j - c.row);
          }
          if (!(sum > 0)) break;
          // What the window cuts off a Gaussian at three sigma is a few per cent.
          width = std::clamp(1.015 * std::sqrt(moment / sum), 0.5, 20.0);
        }
        list.push_back(width * std::abs(c.normal_row));
      }
    }
  }
  look.crosses_columns = found_in[0] >= found_in[1];
  const auto& list = widths.at(look.crosses_columns ? 0 : 1);
  if (!list.empty()) look.sigma_px = std::clamp(median(list), 0.8, 8.0);
  return look;
}

}  // namespace canewise
