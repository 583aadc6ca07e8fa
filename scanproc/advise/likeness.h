#pragma once

#include <string>
#include <vector>

#include "scanproc/ledger/records.h"

namespace canewise {

/// A reed and its figures.
struct NamedFigures {
  std::string label;
  std::vector<FigureValue> figures;
  std::string state = {};  ///< Dry, wet or unknown: cane swells, so only like is compared with like.
};

/// How far a reed is from the player's own reference reeds.
struct Likeness {
  std::string label;
  /// Root mean square of the differences, each in units of what counts as alike; 0 is the same. A difference whose
  /// uncertainty is u such units has the weight 1 / (1 + u^2).
  double distance = 0.0;
  double u = 0.0;        ///< Standard uncertainty from this reed's scan; the keepers' is the same for all reeds.
  int rank = 0;          ///< From 1. Those that cannot be told apart from the best of their rank share it.
  std::string farthest;  ///< The figure that differs most.
  double by = 0.0;       ///< By so much, in its own unit; positive: this reed has more.
};

/// Nearest first. A figure counts if every keeper and the reed have it. What counts as alike is the keepers' own
/// spread, but not less than a quarter strength of stiffness and the tolerances of a clarinet: what a player hears.
/// Rank: the first of each rank is the best of it; who is not farther by more than 1.96 standard uncertainties of the
/// difference shares it. Empty without keepers.
[[nodiscard]] std::vector<Likeness> by_likeness(const std::vector<NamedFigures>& reeds,
                                                const std::vector<NamedFigures>& keepers);

/// The keepers' mean of a figure, and the difference that counts as alike.
struct KeeperFigure {
  std::string name;
  double mean = 0.0, alike = 0.0;
};
[[nodiscard]] std::vector<KeeperFigure> keeper_figures(const std::vector<NamedFigures>& keepers);

}  // namespace canewise
