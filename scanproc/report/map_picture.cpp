#include <cmath>

#include "scanproc/core/budget.h"
#include "scanproc/pipeline/headline.h"
#include "scanproc/report/numbers.h"
#include "scanproc/report/pictures.h"
#include "scanproc/report/reed_drawing.h"

namespace canewise {
namespace {

Message with_u95(const Measured& m, int digits) {
  if (std::isnan(m.value)) return Message{"report.not_seen"};
  return Message{"picture.measured", {{"v", mm(m.value, digits)}, {"u", mm(kCoverage95 * m.u, digits)}}};
}

/// A column of words below `top_left`.
struct Column {
  CanvasPoint top_left;
  double width;
};

void draw_facts(Canvas& canvas, const Result& result, const Column& column, const Speech& speech) {
  const CutFeatures& cut = result.assessment.cut;
  constexpr double size = 15.0;
  const std::vector<std::pair<Message, Message>> facts{
      {Message{"picture.length"}, with_u95(cut.length_mm, 2)},
      {Message{"picture.width_at_tip"}, with_u95(cut.tip_width_mm, 2)},
      {Message{"picture.vamp"}, with_u95(cut.vamp_length_mm, 2)},
      {Message{"report.stock_height"}, with_u95(cut.stock_height_mm, 3)},
      {Message{"picture.tip"}, with_u95(cut.tip_thickness_mm, 3)},
      {Message{"report.heart"}, with_u95(cut.heart_thickness_mm, 3)},
      {Message{"report.rails_middle"}, with_u95(cut.rail_thickness_mm, 3)},
  };
  const double x = column.top_left.x, width = column.width;
  double y = column.top_left.y;
  for (const auto& [name, value] : facts) {
    canvas.text({x, y}, phrase(name, speech), {size, kFaint});
    canvas.text({x + width, y}, phrase(value, speech), {size}, Anchor::right);
    y += 24.0;
  }
  canvas.paragraph({x, y + 8.0}, phrase(Message{"picture.plus_minus"}, speech), {12.0, kFaint}, width);
}

}  // namespace

std::string map_png(const Result& result, const Speech& speech) {
  constexpr int width = 860, height = 1330;
  Canvas canvas = Canvas::png(width, height);
  const Grid& grid = result.map.grid;
  const double length = result.outline.length_mm;
  const double half = result.outline.half_width_mm(0.0);
  const Message title{"picture.thickness", {{"kind", part(title_of(result))}}};
  double y = canvas.paragraph({30, 40}, sentence(title, speech), {.size = 21.0, .bold = true}, width - 60.0);
  y = canvas.paragraph({30, y + 2}, sentences(result.headline, speech), {15.0}, width - 60.0);
  const double top = std::max(y + 30.0, 150.0);
  const ReedView view{70.0 + 15.0 * half, top, (height - top - 80.0) / length};

  double thickest = 0.0;
  for (Eigen::Index i = 0; i < result.map.thickness_mm.size(); ++i) {
    if (!std::isnan(result.map.thickness_mm(i))) thickest = std::max<double>(thickest, result.map.thickness_mm(i));
  }
  const double scale_top = std::max(1.0, std::ceil(2.0 * thickest) / 2.0);
  // Thin cane is where a reed lives: the scale spends as much colour on the first quarter as on the rest.
  const auto share_of = [&](double mm) { return std::sqrt(std::max(0.0, mm) / scale_top); };
  canvas.polygon(rim_of(result.outline, view, length), kPaper);
  draw_cells(canvas, {grid, view, length}, [&](Eigen::Index r, Eigen::Index c) -> std::optional<Colour> {
    if (!result.map.measured(r, c)) return std::nullopt;
    return sequential_colour(share_of(result.map.thickness_mm(r, c)));
  });
  draw_zone_lines(canvas, result, view, {kPaper, 0.8});
  const std::vector<double> levels{0.15, 0.2, 0.3, 0.5, 0.75, 1.0, 1.5, 2.0, 2.5};
  draw_contours(canvas, {grid, view, length}, {result.map.thickness_mm, levels}, {kInk, 1.0});
  double last_label_y = -1e9;
  for (const double level : levels) {  // Labels where the line crosses the middle, as far as they have room.
    for (Eigen::Index r = 1; r < grid.rows; ++r) {
      const Eigen::Index c = grid.columns / 2;
      if (!(result.map.thickness_mm(r - 1, c) < level && result.map.thickness_mm(r, c) >= level)) continue;
      const CanvasPoint at = view.at(grid.x_mm(r), 0.0);
      constexpr double room = 18.0;
      if (at.y - last_label_y < room) break;
      last_label_y = at.y;
      canvas.label({at.x, at.y + 4.0}, short_number(level, speech), 11.0);
      break;
    }
  }
  canvas.polyline(rim_of(result.outline, view, length), {kInk, 1.5}, true);
  draw_axes(canvas, view, {half, length}, speech);

  std::vector<std::pair<double, std::string>> ticks;
  for (const double level : {0.0, 0.1, 0.2, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0}) {
    if (level <= scale_top) ticks.emplace_back(share_of(level), short_number(level, speech));
  }
  const double column = view.at(0, half).x + 70.0;
  draw_colour_bar(canvas, {.top_left = {column, top + 30.0},
                           .height = 420.0,
                           .title = phrase(Message{"picture.thickness_mm"}, speech),
                           .colour_of_share = sequential_colour,
                           .ticks = ticks});
  canvas.text({column, top + 488.0}, phrase(Message{"picture.white"}, speech), {14.0});
  draw_facts(canvas, result, {{column, top + 550.0}, width - column - 30.0}, speech);
  return std::move(canvas).finish();
}

}  // namespace canewise
