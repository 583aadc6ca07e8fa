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

constexpr double kPageWidth = 210.0, kPageHeight = 297.0, kMargin = 15.0;

void draw_ruler(Canvas& canvas, CanvasPoint from, const Speech& speech) {
  const auto [x, y] = from;
  canvas.line({x, y}, {x + 50.0, y}, {kInk, 0.25});
  for (int mm = 0; mm <= 50; ++mm) {
    canvas.line({x + mm, y}, {x + mm, y - (mm % 10 == 0 ? 3.0 : mm % 5 == 0 ? 2.2 : 1.4)}, {kInk, 0.2});
    if (mm % 10 == 0) canvas.text({x + mm, y + 3.6}, fmt::format("{}", mm), {3.0}, Anchor::middle);
  }
  canvas.paragraph({x + 56.0, y}, phrase(Message{"picture.ruler"}, speech), {3.0}, kPageWidth - kMargin - x - 56.0);
}

/// Where and how the reed with its plan is drawn on a page.
struct PlanStyle {
  ReedView view;
  double to_mm;             ///< From the tip.
  double line_mm, text_mm;  ///< On paper.
  bool with_details;        ///< Depth and strokes beside the number.
};

void draw_reed_lines(Canvas& canvas, const Result& result, const PlanStyle& style) {
  const ReedView& view = style.view;
  canvas.polyline(rim_of(result.outline, view, style.to_mm), {kInk, style.line_mm}, true);
  const double vamp = result.assessment.cut.vamp_length_mm.value;
  canvas.line(view.at(vamp, result.outline.left.at(vamp)), view.at(vamp, result.outline.right.at(vamp)),
              {.colour = kFaint, .width = style.line_mm, .dashed = true});
  canvas.line(view.at(0, 0), view.at(style.to_mm, 0), {.colour = kFaint, .width = 0.7 * style.line_mm, .dashed = true});
}

/// A step of the plan where it is drawn.
struct DrawnPlace {
  const ScrapeStep* step;
  std::size_t number;
  CanvasPoint middle;
};

/// Returns them from the tip down.
std::vector<DrawnPlace> draw_places(Canvas& canvas, const Result& result, const ReedView& view, double line_mm) {
  std::vector<DrawnPlace> places;
  for (const auto& step : result.plan.steps) {
    std::vector<CanvasPoint> polygon;
    DrawnPlace place{&step, places.size() + 1, {}};
    for (const auto& p : on_reed(step.polygon, result.outline)) {
      polygon.push_back(view.at(p.x_mm, p.y_mm));
      place.middle.x += polygon.back().x / static_cast<double>(step.polygon.size());
      place.middle.y += polygon.back().y / static_cast<double>(step.polygon.size());
    }
    canvas.polygon(polygon, diverging_colour(0.55), 0.55);
    canvas.polyline(polygon, {kInk, 1.4 * line_mm}, true);
    places.push_back(place);
  }
  std::sort(places.begin(), places.end(),
            [](const DrawnPlace& a, const DrawnPlace& b) { return a.middle.y < b.middle.y; });
  return places;
}

std::string words_beside(const DrawnPlace& place, bool with_details, const Speech& speech) {
  if (!with_details) return std::to_string(place.number);
  return phrase(Message{"picture.step",
                        {{"n", count(place.number)},
                         {"depth", um(place.step->depth_um)},
                         {"strokes", count(static_cast<std::size_t>(place.step->strokes))}}},
                speech);
}

/// A place at the reed's left or right.
struct Beside {
  CanvasPoint rim;
  Side side;
};

/// Words there, as large as the paper beside the reed lets them be: smaller rather than off the paper.
void draw_beside(Canvas& canvas, const Beside& place, double text_mm, const std::string& words) {
  const CanvasPoint rim = place.rim;
  const bool left = place.side == Side::left;
  const double x = rim.x + (left ? -0.8 : 0.8);
  constexpr double edge = 6.0;
  const double room = (left ? x : kPageWidth - x) - edge;
  const double size = std::min(text_mm, text_mm * room / canvas.text_width(words, text_mm));
  canvas.text({x, rim.y + 0.35 * text_mm}, words, {size}, left ? Anchor::right : Anchor::left);
}

