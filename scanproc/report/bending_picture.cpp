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

constexpr int kBendingWidth = 1260, kBendingHeight = 860;
constexpr double kPanelWidth = kBendingWidth / 3.0;

/// Where the three panels stand.
struct BendingLayout {
  double title_y, top, scale;
  double vamp_mm, half_mm;
  [[nodiscard]] ReedView view(int panel) const { return {kPanelWidth * (panel + 0.42), top, scale}; }
  [[nodiscard]] CanvasPoint bar(int panel) const { return {view(panel).origin_x + scale * half_mm + 24.0, top + 20.0}; }
};

constexpr double kBarHeight = 240.0;

BendingLayout bending_layout_of(const Result& result, double below_heading) {
  const double title_y = std::max(96.0, below_heading + 4.0), top = title_y + 54.0;
  const double vamp = result.assessment.cut.vamp_length_mm.value;
  return {title_y, top, (kBendingHeight - top - 110.0) / vamp, vamp, result.outline.half_width_mm(0.0)};
}

void draw_title(Canvas& canvas, const BendingLayout& layout, int panel, const std::string& words) {
  canvas.paragraph({kPanelWidth * panel + 30, layout.title_y}, words, {.size = 15.0, .bold = true}, kPanelWidth - 60.0);
}

void draw_note(Canvas& canvas, int panel, const std::string& words) {
  canvas.paragraph({kPanelWidth * panel + 30, kBendingHeight - 62.0}, words, {13.0, kFaint}, kPanelWidth - 60.0);
}

/// Half closed by the lip: deflection as colour.
void draw_bent_reed(Canvas& canvas, const Result& result, const BendingLayout& layout, const Speech& speech) {
  constexpr int panel = 0;
  const Mechanics& m = result.mechanics;
  const Grid& grid = result.map.grid;
  draw_title(canvas, layout, panel, phrase({"picture.half_bent"}, speech));
  const ReedView bent = layout.view(panel);
  const double deepest = m.bent_mm.isNaN().select(0.0, m.bent_mm).maxCoeff();
  draw_cells(canvas, {grid, bent, layout.vamp_mm}, [&](Eigen::Index r, Eigen::Index c) -> std::optional<Colour> {
    const double value = shape_at(m, m.bent_mm, grid.x_mm(r), grid.y_mm(c));
    if (!result.map.measured(r, c) || std::isnan(value)) return std::nullopt;
    return sequential_colour(1.0 - value / deepest);
  });
  canvas.polyline(rim_of(result.outline, bent, layout.vamp_mm), {kInk, 1.2}, true);
  draw_colour_bar(canvas, {.top_left = layout.bar(panel),
                           .height = kBarHeight,
                           .title = speech.small_unit == SmallUnit::thou ? "thou" : "µm",
                           .colour_of_share = [](double share) { return sequential_colour(1.0 - share); },
                           .ticks = {{0.0, "0"},
                                     {0.5, phrase(small_number(um_from_mm(0.5 * deepest)), speech)},
                                     {1.0, phrase(small_number(um_from_mm(deepest)), speech)}}});
}

/// What 10 um off a square millimetre does to a figure.
struct SensitivityPanel {
  BendingLayout layout;
  int panel;  ///< Which of the layout's.
  BendingFigure figure;
  double percent;  ///< For one of the figure's own unit.
  Message title, key;
};

void draw_sensitivity(Canvas& canvas, const Result& result, const SensitivityPanel& shown, const Speech& speech) {
  const BendingLayout& layout = shown.layout;
  draw_title(canvas, layout, shown.panel, phrase(shown.title, speech));
  const ReedView view = layout.view(shown.panel);
  const Field& field = result.mechanics.sensitivity.at(index_of(shown.figure));
  const double most = scale_of(field);
  draw_cells(canvas, {result.map.grid, view, layout.vamp_mm},
             [&](Eigen::Index r, Eigen::Index c) -> std::optional<Colour> {
               if (std::isnan(field(r, c))) return std::nullopt;
               return diverging_colour(std::clamp(static_cast<double>(field(r, c)) / most, -1.0, 1.0));
             });
  canvas.polyline(rim_of(result.outline, view, layout.vamp_mm), {kInk, 1.2}, true);
  draw_zone_lines(canvas, result, view, {kFaint, 0.6});
  const auto tick = [&](double share) { return number_text(shown.percent * most * share, 3, true, speech); };
  draw_colour_bar(canvas, {.top_left = layout.bar(shown.panel),
                           .height = kBarHeight,
                           .title = "%",
                           .colour_of_share = [](double share) { return diverging_colour(2.0 * share - 1.0); },
                           .ticks = {{0.0, tick(-1.0)}, {0.5, "0"}, {1.0, tick(1.0)}}});
  draw_note(canvas, shown.panel, phrase(shown.key, speech));
}

}  // namespace

std::string bending_png(const Result& result, const Speech& speech) {
  Canvas canvas = Canvas::png(kBendingWidth, kBendingHeight);
  const Mechanics& m = result.mechanics;
  const Message heading{"picture.bending", {{"what", m.sentence}}};
  const double below_heading =
      canvas.paragraph({30, 38}, sentence(heading, speech), {.size = 20.0, .bold = true}, kBendingWidth - 60.0);
  const BendingLayout layout = bending_layout_of(result, below_heading);
  draw_bent_reed(canvas, result, layout, speech);
  const double lip = m.figure(BendingFigure::stiffness_lip).value;
  constexpr double cut_um = 10.0;
  draw_sensitivity(canvas, result,
                   {.layout = layout,
                    .panel = 1,
                    .figure = BendingFigure::stiffness_lip,
                    .percent = 100.0 / lip,
                    .title = Message{"picture.changes_stiffness", {{"depth", um(cut_um)}}},
                    .key = Message{"picture.changes_stiffness_key"}},
                   speech);
  draw_sensitivity(canvas, result,
                   {.layout = layout,
                    .panel = 2,
                    .figure = BendingFigure::imbalance_tip,
                    .percent = 100.0,
                    .title = Message{"picture.changes_balance"},
                    .key = Message{"picture.changes_balance_key"}},
                   speech);
  draw_note(canvas, 0, phrase(Message{"picture.tip_up"}, speech));
  return std::move(canvas).finish();
}

}  // namespace canewise
