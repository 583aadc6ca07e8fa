#include <algorithm>
#include <cmath>

#include "scanproc/core/units.h"
#include "scanproc/report/bend_test_outputs.h"
#include "scanproc/report/numbers.h"
#include "scanproc/report/reed_drawing.h"

namespace canewise {
namespace {

constexpr int kWidth_px = 1100;
constexpr double kScale = 13.0, kPanel_px = 240.0, kFirst_px = 70.0;

/// The next round number.
double round_up(double um) {
  for (const double nice :
       {1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 150.0, 200.0, 300.0, 400.0, 600.0, 800.0, 1000.0, 1200.0, 1500.0})
    if (um <= nice) return nice;
  return 2000.0;
}

struct Limits {
  double down_um = 1.0, left_um = 1.0;
};

Limits limits_of(const BendTest& test) {
  double down = 0.0, left = 0.0;
  for (const BentBy& weight : test.weights) {
    left = std::max(left, 3.0 * um_from_mm(weight.rms_left_mm));
    for (Eigen::Index k = 0; k < weight.computed_mm.size(); ++k)
      if (std::isfinite(weight.computed_mm.data()[k]))
        down = std::max(down, um_from_mm(static_cast<double>(weight.computed_mm.data()[k])));
  }
  // What is left of a hundredth of the way is nothing to look at.
  return {round_up(down), round_up(std::max(left, 0.01 * down))};
}

void draw_weight(Canvas& canvas, const BendTest& test, const BentBy& weight, const Outline& outline, double top,
                 const Limits& limits) {
  const double half = outline.half_width_mm(0.0);
  for (int panel = 0; panel < 3; ++panel) {
    const ReedView view{kFirst_px + kScale * half + panel * kPanel_px, top, kScale};
    canvas.polygon(rim_of(outline, view, test.edge_mm), kMissing);
    draw_cells(canvas, {test.grid, view, test.edge_mm}, [&](Eigen::Index r, Eigen::Index c) -> std::optional<Colour> {
      const double measured = um_from_mm(static_cast<double>(weight.measured_mm(r, c))),
                   computed = um_from_mm(static_cast<double>(weight.computed_mm(r, c)));
      const double shown = panel == 0 ? measured : panel == 1 ? computed : measured - computed;
      // Beside the thread nothing of the reed is seen.
      constexpr double beside_mm = 1.0;
      if (!std::isfinite(shown) || (panel == 2 && std::abs(test.grid.x_mm(r) - weight.at_mm) < beside_mm))
        return std::nullopt;
      return panel == 2 ? diverging_colour(shown / limits.left_um)
                        : sequential_colour(std::clamp(shown / limits.down_um, 0.0, 1.0));
    });
    const double left_end = weight.side == LoadSide::right ? 0.6 * half : -half,
                 right_end = weight.side == LoadSide::left ? -0.6 * half : half;
    canvas.line(view.at(weight.at_mm, left_end), view.at(weight.at_mm, right_end), {kInk, 2.5});
    canvas.polyline(rim_of(outline, view, test.edge_mm), {kInk, 1.5}, true);
  }
}

}  // namespace

std::string deflection_png(const BendTest& test, const Outline& outline, const Speech& speech) {
  const double row = kScale * test.edge_mm + 74.0;
  const auto height = static_cast<int>(150.0 + row * static_cast<double>(test.weights.size()));
  Canvas canvas = Canvas::png(kWidth_px, height);
  double y = canvas.paragraph({30, 30}, phrase(Message{"bendtest.picture_key"}, speech), {15.0}, kWidth_px - 60.0);
  const Limits limits = limits_of(test);
  for (const BentBy& weight : test.weights) {
    canvas.text(
        {30, y + 26.0},
        phrase({"bendtest.weight_at",
                {{"mass", number(test.mass_g)}, {"side", word(name_of(weight.side))}, {"at", mm(weight.at_mm, 1)}}},
               speech),
        {.size = 16.0, .bold = true});
    int panel = 0;
    for (const Message& title : {Message{"bendtest.measured"}, Message{"bendtest.computed"}, Message{"bendtest.left"}})
      canvas.text({kFirst_px + kScale * outline.half_width_mm(0.0) + kPanel_px * panel++, y + 50.0},
                  phrase(title, speech), {14.0}, Anchor::middle);
    draw_weight(canvas, test, weight, outline, y + 62.0, limits);
    y += row;
  }
  const auto tick = [&](double um) { return phrase(signed_small_number(um), speech); };
  const double column = kFirst_px + 3.0 * kPanel_px + 40.0, bar = kScale * test.edge_mm * 0.36,
               first = y - row * static_cast<double>(test.weights.size()) + 80.0;
  draw_colour_bar(canvas, {.top_left = {column, first},
                           .height = bar,
                           .title = phrase(in_small_unit(Message{"bendtest.down"}), speech),
                           .colour_of_share = [](double share) { return sequential_colour(share); },
                           .ticks = {{0.0, "0"}, {0.5, tick(0.5 * limits.down_um)}, {1.0, tick(limits.down_um)}}});
  draw_colour_bar(canvas, {.top_left = {column, first + bar + 60.0},
                           .height = bar,
                           .title = phrase(in_small_unit(Message{"bendtest.left"}), speech),
                           .colour_of_share = [](double share) { return diverging_colour(2.0 * share - 1.0); },
                           .ticks = {{0.0, tick(-limits.left_um)}, {0.5, "0"}, {1.0, tick(limits.left_um)}}});
  return std::move(canvas).finish();
}

}  // namespace canewise