void draw_side_words(Canvas& canvas, const Result& result, const ReedView& view, const Speech& speech) {
  const CanvasPoint l = view.at(0, -result.outline.half_width_mm(0)), r = view.at(0, result.outline.half_width_mm(0));
  // Side by side over a reed at 1:1 even where the words are long.
  const std::string left_words = phrase(Message{"picture.left"}, speech),
                    right_words = phrase(Message{"picture.right"}, speech);
  constexpr double usual_mm = 3.0, between_mm = 1.5;
  const double wide = canvas.text_width(left_words, usual_mm) + canvas.text_width(right_words, usual_mm);
  const double size_mm = std::min(usual_mm, usual_mm * (r.x - l.x - between_mm) / wide);
  canvas.text({l.x, l.y - 1.5}, left_words, {size_mm});
  canvas.text({r.x, r.y - 1.5}, right_words, {size_mm}, Anchor::right);
}

void draw_plan(Canvas& canvas, const Result& result, const PlanStyle& style, const Speech& speech) {
  const ReedView& view = style.view;
  draw_reed_lines(canvas, result, style);
  // Numbers stand beside the reed, on the step's side, so that they hide nothing: from the tip down, each clear of the
  // one above.
  std::array<double, 2> next_y{-1e9, -1e9};
  for (const DrawnPlace& place : draw_places(canvas, result, view, style.line_mm)) {
    const bool left = place.step->side == Side::left;
    double& free_y = next_y.at(left ? 0 : 1);
    const CanvasPoint beside = view.at(0.0, (left ? -1.0 : 1.0) * (result.outline.half_width_mm(0) + 1.2));
    const double y = std::max(place.middle.y, free_y);
    free_y = y + 1.5 * style.text_mm;
    canvas.line({beside.x, y}, place.middle, {kInk, 0.7 * style.line_mm});
    draw_beside(canvas, {{beside.x, y}, place.step->side}, style.text_mm,
                words_beside(place, style.with_details, speech));
  }
  draw_side_words(canvas, result, view, speech);
}

/// Millimetres from the tip, along the centreline.
void draw_scale(Canvas& canvas, const ReedView& view, double to_mm) {
  for (int at_mm = 0; at_mm <= static_cast<int>(to_mm); ++at_mm) {
    const CanvasPoint at = view.at(at_mm, 0.0);
    const double tick = at_mm % 5 == 0 ? 2.0 : 1.0;
    canvas.line({at.x - tick, at.y}, {at.x + tick, at.y}, {kFaint, 0.25});
    if (at_mm % 5 == 0 && at_mm > 0) canvas.text({at.x + 2.6, at.y + 1.2}, fmt::format("{} mm", at_mm), {3.2, kFaint});
  }
}

