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

/// Where a player's lip usually lies and how firmly, and where the tip's stiffness is taken: invented within common
/// practice. Distances from the tip.
struct UsualLip {
  double at_mm = 0.0, length_mm = 0.0, force_n = 0.0, tip_patch_at_mm = 0.0;
};

/// What is still good enough: invented defaults, the zones' by band from the tip.
struct ReedTolerances {
  std::array<double, 4> left_right_um{};  ///< Of a left-right difference of zone means.
  std::array<double, 4> target_um{};      ///< Half-width of a target's band where nothing better is known.
  double imbalance = 0.0;                 ///< Of a left-right difference of stiffness, as a share.
};

/// What no plan goes beyond: invented defaults.
struct RemovalLimits {
  double tip_margin_mm = 0.0;        ///< Behind the tip's edge nothing is scraped.
  double floor_tip_mm = 0.0;         ///< Nothing is taken below this, whatever the target says.
  double floor_in_tolerances = 0.0;  ///< No zone below the target by more than so many of its tolerances.
  double most_depth_um = 0.0;        ///< In one session; a deeper fault is worked off in rounds, with a scan between.
};

/// Usual dimensions of an instrument's reeds, millimetres. Common practice, no source: bands for telling what a thing
/// is, never for judging it. And how its reeds are played, judged and scraped unless the player says otherwise.
struct Instrument {
  std::string_view name;   ///< As given to --instrument.
  std::string_view title;  ///< In English, for files; title_of() is for people.
  SizeBand length_mm, tip_width_mm, butt_width_mm, stock_height_mm, vamp_length_mm;
  double thin_below_mm = 0.0;   ///< Stock lower than this: a thin blank.
  double thick_above_mm = 0.0;  ///< Stock higher than this: a thick blank.
  ExampleMouthpiece mouthpiece;
  UsualLip lip;
  ReedTolerances tolerances;
  RemovalLimits removal;
};

/// The same for all instruments, as far as anybody has told.
inline constexpr ReedTolerances kUsualTolerances{{8.0, 15.0, 15.0, 30.0}, {15.0, 25.0, 40.0, 60.0}, 0.06};
inline constexpr RemovalLimits kUsualRemoval{0.5, 0.05, 2.0, 60.0};

// A row is an instrument.
// clang-format off
inline constexpr std::array kInstruments{
    Instrument{"clarinet-bb", "B-flat clarinet",
               {67, 69}, {12.8, 13.2}, {11, 12}, {2.7, 3.3}, {31, 35}, 2.9, 3.1, {32.0, 38.0, 1.05, 18.0},
               {10.0, 4.0, 1.0, 5.0}, kUsualTolerances, kUsualRemoval},
    Instrument{"clarinet-eb", "E-flat clarinet",
               {60, 64}, {11.5, 12.5}, {10, 11}, {2.6, 3.0}, {27, 31}, 2.7, 2.9, {28.0, 33.0, 0.95, 16.0},
               {9.0, 4.0, 1.0, 4.5}, kUsualTolerances, kUsualRemoval},
    Instrument{"clarinet-bass", "bass clarinet",
               {71, 75}, {15.5, 16.5}, {12.5, 14}, {3.0, 3.5}, {36, 41}, 3.15, 3.35, {38.0, 44.0, 1.8, 23.0},
               {12.0, 5.0, 1.0, 6.0}, kUsualTolerances, kUsualRemoval},
    Instrument{"sax-soprano", "soprano saxophone",
               {60, 64}, {12.4, 13.2}, {11, 12}, {2.7, 3.2}, {29, 34}, 2.85, 3.05, {30.0, 35.0, 1.5, 19.0},
               {10.0, 4.0, 1.0, 5.0}, kUsualTolerances, kUsualRemoval},
    Instrument{"sax-alto", "alto saxophone",
               {71, 74}, {15.5, 16.2}, {12.5, 14}, {2.9, 3.4}, {35, 40}, 3.05, 3.25, {37.0, 43.0, 1.9, 23.0},
               {12.0, 5.0, 1.0, 6.0}, kUsualTolerances, kUsualRemoval},
    Instrument{"sax-tenor", "tenor saxophone",
               {78, 81}, {17.3, 18.2}, {14, 15.5}, {3.0, 3.6}, {40, 45}, 3.2, 3.4, {42.0, 48.0, 2.6, 26.0},
               {13.5, 5.5, 1.0, 6.5}, kUsualTolerances, kUsualRemoval},
    Instrument{"sax-baritone", "baritone saxophone",
               {82, 90}, {18.5, 19.7}, {15, 17}, {3.1, 3.8}, {42, 50}, 3.3, 3.6, {46.0, 53.0, 2.8, 29.0},
               {15.0, 6.0, 1.0, 7.0}, kUsualTolerances, kUsualRemoval},
};
// clang-format on

/// Every row is whole: a value that is missing is an error, never another instrument's.
static_assert(std::all_of(kInstruments.begin(), kInstruments.end(), [](const Instrument& i) {
  const auto is_band = [](const SizeBand& band) { return band.low > 0.0 && band.high > band.low; };
  const auto are_given = [](const std::array<double, 4>& values) {
    return std::all_of(values.begin(), values.end(), [](double value) { return value > 0.0; });
  };
  return is_band(i.length_mm) && is_band(i.tip_width_mm) && is_band(i.butt_width_mm) && is_band(i.stock_height_mm) &&
         is_band(i.vamp_length_mm) && i.thin_below_mm > i.stock_height_mm.low && i.thick_above_mm > i.thin_below_mm &&
         i.mouthpiece.window_end_mm > 0.0 && i.mouthpiece.ligature_mm > i.mouthpiece.window_end_mm &&
         i.mouthpiece.tip_opening_mm > 0.0 && i.mouthpiece.facing_length_mm > 0.0 && i.lip.tip_patch_at_mm > 0.0 &&
         i.lip.at_mm > i.lip.tip_patch_at_mm && i.lip.length_mm > 0.0 && i.lip.force_n > 0.0 &&
         i.lip.at_mm + i.lip.length_mm < i.mouthpiece.window_end_mm && are_given(i.tolerances.left_right_um) &&
         are_given(i.tolerances.target_um) && i.tolerances.imbalance > 0.0 && i.removal.tip_margin_mm > 0.0 &&
         i.removal.floor_tip_mm > 0.0 && i.removal.floor_in_tolerances > 0.0 && i.removal.most_depth_um > 0.0;
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
