#pragma once

#include <optional>
#include <string>
#include <vector>

#include "scanproc/advise/first_sample.h"
#include "scanproc/advise/likeness.h"
#include "scanproc/ledger/records.h"

namespace canewise {

/// Where a reed of a box belongs.
enum class Shelf { play_now, worth_work, lay_aside, not_known };
[[nodiscard]] std::string_view name_of(Shelf shelf);

struct ReedOfBox {
  ReedRecord reed;
  std::optional<ResultRecord> result;  ///< Its latest.
  std::optional<TrialRecord> trial;    ///< Its latest.
  Shelf shelf = Shelf::not_known;
  std::optional<Likeness> likeness;  ///< To the player's reference reeds.
};

/// One figure over the box.
struct FigureSpread {
  std::string name;
  int reeds = 0;
  double mean = 0.0;
  /// From reed to reed, what the scans' own uncertainty adds taken off; less than nothing is nothing.
  double sd = 0.0;
  double lowest = 0.0, highest = 0.0;
  std::vector<std::string> stand_apart;  ///< Reeds that the others do not lead one to expect (box_view.cpp).
};

struct BoxView {
  BoxRecord box;
  std::vector<ReedOfBox> reeds;  ///< In the order of the box.
  std::vector<FigureSpread> spreads;
  RestOfBox rest;
  int tried = 0, suited = 0, earlier_boxes = 0;  ///< What `rest` was worked out from.
  int suited_with_work = 0;                      ///< Of those that suit: by the scan, once they were worked on.
  std::vector<NamedFigures> keepers;
};

/// Everything that the ledger knows of a box. A reed was 'tried' if it was played, or else if its latest scan says on
/// which shelf it belongs; it suits if no mark is below 3, or else if the shelf is not 'lay aside'. Those in the bin
/// count as tried too. The rest are the reeds that the ledger has in this box and that nobody tried. Other boxes of the
/// same player, instrument, strength and cut teach how alike boxes are. Reeds are compared in the state in which most
/// of the box was scanned, with the player's keepers for the instrument. Throws UsageError if there is no box of that
/// name.
[[nodiscard]] BoxView view_box(const Ledger& ledger, const std::string& name);

/// What was tried of every box, to be worked out once for many views.
struct TriedBoxRecord {
  BoxRecord box;
  TriedBox tried;
};
using TriedBoxes = std::vector<TriedBoxRecord>;
[[nodiscard]] TriedBoxes tried_boxes(const Ledger& ledger);
[[nodiscard]] BoxView view_box(const Ledger& ledger, const std::string& name, const TriedBoxes& others);

/// Reference reeds of a player for an instrument (empty: any), with the figures of their latest scans.
[[nodiscard]] std::vector<NamedFigures> keepers_of(const Ledger& ledger, const std::string& player,
                                                   const std::string& instrument);

/// By what the latest scan's plan says.
[[nodiscard]] Shelf shelf_of(const std::optional<ResultRecord>& result);
/// Playing counts more than the scan: what suits is played, what does not is worth the work that the scan finds, or
/// none. What is retired lies aside.
[[nodiscard]] Shelf shelf_of(const ReedOfBox& reed);

/// A reed stands apart if its figure lies outside of the others' predictive interval (Student; at least four reeds),
/// widened by its scan's uncertainty, so that one box in twenty of like reeds has such a reed by chance.
[[nodiscard]] FigureSpread spread_of(const std::string& figure, const std::vector<NamedFigures>& reeds);

}  // namespace canewise
