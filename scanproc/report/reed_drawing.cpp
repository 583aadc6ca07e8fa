#include "scanproc/report/reed_drawing.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace canewise {

std::vector<CanvasPoint> rim_of(const Outline& outline, const ReedView& view, double to_mm) {
  std::vector<CanvasPoint> rim;
  constexpr int tip_points = 61;
  const double half = outline.half_width_mm(0.0);
  for (int k = 0; k < tip_points; ++k) {
    const double y = half * (2.0 * k / (tip_points - 1) - 1.0);
    rim.push_back(view.at(outline.tip_edge_at(y), y));
  }
  rim.push_back(view.at(to_mm, outline.right.at(to_mm)));
  rim.push_back(view.at(to_mm, outline.left.at(to_mm)));
  return rim;
}

void draw_cells(Canvas& canvas, const GridView& cells,
                const std::function<std::optional<Colour>(Eigen::Index, Eigen::Index)>& colour_of) {
  const auto& [grid, view, to_mm] = cells;
  const double size = grid.cell_mm * view.scale;
  for (Eigen::Index r = 0; r < grid.rows && grid.x_mm(r) < to_mm; ++r) {
    for (Eigen::Index c = 0; c < grid.columns; ++c) {
      const auto colour = colour_of(r, c);
      if (!colour) continue;
      const CanvasPoint corner = view.at(grid.x_mm(r) - 0.5 * grid.cell_mm, grid.y_mm(c) - 0.5 * grid.cell_mm);
      // Whole pixels, overlapping by one, so that no seams show.
      canvas.rectangle({{std::floor(corner.x), std::floor(corner.y)}, std::ceil(size) + 1.0, std::ceil(size) + 1.0},
                       *colour);
    }
  }
}

double shape_at(const Mechanics& mechanics, const Eigen::ArrayXXd& shape, double x_mm, double y_mm) {
  const auto last_row = static_cast<double>(shape.rows() - 1), last_column = static_cast<double>(shape.cols() - 1);
  const double from_row = x_mm / mechanics.shape_step_mm - 0.5,
               from_column = (y_mm - mechanics.shape_first_y_mm) / mechanics.shape_step_mm;
  if (from_row < -1.0 || from_row > last_row + 1.0 || from_column < -1.0 || from_column > last_column + 1.0)
    return std::nan("");
  const double row = std::clamp(from_row, 0.0, last_row), column = std::clamp(from_column, 0.0, last_column);
  const auto r = std::min(static_cast<Eigen::Index>(row), shape.rows() - 2);
  const auto c = std::min(static_cast<Eigen::Index>(column), shape.cols() - 2);
  const double a = row - static_cast<double>(r), b = column - static_cast<double>(c);
  // Beside the rim what is known of the four corners stands for all.
  double sum = 0.0, weight = 0.0;
  for (Eigen::Index i = 0; i < 2; ++i) {
    for (Eigen::Index j = 0; j < 2; ++j) {
      const double value = shape(r + i, c + j), w = (i == 0 ? 1.0 - a : a) * (j == 0 ? 1.0 - b : b);
      if (std::isnan(value)) continue;
      sum += w * value;
      weight += w;
    }
  }
  constexpr double enough = 0.2;
  return weight > enough ? sum / weight : std::nan("");
}

void draw_contours(Canvas& canvas, const GridView& cells, const Contours& contours, const Stroke& stroke) {
  const auto& [grid, view, to_mm] = cells;
  const Field& field = contours.field;
  for (const double level : contours.levels) {
    for (Eigen::Index r = 0; r + 1 < grid.rows && grid.x_mm(r + 1) < to_mm; ++r) {
      for (Eigen::Index c = 0; c + 1 < grid.columns; ++c) {
        const std::array<std::pair<Eigen::Index, Eigen::Index>, 4> corners{
            {{r, c}, {r, c + 1}, {r + 1, c + 1}, {r + 1, c}}};
        std::vector<CanvasPoint> crossings;
        for (std::size_t k = 0; k < 4; ++k) {
          const auto [r0, c0] = corners.at(k);
          const auto [r1, c1] = corners.at((k + 1) % 4);
          const double a = field(r0, c0) - level, b = field(r1, c1) - level;
          if (std::isnan(a) || std::isnan(b) || (a < 0) == (b < 0)) continue;
          const double share = a / (a - b);
          crossings.push_back(view.at(grid.x_mm(r0) + share * (grid.x_mm(r1) - grid.x_mm(r0)),
                                      grid.y_mm(c0) + share * (grid.y_mm(c1) - grid.y_mm(c0))));
        }
        for (std::size_t k = 0; k + 1 < crossings.size(); k += 2) canvas.line(crossings[k], crossings[k + 1], stroke);
      }
    }
  }
}

