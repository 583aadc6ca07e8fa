#include <algorithm>
#include <array>
#include <cmath>

#include "calib/grown_picture.h"
#include "calib/pictures.h"
#include "calib/plot.h"
#include "scanproc/core/budget.h"

namespace canewise {
namespace {

/// A chart and what its upright axis says.
struct TitledChart {
  const CheckChart& chart;
  Message title;
};

/// Returns the y below.
double draw_chart(Canvas& canvas, const TitledChart& titled, double top, const Speech& speech) {
  const CheckChart& c = titled.chart;
  Plot plot{100, top, kImageWidth - 150.0, 200, 0.5, std::max(2.0, static_cast<double>(c.values_um.size())) + 0.5,
            0,   1};
  fit_y(plot, c.values_um, {c.low_um, c.high_um});
  draw_axes(canvas, plot, {phrase({"check.axis_checks"}, speech), phrase(titled.title, speech)}, speech);
  draw_level(canvas, plot, {c.mean_um, phrase({"study.mean", {{"mean", um(c.mean_um, 1)}}}, speech)});
  draw_level(canvas, plot, {.y = c.low_um, .words = phrase({"check.lower_limit"}, speech), .dashed = true});
  draw_level(canvas, plot, {.y = c.high_um, .words = phrase({"check.upper_limit"}, speech), .dashed = true});
  std::vector<CanvasPoint> line;
  for (std::size_t i = 0; i < c.values_um.size(); ++i)
    line.push_back(plot.at(static_cast<double>(i + 1), c.values_um[i]));
  canvas.polyline(line, {kSeen, 1.2});
  for (std::size_t i = 0; i < line.size(); ++i) {
    if (c.out[i]) {
      draw_cross(canvas, line[i], 6.0, kBad);
    } else {
      draw_dot(canvas, line[i], 4.0, kSeen);
    }
  }
  return top + plot.height + 38.0;
}

/// Dot, square or cross: not told by colour alone.
void draw_person(Canvas& canvas, std::size_t person, const CanvasPoint& at) {
  switch (person % 3) {
    case 0:
      draw_dot(canvas, at, 4.0, kSeen);
      break;
    case 1:
      canvas.rectangle({{at.x - 3.5, at.y - 3.5}, 7.0, 7.0}, kInk);
      break;
    default:
      draw_cross(canvas, at, 4.0, kBad);
  }
}

/// Reed's and rig's part of each zone.
Plot draw_zones(Canvas& canvas, const Reversal& c, double top, const Speech& speech) {
  const auto n = static_cast<double>(c.zones.size());
  Plot plot{100, top, kImageWidth - 150.0, 280, 0.0, std::max(1.0, n), 0, 1};
  std::vector<double> values;
  for (const auto& z : c.zones) {
    for (const double s : {-1.0, 1.0}) {
      values.push_back(z.reed_um + s * kCoverage95 * z.u_reed_um),
          values.push_back(z.rig_um + s * kCoverage95 * z.u_rig_um);
    }
  }
  fit_y(plot, values, {0.0});
  draw_y_axis(canvas, plot, phrase({"reversal.axis_zones"}, speech), speech);
  draw_level(canvas, plot, {0.0});
  for (std::size_t i = 0; i < c.zones.size(); ++i) {
    const auto& z = c.zones[i];
    const double x = static_cast<double>(i);
    const auto mark = [&](double at, double value, double u, Colour colour, bool round) {
      canvas.line(plot.at(at, value - kCoverage95 * u), plot.at(at, value + kCoverage95 * u), {colour, 2.0});
      if (round) {
        draw_dot(canvas, plot.at(at, value), 5.0, colour);
      } else {
        canvas.rectangle({{plot.at(at, value).x - 4.5, plot.at(at, value).y - 4.5}, 9.0, 9.0}, colour);
      }
    };
    mark(x + 0.35, z.reed_um, z.u_reed_um, kSeen, true);
    mark(x + 0.65, z.rig_um, z.u_rig_um, kBad, false);
    const double middle = plot.at(x + 0.5, 0).x, below = plot.top + plot.height;
    const Message across{"reversal.across", {{"across", word(name_of(z.across))}}},
        along{"reversal.along", {{"along", word(name_of(z.along))}}};
    canvas.text({middle, below + 16.0}, phrase(across, speech), {12.0, kFaint}, Anchor::middle);
    canvas.text({middle, below + 30.0}, phrase(along, speech), {12.0, kFaint}, Anchor::middle);
  }
  return plot;
}

/// What the scatter is made of; returns the y below.
double draw_scatter(Canvas& canvas, const GaugeStudy& study, double top, const Speech& speech) {
  const std::array<std::pair<Message, double>, 4> parts{
      std::pair{Message{"study.reeds_differ"}, study.pv}, std::pair{Message{"study.measured_again"}, study.ev},
      std::pair{Message{"study.another_person"}, study.av}, std::pair{Message{"study.both_together"}, study.grr}};
  double widest = 200.0;
  for (const auto& [name, sd] : parts) widest = std::max(widest, canvas.text_width(phrase(name, speech), 13.0));
  const double x = 120.0 + widest, all = std::max(1e-9, study.tv);
  canvas.text({100, top}, phrase({"study.scatter"}, speech), {.size = 14.0, .bold = true});
  double y = top;
  for (const auto& [name, sd] : parts) {
    y += 30.0;
    canvas.text({100, y + 12.0}, phrase(name, speech), {13.0});
    const double width = std::max(1.0, 450.0 * sd / all);
    canvas.rectangle({{x, y}, width, 16.0}, kSeen);
    const Message share{"study.share", {{"sd", um(sd, 1)}, {"share", number(100.0 * sd / all)}}};
    canvas.text({x + 8.0 + width, y + 13.0}, phrase(share, speech), {12.0});
  }
  return y + 20.0;
}

}  // namespace

std::string reversal_png(const Reversal& c, const Speech& speech) {
  std::vector<double> rolls;
  for (const auto& t : c.straight) rolls.push_back(t.roll_um);
  for (const auto& t : c.turned) rolls.push_back(t.roll_um);
  return grown_png(kImageWidth, [&](Canvas& canvas) {
    const double y =
        draw_heading(canvas, kImageWidth, phrase({"reversal.title"}, speech), sentences(c.verdict, speech));
    const Plot plot = draw_zones(canvas, c, y + 50, speech);
    const double ly = plot.top + plot.height + 60.0;
    const std::string reeds = phrase({"reversal.key_reed"}, speech);
    draw_dot(canvas, {110, ly - 4}, 5.0, kSeen);
    canvas.text({124, ly}, reeds, {13.0});
    const double x = 164.0 + canvas.text_width(reeds, 13.0);
    canvas.rectangle({{x, ly - 8.5}, 9.0, 9.0}, kBad);
    canvas.text({x + 18.5, ly}, phrase({"reversal.key_rig"}, speech), {13.0});
    Plot seats{100, ly + 60.0, kImageWidth - 150.0, 180, 0.5, static_cast<double>(rolls.size()) + 0.5, 0, 1};
    fit_y(seats, rolls, {-1.0, 1.0});
    draw_axes(canvas, seats, {phrase({"reversal.axis_seatings"}, speech), phrase({"reversal.axis_roll"}, speech)},
              speech);
    draw_level(canvas, seats, {0.0});
    for (std::size_t i = 0; i < rolls.size(); ++i) {
      const CanvasPoint at = seats.at(static_cast<double>(i + 1), rolls[i]);
      if (i < c.straight.size()) {
        draw_dot(canvas, at, 5.0, kSeen);
      } else {
        canvas.rectangle({{at.x - 4.5, at.y - 4.5}, 9.0, 9.0}, kInk);
      }
    }
    return seats.top + seats.height + 38.0 + kImageMargin;
  });
}

std::string check_png(const CheckChart& heart, const CheckChart& rails, const Messages& verdict, const Speech& speech) {
  return grown_png(kImageWidth, [&](Canvas& canvas) {
    double y = draw_heading(canvas, kImageWidth, phrase({"check.title"}, speech), sentences(verdict, speech));
    y = draw_chart(canvas, {heart, {"check.axis_heart"}}, y + 50.0, speech);
    return draw_chart(canvas, {rails, {"check.axis_rails"}}, y + 62.0, speech) + kImageMargin;
  });
}

std::string study_png(const StudyPicture& p, const Speech& speech) {
  const std::size_t reeds = p.reeds.size(), people = p.people.size(), trials = p.study.trials;
  return grown_png(kImageWidth, [&](Canvas& canvas) {
    const double y = draw_heading(canvas, kImageWidth, phrase({"study.title"}, speech), sentences(p.verdict, speech));
    Plot plot{100, y + 50, kImageWidth - 150.0, 320, 0.0, static_cast<double>(reeds), 0, 1};
    fit_y(plot, p.values_um);
    for (std::size_t r = 0; r < reeds; ++r) {
      if (r % 2 == 1) {
        const CanvasPoint a = plot.at(static_cast<double>(r), plot.y_high),
                          b = plot.at(static_cast<double>(r + 1), plot.y_low);
        canvas.rectangle({{a.x, a.y}, b.x - a.x, b.y - a.y}, {0.95, 0.95, 0.95});
      }
      canvas.text({plot.at(static_cast<double>(r) + 0.5, 0).x, plot.top + plot.height + 18.0}, printable(p.reeds[r]),
                  {12.0}, Anchor::middle);
    }
    draw_y_axis(canvas, plot, phrase(p.quantity, speech), speech);
    for (std::size_t r = 0; r < reeds; ++r) {
      for (std::size_t a = 0; a < people; ++a) {
        const double x = static_cast<double>(r) + (static_cast<double>(a) + 0.7) / (static_cast<double>(people) + 0.4);
        for (std::size_t t = 0; t < trials; ++t)
          draw_person(canvas, a, plot.at(x, p.values_um[(r * people + a) * trials + t]));
      }
    }
    double ly = plot.top + plot.height + 50.0, lx = 100.0;
    for (std::size_t a = 0; a < people; ++a) {
      const std::string person = printable(p.people[a]);
      draw_person(canvas, a, {lx, ly - 4});
      canvas.text({lx + 12.0, ly}, person, {13.0});
      lx += 30.0 + canvas.text_width(person, 13.0);
    }
    return draw_scatter(canvas, p.study, ly + 40.0, speech) + kImageMargin;
  });
}

std::string type_one_png(const TypeOnePicture& picture, const Speech& speech) {
  const std::vector<double>& values = picture.values_um;
  const TypeOne& s = picture.study;
  const double reference = picture.reference_um, tolerance_width = picture.tolerance_width_um;
  const double middle = std::isnan(reference) ? s.mean : reference;
  return grown_png(kImageWidth, [&](Canvas& canvas) {
    const double y =
        draw_heading(canvas, kImageWidth, phrase({"study.title_one"}, speech), sentences(picture.verdict, speech));
    Plot plot{100, y + 50, kImageWidth - 150.0, 300, 0.5, static_cast<double>(values.size()) + 0.5, 0, 1};
    fit_y(plot, values, {s.mean - 0.1 * tolerance_width, s.mean + 0.1 * tolerance_width});
    draw_axes(canvas, plot, {phrase({"study.axis_scans"}, speech), phrase({"study.axis_value"}, speech)}, speech);
    draw_level(canvas, plot, {s.mean, phrase({"study.mean", {{"mean", um(s.mean, 1)}}}, speech)});
    draw_level(canvas, plot,
               {.y = middle - 0.1 * tolerance_width, .words = phrase({"study.fifth"}, speech), .dashed = true});
    draw_level(canvas, plot, {.y = middle + 0.1 * tolerance_width, .dashed = true});
    for (std::size_t i = 0; i < values.size(); ++i)
      draw_dot(canvas, plot.at(static_cast<double>(i + 1), values[i]), 4.5, kSeen);
    return plot.top + plot.height + 38.0 + kImageMargin;
  });
}

}  // namespace canewise
