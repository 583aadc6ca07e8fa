#pragma once

namespace canewise {

struct Colour {
  double red = 0, green = 0, blue = 0;  ///< sRGB, 0 to 1.
};

/// From CIE LCh (lightness 0-100, chroma, hue in degrees) for D65, clamped to what a screen can show.
[[nodiscard]] Colour colour_from_lch(double lightness, double chroma, double hue_deg);

/// Perceptually uniform: lightness rises evenly with t in [0, 1], so that it reads in grey; blue over green to yellow,
/// which colour-blind readers tell apart.
[[nodiscard]] Colour sequential_colour(double t);

/// Diverging around t = 0 on [-1, 1]: blue below, orange above, white between; lightness falls evenly to both ends.
[[nodiscard]] Colour diverging_colour(double t);

/// What was not measured or cannot be told: never a colour of the scales.
inline constexpr Colour kMissing{0.80, 0.80, 0.80};
inline constexpr Colour kInk{0.10, 0.10, 0.12};
inline constexpr Colour kFaint{0.55, 0.55, 0.58};
inline constexpr Colour kPaper{1.0, 1.0, 1.0};

}  // namespace canewise
