#pragma once

#include "scanproc/datum/aligned.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

/// The forms in which one laying of a reed differs from another: what lies under the table, the table's own form, and
/// how the tip curls. Each is 1 where its prior is stated (`Priors`), and has no unit.
class LayingForms {
 public:
  /// `map` needs grid and thickness.
  LayingForms(const ThicknessMap& map, const Outline& outline);

  [[nodiscard]] double roll(double y_mm) const { return y_mm / half_mm_; }
  [[nodiscard]] double pitch(double x_mm) const { return 1.0 - x_mm / pitch_to_mm(); }
  [[nodiscard]] double bow(double x_mm) const;
  [[nodiscard]] double cup(double y_mm) const;
  [[nodiscard]] double twist(double x_mm, double y_mm) const { return along(x_mm) * y_mm / half_mm_; }
  [[nodiscard]] double tip_lift(double x_mm) const;
  [[nodiscard]] double tip_curl_side(double x_mm, double y_mm) const { return tip_lift(x_mm) * y_mm / half_mm_; }

  /// Slopes that make a roll and a pitch of 1.
  [[nodiscard]] double half_width_mm() const { return half_mm_; }
  [[nodiscard]] double pitch_to_mm() const { return 0.75 * length_mm_; }
  /// The tip's curl has faded out where the middle of the reed is half a millimetre thick.
  [[nodiscard]] double curl_to_mm() const { return curl_to_mm_; }

 private:
  [[nodiscard]] double along(double x_mm) const { return (2.0 * x_mm - length_mm_) / length_mm_; }

  double length_mm_, half_mm_;  ///< Of the reed; half its width at the tip.
  double curl_to_mm_;
};

}  // namespace canewise
