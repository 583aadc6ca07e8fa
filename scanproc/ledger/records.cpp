#include "scanproc/ledger/records.h"

#include <array>

#include "scanproc/core/error.h"
#include "scanproc/ledger/tables.h"

namespace canewise {
namespace {

constexpr std::array<std::pair<ReedStage, std::string_view>, 6> kStages{{{ReedStage::fresh, "new"},
                                                                         {ReedStage::breaking_in, "breaking in"},
                                                                         {ReedStage::playing, "playing"},
                                                                         {ReedStage::concert, "concert"},
                                                                         {ReedStage::resting, "resting"},
                                                                         {ReedStage::retired, "retired"}}};
constexpr std::array<std::pair<HighRegister, std::string_view>, 3> kHighRegisters{
    {{HighRegister::holds, "holds"}, {HighRegister::drops, "drops"}, {HighRegister::flat, "flat"}}};
constexpr std::array<std::pair<FreerSide, std::string_view>, 3> kFreerSides{
    {{FreerSide::left, "left"}, {FreerSide::right, "right"}, {FreerSide::alike, "alike"}}};

template <typename Enum, std::size_t n>
std::optional<Enum> value_named(const std::array<std::pair<Enum, std::string_view>, n>& names, std::string_view name) {
  for (const auto& [value, its_name] : names)
    if (name == its_name) return value;
  return std::nullopt;
}
template <typename Enum, std::size_t n>
std::string_view name_in(const std::array<std::pair<Enum, std::string_view>, n>& names, Enum value) {
  for (const auto& [its_value, name] : names)
    if (value == its_value) return name;
  return {};
}

std::optional<int> whole_in(const Row& row, std::string_view column) {
  const auto number = number_in(row, column);
  return number ? std::optional(static_cast<int>(*number)) : std::nullopt;
}

template <typename Value>
Cell cell_of(const std::optional<Value>& value) {
  if (!value) return {};
  if constexpr (std::is_integral_v<Value>) {
    return static_cast<std::int64_t>(*value);
  } else {
    return static_cast<double>(*value);
  }
}
Cell cell_of(const std::string& words) { return words.empty() ? Cell() : Cell(words); }

}  // namespace

std::string_view name_of(ReedStage stage) { return name_in(kStages, stage); }
std::optional<ReedStage> stage_from(std::string_view name) { return value_named(kStages, name); }

BoxRecord box_from(const Row& row) {
  return {.name = words_in(row, "name"),
          .player = words_in(row, "player"),
          .instrument = words_in(row, "instrument"),
          .strength = words_in(row, "strength"),
          .cut = words_in(row, "cut"),
          .blank = words_in(row, "blank"),
          .bought_on = words_in(row, "bought_on"),
          .note = words_in(row, "note"),
          .holds = whole_in(row, "holds").value_or(0),
          .is_set_aside = whole_in(row, "is_set_aside") == 1};
}

ReedRecord reed_from(const Row& row) {
  return {.label = words_in(row, "label"),
          .box = words_in(row, "box"),
          .player = words_in(row, "player"),
          .place = words_in(row, "place"),
          .note = words_in(row, "note"),
          .number = whole_in(row, "number").value_or(0),
          .stage = stage_from(words_in(row, "stage")).value_or(ReedStage::fresh),
          .added_at = words_in(row, "added_at"),
          .stage_since = words_in(row, "stage_since"),
          .binned_at = words_in(row, "binned_at"),
          .is_keeper = whole_in(row, "is_keeper") == 1};
}

TrialRecord trial_from(const Row& row) {
  TrialRecord trial;
  trial.id = static_cast<std::int64_t>(number_in(row, "id").value_or(0.0));
  trial.reed = words_in(row, "reed");
  trial.played_at = words_in(row, "played_at");
  trial.player = words_in(row, "player");
  trial.mouthpiece = words_in(row, "mouthpiece");
  trial.words = words_in(row, "words");
  trial.response = whole_in(row, "response").value_or(0);
  trial.evenness = whole_in(row, "evenness").value_or(0);
  trial.tone = whole_in(row, "tone").value_or(0);
  trial.articulation = whole_in(row, "articulation");
  trial.dynamic_range = whole_in(row, "dynamic_range");
  trial.airiness = whole_in(row, "airiness");
  trial.resistance = whole_in(row, "resistance");
  trial.high_register = value_named(kHighRegisters, words_in(row, "high_register"));
  trial.freer_side = value_named(kFreerSides, words_in(row, "freer_side"));
  trial.minutes = number_in(row, "minutes");
  trial.suction_s = number_in(row, "suction_s");
  trial.is_blind = whole_in(row, "is_blind") == 1;
  return trial;
}

Row row_of(const TrialRecord& trial) {
  const auto named = [](std::string_view name) { return name.empty() ? Cell() : Cell(std::string(name)); };
  Row row{{"reed", trial.reed},
          {"played_at", trial.played_at},
          {"player", cell_of(trial.player)},
          {"mouthpiece", cell_of(trial.mouthpiece)},
          {"minutes", cell_of(trial.minutes)},
          {"response", std::int64_t{trial.response}},
          {"evenness", std::int64_t{trial.evenness}},
          {"tone", std::int64_t{trial.tone}},
          {"articulation", cell_of(trial.articulation)},
          {"dynamic_range", cell_of(trial.dynamic_range)},
          {"airiness", cell_of(trial.airiness)},
          {"resistance", cell_of(trial.resistance)},
          {"suction_s", cell_of(trial.suction_s)},
          {"is_blind", std::int64_t{trial.is_blind ? 1 : 0}},
          {"words", cell_of(trial.words)}};
  if (trial.high_register) row["high_register"] = named(name_in(kHighRegisters, *trial.high_register));
  if (trial.freer_side) row["freer_side"] = named(name_in(kFreerSides, *trial.freer_side));
  if (trial.id > 0) row["id"] = trial.id;
  return row;
}

const FigureValue* figure_named(const std::vector<FigureValue>& figures, std::string_view name) {
  for (const FigureValue& figure : figures)
    if (figure.name == name) return &figure;
  return nullptr;
}

BoxRecord find_box(const Ledger& ledger, const std::string& name) {
  const Row row = ledger.row("box", name);
  if (row.empty()) throw UsageError({"ledger.no_such", {{"table", word("box")}, {"name", text(name)}}});
  return box_from(row);
}

ReedRecord find_reed(const Ledger& ledger, const std::string& label) {
  const Row row = ledger.row("reed", label);
  if (row.empty()) throw UsageError({"ledger.no_such", {{"table", word("reed")}, {"name", text(label)}}});
  return reed_from(row);
}

std::vector<ReedRecord> reeds_of_box(const Ledger& ledger, const std::string& box) {
  std::vector<ReedRecord> reeds;
  for (const Row& row : ledger.rows("reed", {.equal = {{"box", box}, {"binned_at", Cell()}}, .order_by = "number"}))
    reeds.push_back(reed_from(row));
  return reeds;
}

std::vector<TrialRecord> trials_of(const Ledger& ledger, const std::string& reed) {
  std::vector<TrialRecord> trials;
  for (const Row& row : ledger.rows("trial", {.equal = {{"reed", reed}}, .order_by = "played_at", .descending = true}))
    trials.push_back(trial_from(row));
  return trials;
}

std::optional<ResultRecord> latest_result(const Ledger& ledger, const std::string& reed) {
  const Rows rows =
      ledger.rows("result", {.equal = {{"reed", reed}}, .order_by = "measured_at", .descending = true, .most = 1});
  if (rows.empty()) return std::nullopt;
  const Row& row = rows.front();
  ResultRecord result{.folder = words_in(row, "folder"),
                      .reed = words_in(row, "reed"),
                      .measured_at = words_in(row, "measured_at"),
                      .state = words_in(row, "state"),
                      .instrument = words_in(row, "instrument"),
                      .plan = words_in(row, "plan"),
                      .figures = {}};
  for (const Row& figure : ledger.rows("figure", {.equal = {{"folder", result.folder}}})) {
    result.figures.push_back(
        {words_in(figure, "name"), number_in(figure, "value").value_or(0.0), number_in(figure, "u").value_or(0.0)});
  }
  return result;
}

double minutes_played(const Ledger& ledger, const std::string& reed) {
  double minutes = 0.0;
  for (const Row& row : ledger.rows("playing", {.equal = {{"reed", reed}}}))
    minutes += number_in(row, "minutes").value_or(0.0);
  for (const TrialRecord& trial : trials_of(ledger, reed)) minutes += trial.minutes.value_or(0.0);
  return minutes;
}

}  // namespace canewise
