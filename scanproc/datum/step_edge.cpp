#include "scanproc/datum/step_edge.h"

#include <algorithm>
#include <cmath>

#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

struct Line {
  double at_edge = 0.0, slope = 0.0;
};

/// Straight line through the reed's surface, fitted twice: the second time without the points far off the first.
std::optional<Line> inside_line(const std::vector<StepSample>& samples, const StepWindow& window, double noise_mm) {
  Line line;
  double limit = 1e300;
  std::vector<double> deviations;
  for (int pass = 0; pass < 2; ++pass) {
    double n = 0, s = 0, z = 0, ss = 0, sz = 0;
    for (const auto& p : samples) {
      if (p.out_mm > -window.inside_from_mm || p.out_mm < -window.inside_to_mm) continue;
      if (std::abs(p.height_mm - line.at_edge - line.slope * p.out_mm) > limit) continue;
      n += 1, s += p.out_mm, z += p.height_mm, ss += p.out_mm * p.out_mm, sz += p.out_mm * p.height_mm;
    }
    if (n < 3) return std::nullopt;
    const double spread = ss - s * s / n;
    line.slope = spread > 1e-9 * n ? (sz - s * z / n) / spread : 0.0;
    line.at_edge = (z - line.slope * s) / n;
    if (pass == 0) {
      deviations.clear();
      for (const auto& p : samples) {
        if (p.out_mm > -window.inside_from_mm || p.out_mm < -window.inside_to_mm) continue;
        deviations.push_back(std::abs(p.height_mm - line.at_edge - line.slope * p.out_mm));
      }
      limit = std::max(4.0 * noise_mm, 6.0 * median(deviations));
    }
  }
  return line;
}

/// From any place of the reed the next sample out and the next one in are on average sum g^2 / sum g apart, whether the
/// gaps g are even or a raster's lines come in bunches. Zero where fewer than two samples are.
double usual_spacing(const std::vector<StepSample>& samples, const StepWindow& window) {
  std::vector<double> inside;
  for (const auto& p : samples) {
    if (p.out_mm <= -window.inside_from_mm && p.out_mm >= -window.inside_to_mm) inside.push_back(p.out_mm);
  }
  std::sort(inside.begin(), inside.end());
  double gaps = 0.0, squares = 0.0;
  for (std::size_t i = 1; i < inside.size(); ++i) {
    const double gap = inside[i] - inside[i - 1];
    gaps += gap;
    squares += gap * gap;
  }
  return gaps > 0.0 ? squares / gaps : 0.0;
}

}  // namespace

std::optional<StepEdge> find_step_edge(std::vector<StepSample>& samples, const StepWindow& window, double noise_mm) {
  const auto line = inside_line(samples, window, noise_mm);
  if (!line) return std::nullopt;
  // Deeper inside there is no edge to be found, so the order of the points does not matter there.
  const double near = -window.search_inside_mm;
  const auto sorted_from =
      std::partition(samples.begin(), samples.end(), [near](const StepSample& p) { return p.out_mm < near; });
  std::sort(sorted_from, samples.end(), [](const StepSample& a, const StepSample& b) { return a.out_mm < b.out_mm; });
  const double cap = std::max(4.0 * noise_mm, 0.6 * std::abs(line->at_edge));
  const auto loss = [cap](double residual) { return std::min(residual * residual, cap * cap); };
  const auto loss_as_reed = [&](const StepSample& p) {
    return loss(p.height_mm - std::max(line->at_edge + line->slope * p.out_mm, 0.5 * line->at_edge));
  };
  double sum = 0.0, smallest = 0.0;
  std::size_t split = 0;
  for (auto i = static_cast<std::size_t>(sorted_from - samples.begin()); i < samples.size(); ++i) {
    const auto& p = samples[i];
    if (p.out_mm > window.outside_mm) break;
    sum += loss_as_reed(p) - loss(p.height_mm);
    if (sum < smallest) {
      smallest = sum;
      split = i + 1;
    }
  }
  if (split == 0) return std::nullopt;
  StepEdge edge;
  edge.reed_mm = samples[split - 1].out_mm;
  if (window.with_spacing) edge.spacing_mm = usual_spacing(samples, window);
  edge.height_mm = line->at_edge + line->slope * edge.reed_mm;
  // What lies beyond the window was not weighed: where one sample tells, it may be the reed, which goes on.
  constexpr double clear = 4.0;
  const bool goes_on = split < samples.size() && std::abs(line->at_edge) > clear * noise_mm &&
                       loss_as_reed(samples[split]) < loss(samples[split].height_mm);
  const bool plate_follows = split < samples.size() && !goes_on;
  edge.gap_mm = plate_follows ? samples[split].out_mm - edge.reed_mm : std::nan("");
  // A reed that is seen to the end of the window has its edge elsewhere.
  if (std::isnan(edge.gap_mm) && edge.reed_mm > 0.7 * window.outside_mm) return std::nullopt;
  return edge;
}

std::optional<StepEdge> find_bare_edge(std::vector<StepSample>& samples, const StepWindow& window, double noise_mm) {
  const auto line = inside_line(samples, window, noise_mm);
  if (!line) return std::nullopt;
  constexpr double least_cap_mm = 0.15;
  const double cap = std::max({6.0 * noise_mm, 0.5 * std::abs(line->at_edge), least_cap_mm});
  std::vector<double> out;
  for (const auto& p : samples) {
    const double surface = line->at_edge + line->slope * p.out_mm;
    if (p.out_mm > -window.search_inside_mm && p.out_mm < window.outside_mm && std::abs(p.height_mm - surface) < cap)
      out.push_back(p.out_mm);
  }
  const double spacing = usual_spacing(samples, window);
  if (!(spacing > 0.0)) return std::nullopt;
  std::sort(out.begin(), out.end());
  // A stray point has no company close behind it.
  constexpr std::size_t company = 2;
  constexpr double close = 6.0;
  for (std::size_t i = out.size(); i-- > company;) {
    if (out[i] - out[i - company] < close * spacing)
      return StepEdge{out[i], std::nan(""), spacing, line->at_edge + line->slope * out[i]};
  }
  return std::nullopt;
}

}  // namespace canewise
