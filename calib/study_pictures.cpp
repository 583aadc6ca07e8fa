#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "calib/pictures.h"
#include "calib/plot.h"
#include "scanproc/core/budget.h"

namespace canewise {
namespace {

constexpr int kWidth = 1000;

void draw_chart(Canvas& canvas, const CheckChart& c, double top, const std::string& title) {
  Plot plot{100, top, kWidth - 150.0, 200, 0.5, std::max(2.0, static_cast<double>(c.values_um.size())) + 0.5, 0, 1};
  fit_y(plot, c.values_um, {c.low_um, c.high_um});
  draw_axes(canvas, plot, "check, in order", title);
  draw_level(canvas, plot, c.mean_um, fmt::format("mean {:.1f}", c.mean_um), false);
  draw_level(canvas, plot, c.low_um, "lower limit", true);
  draw_level(canvas, plot, c.high_um, "upper limit", true);
  std::vector<CanvasPoint> line;
  for (std::size_t i = 0; i < c.values_um.size(); ++i)
    line.push_back(plot.at(static_cast<double>(i + 1), c.values_um[i]));
  canvas.polyline(line, kSeen, 1.2);
  for (std::size_t i = 0; i < line.size(); ++i) {
    if (c.out[i]) {
      draw_cross(canvas, line[i], 6.0, kBad);
    } else {
      draw_dot(canvas, line[i], 4.0, kSeen);
    }
  }
}

}  // namespace

std::string reversal_png(const Reversal& c) {
  Canvas canvas = Canvas::png(kWidth, 900);
  const double y = draw_heading(canvas, kWidth, "Turned by half a turn", c.verdict);
  const auto n = static_cast<double>(c.zones.size());
  Plot plot{100, y + 50, kWidth - 150.0, 280, 0.0, std::max(1.0, n), 0, 1};
  std::vector<double> values;
  for (const auto& z : c.zones) {
    for (const double s : {-1.0, 1.0}) {
      values.push_back(z.reed_um + s * kCoverage95 * z.u_reed_um),
          values.push_back(z.rig_um + s * kCoverage95 * z.u_rig_um);
    }
  }
  fit_y(plot, values, {0.0});
  plot.x_low = 0.0;
  draw_y_axis(canvas, plot, "right minus left, µm");
  draw_level(canvas, plot, 0.0, "", false);
  for (std::size_t i = 0; i < c.zones.size(); ++i) {
    const auto& z = c.zones[i];
    const double x = static_cast<double>(i);
    const auto mark = [&](double at, double value, double u, Colour colour, bool round) {
      canvas.line(plot.at(at, value - kCoverage95 * u), plot.at(at, value + kCoverage95 * u), colour, 2.0);
      if (round) {
        draw_dot(canvas, plot.at(at, value), 5.0, colour);
      } else {
        canvas.rectangle(plot.at(at, value).x - 4.5, plot.at(at, value).y - 4.5, 9.0, 9.0, colour);
      }
    };
    mark(x + 0.35, z.reed_um, z.u_reed_um, kSeen, true);
    mark(x + 0.65, z.rig_um, z.u_rig_um, kBad, false);
    const auto comma = z.name.find(", ");
    canvas.text({plot.at(x + 0.5, 0).x, plot.top + plot.height + 16.0}, z.name.substr(0, comma), 12.0, Anchor::middle,
                kFaint);
    if (comma != std::string::npos) {
      canvas.text({plot.at(x + 0.5, 0).x, plot.top + plot.height + 30.0}, z.name.substr(comma + 2), 12.0,
                  Anchor::middle, kFaint);
    }
  }
  double ly = plot.top + plot.height + 60.0;
  draw_dot(canvas, {110, ly - 4}, 5.0, kSeen);
  canvas.text({124, ly}, "the reed's own", 13.0);
  canvas.rectangle(275.5, ly - 8.5, 9.0, 9.0, kBad);
  canvas.text({294, ly}, "the rig's (as the straight scans show it); bars: 95 %", 13.0);
  Plot seats{100, ly + 60.0, kWidth - 150.0, 180, 0.5, static_cast<double>(c.straight.size() + c.turned.size()) + 0.5,
             0,   1};
  std::vector<double> rolls;
  for (const auto& t : c.straight) rolls.push_back(t.roll_um);
  for (const auto& t : c.turned) rolls.push_back(t.roll_um);
  fit_y(seats, rolls, {-1.0, 1.0});
  draw_axes(canvas, seats, "seating (dots: straight; squares: turned)",
            "roll against the mean of its kind, µm at the edge");
  draw_level(canvas, seats, 0.0, "", false);
  for (std::size_t i = 0; i < rolls.size(); ++i) {
    const CanvasPoint at = seats.at(static_cast<double>(i + 1), rolls[i]);
    if (i < c.straight.size()) {
      draw_dot(canvas, at, 5.0, kSeen);
    } else {
      canvas.rectangle(at.x - 4.5, at.y - 4.5, 9.0, 9.0, kInk);
    }
  }
  return std::move(canvas).finish();
}

std::string check_png(const CheckChart& heart, const CheckChart& rails, const std::string& verdict) {
  Canvas canvas = Canvas::png(kWidth, 760);
  const double y = draw_heading(canvas, kWidth, "The piece that does not change", verdict);
  draw_chart(canvas, heart, y + 50.0, "thickness of the heart, µm");
  draw_chart(canvas, rails, y + 350.0, "rails, right minus left, µm");
  return std::move(canvas).finish();
}

std::string study_png(const StudyPicture& p) {
  Canvas canvas = Canvas::png(kWidth, 860);
  const double y = draw_heading(canvas, kWidth, "Can this rig sort reeds?", p.verdict);
  const std::size_t reeds = p.reeds.size(), people = p.people.size(), trials = p.study.trials;
  Plot plot{100, y + 50, kWidth - 150.0, 320, 0.0, static_cast<double>(reeds), 0, 1};
  fit_y(plot, p.values_um);
  for (std::size_t r = 0; r < reeds; ++r) {
    if (r % 2 == 1) {
      const CanvasPoint a = plot.at(static_cast<double>(r), plot.y_high),
                        b = plot.at(static_cast<double>(r + 1), plot.y_low);
      canvas.rectangle(a.x, a.y, b.x - a.x, b.y - a.y, {0.95, 0.95, 0.95});
    }
    canvas.text({plot.at(static_cast<double>(r) + 0.5, 0).x, plot.top + plot.height + 18.0}, p.reeds[r], 12.0,
                Anchor::middle);
  }
  draw_y_axis(canvas, plot, p.quantity + ", µm");
  for (std::size_t r = 0; r < reeds; ++r) {
    for (std::size_t a = 0; a < people; ++a) {
      const double x = static_cast<double>(r) + (static_cast<double>(a) + 0.7) / (static_cast<double>(people) + 0.4);
      for (std::size_t t = 0; t < trials; ++t) {
        const CanvasPoint at = plot.at(x, p.values_um[(r * people + a) * trials + t]);
        switch (a % 3) {
          case 0:
            draw_dot(canvas, at, 4.0, kSeen);
            break;
          case 1:
            canvas.rectangle(at.x - 3.5, at.y - 3.5, 7.0, 7.0, kInk);
            break;
          default:
            draw_cross(canvas, at, 4.0, kBad);
        }
      }
    }
  }
  double ly = plot.top + plot.height + 50.0, lx = 100.0;
  for (std::size_t a = 0; a < people; ++a) {
    switch (a % 3) {
      case 0:
        draw_dot(canvas, {lx, ly - 4}, 4.0, kSeen);
        break;
      case 1:
        canvas.rectangle(lx - 3.5, ly - 7.5, 7.0, 7.0, kInk);
        break;
      default:
        draw_cross(canvas, {lx, ly - 4}, 4.0, kBad);
    }
    canvas.text({lx + 12.0, ly}, p.people[a], 13.0);
    lx += 30.0 + canvas.text_width(p.people[a], 13.0);
  }
  ly += 40.0;
  canvas.text({100, ly}, "what the scatter is made of (one standard deviation)", 14.0, Anchor::left, kInk, true);
  const std::array<std::pair<const char*, double>, 4> parts{
      std::pair{"reeds differ", p.study.pv}, std::pair{"the same, measured again", p.study.ev},
      std::pair{"another person or day", p.study.av}, std::pair{"measuring, both together", p.study.grr}};
  for (const auto& [name, sd] : parts) {
    ly += 30.0;
    canvas.text({100, ly + 12.0}, name, 13.0);
    const double width = 450.0 * sd / std::max(1e-9, p.study.tv);
    canvas.rectangle(320, ly, std::max(1.0, width), 16.0, kSeen);
    canvas.text({328 + std::max(1.0, width), ly + 13.0},
                fmt::format("{:.1f} µm, {:.0f} % of all", sd, 100.0 * sd / std::max(1e-9, p.study.tv)), 12.0);
  }
  return std::move(canvas).finish();
}

std::string type_one_png(const std::vector<double>& values, const TypeOne& s, double reference, double tolerance_width,
                         const std::string& verdict) {
  Canvas canvas = Canvas::png(kWidth, 520);
  const double y = draw_heading(canvas, kWidth, "One reed, many times", verdict);
  Plot plot{100, y + 50, kWidth - 150.0, 300, 0.5, static_cast<double>(values.size()) + 0.5, 0, 1};
  fit_y(plot, values, {s.mean - 0.1 * tolerance_width, s.mean + 0.1 * tolerance_width});
  draw_axes(canvas, plot, "scan, in order", "value, µm");
  draw_level(canvas, plot, s.mean, fmt::format("mean {:.1f}", s.mean), false);
  const double middle = std::isnan(reference) ? s.mean : reference;
  draw_level(canvas, plot, middle - 0.1 * tolerance_width, "a fifth of the tolerance's width", true);
  draw_level(canvas, plot, middle + 0.1 * tolerance_width, "", true);
  for (std::size_t i = 0; i < values.size(); ++i)
    draw_dot(canvas, plot.at(static_cast<double>(i + 1), values[i]), 4.5, kSeen);
  return std::move(canvas).finish();
}

}  // namespace canewise