void draw_zone_lines(Canvas& canvas, const Result& result, const ReedView& view, const Stroke& stroke) {
  const Outline& outline = result.outline;
  const double vamp = result.assessment.cut.vamp_length_mm.value;
  for (std::size_t k = 1; k < ZoneLimits::t.size(); ++k) {
    const double x = ZoneLimits::t.at(k) * vamp;
    canvas.line(view.at(x, outline.left.at(x)), view.at(x, outline.right.at(x)), stroke);
  }
  constexpr int points = 40;
  for (const double e : {-ZoneLimits::e[2], -ZoneLimits::e[1], ZoneLimits::e[1], ZoneLimits::e[2]}) {
    std::vector<CanvasPoint> line;
    const double start = outline.tip_edge_at(e * outline.half_width_mm(1.0));
    for (int k = 0; k <= points; ++k) {
      const double x = start + (vamp - start) * k / points;
      line.push_back(view.at(x, e * outline.half_width_mm(x)));
    }
    canvas.polyline(line, stroke);
  }
}

void draw_axes(Canvas& canvas, const ReedView& view, const ReedAxes& axes, const Speech& speech) {
  const auto [half_width_mm, to_mm, text_size] = axes;
  const double gap_mm = 1.2;
  const double left = -half_width_mm - gap_mm;
  canvas.line(view.at(0, left), view.at(to_mm, left), {kInk, 1.2});
  for (int x = 0; x <= static_cast<int>(to_mm); ++x) {
    const double tick = x % 10 == 0 ? 0.7 : x % 5 == 0 ? 0.5 : 0.25;
    canvas.line(view.at(x, left), view.at(x, left - tick), {kInk, 1.0});
    if (x % 5 == 0) {
      const CanvasPoint at = view.at(x, left - 1.0);
      canvas.text({at.x, at.y + 0.35 * text_size}, fmt::format("{}", x), {text_size}, Anchor::right);
    }
  }
  const double bottom = to_mm + gap_mm;
  canvas.line(view.at(bottom, -half_width_mm), view.at(bottom, half_width_mm), {kInk, 1.2});
  for (int y = -static_cast<int>(half_width_mm); y <= static_cast<int>(half_width_mm); ++y) {
    canvas.line(view.at(bottom, y), view.at(bottom + (y % 5 == 0 ? 0.5 : 0.25), y), {kInk, 1.0});
    if (y % 5 == 0) {
      const CanvasPoint at = view.at(bottom + 0.7, y);
      canvas.text({at.x, at.y + text_size}, fmt::format("{}", y), {text_size}, Anchor::middle);
    }
  }
  const CanvasPoint below = view.at(bottom + 0.7, 0);
  canvas.text({below.x, below.y + 2.4 * text_size}, "mm", {text_size}, Anchor::middle);
  const CanvasPoint l = view.at(0, -half_width_mm), r = view.at(0, half_width_mm);
  const std::string left_words = phrase(Message{"picture.left"}, speech);
  const std::string right_words = phrase(Message{"picture.right"}, speech);
  canvas.text({l.x, l.y - 0.8 * text_size}, left_words, {.size = text_size, .bold = true});
  canvas.text({r.x, r.y - 0.8 * text_size}, right_words, {.size = text_size, .bold = true}, Anchor::right);
}

void draw_colour_bar(Canvas& canvas, const ColourBar& bar) {
  const auto& [top_left, height, title, colour_of_share, ticks] = bar;
  constexpr double width = 24.0;
  constexpr int bands = 128;
  for (int k = 0; k < bands; ++k) {
    const double share = 1.0 - (k + 0.5) / bands;
    canvas.rectangle({{top_left.x, top_left.y + height * k / bands}, width, height / bands + 1.0},
                     colour_of_share(share));
  }
  canvas.polyline({{top_left.x, top_left.y},
                   {top_left.x + width, top_left.y},
                   {top_left.x + width, top_left.y + height},
                   {top_left.x, top_left.y + height}},
                  {kInk, 1.0}, true);
  for (const auto& [share, words] : ticks) {
    const double y = top_left.y + height * (1.0 - share);
    canvas.line({top_left.x + width, y}, {top_left.x + width + 6.0, y}, {kInk, 1.0});
    canvas.text({top_left.x + width + 10.0, y + 5.0}, words, {14.0});
  }
  canvas.text({top_left.x, top_left.y - 10.0}, title, {14.0});
}

}  // namespace canewise
