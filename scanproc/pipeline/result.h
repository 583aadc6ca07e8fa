#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "scanproc/assess/assessment.h"
#include "scanproc/assess/budget_table.h"
#include "scanproc/assess/table_form.h"
#include "scanproc/core/moisture.h"
#include "scanproc/datum/aligned.h"
#include "scanproc/mechanics/clipped_reed.h"
#include "scanproc/mechanics/measured_cane.h"
#include "scanproc/mechanics/mechanics.h"
#include "scanproc/mechanics/player.h"
#include "scanproc/rig/rig.h"
#include "scanproc/scrape/scrape_plan.h"
#include "scanproc/thickness/texture.h"
#include "scanproc/thickness/thickness_map.h"
#include "scanproc/words/message.h"

namespace canewise {

inline constexpr int kResultVersion = 2;

struct ScanSource {
  std::string file;  ///< Name without folders.
  std::string sha256;
  std::string format;
  std::string unit;
  bool unit_guessed = false;
  std::size_t points = 0;
  std::size_t dropped_non_finite = 0;
};

/// Whose reed it is, as it was filed; empty where nobody said.
struct ReedName {
  std::string label;   ///< The reed's own: 'B3-7'.
  std::string box;     ///< Of its box.
  std::string player;  ///< Of who plays it.
};

/// How it is known which side of a scan is left.
enum class HandednessSource {
  assumed,   ///< As the scanner gives them, not checked.
  rig_file,  ///< Corrected: the rig swaps them, as a calibration found.
  mark,      ///< Proved by a mark on the plate; Rig::handedness_found says when.
};
inline constexpr std::array kHandednessSources{HandednessSource::assumed, HandednessSource::rig_file,
                                               HandednessSource::mark};
[[nodiscard]] constexpr std::string_view name_of(HandednessSource source) {
  constexpr std::array<std::string_view, kHandednessSources.size()> names{"assumed", "rig file", "mark"};
  return names.at(static_cast<std::size_t>(source));
}

/// Everything that a later reader must know of one measurement. Report, viewer and ledger read this alone.
struct Result {
  std::string program_version;
  std::string measured_at;  ///< ISO 8601, UTC.
  std::vector<ScanSource> scans;
  ReedName reed;
  MoistureState state = MoistureState::unknown;
  DatumMode datum = DatumMode::plate;
  std::optional<Registration> registration;  ///< Of several scans.
  std::optional<TableForm> table;            ///< Two-sided only.
  HandednessSource handedness = HandednessSource::assumed;
  std::optional<MeasuredCane> cane;  ///< What a bend test of this reed found; without it the cane is assumed.
  std::string instrument;            ///< Name in kInstruments.
  bool instrument_given = false;
  Rig rig;
  Player player;
  std::vector<std::string> options;  ///< As given, 'name=value'.
  Messages notes;

  Outline outline;
  FrameUncertainty frame;
  double plate_noise_mm = 0.0;
  double spacing_mm = 0.0;
  ThicknessMap map;
  Assessment assessment;
  Eigen::ArrayXXd relative_thickness_mm;  ///< At the nodes of a Target, so that reeds can be compared and averaged.
  std::vector<Texture> texture;
  std::vector<BudgetTable> budgets;
  Mechanics mechanics;
  std::vector<ClippedReed> clipped;  ///< What clipping would do; empty if nothing is known of the bending.
  ScrapePlan plan;

  Messages headline;   ///< What the reed is and how its balance stands.
  Messages certainty;  ///< How sure that is.
};

}  // namespace canewise
