#pragma once

#include <optional>
#include <string>
#include <vector>

#include "scanproc/ledger/ledger.h"

namespace canewise {

/// What a reed is kept for.
enum class ReedStage { fresh, breaking_in, playing, concert, resting, retired };
[[nodiscard]] std::string_view name_of(ReedStage stage);
[[nodiscard]] std::optional<ReedStage> stage_from(std::string_view name);

struct BoxRecord {
  std::string name, player, instrument, strength, cut, blank, bought_on, note;  ///< Empty: not known.
  int holds = 0;
  bool is_set_aside = false;
};

struct ReedRecord {
  std::string label, box, player, place, note;
  int number = 0;
  ReedStage stage = ReedStage::fresh;
  std::string added_at, stage_since, binned_at;
  bool is_keeper = false;
  [[nodiscard]] bool is_binned() const { return !binned_at.empty(); }
};

/// A number of one measurement, by which reeds are told apart (figures_of.h).
struct FigureValue {
  std::string name;
  double value = 0.0, u = 0.0;
};

/// Null if there is none of that name.
[[nodiscard]] const FigureValue* figure_named(const std::vector<FigureValue>& figures, std::string_view name);

struct ResultRecord {
  std::string folder, reed, measured_at, state, instrument, plan;
  std::vector<FigureValue> figures;
};

enum class HighRegister { holds, drops, flat };
enum class FreerSide { left, right, alike };

/// How a reed played. Marks run from 1, poor, to 5, as good as it gets; airiness and resistance from 1, none, to 5, too
/// much.
struct TrialRecord {
  std::int64_t id = 0;
  std::string reed, played_at, player, mouthpiece, words;
  int response = 0, evenness = 0, tone = 0;
  std::optional<int> articulation, dynamic_range, airiness, resistance;
  std::optional<HighRegister> high_register;
  std::optional<FreerSide> freer_side;
  std::optional<double> minutes;
  std::optional<double> suction_s;  ///< How long the reed stays on the mouthpiece by suction alone.
  bool is_blind = false;
};

[[nodiscard]] BoxRecord box_from(const Row& row);
[[nodiscard]] ReedRecord reed_from(const Row& row);
[[nodiscard]] TrialRecord trial_from(const Row& row);
[[nodiscard]] Row row_of(const TrialRecord& trial);

/// Throws UsageError if there is none of that name.
[[nodiscard]] BoxRecord find_box(const Ledger& ledger, const std::string& name);
[[nodiscard]] ReedRecord find_reed(const Ledger& ledger, const std::string& label);
/// In their order in the box; those in the bin only if asked for.
[[nodiscard]] std::vector<ReedRecord> reeds_of_box(const Ledger& ledger, const std::string& box);
/// Latest first.
[[nodiscard]] std::vector<TrialRecord> trials_of(const Ledger& ledger, const std::string& reed);
/// The latest measurement, with its figures.
[[nodiscard]] std::optional<ResultRecord> latest_result(const Ledger& ledger, const std::string& reed);
/// Minutes played in all, trials included.
[[nodiscard]] double minutes_played(const Ledger& ledger, const std::string& reed);

}  // namespace canewise
