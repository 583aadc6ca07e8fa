#include <algorithm>
#include <cmath>

#include "scanproc/core/budget.h"
#include "scanproc/core/units.h"
#include "scanproc/pipeline/headline.h"
#include "scanproc/report/numbers.h"
#include "scanproc/report/pictures.h"
#include "scanproc/report/reed_drawing.h"
#include "scanproc/scrape/scrape_region.h"

namespace canewise {
namespace {

/// Mark of a zone's verdict that does not need colour.
std::string mark_of(Verdict verdict) {
  return verdict == Verdict::within ? "ok" : verdict == Verdict::outside ? "!" : "?";
}

/// How much thicker a cell is than its partner; NaN where one is missing.
double excess_um(const Result& result, Eigen::Index r, Eigen::Index c) {
  return um_from_mm(static_cast<double>(result.map.thickness_mm(r, c)) -
                    static_cast<double>(result.map.thickness_mm(r, result.map.grid.mirrored(c))));
}

double u95_of_difference_um(const Result& result, Eigen::Index r, Eigen::Index c) {
  return kCoverage95 * um_from_mm(static_cast<double>(result.assessment.balance.u_difference_mm(r, c)));
}

double colour_limit_um(const Result& result) {
  double largest = 20.0;
  for (const auto& zone : result.assessment.balance.zones) {
    if (!std::isnan(zone.difference.mean_mm))
      largest = std::max(largest, 1.3 * um_from_mm(std::abs(zone.difference.mean_mm)));
  }
  for (const double nice : {20.0, 30.0, 40.0, 50.0, 75.0, 100.0, 150.0, 200.0, 300.0, 500.0}) {
    if (largest <= nice) return nice;
  }
  return 1000.0;
}

constexpr int kWidth = 860, kHeight = 1330;

/// Where things stand in the picture.
struct Layout {
  ReedView view;
  double top, shown_mm, half_mm;
  double limit_um;                                                                ///< At the ends of the colours.
  [[nodiscard]] double column_x() const { return view.at(0, half_mm).x + 45.0; }  ///< Of the key, beside the reed.
};

Layout layout_of(const Result& result, double top) {
  const double shown_mm = std::ceil(result.assessment.cut.vamp_length_mm.value) + 1.0;
  const double half = result.outline.half_width_mm(0.0);
  const double scale = (kHeight - top - 120.0) / shown_mm;
  return {{110.0 + scale * half, top, scale}, top, shown_mm, half, colour_limit_um(result)};
}

/// Returns the y below it.
double draw_heading(Canvas& canvas, const Result& result, const Speech& speech) {
  const Message title{
      "picture.balance",
      {{"verdict", word(name_of(result.assessment.balance.verdict))}, {"kind", part(title_of(result))}}};
  double y = canvas.paragraph({30, 40}, sentence(title, speech), {.size = 21.0, .bold = true}, kWidth - 60.0);
  y = canvas.paragraph({30, y + 2}, sentences(result.headline, speech), {15.0}, kWidth - 60.0);
  return canvas.paragraph({30, y}, sentences(result.certainty, speech), {13.0, kFaint}, kWidth - 60.0);
}

void draw_differences(Canvas& canvas, const Result& result, const Layout& layout) {
  const Grid& grid = result.map.grid;
  const double limit_um = layout.limit_um;
  canvas.polygon(rim_of(result.outline, layout.view, layout.shown_mm), kMissing);
  draw_cells(canvas, {grid, layout.view, layout.shown_mm},
             [&](Eigen::Index r, Eigen::Index c) -> std::optional<Colour> {
               if (!result.map.measured(r, c) || !result.map.measured(r, grid.mirrored(c))) return std::nullopt;
               const double um = excess_um(result, r, c);
               // Pale where a single pair of cells says nothing: else noise would look like a pattern.
               const bool tells = std::abs(um) > u95_of_difference_um(result, r, c);
               return diverging_colour((tells ? 1.0 : 0.4) * um / limit_um);
             });
}

/// Dots on what is thinner, so that the sign reads without colour.
void draw_dots(Canvas& canvas, const Result& result, const Layout& layout) {
  const Grid& grid = result.map.grid;
  for (Eigen::Index r = 0; r < grid.rows && grid.x_mm(r) < layout.shown_mm; r += 2) {
    for (Eigen::Index c = (r / 2) % 2; c < grid.columns; c += 2) {
      const double um = excess_um(result, r, c);
      if (!(um < -0.2 * layout.limit_um) || !(-um > u95_of_difference_um(result, r, c))) continue;
      const CanvasPoint at = layout.view.at(grid.x_mm(r), grid.y_mm(c));
      canvas.rectangle({{at.x - 1.5, at.y - 1.5}, 3.0, 3.0}, kInk);
    }
  }
}

/// Zones, centreline, the plan's places, the rim.
void draw_lines(Canvas& canvas, const Result& result, const Layout& layout) {
  const ReedView& view = layout.view;
  draw_zone_lines(canvas, result, view, {kInk, 0.8});
  canvas.line(view.at(0, 0), view.at(layout.shown_mm, 0), {.colour = kInk, .width = 0.8, .dashed = true});
  for (const auto& step : result.plan.steps) {
    std::vector<CanvasPoint> polygon;
    for (const auto& p : on_reed(step.polygon, result.outline)) polygon.push_back(view.at(p.x_mm, p.y_mm));
    canvas.polyline(polygon, {kInk, 3.0}, true);
  }
  canvas.polyline(rim_of(result.outline, view, layout.shown_mm), {kInk, 1.5}, true);
}

void draw_zone_means(Canvas& canvas, const Result& result, const Layout& layout, const Speech& speech) {
  const double vamp = result.assessment.cut.vamp_length_mm.value;
  for (const auto& zone : result.assessment.balance.zones) {
    if (std::isnan(zone.difference.mean_mm)) continue;
    const auto along = static_cast<std::size_t>(zone.along), across = static_cast<std::size_t>(zone.across);
    const double x = std::max(zone.along == AlongBand::tip ? 2.6 : 0.0,
                              0.5 * vamp * (ZoneLimits::t.at(along) + ZoneLimits::t.at(along + 1)));
    const double e = 0.5 * (ZoneLimits::e.at(across) + ZoneLimits::e.at(across + 1));
    for (const int side : {-1, 1}) {
      const CanvasPoint at = layout.view.at(x, side * e * result.outline.half_width_mm(x));
      const Message mean = signed_small_number(um_from_mm(side * zone.difference.mean_mm));
      canvas.label({at.x, at.y}, phrase(mean, speech) + " " + mark_of(zone.verdict), 12.0);
    }
  }
}

/// What colours and marks mean.
void draw_key(Canvas& canvas, const Layout& layout, const Speech& speech) {
  const double column = layout.column_x();
  const auto tick = [&](double share) { return phrase(signed_small_number(share * layout.limit_um), speech); };
  draw_colour_bar(canvas,
                  {.top_left = {column, layout.top + 40.0},
                   .height = 360.0,
                   .title = phrase(in_small_unit(Message{"picture.over_partner"}), speech),
                   .colour_of_share = [](double share) { return diverging_colour(2.0 * share - 1.0); },
                   .ticks = {{0.0, tick(-1.0)}, {0.25, tick(-0.5)}, {0.5, "0"}, {0.75, tick(0.5)}, {1.0, tick(1.0)}}});
  double note_y = layout.top + 470.0;
  const double note_width = kWidth - column - 14.0;
  const Message means = in_small_unit(Message{"picture.balance_means"});
  for (const Message& note :
       {Message{"picture.balance_colours", {{"means", part(means)}}}, Message{"picture.mark_within"},
        Message{"picture.mark_outside"}, Message{"picture.mark_cannot_tell"}, Message{"picture.grey_one_side"},
        Message{"picture.frames_plan"}}) {
    note_y = canvas.paragraph({column, note_y}, phrase(note, speech), {12.5}, note_width) + 4.0;
  }
}

}  // namespace

std::string balance_png(const Result& result, const Speech& speech) {
  Canvas canvas = Canvas::png(kWidth, kHeight);
  const Layout layout = layout_of(result, draw_heading(canvas, result, speech) + 34.0);
  draw_differences(canvas, result, layout);
  draw_dots(canvas, result, layout);
  draw_lines(canvas, result, layout);
  draw_zone_means(canvas, result, layout, speech);
  draw_axes(canvas, layout.view, {layout.half_mm, layout.shown_mm}, speech);
  draw_key(canvas, layout, speech);
  return std::move(canvas).finish();
}

}  // namespace canewise
