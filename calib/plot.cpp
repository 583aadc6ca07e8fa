#include "calib/plot.h"

#include <algorithm>
#include <cmath>

#include "scanproc/words/decimals.h"

namespace canewise {
namespace {

constexpr double kText = 13.0;
constexpr Colour kGrid{0.88, 0.88, 0.89};

std::string tick_text(double value, double step, const Speech& speech) {
  return std::abs(value) < 1e-9 * step ? "0" : number_text(value, decimals_of(value), false, speech);
}

/// 1, 2 or 5 times a power of ten, so that about `wanted` steps fit.
double round_step(double range, double wanted) {
  const double rough = range / wanted, power = std::pow(10.0, std::floor(std::log10(rough)));
  for (const double nice : {1.0, 2.0, 5.0}) {
    if (nice * power >= rough) return nice * power;
  }
  return 10.0 * power;
}

}  // namespace

void fit_y(Plot& plot, const std::vector<double>& values, const std::vector<double>& also) {
  double low = 1e300, high = -1e300;
  for (const auto* list : {&values, &also}) {
    for (const double v : *list) {
      if (std::isnan(v)) continue;
      low = std::min(low, v), high = std::max(high, v);
    }
  }
  if (!(low <= high)) low = 0.0, high = 1.0;
  const double room = std::max(0.08 * (high - low), 1e-6 + 0.02 * std::max(std::abs(low), std::abs(high)));
  plot.y_low = low - room, plot.y_high = high + room;
}

void draw_y_axis(Canvas& canvas, const Plot& p, const std::string& y_title, const Speech& speech) {
  const double step = round_step(p.y_high - p.y_low, std::max(5.0, p.height / 45.0));
  for (double y = std::ceil(p.y_low / step - 1e-9) * step; y <= p.y_high + 1e-9 * step; y += step) {
    const CanvasPoint at = p.at(p.x_low, y);
    canvas.line({p.left, at.y}, {p.left + p.width, at.y}, {kGrid, 1.0});
    canvas.text({p.left - 8.0, at.y + 4.5}, tick_text(y, step, speech), {kText, kFaint}, Anchor::right);
  }
  canvas.text({p.left - 50.0, p.top - 12.0}, y_title, {kText});
}

void draw_axes(Canvas& canvas, const Plot& p, const AxisTitles& titles, const Speech& speech) {
  const double step = round_step(p.x_high - p.x_low, std::max(3.0, p.width / 90.0));
  for (double x = std::ceil(p.x_low / step - 1e-9) * step; x <= p.x_high + 1e-9 * step; x += step) {
    const CanvasPoint low = p.at(x, p.y_low);
    canvas.line({low.x, p.top}, {low.x, p.top + p.height}, {kGrid, 1.0});
    canvas.text({low.x, p.top + p.height + 18.0}, tick_text(x, step, speech), {kText, kFaint}, Anchor::middle);
  }
  draw_y_axis(canvas, p, titles.y, speech);
  canvas.polyline(
      {{p.left, p.top}, {p.left + p.width, p.top}, {p.left + p.width, p.top + p.height}, {p.left, p.top + p.height}},
      {kFaint, 1.0}, true);
  canvas.text({p.left + p.width, p.top + p.height + 38.0}, titles.x, {kText}, Anchor::right);
}

void draw_dot(Canvas& canvas, const CanvasPoint& at, double radius, Colour colour) {
  std::vector<CanvasPoint> round;
  constexpr int corners = 10;
  for (int k = 0; k < corners; ++k) {
    const double a = 2.0 * 3.14159265358979 * k / corners;
    round.push_back({at.x + radius * std::cos(a), at.y + radius * std::sin(a)});
  }
  canvas.polygon(round, colour);
}

void draw_cross(Canvas& canvas, const CanvasPoint& at, double radius, Colour colour) {
  canvas.line({at.x - radius, at.y - radius}, {at.x + radius, at.y + radius}, {colour, 2.0});
  canvas.line({at.x - radius, at.y + radius}, {at.x + radius, at.y - radius}, {colour, 2.0});
}

void draw_level(Canvas& canvas, const Plot& plot, const Level& level) {
  const auto& [y, words, dashed] = level;
  if (y < plot.y_low || y > plot.y_high) return;
  const CanvasPoint from = plot.at(plot.x_low, y), to = plot.at(plot.x_high, y);
  canvas.line(from, to, {kInk, 1.2, dashed});
  if (!words.empty()) canvas.label({to.x - 6.0 - canvas.text_width(words, 12.0) / 2.0, to.y - 6.0}, words, 12.0);
}

void draw_scale_bar(Canvas& canvas, const ScaleBar& bar, const Speech& speech) {
  const auto& [at, width, limit_um] = bar;
  constexpr int steps = 100;
  for (int k = 0; k < steps; ++k) {
    const double t = 2.0 * (k + 0.5) / steps - 1.0;
    canvas.rectangle({{at.x + width * k / steps, at.y}, width / steps + 1.0, 14.0}, diverging_colour(t));
  }
  const std::string limit = length_text({limit_um, Length::Unit::um, significant_decimals(limit_um, 3)}, true, speech);
  canvas.text({at.x, at.y + 30.0}, "−" + limit, {12.0});
  canvas.text({at.x + 0.5 * width, at.y + 30.0}, "0", {12.0}, Anchor::middle);
  canvas.text({at.x + width, at.y + 30.0}, "+" + limit, {12.0}, Anchor::right);
}

double draw_heading(Canvas& canvas, double width, const std::string& title, const std::string& words) {
  double y = canvas.paragraph({30, 40}, title, {.size = 21.0, .bold = true}, width - 60.0);
  if (!words.empty()) y = canvas.paragraph({30, y + 4.0}, words, {15.0}, width - 60.0);
  return y;
}

double heading_end(double width, const std::string& title, const std::string& words) {
  Canvas scratch = Canvas::png(1, 1);
  return draw_heading(scratch, width, title, words);
}

}  // namespace canewise
