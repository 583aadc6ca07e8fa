#pragma once

#include "scanproc/assess/measured.h"
#include "scanproc/assess/zones.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

/// The unscraped bark as a cylinder along the reed: height_mm over the table at the crown, and its radius across.
struct Bark {
  Measured height_mm;
  Measured radius_mm;
  double slope = 0.0;        ///< Rise of the crown per millimetre towards the butt.
  double from_x_mm = 0.0;    ///< `height_mm` holds here.
  Measured crown_y_mm = {};  ///< Where the crown lies: blanks are seldom cut from the middle of their piece of tube.
  [[nodiscard]] double at(double x_mm, double y_mm) const;
};

/// A stretch of the reed; its fits count x from `origin_mm`.
struct Stretch {
  double from_mm, to_mm, origin_mm;
  [[nodiscard]] bool holds(double x_mm) const { return x_mm >= from_mm && x_mm <= to_mm; }
};

/// The bark behind the cut, `slope` being the crown's. Throws NotMeasurable where too little of it was measured.
[[nodiscard]] Bark fit_bark(const ThicknessMap& map, double slope, const Stretch& stretch);

/// What the cut was made into: the bark, and before it what filing left of the bark's corners, as it shows just behind
/// the cut.
class UncutSurface {
 public:
  UncutSurface(const ThicknessMap& map, const Bark& bark, double vamp_length_mm);
  /// Nearer to it than `kClearance_mm` a cell is taken for uncut.
  [[nodiscard]] bool is_uncut(Eigen::Index row, Eigen::Index column) const;

  static constexpr double kClearance_mm = 0.08;

 private:
  const ThicknessMap* map_;
  Bark bark_;
  Eigen::ArrayXd below_bark_mm_;  ///< One for each column.
};

/// Where either side is uncut, and what a cell's footprint mixes with it: left against right tells nothing of the cut
/// there, only where the blank was taken from and how it was filed. Equal on both sides.
[[nodiscard]] CellMask uncut_cells(const ThicknessMap& map, const UncutSurface& surface);

}  // namespace canewise
