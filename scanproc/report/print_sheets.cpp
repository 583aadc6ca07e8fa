#include "scanproc/report/print_sheets.h"

#include <algorithm>
#include <cmath>

#include "scanproc/core/units.h"
#include "scanproc/pipeline/headline.h"
#include "scanproc/report/cautions_box.h"
#include "scanproc/report/reed_card.h"
#include "scanproc/report/reed_drawing.h"
#include "scanproc/scrape/scrape_region.h"

namespace canewise {
namespace {

constexpr double kPageWidth_mm = 210.0, kPageHeight_mm = 297.0, kEdge_mm = 15.0;
constexpr double kText_mm = 3.6;

/// Sides of the vamp against each other, with the plan's places.
void draw_sides(Canvas& canvas, const Result& result, const ReedView& view) {
  const double shown_mm = result.assessment.cut.vamp_length_mm.value + 1.0;
  constexpr double limit_um = 100.0;  // As on the box's picture.
  const auto rim = rim_of(result.outline, view, shown_mm);
  canvas.polygon(rim, kMissing);
  const Grid& grid = result.map.grid;
  draw_cells(canvas, {grid, view, shown_mm}, [&](Eigen::Index r, Eigen::Index c) -> std::optional<Colour> {
    if (!result.map.measured(r, c) || !result.map.measured(r, grid.mirrored(c))) return std::nullopt;
    return diverging_colour(um_from_mm(static_cast<double>(result.map.thickness_mm(r, c)) -
                                       static_cast<double>(result.map.thickness_mm(r, grid.mirrored(c)))) /
                            limit_um);
  });
  for (const ScrapeStep& step : result.plan.steps) {
    std::vector<CanvasPoint> polygon;
    for (const PlanPoint& p : on_reed(step.polygon, result.outline)) polygon.push_back(view.at(p.x_mm, p.y_mm));
    canvas.polyline(polygon, {kInk, 0.6}, true);
  }
  canvas.polyline(rim, {kInk, 0.3}, true);
}

}  // namespace

std::string labels_pdf(const BoxRecord& box, const std::vector<ReedRecord>& reeds, const Speech& speech) {
  constexpr std::size_t across = 3, down = 8;
  constexpr double width = 63.0, height = 33.0, left = 10.5, top = 16.5;
  Canvas canvas = Canvas::pdf(kPageWidth_mm, kPageHeight_mm);
  for (std::size_t k = 0; k < reeds.size(); ++k) {
    const std::size_t place = k % (across * down), line_of_place = place / across;
    if (k > 0 && place == 0) canvas.next_page();
    const CanvasPoint corner{left + width * static_cast<double>(place % across),
                             top + height * static_cast<double>(line_of_place)};
    canvas.polyline(
        {corner, {corner.x + width, corner.y}, {corner.x + width, corner.y + height}, {corner.x, corner.y + height}},
        {kFaint, 0.15}, true);
    // Long names shrink, so that they stay on their label.
    constexpr double largest = 9.0;
    const double size = std::min(largest, largest * (width - 8.0) / canvas.text_width(reeds[k].label, largest, true));
    canvas.text({corner.x + 4.0, corner.y + 13.0}, reeds[k].label, {.size = size, .bold = true});
    const auto is_there = [](const std::string& name) { return word(name.empty() ? "no" : "yes"); };
    const std::string& player = reeds[k].player.empty() ? box.player : reeds[k].player;
    const Message line{"print.label",
                       {{"box", text(box.name)},
                        {"has_strength", is_there(box.strength)},
                        {"strength", text(box.strength)},
                        {"has_player", is_there(player)},
                        {"player", text(player)}}};
    canvas.paragraph({corner.x + 4.0, corner.y + 20.0}, phrase(line, speech), {kText_mm}, width - 8.0);
  }
  return std::move(canvas).finish();
}

std::string reed_card_pdf(const ReedRecord& reed, const Result& result, const std::vector<TrialRecord>& trials,
                          const Speech& speech) {
  Canvas canvas = Canvas::pdf(kPageWidth_mm, kPageHeight_mm, result.measured_at);
  const double width = kPageWidth_mm - 2.0 * kEdge_mm;
  double y = canvas.paragraph({kEdge_mm, kEdge_mm + 6.0}, phrase(what_reed_is(reed), speech),
                              {.size = 6.0, .bold = true}, width);
  y = canvas.paragraph({kEdge_mm, y + 1.0}, sentences(result.headline, speech), {4.4}, width);
  y = canvas.paragraph({kEdge_mm, y}, sentences(result.certainty, speech), {kText_mm, kFaint}, width) + 4.0;
  // Four times as large, beside what is to be done.
  constexpr double scale = 4.0, gap = 8.0;
  const double half = result.outline.half_width_mm(0.0), drawn = 2.0 * scale * half;
  draw_sides(canvas, result, {kEdge_mm + scale * half, y, scale});
  const double column = kEdge_mm + drawn + gap, column_width = kPageWidth_mm - kEdge_mm - column;
  double row = canvas.paragraph({column, y + 3.0}, sentence({"screen.to_do", {{"what", result.plan.sentence}}}, speech),
                                {.size = kText_mm, .bold = true}, column_width);
  if (tells_to_cut(result)) {
    if (result.plan.needs_rolling_test) {
      row = canvas.paragraph({column, row + 1.0},
                             sentences({Message{"report.rolling_first"}, Message{"report.rolling_how"}}, speech),
                             {kText_mm}, column_width);
    }
    for (const MessageId caution : kCautions)
      row = canvas.paragraph({column, row + 0.5}, "– " + sentence(Message(caution), speech), {kText_mm}, column_width);
  }
  std::size_t number = 1;
  for (const ScrapeStep& step : result.plan.steps) {
    const Message what{"screen.step",
                       {{"n", count(number++)},
                        {"where", part(step.where)},
                        {"depth", um(step.depth_um)},
                        {"strokes", count(static_cast<std::size_t>(step.strokes))}}};
    row = canvas.paragraph({column, row + 1.5}, phrase(what, speech) + ". " + sentence(step.stop, speech), {kText_mm},
                           column_width);
  }
  y = std::max(row, y + scale * (result.assessment.cut.vamp_length_mm.value + 1.0)) + 8.0;
  constexpr std::size_t most = 8;
  for (std::size_t k = 0; k < std::min(trials.size(), most); ++k)
    y = canvas.paragraph({kEdge_mm, y}, phrase(trial_message(trials[k]), speech), {kText_mm}, width) + 0.5;
  return std::move(canvas).finish();
}

}  // namespace canewise
