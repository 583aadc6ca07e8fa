#include <algorithm>
#include <cmath>

#include "scanproc/core/budget.h"
#include "scanproc/core/units.h"
#include "scanproc/pipeline/headline.h"
#include "scanproc/report/numbers.h"
#include "scanproc/report/pictures.h"
#include "scanproc/report/reed_drawing.h"
#include "scanproc/report/table_words.h"
#include "scanproc/thickness/texture.h"

namespace canewise {
namespace {

/// The table without its grain and the scanner's noise: what bends is longer than a few millimetres.
Field smoothed(const Result& result) {
  constexpr double nesting_mm = 5.0;
  const double cell = result.map.grid.cell_mm;
  return gaussian_filter(result.map.table_mm.cast<double>(), cell, cell, nesting_mm).cast<float>();
}

double nice_limit_um(const Field& heights) {
  double largest = 10.0;
  for (Eigen::Index i = 0; i < heights.size(); ++i) {
    if (!std::isnan(heights(i))) largest = std::max(largest, um_from_mm(std::abs(static_cast<double>(heights(i)))));
  }
  for (const double nice : {10.0, 20.0, 30.0, 50.0, 75.0, 100.0, 150.0, 200.0, 300.0, 500.0}) {
    if (largest <= nice) return nice;
  }
  return 1000.0;
}

/// Labels on the whole centreline where it crosses a level, as far as they have room.
void label_levels(Canvas& canvas, const GridView& cells, const Contours& contours, const Speech& speech) {
  const Grid& grid = cells.grid;
  const Field& field = contours.field;
  double last_y = -1e9;
  const Eigen::Index c = grid.columns / 2;
  for (Eigen::Index r = 1; r < grid.rows; ++r) {
    for (const double level : contours.levels) {
      if ((field(r - 1, c) < level) == (field(r, c) < level) || std::isnan(field(r, c)) || std::isnan(field(r - 1, c)))
        continue;
      const CanvasPoint at = cells.view.at(grid.x_mm(r), 0.0);
      constexpr double room = 24.0;
      if (at.y - last_y < room) continue;
      last_y = at.y;
      canvas.label({at.x, at.y + 4.0}, phrase(signed_small_number(um_from_mm(level)), speech), 12.0);
    }
  }
}

}  // namespace

std::string table_png(const Result& result, const Speech& speech) {
  constexpr int width = 860, height = 1330;
  Canvas canvas = Canvas::png(width, height);
  const Grid& grid = result.map.grid;
  const TableForm& table = *result.table;
  const double length = result.outline.length_mm, half = result.outline.half_width_mm(0.0);
  const Message title{"picture.table", {{"verdict", part(table_verdict(table))}, {"kind", part(title_of(result))}}};
  double y = canvas.paragraph({30, 40}, sentence(title, speech), {.size = 21.0, .bold = true}, width - 60.0);
  y = canvas.paragraph({30, y + 2}, sentence(table_sentence(table), speech), {15.0}, width - 60.0);
  const double top = std::max(y + 30.0, 150.0);
  const ReedView view{70.0 + 15.0 * half, top, (height - top - 80.0) / length};
  const Field shape = smoothed(result);
  const double limit_um = nice_limit_um(shape);
  canvas.polygon(rim_of(result.outline, view, length), kMissing);
  const GridView cells{grid, view, length};
  draw_cells(canvas, cells, [&](Eigen::Index r, Eigen::Index c) -> std::optional<Colour> {
    const auto height_mm = static_cast<double>(result.map.table_mm(r, c));
    if (std::isnan(height_mm)) return std::nullopt;
    return diverging_colour(um_from_mm(height_mm) / limit_um);
  });
  const double step = limit_um <= 20.0 ? 5.0 : limit_um <= 50.0 ? 10.0 : limit_um / 5.0;
  Contours contours{shape, {}};
  for (double um = -limit_um; um <= limit_um; um += step) contours.levels.push_back(mm_from_um(um));
  draw_contours(canvas, cells, contours, {kInk, 0.8});
  label_levels(canvas, cells, contours, speech);
  canvas.polyline(rim_of(result.outline, view, length), {kInk, 1.5}, true);
  draw_axes(canvas, view, {half, length}, speech);
  const double column = view.at(0, half).x + 70.0;
  const auto tick = [&](double um) { return phrase(signed_small_number(um), speech); };
  draw_colour_bar(canvas, {.top_left = {column, top + 30.0},
                           .height = 360.0,
                           .title = phrase(in_small_unit(Message{"picture.gap_under_table"}), speech),
                           .colour_of_share = [](double share) { return diverging_colour(2.0 * share - 1.0); },
                           .ticks = {{0.0, tick(-limit_um)}, {0.5, "0"}, {1.0, tick(limit_um)}}});
  double at = top + 450.0;
  for (const auto& [name, form] : {std::pair<Message, const Measured&>{Message{"picture.bow"}, table.bow_um},
                                   {Message{"picture.cup"}, table.cup_um},
                                   {Message{"picture.twist"}, table.twist_um}}) {
    const Message value{"picture.form",
                        {{"v", signed_um(form.value, 1)}, {"u", um(std::max(0.1, kCoverage95 * form.u), 1)}}};
    canvas.text({column, at}, phrase(name, speech), {15.0, kFaint});
    canvas.text({width - 30.0, at}, phrase(value, speech), {15.0}, Anchor::right);
    at += 24.0;
  }
  const Message lines = Message{"picture.table_lines", {{"unit", um(0.0)}}};
  for (const Message& note : {Message{"picture.table_colours"}, lines})
    at = canvas.paragraph({column, at + 8.0}, phrase(note, speech), {12.5}, width - column - 14.0);
  return std::move(canvas).finish();
}

}  // namespace canewise
