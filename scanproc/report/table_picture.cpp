#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "scanproc/core/budget.h"
#include "scanproc/core/units.h"
#include "scanproc/pipeline/headline.h"
#include "scanproc/report/pictures.h"
#include "scanproc/report/reed_drawing.h"
#include "scanproc/report/table_words.h"

namespace canewise {
namespace {

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

}  // namespace

std::string table_png(const Result& result) {
  constexpr int width = 860, height = 1330;
  Canvas canvas = Canvas::png(width, height);
  const Grid& grid = result.map.grid;
  const TableForm& table = *result.table;
  const double length = result.outline.length_mm, half = result.outline.half_width_mm(0.0);
  double y = canvas.paragraph({30, 40}, table_verdict(table) + ": " + kind_of(result), 21.0, width - 60.0, kInk, true);
  y = canvas.paragraph({30, y + 2}, table_sentence(table), 15.0, width - 60.0);
  const double top = std::max(y + 30.0, 150.0);
  const ReedView view{70.0 + 15.0 * half, top, (height - top - 80.0) / length};
  const double limit_um = nice_limit_um(result.map.table_mm);
  canvas.polygon(rim_of(result.outline, view, length), kMissing);
  draw_cells(canvas, grid, view, length, [&](Eigen::Index r, Eigen::Index c) -> std::optional<Colour> {
    const auto height_mm = static_cast<double>(result.map.table_mm(r, c));
    if (std::isnan(height_mm)) return std::nullopt;
    return diverging_colour(um_from_mm(height_mm) / limit_um);
  });
  const double step = limit_um <= 20.0 ? 5.0 : limit_um <= 50.0 ? 10.0 : limit_um / 5.0;
  std::vector<double> levels;
  for (double um = -limit_um; um <= limit_um; um += step) levels.push_back(mm_from_um(um));
  draw_contours(canvas, grid, result.map.table_mm, view, levels, length, kInk, 0.8);
  canvas.polyline(rim_of(result.outline, view, length), kInk, 1.5, true);
  draw_axes(canvas, view, half, length, 13.0);
  const double column = view.at(0, half).x + 70.0;
  draw_colour_bar(canvas, {column, top + 30.0}, 360.0, "gap under the table, µm",
                  [](double share) { return diverging_colour(2.0 * share - 1.0); },
                  {{0.0, fmt::format("-{:.0f}", limit_um)}, {0.5, "0"}, {1.0, fmt::format("+{:.0f}", limit_um)}});
  double at = top + 450.0;
  for (const auto& [name, form] : {std::pair<const char*, const Measured&>{"bow", table.bow_um},
                                   {"cup", table.cup_um},
                                   {"twist", table.twist_um}}) {
    canvas.text({column, at}, name, 15.0, Anchor::left, kFaint);
    canvas.text({width - 30.0, at}, fmt::format("{:+.1f} ±{:.1f} µm", form.value, kCoverage95 * form.u), 15.0,
                Anchor::right);
    at += 24.0;
  }
  for (const char* note :
       {"Seen from the vamp side, tip up. Orange: the table lies higher than its own plane, so there is "
        "a gap under it on a flat plate. Blue: it stands out.",
        "Lines of equal height. Grey: not measured. The tip in front curls by itself and is not "
        "counted."}) {
    at = canvas.paragraph({column, at + 8.0}, note, 12.5, width - column - 14.0, kInk);
  }
  return std::move(canvas).finish();
}

}  // namespace canewise
