#include <algorithm>
#include <cmath>
#include <vector>

#include "scanproc/core/units.h"
#include "scanproc/report/numbers.h"
#include "scanproc/report/pictures.h"
#include "scanproc/report/reed_drawing.h"

namespace canewise {
namespace {

/// The 98th share of the magnitudes, so that single cells at the rim do not set the scale.
double scale_of(const Field& field) {
  std::vector<float> values;
  for (Eigen::Index i = 0; i < field.size(); ++i)
    if (!std::isnan(field.data()[i])) values.push_back(std::abs(field.data()[i]));
  if (values.empty()) return 1.0;
  const auto at = values.begin() + static_cast<std::ptrdiff_t>(0.98 * static_cast<double>(values.size() - 1));
  std::nth_element(values.begin(), at, values.end());
  return std::max(1e-9, static_cast<double>(*at));
}

}  // namespace

std::string bending_png(const Result& result, const Speech& speech) {
  constexpr int width = 1260, height = 860;
  constexpr double panel_width = width / 3.0;
  Canvas canvas = Canvas::png(width, height);
  const Mechanics& m = result.mechanics;
  const Grid& grid = result.map.grid;
  const Message heading{"picture.bending", {{"what", m.sentence}}};
  const double below_heading = canvas.paragraph({30, 38}, sentence(heading, speech), 20.0, width - 60.0, kInk, true);
  const double title_y = std::max(96.0, below_heading + 4.0), top = title_y + 54.0;
  const double vamp = result.assessment.cut.vamp_length_mm.value, half = result.outline.half_width_mm(0.0);
  const double scale = (height - top - 110.0) / vamp;
  const auto view_of = [&](int panel) { return ReedView{panel_width * (panel + 0.42), top, scale}; };
  const auto title = [&](int panel, const Message& words) {
    canvas.paragraph({panel_width * panel + 30, title_y}, phrase(words, speech), 15.0, panel_width - 60.0, kInk, true);
  };

  // Bent under the lip: deflection as colour and lines.
  title(0, in_small_unit(Message{"picture.bent_by", {{"force", number(m.closing.lip_force_n, 1)}}}));
  const ReedView bent = view_of(0);
  const double deepest = m.bent_mm.isNaN().select(0.0, m.bent_mm).maxCoeff();
  draw_cells(canvas, grid, bent, vamp, [&](Eigen::Index r, Eigen::Index c) -> std::optional<Colour> {
    const double value = shape_at(m, m.bent_mm, grid.x_mm(r), grid.y_mm(c));
    if (!result.map.measured(r, c) || std::isnan(value)) return std::nullopt;
    return sequential_colour(1.0 - value / deepest);
  });
  canvas.polyline(rim_of(result.outline, bent, vamp), kInk, 1.2, true);
  draw_colour_bar(canvas, {bent.origin_x + scale * half + 24.0, top + 20.0}, 240.0,
                  speech.small_unit == SmallUnit::thou ? "thou" : "µm",
                  [](double share) { return sequential_colour(1.0 - share); },
                  {{0.0, "0"},
                   {0.5, phrase(small_number(um_from_mm(0.5 * deepest)), speech)},
                   {1.0, phrase(small_number(um_from_mm(deepest)), speech)}});

  // What 10 um off a square millimetre does.
  const auto sensitivity = [&](int panel, BendingFigure figure, const Message& words, double factor,
                               const Message& below) {
    title(panel, words);
    const ReedView view = view_of(panel);
    const Field& field = m.sensitivity.at(index_of(figure));
    const double most = scale_of(field);
    draw_cells(canvas, grid, view, vamp, [&](Eigen::Index r, Eigen::Index c) -> std::optional<Colour> {
      if (std::isnan(field(r, c))) return std::nullopt;
      return diverging_colour(std::clamp(static_cast<double>(field(r, c)) / most, -1.0, 1.0));
    });
    canvas.polyline(rim_of(result.outline, view, vamp), kInk, 1.2, true);
    draw_zone_lines(canvas, result, view, kFaint, 0.6);
    const auto tick = [&](double share) { return number_text(factor * most * share, 3, true, speech); };
    draw_colour_bar(canvas, {view.origin_x + scale * half + 24.0, top + 20.0}, 240.0, "%",
                    [](double share) { return diverging_colour(2.0 * share - 1.0); },
                    {{0.0, tick(-1.0)}, {0.5, "0"}, {1.0, tick(1.0)}});
    canvas.paragraph({panel_width * panel + 30, height - 62.0}, phrase(below, speech), 13.0, panel_width - 60.0,
                     kFaint);
  };
  const double lip = m.figure(BendingFigure::stiffness_lip).value;
  constexpr double cut_um = 10.0;
  sensitivity(1, BendingFigure::stiffness_lip, Message{"picture.changes_stiffness", {{"depth", um(cut_um)}}},
              100.0 / lip, Message{"picture.changes_stiffness_key"});
  sensitivity(2, BendingFigure::imbalance_tip, Message{"picture.changes_balance"}, 100.0,
              Message{"picture.changes_balance_key"});
  canvas.paragraph({30, height - 62.0}, phrase(Message{"picture.tip_up"}, speech), 13.0, panel_width - 60.0, kFaint);
  return std::move(canvas).finish();
}

}  // namespace canewise