/// What the first page says, `size` times as large as usual: returns the y below the last of it.
double draw_words(Canvas& canvas, const Result& result, double size, const Speech& speech) {
  constexpr double text_width = kPageWidth - 2 * kMargin;
  double y = canvas.paragraph({kMargin, 18}, phrase(Message{"picture.template"}, speech), {.size = 6.0, .bold = true},
                              text_width);
  y = canvas.paragraph({kMargin, y + 1}, sentences(result.headline, speech), {3.8 * size}, text_width);
  y = canvas.paragraph({kMargin, y + 1}, sentences(result.plan.sentence, speech), {.size = 3.8 * size, .bold = true},
                       text_width);
  if (result.plan.needs_rolling_test) {
    y = canvas.paragraph({kMargin, y + 1}, sentence(Message{"picture.rolling_test"}, speech), {3.4 * size}, text_width);
  }
  const ReedView actual{kMargin + 12.0, y + 8.0, 1.0};
  draw_plan(canvas, result,
            {.view = actual, .to_mm = result.outline.length_mm, .line_mm = 0.25, .text_mm = 2.6, .with_details = false},
            speech);
  double list_y = y + 8.0;
  const double list_x = kMargin + 32.0, list_width = kPageWidth - kMargin - list_x;
  std::size_t step_number = 1;
  for (const auto& step : result.plan.steps) {
    const Message what{"picture.step_place",
                       {{"n", count(step_number++)},
                        {"where", part(step.where)},
                        {"depth", um(step.depth_um)},
                        {"strokes", count(static_cast<std::size_t>(step.strokes))}}};
    list_y = canvas.paragraph({list_x, list_y}, phrase(what, speech), {.size = 3.6 * size, .bold = true}, list_width);
    list_y = canvas.paragraph({list_x, list_y}, sentence(step.stop, speech), {3.2 * size}, list_width) + 1.5;
  }
  if (!result.plan.steps.empty()) {
    list_y = canvas.paragraph({list_x, list_y}, sentence(Message(kThenScan), speech), {3.2 * size}, list_width) + 1.5;
  }
  for (const Message& remark : result.plan.remarks)
    list_y = canvas.paragraph({list_x, list_y}, sentence(remark, speech), {3.2 * size}, list_width) + 1.0;
  double caution_y = std::max(list_y, y + 16.0 + result.outline.length_mm) + 6.0;
  for (const MessageId caution : kCautions) {
    caution_y =
        canvas.paragraph({kMargin, caution_y}, "- " + sentence(Message(caution), speech), {3.2 * size}, text_width);
  }
  return caution_y;
}

/// The largest size of text, up to 1, at which the first page holds everything.
double size_that_fits(const Result& result, const Speech& speech) {
  constexpr double smallest = 0.7, step = 0.05, ruler_room = 20.0;
  double size = 1.0;
  for (; size > smallest; size -= step) {
    Canvas trial = Canvas::pdf(kPageWidth, kPageHeight);
    if (draw_words(trial, result, size, speech) < kPageHeight - ruler_room) break;
  }
  return size;
}

}  // namespace

std::string template_pdf(const Result& result, const Speech& speech) {
  Canvas canvas = Canvas::pdf(kPageWidth, kPageHeight, result.measured_at);
  constexpr double text_width = kPageWidth - 2 * kMargin;
  draw_words(canvas, result, size_that_fits(result, speech), speech);
  draw_ruler(canvas, {kMargin, kPageHeight - 14.0}, speech);

  canvas.next_page();
  const Message key{"picture.template_key", {{"kind", part(title_of(result))}}};
  double y = canvas.paragraph({kMargin, 18}, phrase(Message{"picture.template_large"}, speech),
                              {.size = 6.0, .bold = true}, text_width);
  y = canvas.paragraph({kMargin, y}, sentence(key, speech), {3.6}, text_width);
  const double shown = std::min(result.outline.length_mm, result.assessment.cut.vamp_length_mm.value + 2.0);
  const double scale = std::min(4.0, (kPageHeight - y - 50.0) / shown);
  const ReedView large{0.5 * kPageWidth, y + 10.0, scale};
  draw_plan(canvas, result, {.view = large, .to_mm = shown, .line_mm = 0.35, .text_mm = 4.0, .with_details = true},
            speech);
  draw_scale(canvas, large, shown);
  if (!result.plan.steps.empty()) {
    const Messages first_two{Message(kCautions[0]), Message(kCautions[1])};
    canvas.paragraph({kMargin, kPageHeight - 38.0}, sentences(first_two, speech), {3.2}, text_width);
  }
  if (scale < 4.0) {
    canvas.text({kMargin, kPageHeight - 24.0},
                phrase(Message{"picture.drawn_at", {{"scale", number(scale, 2)}}}, speech), {3.2});
  }
  draw_ruler(canvas, {kMargin, kPageHeight - 14.0}, speech);
  canvas.next_page();
  return std::move(canvas).finish();
}

}  // namespace canewise
