#include "scanproc/report/charts.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <vector>

#include "scanproc/core/units.h"

namespace canewise {
namespace {

struct Point {
  double x, y;
};

/// A plot area with its axes; styles come from the page's style sheet, so that light and dark both work.
class Chart {
 public:
  Chart(double x_low, double x_high, double y_low, double y_high, std::string x_title, std::string y_title)
      : x_low_(x_low),
        x_high_(x_high),
        y_low_(y_low),
        y_high_(y_high),
        x_title_(std::move(x_title)),
        y_title_(std::move(y_title)) {}

  [[nodiscard]] double px(double x) const {
    return kLeft + (x - x_low_) / (x_high_ - x_low_) * (kWidth - kLeft - kRight);
  }
  [[nodiscard]] double py(double y) const {
    return kHeight - kBottom - (y - y_low_) / (y_high_ - y_low_) * (kHeight - kTop - kBottom);
  }

  void curve(const std::vector<Point>& points, std::string_view css_class) {
    body_ += fmt::format("<polyline class=\"{}\" points=\"{}\"/>", css_class, coordinates(points));
  }
  void band(const std::vector<Point>& upper, std::vector<Point> lower) {
    if (upper.empty()) return;
    std::reverse(lower.begin(), lower.end());
    body_ += fmt::format("<polygon class=\"band\" points=\"{} {}\"/>", coordinates(upper), coordinates(lower));
  }
  void legend(const std::vector<std::pair<std::string, std::string>>& entries) {
    double x = kLeft + 8.0;
    for (const auto& [css_class, words] : entries) {
      body_ += css_class == "band"
                   ? fmt::format("<rect class=\"band\" x=\"{:.0f}\" y=\"8\" width=\"26\" height=\"10\"/>", x)
                   : fmt::format("<polyline class=\"{}\" points=\"{:.0f},13 {:.0f},13\"/>", css_class, x, x + 26.0);
      body_ += fmt::format("<text x=\"{:.0f}\" y=\"17\">{}</text>", x + 32.0, words);
      x += 48.0 + 7.5 * static_cast<double>(words.size());
    }
  }
  [[nodiscard]] std::string svg(double x_tick, double y_tick, int y_digits, const std::string& description) const {
    std::string out =
        fmt::format("<svg viewBox=\"0 0 {:.0f} {:.0f}\" role=\"img\" aria-label=\"{}\">", kWidth, kHeight, description);
    for (double x = std::ceil(x_low_ / x_tick) * x_tick; x <= x_high_ + 1e-9; x += x_tick) {
      out += fmt::format(
          "<line class=\"grid\" x1=\"{0:.1f}\" x2=\"{0:.1f}\" y1=\"{1:.1f}\" y2=\"{2:.1f}\"/><text class=\"tick\" "
          "x=\"{0:.1f}\" y=\"{3:.1f}\" text-anchor=\"middle\">{4:g}</text>",
          px(x), kTop, kHeight - kBottom, kHeight - kBottom + 16.0, x);
    }
    for (double y = std::ceil(y_low_ / y_tick) * y_tick; y <= y_high_ + 1e-9; y += y_tick) {
      out += fmt::format(
          "<line class=\"grid\" x1=\"{0:.1f}\" x2=\"{1:.1f}\" y1=\"{2:.1f}\" y2=\"{2:.1f}\"/><text class=\"tick\" "
          "x=\"{3:.1f}\" y=\"{4:.1f}\" text-anchor=\"end\">{5:.{6}f}</text>",
          kLeft, kWidth - kRight, py(y), kLeft - 6.0, py(y) + 4.0, y, y_digits);
    }
    out += fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"end\">{}</text>", kWidth - kRight, kHeight - 4.0,
                       x_title_);
    out += fmt::format("<text x=\"6\" y=\"{:.1f}\" transform=\"rotate(-90 12 {:.1f})\" text-anchor=\"end\">{}</text>",
                       kTop, kTop, y_title_);
    return out + body_ + "</svg>";
  }

 private:
  [[nodiscard]] std::string coordinates(const std::vector<Point>& points) const {
    std::string text;
    for (const auto& p : points) fmt::format_to(std::back_inserter(text), "{:.1f},{:.1f} ", px(p.x), py(p.y));
    return text;
  }
  static constexpr double kWidth = 860, kHeight = 330, kLeft = 56, kRight = 14, kTop = 30, kBottom = 34;
  double x_low_, x_high_, y_low_, y_high_;
  std::string x_title_, y_title_, body_;
};

/// Mean thickness over a strip e_low..e_high of the half width, row by row; e is signed.
std::vector<Point> strip(const Result& result, double e_low, double e_high) {
  std::vector<Point> points;
  const Grid& grid = result.map.grid;
  const double vamp = result.assessment.cut.vamp_length_mm.value;
  for (Eigen::Index r = 0; r < grid.rows && grid.x_mm(r) < vamp; ++r) {
    double sum = 0.0;
    int count = 0;
    for (Eigen::Index c = 0; c < grid.columns; ++c) {
      const double e = grid.y_mm(c) / result.outline.half_width_mm(grid.x_mm(r));
      if (e < e_low || e > e_high || !result.map.measured(r, c)) continue;
      sum += result.map.thickness_mm(r, c);
      ++count;
    }
    if (count > 0) points.push_back({grid.x_mm(r), sum / count});
  }
  return points;
}

}  // namespace

