#include "scanproc/drawing/colour.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace canewise {
namespace {

double gamma(double linear) {
  const double c = std::clamp(linear, 0.0, 1.0);
  return c <= 0.0031308 ? 12.92 * c : 1.055 * std::pow(c, 1.0 / 2.4) - 0.055;  // IEC 61966-2-1
}

double from_lab(double f) { return f > 6.0 / 29.0 ? f * f * f : 3.0 * (6.0 / 29.0) * (6.0 / 29.0) * (f - 4.0 / 29.0); }

}  // namespace

Colour colour_from_lch(double lightness, double chroma, double hue_deg) {
  const double hue = hue_deg * std::numbers::pi / 180.0;
  const double fy = (lightness + 16.0) / 116.0;
  const double x = 0.95047 * from_lab(fy + chroma * std::cos(hue) / 500.0);
  const double y = from_lab(fy);
  const double z = 1.08883 * from_lab(fy - chroma * std::sin(hue) / 200.0);
  return {gamma(3.2406 * x - 1.5372 * y - 0.4986 * z), gamma(-0.9689 * x + 1.8758 * y + 0.0415 * z),
          gamma(0.0557 * x - 0.2040 * y + 1.0570 * z)};
}

Colour sequential_colour(double t) {
  const double s = std::clamp(t, 0.0, 1.0);
  return colour_from_lch(20.0 + 72.0 * s, 38.0 + 32.0 * s * s, 285.0 - 190.0 * s);
}

Colour diverging_colour(double t) {
  const double s = std::clamp(std::abs(t), 0.0, 1.0);
  return colour_from_lch(97.0 - 50.0 * s, (t < 0 ? 44.0 : 60.0) * s, t < 0 ? 268.0 : 58.0);
}

}  // namespace canewise
