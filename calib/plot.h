#pragma once

#include <string>
#include <vector>

#include "scanproc/drawing/canvas.h"
#include "scanproc/words/speech.h"

namespace canewise {

/// Pictures of calibration: their width and what is left free below, in pixels.
inline constexpr int kImageWidth = 1000;
inline constexpr double kImageMargin = 24.0;

/// A rectangle of a picture with two number axes.
struct Plot {
  double left = 0, top = 0, width = 0, height = 0;  ///< Pixels.
  double x_low = 0, x_high = 1, y_low = 0, y_high = 1;
  bool y_down = false;  ///< As pictures count rows.

  [[nodiscard]] CanvasPoint at(double x, double y) const {
    const double share = (y - y_low) / (y_high - y_low);
    return {left + (x - x_low) / (x_high - x_low) * width, top + (y_down ? share : 1.0 - share) * height};
  }
  [[nodiscard]] bool holds(double x, double y) const { return x >= x_low && x <= x_high && y >= y_low && y <= y_high; }
};

/// Sets the y range to hold all values and `also`, with some room.
void fit_y(Plot& plot, const std::vector<double>& values, const std::vector<double>& also = {});

/// Ticks at round numbers with light grid lines, and the title, of the upright axis alone: where things below have
/// names.
void draw_y_axis(Canvas& canvas, const Plot& plot, const std::string& y_title, const Speech& speech);
/// What stands at the axes, with units.
struct AxisTitles {
  std::string x, y;
};
/// Frame, ticks at round numbers with light grid lines, titles.
void draw_axes(Canvas& canvas, const Plot& plot, const AxisTitles& titles, const Speech& speech);
void draw_dot(Canvas& canvas, const CanvasPoint& at, double radius, Colour colour);
/// A cross, for what was left out: not told by colour alone.
void draw_cross(Canvas& canvas, const CanvasPoint& at, double radius, Colour colour);
/// A level of the upright axis.
struct Level {
  double y = 0;
  std::string words = {};  ///< Empty: none.
  bool dashed = false;
};
/// Line over the plot's width with its words at the right end, above the line. None outside of the plot's range.
void draw_level(Canvas& canvas, const Plot& plot, const Level& level);
/// A diverging scale of small lengths.
struct ScaleBar {
  CanvasPoint top_left;
  double width = 0;
  double limit_um = 0;  ///< At its ends.
};
/// Bar under a plot, with its end values.
void draw_scale_bar(Canvas& canvas, const ScaleBar& bar, const Speech& speech);

/// Headline and a paragraph; returns the y below.
double draw_heading(Canvas& canvas, double width, const std::string& title, const std::string& words);
/// The y that draw_heading will return: pictures grow with their words.
[[nodiscard]] double heading_end(double width, const std::string& title, const std::string& words);

inline constexpr Colour kSeen{0.16, 0.37, 0.60};  ///< Measured values.
inline constexpr Colour kBad{0.78, 0.36, 0.04};   ///< Out of limits, left out.

}  // namespace canewise
