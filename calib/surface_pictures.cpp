#include <algorithm>
#include <array>
#include <cmath>

#include "calib/grown_picture.h"
#include "calib/pictures.h"
#include "calib/plot.h"
#include "scanproc/core/budget.h"
#include "scanproc/words/decimals.h"

namespace canewise {
namespace {

double largest_of(const Eigen::ArrayXXd& values) {
  double largest = 0.5;
  for (Eigen::Index i = 0; i < values.size(); ++i) {
    if (!std::isnan(values(i))) largest = std::max(largest, std::abs(values(i)));
  }
  return largest;
}

std::string um_text(double value, int decimals, bool with_sign, const Speech& speech) {
  return length_text({value, Length::Unit::um, decimals, with_sign}, true, speech);
}

}  // namespace

std::string plate_png(const PlateCalibration& c, const Speech& speech) {
  // Lying, whatever way the scanner has it: a page is wider than high.
  const bool upright = c.found.heights_um.rows() > c.found.heights_um.cols();
  const Eigen::ArrayXXd h = upright ? Eigen::ArrayXXd(c.found.heights_um.transpose()) : c.found.heights_um;
  const double scale = std::min(880.0 / static_cast<double>(h.cols()), 420.0 / static_cast<double>(h.rows()));
  Messages words{{"plate_calib.picture",
                  {{"form", um(c.form_um, 1)}, {"range", um(c.range_um)}, {"left_over", um(c.left_over_um, 1)}}}};
  words.insert(words.end(), c.remarks.begin(), c.remarks.end());
  const Message key{
      "plate_calib.key",
      {{"square", mm(c.found.step_mm, decimals_of(c.found.step_mm))}, {"upright", word(upright ? "yes" : "no")}}};
  return grown_png(kImageWidth, [&](Canvas& canvas) {
    const double y = draw_heading(canvas, kImageWidth, phrase({"plate_calib.title"}, speech), sentences(words, speech));
    const double limit = largest_of(h);
    const double x0 = 60.0, y0 = y + 30.0;
    for (Eigen::Index r = 0; r < h.rows(); ++r) {
      for (Eigen::Index k = 0; k < h.cols(); ++k) {
        canvas.rectangle({{x0 + scale * static_cast<double>(k), y0 + scale * static_cast<double>(h.rows() - 1 - r)},
                          scale + 0.5,
                          scale + 0.5},
                         std::isnan(h(r, k)) ? kMissing : diverging_colour(h(r, k) / limit));
      }
    }
    const double bottom = y0 + scale * static_cast<double>(h.rows());
    draw_scale_bar(canvas, {.top_left = {x0, bottom + 20.0}, .width = 300.0, .limit_um = limit}, speech);
    const double below =
        canvas.paragraph({x0 + 320.0, bottom + 32.0}, phrase(key, speech), {13.0}, kImageWidth - x0 - 350.0);
    const double ten = scale * 10.0 / c.found.step_mm;
    canvas.line({x0 + 320.0, below + 2.0}, {x0 + 320.0 + ten, below + 2.0}, {kInk, 2.0});
    canvas.text({x0 + 330.0 + ten, below + 6.0}, length_text({10.0, Length::Unit::mm}, true, speech), {13.0});
    return std::max(below + 10.0, bottom + 50.0) + kImageMargin;
  });
}

std::string step_png(const GaugeCheck& c, const Speech& speech) {
  double tallest = 1.0;
  std::vector<double> values{0.0}, deviations;
  std::size_t longest = 2;
  for (const auto& step : c.steps) {
    tallest = std::max(tallest, step.nominal_um);
    values.push_back(kCoverage95 * step.u_nominal_um), values.push_back(-kCoverage95 * step.u_nominal_um);
    for (const auto& scan : step.scans) {
      values.push_back(scan.height_um - step.nominal_um);
      longest = std::max(longest, scan.profile_um.size());
      for (const double p : scan.profile_um) deviations.push_back(p - scan.height_um);
    }
  }
  values.push_back((c.scale - 1.0) * tallest);
  const Message repeats = std::isnan(c.repeatability_um)
                              ? Message{"gauge.no_repeat"}
                              : Message{"gauge.one_repeats", {{"sd", um(c.repeatability_um, 1)}}};
  return grown_png(kImageWidth, [&](Canvas& canvas) {
    const double y = draw_heading(canvas, kImageWidth, phrase({"gauge.title"}, speech), sentences(c.verdict, speech));
    Plot plot{100, y + 50, kImageWidth - 150.0, 270, 0, 1.06 * tallest, 0, 1};
    fit_y(plot, values);
    draw_axes(canvas, plot, {phrase({"gauge.axis_stated"}, speech), phrase({"gauge.axis_off"}, speech)}, speech);
    draw_level(canvas, plot, {0.0});
    canvas.line(plot.at(0.0, 0.0), plot.at(tallest, (c.scale - 1.0) * tallest),
                {.colour = kSeen, .width = 2.0, .dashed = true});
    for (const auto& step : c.steps) {
      const double u = kCoverage95 * step.u_nominal_um;
      canvas.line(plot.at(step.nominal_um, -u), plot.at(step.nominal_um, u), {kFaint, 6.0});
      for (const auto& scan : step.scans)
        draw_dot(canvas, plot.at(step.nominal_um, scan.height_um - step.nominal_um), 4.0, kSeen);
    }
    const std::string key = phrase({"gauge.key"}, speech) + " " + sentence(repeats, speech);
    double ly = canvas.paragraph({100, plot.top + plot.height + 66.0}, key, {13.0}, kImageWidth - 150.0);
    Plot profiles{100, ly + 42.0, kImageWidth - 150.0, 210, 0, static_cast<double>(longest), 0, 1};
    fit_y(profiles, deviations);
    draw_axes(canvas, profiles, {phrase({"gauge.axis_along"}, speech), phrase({"gauge.axis_profiles"}, speech)},
              speech);
    for (const auto& step : c.steps) {
      for (const auto& scan : step.scans) {
        std::vector<CanvasPoint> line;
        for (std::size_t i = 0; i < scan.profile_um.size(); ++i)
          line.push_back(profiles.at(static_cast<double>(i) + 0.5, scan.profile_um[i] - scan.height_um));
        canvas.polyline(line, {kSeen, 1.2});
      }
    }
    ly = canvas.paragraph({100, profiles.top + profiles.height + 66.0}, phrase({"gauge.profiles"}, speech), {13.0},
                          kImageWidth - 150.0);
    if (!c.balls.empty()) {
      const BallCheck& ball = c.balls.front();
      const Message words{"gauge.ball",
                          {{"diameter", mm(ball.diameter_mm, decimals_of(ball.diameter_mm))},
                           {"off", signed_um(ball.size_error_um, 1)},
                           {"form", um(ball.form_25_um, 1)},
                           {"form_95", um(ball.form_95_um, 1)}}};
      ly = canvas.paragraph({100, ly + 6.0}, sentence(words, speech), {13.0}, kImageWidth - 150.0);
    }
    return ly + kImageMargin;
  });
}

std::string touch_png(const TouchCheck& c, const Speech& speech) {
  std::vector<double> d;
  double thin = 1e9, thick = 0, steep = 0.02;
  for (const auto& p : c.places) {
    d.push_back(p.difference_um);
    thin = std::min(thin, p.thickness_mm), thick = std::max(thick, p.thickness_mm), steep = std::max(steep, p.slope);
  }
  return grown_png(kImageWidth, [&](Canvas& canvas) {
    const double y = draw_heading(canvas, kImageWidth, phrase({"touch.title"}, speech), sentences(c.verdict, speech));
    for (int which = 0; which < 2; ++which) {
      Plot plot{100, y + 50 + which * 330.0, kImageWidth - 150.0, 220, 0, 1, 0, 1};
      plot.x_low = which == 0 ? thin - 0.05 * (thick - thin + 0.1) : 0.0;
      plot.x_high = which == 0 ? thick + 0.05 * (thick - thin + 0.1) : 1.05 * steep;
      fit_y(plot, d, {0.0, c.low_um - c.u_limit_um, c.high_um + c.u_limit_um});
      const Message along = which == 0 ? Message{"touch.axis_thickness"} : Message{"touch.axis_slope"};
      draw_axes(canvas, plot, {phrase(along, speech), phrase({"touch.axis_difference"}, speech)}, speech);
      draw_level(canvas, plot, {0.0});
      const Message mean{"touch.mean", {{"mean", signed_um(c.bias_um, 1)}}};
      draw_level(canvas, plot, {c.bias_um, phrase(mean, speech)});
      draw_level(canvas, plot, {.y = c.low_um, .words = um_text(c.low_um, 1, true, speech), .dashed = true});
      draw_level(canvas, plot, {.y = c.high_um, .words = um_text(c.high_um, 1, true, speech), .dashed = true});
      for (const auto& p : c.places)
        draw_dot(canvas, plot.at(which == 0 ? p.thickness_mm : p.slope, p.difference_um), 5.0, kSeen);
    }
    const Message key{"touch.key", {{"u95", um(kCoverage95 * c.u_limit_um, 1)}}};
    return canvas.paragraph({100, y + 50 + 660}, phrase(key, speech), {13.0}, kImageWidth - 150.0) + kImageMargin;
  });
}

std::string hand_png(const Handedness& c, const Speech& speech) {
  constexpr int width = 700;
  constexpr double room = 700.0;
  return grown_png(width, [&](Canvas& canvas) {
    const double y = draw_heading(canvas, width, phrase({"hand.title"}, speech), sentences(c.verdict, speech));
    const double length = c.outline.length_mm, scale = room / (length + 12.0), x0 = 350.0, y0 = y + 30.0 + 8.0 * scale;
    const auto at = [&](double x, double lateral) { return CanvasPoint{x0 + scale * lateral, y0 + scale * x}; };
    std::vector<CanvasPoint> rim;
    for (double lateral = -c.outline.half_width_mm(0); lateral <= c.outline.half_width_mm(0); lateral += 0.25)
      rim.push_back(at(c.outline.tip_edge_at(lateral), lateral));
    rim.push_back(at(length, c.outline.right.at(length)));
    rim.push_back(at(length, c.outline.left.at(length)));
    canvas.polygon(rim, {0.93, 0.88, 0.72});
    canvas.polyline(rim, {kInk, 2.0}, true);
    for (const auto& p : c.mark_points_mm) {
      const CanvasPoint m = at(p.x(), p.y());
      canvas.rectangle({{m.x - 0.5 * scale, m.y - 0.5 * scale}, scale, scale}, kSeen);
    }
    canvas.text(at(-3.0, 0), phrase({"hand.tip"}, speech), {15.0}, Anchor::middle);
    const double middle = y0 + 0.5 * scale * length;
    canvas.text({60, middle}, phrase({"hand.left"}, speech), {.size = 18.0, .bold = true});
    canvas.text({640, middle}, phrase({"hand.right"}, speech), {.size = 18.0, .bold = true}, Anchor::right);
    double outermost = 0.0;
    for (const auto& p : c.mark_points_mm) outermost = std::max(outermost, std::abs(p.y()));
    const bool on_right = c.mark_mm.y() > 0.0;
    const CanvasPoint beside = at(c.mark_mm.x(), (on_right ? 1.0 : -1.0) * (outermost + 1.5));
    canvas.text({beside.x, beside.y + 4.0}, phrase({"hand.the_mark"}, speech), {14.0},
                on_right ? Anchor::left : Anchor::right);
    return canvas.paragraph({30, y + 30.0 + room + 20.0}, phrase({"hand.key"}, speech), {13.0, kFaint}, 640.0) +
           kImageMargin;
  });
}

std::string budget_png(const RigBudget& b, const std::string& rig_name, const Speech& speech) {
  constexpr double names = 30.0, first = 430.0, apart = 190.0, full = 130.0;
  return grown_png(kImageWidth, [&](Canvas& canvas) {
    const Message title{"rig_budget.title", {{"rig", text(rig_name)}}};
    double y = draw_heading(canvas, kImageWidth, phrase(title, speech), sentences(b.sentence, speech)) + 30.0;
    const std::array heads{Message{"rig_budget.head_tip"}, Message{"rig_budget.head_rails"},
                           Message{"rig_budget.head_heart"}};
    double below = y;
    for (std::size_t k = 0; k < heads.size(); ++k) {
      below = std::max(below, canvas.paragraph({first + apart * static_cast<double>(k), y}, phrase(heads.at(k), speech),
                                               {.size = 13.0, .bold = true}, apart - 12.0));
    }
    y = below - 3.0;
    const auto bar = [&](int column, double value_um, double all) {
      const double x = first + apart * column, width = std::max(1.0, full * value_um / all);
      canvas.rectangle({{x, y + 4.0}, width, 16.0}, kSeen);
      canvas.text({x + width + 6.0, y + 17.0}, um_text(value_um, 2, false, speech), {12.0});
    };
    for (const auto& line : b.lines) {
      bar(0, line.tip_um, b.tip_um);
      bar(1, line.rails_um, b.rails_um);
      bar(2, line.heart_um, b.heart_um);
      constexpr double width = first - names - 12.0;
      double at =
          canvas.paragraph({names, y + 14.0}, phrase(line.name, speech), {.size = 14.0, .bold = true}, width) - 3.0;
      for (const Message& words : {line.value, line.obtained}) {
        if (!words.empty()) at = canvas.paragraph({names, at}, phrase(words, speech), {11.0, kFaint}, width) - 1.5;
      }
      y = std::max(y + 52.0, at + 2.0);
    }
    canvas.line({30, y}, {kImageWidth - 30.0, y}, {kFaint, 1.0});
    const double all = canvas.paragraph({names, y + 22.0}, phrase({"rig_budget.together"}, speech),
                                        {.size = 14.0, .bold = true}, first - names - 12.0);
    canvas.text({first, y + 22.0}, um_text(b.tip_um, 1, false, speech), {.size = 14.0, .bold = true});
    canvas.text({first + apart, y + 22.0}, um_text(b.rails_um, 1, false, speech), {.size = 14.0, .bold = true});
    canvas.text({first + 2 * apart, y + 22.0}, um_text(b.heart_um, 1, false, speech), {.size = 14.0, .bold = true});
    y = all + 11.0;
    for (const auto& advice : b.advice)
      y = canvas.paragraph({30, y}, sentence(advice, speech), {13.0}, kImageWidth - 60.0);
    return y + kImageMargin;
  });
}

}  // namespace canewise
