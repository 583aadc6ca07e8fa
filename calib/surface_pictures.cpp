#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "calib/pictures.h"
#include "calib/plot.h"
#include "scanproc/core/budget.h"

namespace canewise {
namespace {

constexpr int kWidth = 1000;

double largest_of(const Eigen::ArrayXXd& values) {
  double largest = 0.5;
  for (Eigen::Index i = 0; i < values.size(); ++i) {
    if (!std::isnan(values(i))) largest = std::max(largest, std::abs(values(i)));
  }
  return largest;
}

}  // namespace

std::string plate_png(const PlateCalibration& c) {
  // Lying, whatever way the scanner has it: a page is wider than high.
  const bool upright = c.found.heights_um.rows() > c.found.heights_um.cols();
  const Eigen::ArrayXXd h = upright ? Eigen::ArrayXXd(c.found.heights_um.transpose()) : c.found.heights_um;
  const double scale = std::min(880.0 / static_cast<double>(h.cols()), 420.0 / static_cast<double>(h.rows()));
  Canvas canvas = Canvas::png(kWidth, static_cast<int>(scale * static_cast<double>(h.rows())) + 280);
  std::string words = fmt::format(
      "The empty plate, as this rig shows it, is bent by {:.1f} µm (root mean square; {:.0f} µm from lowest to "
      "highest). That is "
      "taken off every scan from now on; what differs from time to time is {:.1f} µm and stays in the uncertainty.",
      c.form_um, c.range_um, c.left_over_um);
  for (const auto& remark : c.remarks) words += " " + remark;
  const double y = draw_heading(canvas, kWidth, "The plate's form", words);
  const double limit = largest_of(h);
  const double x0 = 60.0, y0 = y + 30.0;
  for (Eigen::Index r = 0; r < h.rows(); ++r) {
    for (Eigen::Index k = 0; k < h.cols(); ++k) {
      canvas.rectangle(x0 + scale * static_cast<double>(k), y0 + scale * static_cast<double>(h.rows() - 1 - r),
                       scale + 0.5, scale + 0.5, std::isnan(h(r, k)) ? kMissing : diverging_colour(h(r, k) / limit));
    }
  }
  const double bottom = y0 + scale * static_cast<double>(h.rows());
  draw_scale_bar(canvas, {x0, bottom + 20.0}, 300.0, limit, "µm");
  canvas.text({x0 + 320.0, bottom + 32.0},
              fmt::format("height over its own plane; a square is {:g} mm; grey: not seen{}", c.found.step_mm,
                          upright ? "; the scanner's x runs upwards" : ""),
              13.0);
  const double ten = scale * 10.0 / c.found.step_mm;
  canvas.line({x0 + 320.0, bottom + 52.0}, {x0 + 320.0 + ten, bottom + 52.0}, kInk, 2.0);
  canvas.text({x0 + 330.0 + ten, bottom + 56.0}, "10 mm", 13.0);
  return std::move(canvas).finish();
}

std::string step_png(const GaugeCheck& c) {
  Canvas canvas = Canvas::png(kWidth, 940);
  const double y = draw_heading(canvas, kWidth, "The step gauge", c.verdict);
  Plot plot{100, y + 50, kWidth - 150.0, 270, 0, 1, 0, 1};
  double tallest = 1.0;
  std::vector<double> values{0.0};
  for (const auto& step : c.steps) {
    tallest = std::max(tallest, step.nominal_um);
    for (const auto& scan : step.scans) values.push_back(scan.height_um - step.nominal_um);
    values.push_back(kCoverage95 * step.u_nominal_um), values.push_back(-kCoverage95 * step.u_nominal_um);
  }
  plot.x_high = 1.06 * tallest;
  values.push_back((c.scale - 1.0) * tallest);
  fit_y(plot, values);
  draw_axes(canvas, plot, "height of the strip as it states, µm", "measured minus stated, µm");
  draw_level(canvas, plot, 0.0, "", false);
  canvas.line(plot.at(0.0, 0.0), plot.at(tallest, (c.scale - 1.0) * tallest), kSeen, 2.0, true);
  for (const auto& step : c.steps) {
    const double u = kCoverage95 * step.u_nominal_um;
    canvas.line(plot.at(step.nominal_um, -u), plot.at(step.nominal_um, u), kFaint, 6.0);
    for (const auto& scan : step.scans)
      draw_dot(canvas, plot.at(step.nominal_um, scan.height_um - step.nominal_um), 4.0, kSeen);
  }
  double ly = plot.top + plot.height + 66.0;
  canvas.text(
      {100, ly},
      fmt::format("dots: scans; grey bars: what the strip itself promises (95 %); dashed: the scale found. {}",
                  std::isnan(c.repeatability_um) ? std::string("No strip was scanned twice.")
                                                 : fmt::format("One scan repeats to {:.1f} µm.", c.repeatability_um)),
      13.0);
  Plot profiles{100, ly + 60.0, kWidth - 150.0, 210, 0, 1, 0, 1};
  std::vector<double> all;
  std::size_t longest = 2;
  for (const auto& step : c.steps) {
    for (const auto& scan : step.scans) {
      longest = std::max(longest, scan.profile_um.size());
      for (const double p : scan.profile_um) all.push_back(p - scan.height_um);
    }
  }
  profiles.x_high = static_cast<double>(longest);
  fit_y(profiles, all);
  draw_axes(canvas, profiles, "along the strip, mm", "single profiles minus their mean, µm");
  for (const auto& step : c.steps) {
    for (const auto& scan : step.scans) {
      std::vector<CanvasPoint> line;
      for (std::size_t i = 0; i < scan.profile_um.size(); ++i)
        line.push_back(profiles.at(static_cast<double>(i) + 0.5, scan.profile_um[i] - scan.height_um));
      canvas.polyline(line, kSeen, 1.2);
    }
  }
  ly = profiles.top + profiles.height + 66.0;
  canvas.paragraph({100, ly}, "A line that climbs or bows here is a strip that does not lie flat.", 13.0,
                   kWidth - 150.0);
  if (!c.balls.empty()) {
    const BallCheck& ball = c.balls.front();
    canvas.paragraph(
        {100, ly + 24.0},
        fmt::format(
            "Ball of {:g} mm: size off by {:+.1f} µm; form {:.1f} µm over 25 places, {:.1f} µm for 95 % of the points.",
            ball.diameter_mm, ball.size_error_um, ball.form_25_um, ball.form_95_um),
        13.0, kWidth - 150.0);
  }
  return std::move(canvas).finish();
}

std::string touch_png(const TouchCheck& c) {
  Canvas canvas = Canvas::png(kWidth, 900);
  const double y = draw_heading(canvas, kWidth, "Light against touch", c.verdict);
  std::vector<double> d;
  double thin = 1e9, thick = 0, steep = 0.02;
  for (const auto& p : c.places) {
    d.push_back(p.difference_um);
    thin = std::min(thin, p.thickness_mm), thick = std::max(thick, p.thickness_mm), steep = std::max(steep, p.slope);
  }
  for (int which = 0; which < 2; ++which) {
    Plot plot{100, y + 50 + which * 330.0, kWidth - 150.0, 220, 0, 1, 0, 1};
    plot.x_low = which == 0 ? thin - 0.05 * (thick - thin + 0.1) : 0.0;
    plot.x_high = which == 0 ? thick + 0.05 * (thick - thin + 0.1) : 1.05 * steep;
    fit_y(plot, d, {0.0, c.low_um - c.u_limit_um, c.high_um + c.u_limit_um});
    draw_axes(canvas, plot, which == 0 ? "thickness, mean of both ways, mm" : "slope of the surface, mm per mm",
              "touch minus light, µm (fibre tops and pressing in allowed for)");
    draw_level(canvas, plot, 0.0, "", false);
    draw_level(canvas, plot, c.bias_um, fmt::format("mean {:+.1f} µm", c.bias_um), false);
    draw_level(canvas, plot, c.low_um, fmt::format("{:+.1f} µm", c.low_um), true);
    draw_level(canvas, plot, c.high_um, fmt::format("{:+.1f} µm", c.high_um), true);
    for (const auto& p : c.places)
      draw_dot(canvas, plot.at(which == 0 ? p.thickness_mm : p.slope, p.difference_um), 5.0, kSeen);
  }
  canvas.paragraph({100, y + 50 + 660},
                   fmt::format("Dashed: limits that 95 of 100 single places keep (each known to ±{:.1f} µm). Dots that "
                               "rise to one side mean "
                               "that light enters the more, the thicker or steeper the cane.",
                               kCoverage95 * c.u_limit_um),
                   13.0, kWidth - 150.0);
  return std::move(canvas).finish();
}

std::string hand_png(const Handedness& c) {
  Canvas canvas = Canvas::png(700, 900);
  const double y = draw_heading(canvas, 700, "Left and right", c.verdict);
  const double length = c.outline.length_mm, scale = (900.0 - y - 80.0) / (length + 12.0), x0 = 350.0,
               y0 = y + 30.0 + 8.0 * scale;
  const auto at = [&](double x, double lateral) { return CanvasPoint{x0 + scale * lateral, y0 + scale * x}; };
  std::vector<CanvasPoint> rim;
  for (double lateral = -c.outline.half_width_mm(0); lateral <= c.outline.half_width_mm(0); lateral += 0.25)
    rim.push_back(at(c.outline.tip_edge_at(lateral), lateral));
  rim.push_back(at(length, c.outline.right.at(length)));
  rim.push_back(at(length, c.outline.left.at(length)));
  canvas.polygon(rim, {0.93, 0.88, 0.72});
  canvas.polyline(rim, kInk, 2.0, true);
  for (const auto& p : c.mark_points_mm) {
    const CanvasPoint m = at(p.x(), p.y());
    canvas.rectangle(m.x - 0.5 * scale, m.y - 0.5 * scale, scale, scale, kSeen);
  }
  canvas.text(at(-3.0, 0), "tip", 15.0, Anchor::middle);
  canvas.text({60, y0 + 0.5 * scale * length}, "left", 18.0, Anchor::left, kInk, true);
  canvas.text({640, y0 + 0.5 * scale * length}, "right", 18.0, Anchor::right, kInk, true);
  double outermost = 0.0;
  for (const auto& p : c.mark_points_mm) outermost = std::max(outermost, std::abs(p.y()));
  const bool on_right = c.mark_mm.y() > 0.0;
  const CanvasPoint beside = at(c.mark_mm.x(), (on_right ? 1.0 : -1.0) * (outermost + 1.5));
  canvas.text({beside.x, beside.y + 4.0}, "the mark", 14.0, on_right ? Anchor::left : Anchor::right);
  canvas.paragraph({30, 870}, "As the rig shows it, before any correction. The mark was laid to the right.", 13.0,
                   640.0, kFaint);
  return std::move(canvas).finish();
}

std::string budget_png(const RigBudget& b, const std::string& rig_name) {
  const auto count = static_cast<double>(b.lines.size());
  constexpr double row = 52.0;
  Canvas canvas = Canvas::png(kWidth, static_cast<int>(row * count) + 330);
  double y = draw_heading(canvas, kWidth, "What '" + rig_name + "' can see", b.sentence);
  y += 30.0;
  canvas.text({430, y}, "left against right, tip", 13.0, Anchor::left, kInk, true);
  canvas.text({620, y}, "left against right, rails", 13.0, Anchor::left, kInk, true);
  canvas.text({810, y}, "thickness of the heart", 13.0, Anchor::left, kInk, true);
  y += 14.0;
  constexpr double full = 130.0;
  const auto bar = [&](double x, double um, double all, double at) {
    canvas.rectangle(x, at, std::max(1.0, full * um / all), 16.0, kSeen);
    canvas.text({x + std::max(1.0, full * um / all) + 6.0, at + 13.0}, fmt::format("{:.2f} µm", um), 12.0);
  };
  for (const auto& line : b.lines) {
    canvas.text({30, y + 14.0}, line.name, 14.0, Anchor::left, kInk, true);
    canvas.text({30, y + 30.0}, line.value.empty() ? line.obtained : line.value, 11.0, Anchor::left, kFaint);
    if (!line.value.empty()) canvas.text({30, y + 43.0}, line.obtained, 11.0, Anchor::left, kFaint);
    bar(430, line.tip_um, b.tip_um, y + 4.0);
    bar(620, line.rails_um, b.rails_um, y + 4.0);
    bar(810, line.heart_um, b.heart_um, y + 4.0);
    y += row;
  }
  canvas.line({30, y}, {kWidth - 30.0, y}, kFaint, 1.0);
  canvas.text({30, y + 22.0}, "all together (one standard uncertainty)", 14.0, Anchor::left, kInk, true);
  canvas.text({430, y + 22.0}, fmt::format("{:.1f} µm", b.tip_um), 14.0, Anchor::left, kInk, true);
  canvas.text({620, y + 22.0}, fmt::format("{:.1f} µm", b.rails_um), 14.0, Anchor::left, kInk, true);
  canvas.text({810, y + 22.0}, fmt::format("{:.1f} µm", b.heart_um), 14.0, Anchor::left, kInk, true);
  y += 52.0;
  for (const auto& advice : b.advice) y = canvas.paragraph({30, y}, advice, 13.0, kWidth - 60.0);
  return std::move(canvas).finish();
}

}  // namespace canewise
