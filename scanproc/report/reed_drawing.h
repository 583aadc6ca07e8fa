#pragma once

#include <functional>
#include <vector>

#include "scanproc/drawing/canvas.h"
#include "scanproc/pipeline/result.h"
#include "scanproc/words/speech.h"

namespace canewise {

/// Places the reed frame on a canvas, tip up, left on the left.
struct ReedView {
  double origin_x = 0, origin_y = 0;  ///< Where the tip's apex lies on the canvas.
  double scale = 1;                   ///< Canvas units per millimetre.
  [[nodiscard]] CanvasPoint at(double x_mm, double y_mm) const {
    return {origin_x + scale * y_mm, origin_y + scale * x_mm};
  }
};

/// The rim from the tip to `to_mm`, closed there.
[[nodiscard]] std::vector<CanvasPoint> rim_of(const Outline& outline, const ReedView& view, double to_mm);

/// A grid's cells from the tip to `to_mm`, where they lie on a canvas.
struct GridView {
  const Grid& grid;
  ReedView view;
  double to_mm;
};

/// Every cell in the colour that `colour_of(row, column)` gives.
void draw_cells(Canvas& canvas, const GridView& cells,
                const std::function<std::optional<Colour>(Eigen::Index, Eigen::Index)>& colour_of);

/// A shape of Mechanics at a place of the reed, bilinear; beside what is not known the known corners stand for all. NaN
/// where no corner is known and more than a step beyond the grid.
[[nodiscard]] double shape_at(const Mechanics& mechanics, const Eigen::ArrayXXd& shape, double x_mm, double y_mm);

/// Lines where a field has one of the levels.
struct Contours {
  const Field& field;  ///< On the cells' grid.
  std::vector<double> levels;
};

/// By marching squares.
void draw_contours(Canvas& canvas, const GridView& cells, const Contours& contours, const Stroke& stroke);

/// Limits of the zones on the vamp.
void draw_zone_lines(Canvas& canvas, const Result& result, const ReedView& view, const Stroke& stroke);

/// How far the axes of a reed reach.
struct ReedAxes {
  double half_width_mm;  ///< To both sides of the centreline.
  double to_mm;          ///< From the tip.
  double text_size = 13.0;
};
/// Millimetre axes along the left edge and below.
void draw_axes(Canvas& canvas, const ReedView& view, const ReedAxes& axes, const Speech& speech);

/// A colour scale. Shares run from 0 at the bottom to 1 on top.
struct ColourBar {
  CanvasPoint top_left;
  double height;
  std::string title;
  std::function<Colour(double)> colour_of_share;
  std::vector<std::pair<double, std::string>> ticks;  ///< Share and words.
};
/// Upright, with ticks.
void draw_colour_bar(Canvas& canvas, const ColourBar& bar);

}  // namespace canewise
