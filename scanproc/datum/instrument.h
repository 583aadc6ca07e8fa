#pragma once

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <string_view>

#include "scanproc/words/message.h"

namespace canewise {

struct SizeBand {
  double low = 0.0;
  double high = 0.0;
  [[nodiscard]] constexpr double middle() const { return 0.5 * (low + high); }
  /// Inside the band widened by `share` of its limits on both sides.
  [[nodiscard]] constexpr bool holds(double value, double share = 0.0) const {
    return value >= low * (1.0 - share) && value <= high * (1.0 + share);
  }
};

/// What holds and meets a reed on an example mouthpiece: invented within common practice. Distances from the tip.
struct ExampleMouthpiece {
  double window_end_mm = 0.0, ligature_mm = 0.0, tip_opening_mm = 0.0, facing_length_mm = 0.0;
};

/// Usual dimensions of an instrument's reeds, millimetres. Common practice, no source: bands for telling what a thing
/// is, never for judging it.
struct Instrument {
  std::string_view name;   ///< As given to --instrument.
  std::string_view title;  ///< In English, for files; title_of() is for people.
  SizeBand length_mm, tip_width_mm, butt_width_mm, stock_height_mm, vamp_length_mm;
  double thin_below_mm = 0.0;   ///< Stock lower than this: a thin blank.
  double thick_above_mm = 0.0;  ///< Stock higher than this: a thick blank.
  ExampleMouthpiece mouthpiece;
};

// A row is an instrument.
// clang-format off
inline constexpr std::array kInstruments{
    Instrument{"clarinet-bb", "B-flat clarinet",
               {67, 69}, {12.8, 13.2}, {11, 12}, {2.7, 3.3}, {31, 35}, 2.9, 3.1, {32.0, 38.0, 1.05, 18.0}},
    Instrument{"clarinet-eb", "E-flat clarinet",
               {60, 64}, {11.5, 12.5}, {10, 11}, {2.6, 3.0}, {27, 31}, 2.7, 2.9, {28.0, 33.0, 0.95, 16.0}},
    Instrument{"clarinet-bass", "bass clarinet",
               {71, 75}, {15.5, 16.5}, {12.5, 14}, {3.0, 3.5}, {36, 41}, 3.15, 3.35, {38.0, 44.0, 1.8, 23.0}},
    Instrument{"sax-soprano", "soprano saxophone",
               {60, 64}, {12.4, 13.2}, {11, 12}, {2.7, 3.2}, {29, 34}, 2.85, 3.05, {30.0, 35.0, 1.5, 19.0}},
    Instrument{"sax-alto", "alto saxophone",
               {71, 74}, {15.5, 16.2}, {12.5, 14}, {2.9, 3.4}, {35, 40}, 3.05, 3.25, {37.0, 43.0, 1.9, 23.0}},
    Instrument{"sax-tenor", "tenor saxophone",
               {78, 81}, {17.3, 18.2}, {14, 15.5}, {3.0, 3.6}, {40, 45}, 3.2, 3.4, {42.0, 48.0, 2.6, 26.0}},
    Instrument{"sax-baritone", "baritone saxophone",
               {82, 90}, {18.5, 19.7}, {15, 17}, {3.1, 3.8}, {42, 50}, 3.3, 3.6, {46.0, 53.0, 2.8, 29.0}},
};
// clang-format on

/// Every row is whole: a value that is missing is an error, never another instrument's.
static_assert(std::all_of(kInstruments.begin(), kInstruments.end(), [](const Instrument& i) {
  const auto is_band = [](const SizeBand& band) { return band.low > 0.0 && band.high > band.low; };
  return is_band(i.length_mm) && is_band(i.tip_width_mm) && is_band(i.butt_width_mm) && is_band(i.stock_height_mm) &&
         is_band(i.vamp_length_mm) && i.thin_below_mm > i.stock_height_mm.low && i.thick_above_mm > i.thin_below_mm &&
         i.mouthpiece.window_end_mm > 0.0 && i.mouthpiece.ligature_mm > i.mouthpiece.window_end_mm &&
         i.mouthpiece.tip_opening_mm > 0.0 && i.mouthpiece.facing_length_mm > 0.0;
}));

/// Null when the name is not in the table.
[[nodiscard]] const Instrument* find_instrument(std::string_view name);
[[nodiscard]] Message title_of(const Instrument& instrument);
/// All names, separated by commas, for messages.
[[nodiscard]] std::string instrument_names();
/// The instrument whose bands are nearest to these dimensions; null when none holds them within 10 %.
/// B-flat clarinet comes first where it fits as well.
[[nodiscard]] const Instrument* guess_instrument(double length_mm, double tip_width_mm);

}  // namespace canewise
