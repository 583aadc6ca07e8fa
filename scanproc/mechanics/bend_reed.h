#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "scanproc/assess/assessment.h"
#include "scanproc/core/moisture.h"
#include "scanproc/mechanics/bending_figures.h"
#include "scanproc/mechanics/clipped_reed.h"
#include "scanproc/mechanics/measured_cane.h"
#include "scanproc/mechanics/mechanics.h"
#include "scanproc/mechanics/reed_plate.h"
#include "scanproc/mechanics/strength.h"

namespace canewise {

struct BendInputs {
  const ThicknessMap& map;
  const Outline& outline;
  const Assessment& assessment;
  const Player& player;
  std::string_view instrument;  ///< A name in kInstruments.
  MoistureState state = MoistureState::unknown;
  const MeasuredCane* measured_cane = nullptr;  ///< Of this reed, in this state; without it the cane is assumed.
};

struct BendOptions {
  double spacing_mm = 0.6;  ///< Side of the plate's triangles.
  int modes = 6;
  bool clip = false;  ///< Also what clipping would do.
};
void validate(const BendOptions& options);

/// What is known of the cane's own sides before anybody plays the reed.
struct CaneSides {
  double right_over_left = 0.0;  ///< Moduli, less 1.
  double u = CaneSpread{}.left_right_rel;
  bool measured = false;
};

/// What the plan reads besides the figures: the reed's plate, made ready.
struct BentReed {
  Mechanics mechanics;
  std::optional<BendingFigures> figures;  ///< Empty if nothing is known.
  std::vector<ClippedReed> clipped;       ///< If asked for and anything is known.
  StrengthScale scale;                    ///< Of the player's known reeds in this state of moisture.
  CaneSides sides;
};

/// How the reed bends: see Mechanics. Never throws for a scan that is too poor: `why_not` says so then.
[[nodiscard]] BentReed bend_reed(const BendInputs& inputs, const BendOptions& options = {});

/// The stiffness under the lip alone; empty where `why_not` would say why.
[[nodiscard]] std::optional<double> stiffness_under_lip(const BendInputs& inputs);

/// Standard uncertainty that the scan's thickness gives a figure with this derivative by the cells' thickness (per mm):
/// what is common to cells adds up with its sign, noise as the square root of its sum over all lags.
[[nodiscard]] double scan_uncertainty(const ThicknessMap& map, const Field& by_cells);

/// For clips of 0.1 to 0.5 mm. Throws NotMeasurable as reed_plate does.
[[nodiscard]] std::vector<ClippedReed> clipped_reeds(const ReedPlateInputs& reed, const Lip& lip);

}  // namespace canewise