std::string profile_svg(const Result& result) {
  const double vamp = result.assessment.cut.vamp_length_mm.value;
  const auto centre = strip(result, -0.15, 0.15), left = strip(result, -0.9, -0.75), right = strip(result, 0.75, 0.9);
  double top = 0.5;
  for (const auto& p : centre) top = std::max(top, p.y);
  Chart chart(0.0, std::ceil(vamp), 0.0, std::ceil(2.0 * top) / 2.0, "distance from the tip, mm", "thickness, mm");
  std::vector<std::pair<std::string, std::string>> legend;
  if (result.assessment.target) {
    const Target& target = result.assessment.target->target;
    for (const double e : {0.0, 0.82}) {
      std::vector<Point> upper, lower;
      for (const auto& p : centre) {
        const double t = p.x / vamp;
        const double thickness = target.thickness_at(t, e), tolerance = target.tolerance_at(t, e);
        if (std::isnan(thickness)) continue;
        upper.push_back({p.x, thickness + tolerance});
        lower.push_back({p.x, thickness - tolerance});
      }
      chart.band(upper, lower);
    }
    legend.emplace_back("band", "target's band, centre and rails");
  }
  chart.curve(centre, "curve centre");
  chart.curve(left, "curve left");
  chart.curve(right, "curve right");
  legend.insert(legend.begin(),
                {{"curve centre", "centre"}, {"curve left", "left rail"}, {"curve right", "right rail"}});
  chart.legend(legend);
  return chart.svg(5.0, 0.5, 1,
                   "Thickness along the vamp: centre, left rail and right rail over the band of the target.");
}

std::string section_svg(const Result& result, double x_mm) {
  const Grid& grid = result.map.grid;
  const auto row = static_cast<Eigen::Index>(x_mm / grid.cell_mm);
  if (row < 0 || row >= grid.rows) return {};
  std::vector<Point> left, right;
  double low = 1e9, high = 0.0;
  for (Eigen::Index c = grid.columns / 2; c < grid.columns; ++c) {
    for (const bool mirrored : {true, false}) {
      const Eigen::Index column = mirrored ? grid.mirrored(c) : c;
      if (!result.map.measured(row, column)) continue;
      const double h = result.map.thickness_mm(row, column);
      (mirrored ? left : right).push_back({grid.y_mm(c), h});
      low = std::min(low, h), high = std::max(high, h);
    }
  }
  if (left.size() < 3 || right.size() < 3) return {};
  const double span = std::max(0.05, high - low);
  const double tick = span > 0.8 ? 0.2 : span > 0.3 ? 0.1 : span > 0.12 ? 0.05 : 0.02;
  Chart chart(0.0, std::ceil(result.outline.half_width_mm(x_mm)), std::floor(low / tick) * tick,
              std::ceil((high + 0.05 * span) / tick) * tick, "distance from the centreline, mm", "thickness, mm");
  chart.curve(left, "curve left");
  chart.curve(right, "curve right");
  chart.legend({{"curve left", "left side, folded over"}, {"curve right", "right side"}});
  return chart.svg(1.0, tick, 2,
                   fmt::format("Section across the reed {:.0f} mm from the tip, left folded over right.", x_mm));
}

std::string closing_svg(const Closing& closing) {
  std::vector<Point> left, centre, right;
  double top = 0.1;
  for (const ClosingPoint& p : closing.curve) {
    left.push_back({p.pressure_kpa, p.left_mm});
    centre.push_back({p.pressure_kpa, p.centre_mm});
    right.push_back({p.pressure_kpa, p.right_mm});
    top = std::max({top, p.left_mm, p.centre_mm, p.right_mm});
  }
  const double last = closing.curve.back().pressure_kpa;
  const double tick = last > 100.0 ? 50.0 : last > 25.0 ? 10.0 : last > 8.0 ? 2.0 : 1.0;
  Chart chart(0.0, std::max(tick, std::ceil(last / tick) * tick), 0.0, std::ceil(5.0 * top) / 5.0, "pressure, kPa",
              "opening at the tip, mm");
  chart.curve(centre, "curve centre");
  chart.curve(left, "curve left");
  chart.curve(right, "curve right");
  chart.legend({{"curve centre", "centre"}, {"curve left", "left"}, {"curve right", "right"}});
  return chart.svg(tick, top > 1.2 ? 0.5 : 0.2, 1, "How the reed closes: opening at the tip against pressure.");
}

