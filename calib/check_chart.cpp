#include "calib/check_chart.h"

#include <algorithm>
#include <cmath>

#include "scanproc/core/budget.h"

namespace canewise {

CheckChart chart_of(const std::vector<double>& values) {
  CheckChart chart;
  chart.values_um = values;
  constexpr std::size_t most = 20;
  // The newest is judged by those before it.
  chart.base = std::min(most, values.size() > kFewestChecks ? values.size() - 1 : values.size());
  double range = 0.0;
  for (std::size_t i = 0; i < chart.base; ++i) {
    chart.mean_um += values[i] / static_cast<double>(chart.base);
    if (i > 0) range += std::abs(values[i] - values[i - 1]) / static_cast<double>(chart.base - 1);
  }
  constexpr double d2 = 1.128, individuals = 2.66;  // Of ranges of two values; 3 / d2.
  chart.sd_um = range / d2;
  chart.low_um = chart.mean_um - individuals * range;
  chart.high_um = chart.mean_um + individuals * range;
  int run = 0;
  double side_before = 0.0;
  for (const double v : values) {
    const double side = v > chart.mean_um ? 1.0 : v < chart.mean_um ? -1.0 : 0.0;
    run = side != 0.0 && side == side_before ? run + 1 : 1;
    side_before = side;
    constexpr int long_run = 8;
    chart.out.push_back(values.size() >= kFewestChecks && (v < chart.low_um || v > chart.high_um || run >= long_run));
  }
  return chart;
}

DriftVerdict judge_drift(double change_um, double u_um, const std::vector<double>& checks) {
  if (checks.size() < kFewestChecks) {
    return {Drift::cannot_tell,
            {Message{"check.cannot_tell", {{"scans", count(checks.size())}, {"fewest", count(kFewestChecks)}}}}};
  }
  const CheckChart chart = chart_of(checks);
  if (chart.out.back()) {
    return {Drift::rig,
            {Message{"check.rig_drifted",
                     {{"off", um(checks.back() - chart.mean_um, 1)}, {"usual", um(chart.mean_um, 1)}}}}};
  }
  // The rig's own wander from session to session adds to the reed's uncertainty, for both scans.
  const double u = std::sqrt(u_um * u_um + 2.0 * chart.sd_um * chart.sd_um);
  const Arguments change{{"change", signed_um(change_um, 1)}, {"u95", um(kCoverage95 * u, 1)}};
  if (std::abs(change_um) > kCoverage95 * u) return {Drift::reed, {Message{"check.reed_changed", change}}};
  return {Drift::none, {Message{"check.no_change", change}}};
}

}  // namespace canewise
