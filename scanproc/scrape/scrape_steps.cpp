#include "scanproc/scrape/scrape_steps.h"

#include <algorithm>
#include <cmath>

#include "scanproc/core/units.h"

namespace canewise {

namespace {

/// Across the reed, as far as the place lies on it.
double widest_mm(const std::vector<PlanPoint>& polygon, const Outline& outline) {
  double first = 1e9, last = -1e9, widest = 0.0;
  for (const PlanPoint& p : polygon) first = std::min(first, p.x_mm), last = std::max(last, p.x_mm);
  constexpr double step_mm = 0.25;
  for (double x = first + 0.5 * step_mm; x < last; x += step_mm) {
    // What a tool must cover at one station: a place that follows the reed's taper is no wider for that.
    double inner = 1e9, outer = -1e9;
    for (std::size_t i = 0, j = polygon.size() - 1; i < polygon.size(); j = i++) {
      const PlanPoint &a = polygon[i], &b = polygon[j];
      if ((a.x_mm > x) == (b.x_mm > x)) continue;
      const double crossing = a.y_mm + (b.y_mm - a.y_mm) * (x - a.x_mm) / (b.x_mm - a.x_mm);
      const double y = std::min(std::abs(crossing), outline.half_width_mm(x));
      inner = std::min(inner, y), outer = std::max(outer, y);
    }
    widest = std::max(widest, outer - inner);
  }
  return widest;
}

}  // namespace

std::vector<ScrapeStep> steps_at(const Place& place, double depth_mm, const Outline& outline, const Player& player) {
  std::vector<ScrapeStep> steps;
  for (const Place::Part& part : place.parts) {
    ScrapeStep step;
    step.aim = place.aim;
    step.side = part.side;
    step.across = place.across;
    step.along = place.along;
    step.polygon = part.polygon;
    step.from_mm = 1e9;
    for (const auto& point : step.polygon) {
      step.from_mm = std::min(step.from_mm, point.x_mm);
      step.to_mm = std::max(step.to_mm, point.x_mm);
    }
    step.depth_um = um_from_mm(depth_mm);
    step.u95_um = um_from_mm(place.u95_mm);
    step.volume_mm3 = depth_mm * place.area_mm2 / static_cast<double>(place.parts.size());
    step.for_bending = place.even_here;
    // A tool that hangs over the rim covers it; beside each other count only widths on the reed.
    constexpr double overhang = 1.05;
    const double width_mm = widest_mm(step.polygon, outline);
    step.strokes = std::max(1, static_cast<int>(std::lround(step.depth_um / player.depth_per_stroke_um *
                                                            std::ceil(width_mm / (overhang * player.tool_width_mm)))));
    step.where = {"plan.where",
                  {{"side", word(name_of(step.side))},
                   {"across", word(name_of(step.across))},
                   {"from", mm(step.from_mm)},
                   {"to", mm(step.to_mm)}}};
    step.stop = {"plan.stop",
                 {{"between", count(static_cast<std::size_t>(strokes_between_tests(step.strokes)))},
                  {"strokes", count(static_cast<std::size_t>(step.strokes))},
                  {"aim", word(step.aim == StepAim::balance ? "balance" : "softer")}}};
    steps.push_back(std::move(step));
  }
  return steps;
}

int strokes_between_tests(int strokes) {
  constexpr int most = 5;
  return std::clamp((strokes + 2) / 3, 1, most);
}

void put_in_order(std::vector<ScrapeStep>& steps) {
  const auto reaches_tip = [](const ScrapeStep& s) { return s.along.front() == AlongBand::tip; };
  std::stable_sort(steps.begin(), steps.end(), [&](const ScrapeStep& a, const ScrapeStep& b) {
    const bool a_balance = a.aim == StepAim::balance, b_balance = b.aim == StepAim::balance;
    if (a_balance != b_balance) return a_balance;
    if (reaches_tip(a) != reaches_tip(b)) return reaches_tip(b);
    if (!a_balance && a.across == b.across && a.from_mm == b.from_mm) return false;
    return a.volume_mm3 > b.volume_mm3;
  });
}

Field removal_of(const Grid& grid, const std::vector<ScrapeStep>& steps) {
  Field removed = Field::Zero(grid.rows, grid.columns);
  for (const ScrapeStep& step : steps) {
    const CutShare cut = expected_cut(grid, step.polygon);
    for (std::size_t k = 0; k < cut.cells.size(); ++k)
      removed.data()[cut.cells[k]] += cut.share[k] * static_cast<float>(mm_from_um(step.depth_um));
  }
  return removed;
}

}  // namespace canewise
