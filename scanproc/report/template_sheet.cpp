#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "scanproc/pipeline/headline.h"
#include "scanproc/report/cautions_box.h"
#include "scanproc/report/pictures.h"
#include "scanproc/report/reed_drawing.h"
#include "scanproc/scrape/scrape_region.h"

namespace canewise {
namespace {

constexpr double kPageWidth = 210.0, kPageHeight = 297.0;

void draw_ruler(Canvas& canvas, double x, double y) {
  canvas.line({x, y}, {x + 50.0, y}, kInk, 0.25);
  for (int mm = 0; mm <= 50; ++mm) {
    canvas.line({x + mm, y}, {x + mm, y - (mm % 10 == 0 ? 3.0 : mm % 5 == 0 ? 2.2 : 1.4)}, kInk, 0.2);
    if (mm % 10 == 0) canvas.text({x + mm, y + 3.6}, fmt::format("{}", mm), 3.0, Anchor::middle);
  }
  canvas.text({x + 56.0, y}, "mm: must measure exactly 50 on paper; print at 100 %, 'actual size'.", 3.0);
}

void draw_plan(Canvas& canvas, const Result& result, const ReedView& view, double to_mm, double line_mm, double text_mm,
               bool with_details) {
  canvas.polyline(rim_of(result.outline, view, to_mm), kInk, line_mm, true);
  const double vamp = result.assessment.cut.vamp_length_mm.value;
  canvas.line(view.at(vamp, result.outline.left.at(vamp)), view.at(vamp, result.outline.right.at(vamp)), kFaint,
              line_mm, true);
  canvas.line(view.at(0, 0), view.at(to_mm, 0), kFaint, 0.7 * line_mm, true);
  // Numbers stand beside the reed, on the step's side, so that they hide nothing: from the tip down, each clear of the
  // one above.
  struct Place {
    const ScrapeStep* step;
    std::size_t number;
    CanvasPoint middle;
  };
  std::vector<Place> places;
  for (const auto& step : result.plan.steps) {
    std::vector<CanvasPoint> polygon;
    Place place{&step, places.size() + 1, {}};
    for (const auto& p : on_reed(step.polygon, result.outline)) {
      polygon.push_back(view.at(p.x_mm, p.y_mm));
      place.middle.x += polygon.back().x / static_cast<double>(step.polygon.size());
      place.middle.y += polygon.back().y / static_cast<double>(step.polygon.size());
    }
    canvas.polygon(polygon, diverging_colour(0.55), 0.55);
    canvas.polyline(polygon, kInk, 1.4 * line_mm, true);
    places.push_back(place);
  }
  std::sort(places.begin(), places.end(), [](const Place& a, const Place& b) { return a.middle.y < b.middle.y; });
  std::array<double, 2> next_y{-1e9, -1e9};
  for (const auto& [step, number, middle] : places) {
    const bool left = step->side == Side::left;
    double& free_y = next_y.at(left ? 0 : 1);
    const CanvasPoint beside = view.at(0.0, (left ? -1.0 : 1.0) * (result.outline.half_width_mm(0) + 1.2));
    const double y = std::max(middle.y, free_y);
    free_y = y + 1.5 * text_mm;
    canvas.line({beside.x, y}, middle, kInk, 0.7 * line_mm);
    std::string words = fmt::format("{}", number);
    if (with_details) words += fmt::format(": {:.0f} µm, {} strokes", step->depth_um, step->strokes);
    canvas.text({beside.x + (left ? -0.8 : 0.8), y + 0.35 * text_mm}, words, text_mm,
                left ? Anchor::right : Anchor::left);
  }
  const CanvasPoint l = view.at(0, -result.outline.half_width_mm(0)), r = view.at(0, result.outline.half_width_mm(0));
  canvas.text({l.x, l.y - 1.5}, "left", 3.0);
  canvas.text({r.x, r.y - 1.5}, "right", 3.0, Anchor::right);
}

}  // namespace

std::string template_pdf(const Result& result) {
  Canvas canvas = Canvas::pdf(kPageWidth, kPageHeight);
  constexpr double margin = 15.0, text_width = kPageWidth - 2 * margin;
  double y = canvas.paragraph({margin, 18}, "Scraping template, 1:1", 6.0, text_width, kInk, true);
  y = canvas.paragraph({margin, y + 1}, result.headline, 3.8, text_width);
  y = canvas.paragraph({margin, y + 1}, result.plan.sentence, 3.8, text_width, kInk, true);
  if (result.plan.needs_rolling_test) {
    y = canvas.paragraph(
        {margin, y + 1},
        "Before step 1 roll the mouthpiece so that the lip damps one side at a time: go on only if the side to be "
        "scraped speaks less freely. If not, take nothing off; repeat scan and test.",
        3.4, text_width);
  }
  const ReedView actual{margin + 12.0, y + 8.0, 1.0};
  draw_plan(canvas, result, actual, result.outline.length_mm, 0.25, 2.6, false);
  double list_y = y + 8.0;
  const double list_x = margin + 32.0, list_width = kPageWidth - margin - list_x;
  int number = 1;
  for (const auto& step : result.plan.steps) {
    list_y = canvas.paragraph(
        {list_x, list_y},
        fmt::format("{}. {}: {:.0f} µm, about {} light strokes.", number++, step.where, step.depth_um, step.strokes),
        3.6, list_width, kInk, true);
    list_y = canvas.paragraph({list_x, list_y}, step.stop, 3.2, list_width) + 1.5;
  }
  if (!result.plan.steps.empty()) {
    list_y = canvas.paragraph({list_x, list_y}, std::string(kThenScan), 3.2, list_width) + 1.5;
  }
  for (const auto& text : result.plan.remarks) list_y = canvas.paragraph({list_x, list_y}, text, 3.2, list_width) + 1.0;
  double caution_y = std::max(list_y, y + 16.0 + result.outline.length_mm) + 6.0;
  for (const auto caution : kCautions) {
    caution_y = canvas.paragraph({margin, caution_y}, "- " + std::string(caution), 3.2, text_width);
  }
  draw_ruler(canvas, margin, kPageHeight - 14.0);

  canvas.next_page();
  y = canvas.paragraph({margin, 18}, "Scraping template, 4:1, vamp", 6.0, text_width, kInk, true);
  y = canvas.paragraph({margin, y}, kind_of(result) + ". Tip up; left is left. Dashed: centreline and shoulder.", 3.6,
                       text_width);
  const double shown = std::min(result.outline.length_mm, result.assessment.cut.vamp_length_mm.value + 2.0);
  const double scale = std::min(4.0, (kPageHeight - y - 45.0) / shown);
  draw_plan(canvas, result, {0.5 * kPageWidth, y + 10.0, scale}, shown, 0.35, 4.0, true);
  const ReedView large{0.5 * kPageWidth, y + 10.0, scale};
  for (int mm = 0; mm <= static_cast<int>(shown); ++mm) {  // Millimetres from the tip, along the centreline.
    const CanvasPoint at = large.at(mm, 0.0);
    const double tick = mm % 5 == 0 ? 2.0 : 1.0;
    canvas.line({at.x - tick, at.y}, {at.x + tick, at.y}, kFaint, 0.25);
    if (mm % 5 == 0 && mm > 0)
      canvas.text({at.x + 2.6, at.y + 1.2}, fmt::format("{} mm", mm), 3.2, Anchor::left, kFaint);
  }
  if (!result.plan.steps.empty()) {
    canvas.paragraph({margin, kPageHeight - 34.0}, std::string(kCautions[0]) + " " + std::string(kCautions[1]), 3.2,
                     text_width);
  }
  if (scale < 4.0)
    canvas.text({margin, kPageHeight - 24.0}, fmt::format("Drawn at {:.2f}:1 to fit the page.", scale), 3.2);
  draw_ruler(canvas, margin, kPageHeight - 14.0);
  canvas.next_page();
  return std::move(canvas).finish();
}

}  // namespace canewise
