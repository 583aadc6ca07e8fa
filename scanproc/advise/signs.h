#pragma once

#include <optional>
#include <vector>

#include "scanproc/ledger/records.h"
#include "scanproc/words/message.h"

namespace canewise {

/// What may be wrong with how a reed plays.
enum class Complaint { too_soft, too_hard, unbalanced, leaks, not_the_reed };
[[nodiscard]] std::string_view name_of(Complaint complaint);

enum class Likelihood { possible, likely };

struct Finding {
  Complaint complaint = Complaint::too_soft;
  Likelihood likelihood = Likelihood::possible;
  Messages reasons;  ///< Each a sign that speaks for it.
};

struct PlayingAdvice {
  std::vector<Finding> findings;     ///< Likely ones first.
  bool contradicts_itself = false;   ///< Signs of too soft and of too hard.
  bool contradicts_the_map = false;  ///< The player feels the side stiffer that the map calls thinner, clearly.
  Messages what_to_do;
};

/// What is known of a reed beside its trial.
struct SignInputs {
  const TrialRecord& trial;
  /// Of the latest scan; empty if there is none.
  std::vector<FigureValue> figures;
  /// Against what the player wants, in half strengths, with its standard uncertainty; empty if nobody knows.
  std::optional<FigureValue> halves;
  bool map_is_even = false;    ///< The scan calls every zone within tolerance.
  bool map_is_uneven = false;  ///< The scan calls one outside.
  /// Marks (mean of response, evenness and tone) of other reeds that the player tried on the same day on the same
  /// mouthpiece.
  std::vector<double> others_that_day = {};
};

/// Common practice: a reed that is too soft drops out or goes flat up high, articulates poorly and has no dynamic
/// range; one that is too hard is airy and resists. One sign alone is 'possible', two or more 'likely'. The advice is a
/// half strength where it is likely, a quarter where it is possible, and none where signs contradict each other.
[[nodiscard]] PlayingAdvice read_signs(const SignInputs& inputs);

/// Whether a player would keep playing such a reed: no mark of the three below 3.
[[nodiscard]] bool suits(const TrialRecord& trial);
/// Mean of response, evenness and tone.
[[nodiscard]] double overall_mark(const TrialRecord& trial);

}  // namespace canewise