std::string compliance_svg(const std::vector<ComplianceAt>& along) {
  std::vector<Point> left, centre, right;
  double low = 0.0, high = 0.0;
  for (const ComplianceAt& c : along) {
    left.push_back({c.x_mm, std::log10(c.left_mm_per_n)});
    centre.push_back({c.x_mm, std::log10(c.centre_mm_per_n)});
    right.push_back({c.x_mm, std::log10(c.right_mm_per_n)});
    low = std::min({low, left.back().y, centre.back().y, right.back().y});
    high = std::max({high, left.back().y, centre.back().y, right.back().y});
  }
  Chart chart(0.0, std::ceil(along.empty() ? 30.0 : along.back().x_mm), std::floor(low), std::ceil(high),
              "distance from the tip, mm", "gives way, power of ten of mm/N");
  chart.curve(centre, "curve centre");
  chart.curve(left, "curve left");
  chart.curve(right, "curve right");
  chart.legend({{"curve centre", "centre"}, {"curve left", "left"}, {"curve right", "right"}});
  return chart.svg(5.0, 1.0, 0, "How far each place gives way under one newton, along the reed.");
}

std::string before_after_svg(const std::vector<PlannedFigure>& figures) {
  if (figures.empty()) return {};
  struct Bars {
    std::string name, words;
    double before, after;
  };
  std::vector<Bars> rows;
  double most = 150.0 * kImbalanceTolerance;
  for (const PlannedFigure& f : figures) {
    const bool imbalance = is_imbalance(f.figure);
    Bars row{std::string(name_of(f.figure)), "", imbalance ? 100.0 * f.before : 0.0,
             imbalance ? 100.0 * f.after : 100.0 * (f.after / f.before - 1.0)};
    row.words = imbalance ? fmt::format("{:+.1f} to {:+.1f} %, right over left", row.before, row.after)
                          : fmt::format("{:.2f} to {:.2f} N/mm ({:+.1f} %)", f.before, f.after, row.after);
    most = std::max({most, std::abs(row.before), std::abs(row.after)});
    // What a player feels as a side first.
    rows.insert(imbalance ? rows.begin() + std::count_if(rows.begin(), rows.end(),
                                                         [](const Bars& b) { return b.name.starts_with("imbalance"); })
                          : rows.end(),
                std::move(row));
  }
  constexpr double left = 190.0, right = 860.0 - 230.0, row_height = 34.0, top = 26.0;
  const double middle = 0.5 * (left + right), scale = 0.5 * (right - left) / most;
  const double height = top + row_height * static_cast<double>(rows.size()) + 6.0;
  std::string svg = fmt::format(
      "<svg viewBox=\"0 0 860 {:.0f}\" role=\"img\" aria-label=\"Figures of bending before and after\"><text "
      "x=\"{:.0f}\" "
      "y=\"16\" text-anchor=\"middle\">outline: before; full: after; grey: tolerance</text>",
      height, middle);
  for (std::size_t k = 0; k < rows.size(); ++k) {
    const Bars& row = rows[k];
    const double y = top + row_height * static_cast<double>(k);
    if (row.name.starts_with("imbalance")) {
      svg += fmt::format("<rect class=\"band\" x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"28\"/>",
                         middle - 100.0 * kImbalanceTolerance * scale, y, 200.0 * kImbalanceTolerance * scale);
    }
    const auto bar = [&](double value, double offset, const char* style) {
      svg +=
          fmt::format("<rect x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"10\" {}/>",
                      middle + std::min(0.0, value * scale), y + offset, std::max(0.8, std::abs(value) * scale), style);
    };
    if (row.name.starts_with("imbalance")) bar(row.before, 3.0, "style=\"fill:none;stroke:var(--ink)\"");
    bar(row.after, 15.0, "style=\"fill:var(--ink)\"");
    svg += fmt::format(
        "<text x=\"{:.0f}\" y=\"{:.1f}\" text-anchor=\"end\">{}</text><text x=\"{:.0f}\" y=\"{:.1f}\">{}</text>",
        left - 8.0, y + 18.0, row.name, right + 10.0, y + 18.0, row.words);
  }
  svg += fmt::format("<line class=\"grid\" x1=\"{0:.1f}\" x2=\"{0:.1f}\" y1=\"{1:.1f}\" y2=\"{2:.1f}\"/>", middle, top,
                     height);
  return svg + "</svg>";
}

}  // namespace canewise
