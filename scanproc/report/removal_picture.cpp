#include <algorithm>
#include <cmath>

#include "scanproc/core/budget.h"
#include "scanproc/core/units.h"
#include "scanproc/report/comparison_outputs.h"
#include "scanproc/report/numbers.h"
#include "scanproc/report/reed_drawing.h"
#include "scanproc/scrape/scrape_region.h"

namespace canewise {
namespace {

double colour_limit_um(const Comparison& comparison) {
  double largest = 15.0;
  for (const RemovedStep& step : comparison.steps) {
    largest = std::max(largest, step.planned_um);
    if (!std::isnan(step.removed_um)) largest = std::max(largest, step.removed_um);
  }
  for (const double nice : {15.0, 20.0, 30.0, 40.0, 50.0, 75.0, 100.0, 150.0, 200.0, 300.0}) {
    if (largest <= nice) return nice;
  }
  return 500.0;
}

/// The places that were planned, with their numbers.
void draw_places(Canvas& canvas, const Result& before, const ReedView& view) {
  int number = 1;
  for (const ScrapeStep& step : before.plan.steps) {
    std::vector<CanvasPoint> polygon;
    double mean_y = 0.0;
    for (const auto& p : on_reed(step.polygon, before.outline)) {
      polygon.push_back(view.at(p.x_mm, p.y_mm));
      mean_y += p.y_mm / static_cast<double>(step.polygon.size());
    }
    canvas.polyline(polygon, {kInk, 3.0}, true);
    const CanvasPoint at = view.at(0.5 * (step.from_mm + step.to_mm), mean_y);
    canvas.label({at.x, at.y}, std::to_string(number++), 15.0);
  }
}

}  // namespace

std::string removal_png(const Comparison& comparison, const Result& before, const Speech& speech) {
  constexpr int width = 860, height = 1250;
  Canvas canvas = Canvas::png(width, height);
  const Grid& grid = comparison.grid;
  const double vamp = before.assessment.cut.vamp_length_mm.value, shown_mm = std::ceil(vamp) + 1.0;
  const double half = before.outline.half_width_mm(0.0);
  const double y =
      canvas.paragraph({30, 40}, sentences(comparison.sentence, speech), {.size = 20.0, .bold = true}, width - 60.0);
  const double top = y + 34.0, scale = (height - top - 110.0) / shown_mm;
  const ReedView view{110.0 + scale * half, top, scale};
  const double limit_um = colour_limit_um(comparison);

  canvas.polygon(rim_of(before.outline, view, shown_mm), kMissing);
  draw_cells(canvas, {grid, view, shown_mm}, [&](Eigen::Index r, Eigen::Index c) -> std::optional<Colour> {
    if (std::isnan(comparison.removed_mm(r, c))) return std::nullopt;
    const double um = um_from_mm(static_cast<double>(comparison.removed_mm(r, c)));
    const bool tells = std::abs(um) > kCoverage95 * um_from_mm(static_cast<double>(comparison.u_mm(r, c)));
    return diverging_colour((tells ? -1.0 : -0.3) * um / limit_um);
  });
  // Dots on what is surely gone, so that it reads without colour.
  for (Eigen::Index r = 0; r < grid.rows && grid.x_mm(r) < shown_mm; r += 2) {
    for (Eigen::Index c = (r / 2) % 2; c < grid.columns; c += 2) {
      const double um = um_from_mm(static_cast<double>(comparison.removed_mm(r, c)));
      if (!(um > 0.25 * limit_um) || um < kCoverage95 * um_from_mm(static_cast<double>(comparison.u_mm(r, c))))
        continue;
      const CanvasPoint at = view.at(grid.x_mm(r), grid.y_mm(c));
      canvas.rectangle({{at.x - 1.5, at.y - 1.5}, 3.0, 3.0}, kInk);
    }
  }
  if (comparison.clipped_mm > 0.0)
    canvas.line(view.at(comparison.clipped_mm, -half), view.at(comparison.clipped_mm, half),
                {.colour = kInk, .width = 1.5, .dashed = true});
  draw_places(canvas, before, view);
  canvas.polyline(rim_of(before.outline, view, shown_mm), {kInk, 1.5}, true);
  draw_axes(canvas, view, {half, shown_mm}, speech);
  const double column = view.at(0, half).x + 45.0;
  const auto tick = [&](double share) { return phrase(signed_small_number(share * limit_um), speech); };
  const Message title = comparison.left_right_only ? Message{"picture.off_over_other"} : Message{"picture.off"};
  draw_colour_bar(canvas,
                  {.top_left = {column, top + 40.0},
                   .height = 360.0,
                   .title = phrase(in_small_unit(title), speech),
                   .colour_of_share = [](double share) { return diverging_colour(1.0 - 2.0 * share); },
                   .ticks = {{0.0, tick(-1.0)}, {0.25, tick(-0.5)}, {0.5, "0"}, {0.75, tick(0.5)}, {1.0, tick(1.0)}}});
  double note_y = top + 470.0;
  const double note_width = width - column - 14.0;
  for (const Message& note : {Message{"picture.removal_colours"}, Message{"picture.pale"},
                              Message{"picture.frames_numbers"}, Message{"picture.grey_both_scans"}})
    note_y = canvas.paragraph({column, note_y}, phrase(note, speech), {12.5}, note_width) + 4.0;
  return std::move(canvas).finish();
}

}  // namespace canewise
