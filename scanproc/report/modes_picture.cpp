#include <algorithm>
#include <cmath>

#include "scanproc/core/budget.h"
#include "scanproc/report/pictures.h"
#include "scanproc/report/reed_drawing.h"

namespace canewise {

std::string modes_png(const Result& result, const Speech& speech) {
  const Mechanics& m = result.mechanics;
  constexpr double panel_width = 210.0, height = 640.0;
  const auto panels = static_cast<double>(m.modes.size());
  Canvas canvas = Canvas::png(static_cast<int>(panel_width * std::max(1.0, panels)), static_cast<int>(height));
  canvas.paragraph({24, 34}, phrase(Message{"picture.modes"}, speech), {.size = 19.0, .bold = true},
                   panel_width * panels - 48.0);
  const double shown_mm = m.shape_step_mm * (m.modes.empty() ? 1.0 : static_cast<double>(m.modes.front().shape.rows()));
  const double top = 130.0, scale = (height - top - 70.0) / shown_mm;
  for (std::size_t k = 0; k < m.modes.size(); ++k) {
    const ReedMode& mode = m.modes[k];
    const double left = panel_width * static_cast<double>(k);
    const double u95 = kCoverage95 * std::hypot(mode.frequency_hz.u_scan, mode.frequency_hz.u_cane);
    const Message title{"picture.mode",
                        {{"n", count(k + 1)},
                         {"kind", word(mode.kind)},
                         {"frequency", number(mode.frequency_hz.value)},
                         {"u", number(u95)}}};
    canvas.paragraph({left + 24, 74}, phrase(title, speech), {.size = 14.0, .bold = true}, panel_width - 36.0);
    const ReedView view{left + 0.5 * panel_width, top, scale};
    draw_cells(canvas, {result.map.grid, view, shown_mm}, [&](Eigen::Index r, Eigen::Index c) -> std::optional<Colour> {
      const double value = shape_at(m, mode.shape, result.map.grid.x_mm(r), result.map.grid.y_mm(c));
      if (!result.map.measured(r, c) || std::isnan(value)) return std::nullopt;
      return diverging_colour(value);
    });
    // Where it stands still.
    Field shape(result.map.grid.rows, result.map.grid.columns);
    for (Eigen::Index c = 0; c < shape.cols(); ++c) {
      for (Eigen::Index r = 0; r < shape.rows(); ++r) {
        shape(r, c) =
            result.map.measured(r, c) && result.map.grid.x_mm(r) < 0.8 * shown_mm
                ? static_cast<float>(shape_at(m, mode.shape, result.map.grid.x_mm(r), result.map.grid.y_mm(c)))
                : std::numeric_limits<float>::quiet_NaN();
      }
    }
    draw_contours(canvas, {result.map.grid, view, 0.8 * shown_mm}, {shape, {0.0}}, {kInk, 1.2});
    canvas.polyline(rim_of(result.outline, view, shown_mm), {kInk, 1.2}, true);
  }
  canvas.paragraph({24, height - 46.0}, phrase(Message{"picture.modes_key"}, speech), {13.0, kFaint},
                   panel_width * panels - 48.0);
  return std::move(canvas).finish();
}

}  // namespace canewise
