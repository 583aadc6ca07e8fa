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

/// Every cell up to `to_mm` in the colour that `colour_of(row, column)` gives.
void draw_cells(Canvas& canvas, const Grid& grid, const ReedView& view, double to_mm,
                const std::function<std::optional<Colour>(Eigen::Index, Eigen::Index)>& colour_of);

/// A shape of Mechanics at a place of the reed, bilinear; beside what is not known the known corners stand for all. NaN
/// where no corner is known and more than a step beyond the grid.
[[nodiscard]] double shape_at(const Mechanics& mechanics, const Eigen::ArrayXXd& shape, double x_mm, double y_mm);

/// Lines where the field has one of the levels, by marching squares.
void draw_contours(Canvas& canvas, const Grid& grid, const Field& field, const ReedView& view,
                   const std::vector<double>& levels, double to_mm, Colour colour, double width);

/// Limits of the zones on the vamp.
void draw_zone_lines(Canvas& canvas, const Result& result, const ReedView& view, Colour colour, double width);

/// Millimetre axes along the left edge and below.
void draw_axes(Canvas& canvas, const ReedView& view, double half_width_mm, double to_mm, double text_size,
               const Speech& speech);

/// Upright colour bar with ticks.
void draw_colour_bar(Canvas& canvas, CanvasPoint top_left, double height, const std::string& title,
                     const std::function<Colour(double)>& colour_of_share,
                     const std::vector<std::pair<double, std::string>>& ticks);

}  // namespace canewise
