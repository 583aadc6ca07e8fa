#include "scanproc/report/box_picture.h"

#include <algorithm>
#include <cmath>

#include "scanproc/core/units.h"
#include "scanproc/report/numbers.h"
#include "scanproc/report/reed_drawing.h"

namespace canewise {
namespace {

constexpr int kAcross = 5;  ///< Reeds in a row.
constexpr double kReedWidth = 150.0, kReedHeight = 380.0, kTop = 80.0, kLeft = 30.0, kKeyWidth = 220.0;
constexpr double kLimit_um = 100.0;  ///< At the ends of the colours, the same for every box.

void draw_reed(Canvas& canvas, const PicturedReed& reed, CanvasPoint corner, const Speech& speech) {
  const Result& result = reed.result;
  const double shown_mm = result.assessment.cut.vamp_length_mm.value + 1.0;
  constexpr double heading = 44.0;
  const double scale = std::min((kReedHeight - heading - 26.0) / shown_mm,
                                (kReedWidth - 20.0) / (2.0 * result.outline.half_width_mm(0.0)));
  const ReedView view{corner.x + 0.5 * kReedWidth, corner.y + heading, scale};
  canvas.text({view.origin_x, corner.y + 16.0}, reed.label, {.size = 16.0, .bold = true}, Anchor::middle);
  canvas.text({view.origin_x, corner.y + 34.0}, phrase(reed.shelf, speech), {13.0, kInk}, Anchor::middle);
  const auto rim = rim_of(result.outline, view, shown_mm);
  canvas.polygon(rim, kMissing);
  const Grid& grid = result.map.grid;
  draw_cells(canvas, {grid, view, shown_mm}, [&](Eigen::Index r, Eigen::Index c) -> std::optional<Colour> {
    if (!result.map.measured(r, c) || !result.map.measured(r, grid.mirrored(c))) return std::nullopt;
    const double excess_um = um_from_mm(static_cast<double>(result.map.thickness_mm(r, c)) -
                                        static_cast<double>(result.map.thickness_mm(r, grid.mirrored(c))));
    return diverging_colour(excess_um / kLimit_um);
  });
  canvas.polyline(rim, {kInk, 1.0}, true);
}

}  // namespace

std::string box_png(const Message& title, const std::vector<PicturedReed>& reeds, const Speech& speech) {
  const auto rows = static_cast<int>((reeds.size() + kAcross - 1) / kAcross);
  const double width = 2.0 * kLeft + kAcross * kReedWidth + kKeyWidth;
  Canvas canvas = Canvas::png(static_cast<int>(width), static_cast<int>(kTop + std::max(rows, 1) * kReedHeight));
  canvas.paragraph({kLeft, 36.0}, sentence(title, speech), {.size = 20.0, .bold = true}, width - 2.0 * kLeft);
  for (std::size_t k = 0; k < reeds.size(); ++k) {
    const std::size_t down = k / kAcross;
    const auto column = static_cast<double>(k % kAcross), row = static_cast<double>(down);
    draw_reed(canvas, reeds[k], {kLeft + column * kReedWidth, kTop + row * kReedHeight}, speech);
  }
  const auto tick = [&](double share) { return phrase(signed_small_number(share * kLimit_um), speech); };
  draw_colour_bar(canvas,
                  {.top_left = {kLeft + kAcross * kReedWidth + 10.0, kTop + 40.0},
                   .height = 240.0,
                   .title = phrase(in_small_unit(Message{"picture.over_partner"}), speech),
                   .colour_of_share = [](double share) { return diverging_colour(2.0 * share - 1.0); },
                   .ticks = {{0.0, tick(-1.0)}, {0.25, tick(-0.5)}, {0.5, "0"}, {0.75, tick(0.5)}, {1.0, tick(1.0)}}});
  return std::move(canvas).finish();
}

}  // namespace canewise
