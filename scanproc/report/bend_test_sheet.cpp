#include "scanproc/drawing/canvas.h"
#include "scanproc/report/bend_test_outputs.h"

namespace canewise {
namespace {

constexpr double kSheetWidth_mm = 210.0, kSheetHeight_mm = 297.0, kMargin_mm = 18.0, kLetters_mm = 3.5;
constexpr Colour kWood{0.87, 0.80, 0.68}, kBar{0.62, 0.66, 0.72}, kReedColour{0.95, 0.90, 0.72};

void name_at(Canvas& canvas, CanvasPoint at, MessageId what, const Speech& speech, Anchor anchor = Anchor::left) {
  canvas.text(at, phrase(Message(what), speech), {3.3}, anchor);
}

/// From the side, at 1:1: block, bar, reed standing over, thread and weight.
void draw_side(Canvas& canvas, CanvasPoint edge, const Speech& speech) {
  const double x = edge.x, y = edge.y;
  canvas.rectangle({{x, y}, 45.0, 25.0}, kWood);
  canvas.polygon({{x + 40.0, y}, {x + 40.0, y - 3.0}, {x + 5.0, y - 3.0}, {x - 34.5, y - 0.2}, {x - 34.5, y}},
                 kReedColour);
  canvas.polyline({{x + 40.0, y}, {x + 40.0, y - 3.0}, {x + 5.0, y - 3.0}, {x - 34.5, y - 0.2}, {x - 34.5, y}},
                  {kInk, 0.25}, true);
  canvas.rectangle({{x, y - 9.0}, 8.0, 6.0}, kBar);
  canvas.polyline({{x, y - 9.0}, {x + 8.0, y - 9.0}, {x + 8.0, y - 3.0}, {x, y - 3.0}}, {kInk, 0.25}, true);
  canvas.polyline({{x, y}, {x + 45.0, y}, {x + 45.0, y + 25.0}, {x, y + 25.0}}, {kInk, 0.25}, true);
  canvas.line({x - 29.5, y - 0.6}, {x - 29.5, y + 32.0}, {kInk, 0.3});
  canvas.rectangle({{x - 33.5, y + 32.0}, 8.0, 7.0}, kFaint);
  // What lies how far from what.
  const double below = y + 8.0;
  canvas.line({x - 34.5, below}, {x, below}, {kInk, 0.2});
  canvas.paragraph({x - 62.0, below - 3.0}, phrase(Message{"bendsheet.edge"}, speech), {3.3}, 25.0);
  canvas.line({x - 34.5, below + 6.0}, {x - 29.5, below + 6.0}, {kInk, 0.2});
  canvas.text({x - 28.5, below + 7.0}, phrase(Message{"bendsheet.five"}, speech), {3.3});
  name_at(canvas, {x + 10.0, y - 6.0}, "bendsheet.bar", speech);
  name_at(canvas, {x + 3.0, y + 13.0}, "bendsheet.block", speech);
  name_at(canvas, {x - 35.5, y + 36.0}, "bendsheet.weight", speech, Anchor::right);
  name_at(canvas, {x - 34.5, y - 4.0}, "bendsheet.reed", speech);
}

/// From above, at 1:1.
void draw_above(Canvas& canvas, CanvasPoint edge, const Speech& speech) {
  const double x = edge.x, y = edge.y;
  canvas.rectangle({{x, y - 20.0}, 45.0, 40.0}, kWood);
  canvas.polyline({{x, y - 20.0}, {x + 45.0, y - 20.0}, {x + 45.0, y + 20.0}, {x, y + 20.0}}, {kInk, 0.25}, true);
  canvas.polygon({{x - 34.5, y - 6.0}, {x + 40.0, y - 5.8}, {x + 40.0, y + 5.8}, {x - 34.5, y + 6.0}}, kReedColour);
  canvas.polyline({{x - 34.5, y - 6.0}, {x + 40.0, y - 5.8}, {x + 40.0, y + 5.8}, {x - 34.5, y + 6.0}}, {kInk, 0.25},
                  true);
  canvas.rectangle({{x, y - 15.0}, 8.0, 30.0}, kBar);
  canvas.polyline({{x, y - 15.0}, {x + 8.0, y - 15.0}, {x + 8.0, y + 15.0}, {x, y + 15.0}}, {kInk, 0.25}, true);
  canvas.line({x - 29.5, y - 7.0}, {x - 29.5, y + 7.0}, {kInk, 0.4});
  name_at(canvas, {x - 29.5, y - 13.0}, "bendsheet.thread", speech, Anchor::middle);
  name_at(canvas, {x - 18.0, y - 8.0}, "bendsheet.left", speech, Anchor::middle);
  name_at(canvas, {x - 18.0, y + 11.0}, "bendsheet.right", speech, Anchor::middle);
  name_at(canvas, {x + 47.0, y + 1.0}, "bendsheet.stock_seen", speech);
  canvas.line({x + 40.5, y}, {x + 46.0, y}, {kInk, 0.2});
}

}  // namespace

std::string bend_test_sheet_pdf(const Speech& speech) {
  Canvas canvas = Canvas::pdf(kSheetWidth_mm, kSheetHeight_mm, "2026-01-01T00:00:00Z");
  const double width = kSheetWidth_mm - 2.0 * kMargin_mm;
  double y = canvas.paragraph({kMargin_mm, kMargin_mm + 5.0}, sentence(Message{"bendsheet.title"}, speech),
                              {.size = 6.5, .bold = true}, width);
  y = canvas.paragraph({kMargin_mm, y + 1.0}, sentence(Message{"bendsheet.why"}, speech), {kLetters_mm}, width);
  draw_side(canvas, {kMargin_mm + 62.0, y + 18.0}, speech);
  draw_above(canvas, {kMargin_mm + 62.0, y + 84.0}, speech);
  y += 112.0;
  std::size_t step = 1;
  for (const MessageId what : {MessageId("bendsheet.build"), MessageId("bendsheet.clamp"), MessageId("bendsheet.free"),
                               MessageId("bendsheet.hang"), MessageId("bendsheet.loaded"), MessageId("bendsheet.sides"),
                               MessageId("bendsheet.soon")}) {
    y = canvas.paragraph({kMargin_mm, y}, std::to_string(step++) + ". " + sentence(Message(what), speech),
                         {kLetters_mm}, width) +
        0.8;
  }
  y = canvas.paragraph({kMargin_mm, y + 2.0}, sentence(Message{"bendsheet.cautions"}, speech),
                       {.size = kLetters_mm, .bold = true}, width);
  // So that a printer that shrinks is found out.
  y += 6.0;
  canvas.line({kMargin_mm, y}, {kMargin_mm + 50.0, y}, {kInk, 0.3});
  for (int k = 0; k <= 50; k += 5)
    canvas.line({kMargin_mm + k, y}, {kMargin_mm + k, y - (k % 10 == 0 ? 3.0 : 1.8)}, {kInk, 0.2});
  canvas.text({kMargin_mm + 54.0, y}, phrase(Message{"bendsheet.ruler"}, speech), {3.3});
  return std::move(canvas).finish();
}

}  // namespace canewise
