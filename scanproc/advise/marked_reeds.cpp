#include "scanproc/advise/marked_reeds.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "scanproc/advise/box_view.h"
#include "scanproc/advise/likeness.h"
#include "scanproc/ledger/dates.h"
#include "scanproc/mechanics/cane.h"
#include "scanproc/mechanics/strength.h"

namespace canewise {
namespace {

/// Half strengths above the mean of the keepers; their cane and this one's may differ as reeds of one kind do.
std::optional<FigureValue> halves_over_keepers(const ResultRecord& result, const std::vector<NamedFigures>& keepers) {
  const FigureValue* const stiffness = figure_named(result.figures, "stiffness");
  if (stiffness == nullptr || keepers.empty() || !(stiffness->value > 0.0)) return std::nullopt;
  for (const KeeperFigure& keeper : keeper_figures(keepers)) {
    if (keeper.name != "stiffness" || !(keeper.mean > 0.0)) continue;
    const double cane = CaneSpread{}.between_reeds_rel * std::sqrt(1.0 + 1.0 / static_cast<double>(keepers.size()));
    const double u_rel = std::hypot(stiffness->u / stiffness->value, cane), half = std::log(kStiffnessPerHalf);
    return FigureValue{"halves", std::log(stiffness->value / keeper.mean) / half, u_rel / half};
  }
  return std::nullopt;
}

std::vector<double> others_that_day(const Ledger& ledger, const TrialRecord& trial) {
  std::map<std::string, double> marks;  // One for each reed, the latest.
  if (trial.player.empty()) return {};
  Row equal{{"player", trial.player}};
  equal["mouthpiece"] = trial.mouthpiece.empty() ? Cell() : Cell(trial.mouthpiece);
  for (const Row& row : ledger.rows("trial", {.equal = std::move(equal), .order_by = "played_at"})) {
    const TrialRecord other = trial_from(row);
    if (other.reed != trial.reed && day_of(other.played_at) == day_of(trial.played_at))
      marks[other.reed] = overall_mark(other);
  }
  std::vector<double> all;
  for (const auto& [reed, mark] : marks) all.push_back(mark);
  return all;
}

}  // namespace

PlayingAdvice signs_of_trial(const Ledger& ledger, const TrialRecord& trial) {
  SignInputs inputs{.trial = trial, .figures = {}, .halves = {}};
  inputs.others_that_day = others_that_day(ledger, trial);
  const auto result = latest_result(ledger, trial.reed);
  if (result) {
    inputs.figures = result->figures;
    if (const FigureValue* const worst = figure_named(result->figures, "worst difference")) {
      constexpr double sure = 1.645;  // One-sided, 95 %, as verdicts are.
      inputs.map_is_even = worst->value + sure * worst->u <= 1.0;
      inputs.map_is_uneven = worst->value - sure * worst->u > 1.0;
    }
    std::vector<NamedFigures> keepers = keepers_of(ledger, trial.player, result->instrument);
    std::erase_if(keepers, [&](const NamedFigures& keeper) { return keeper.state != result->state; });
    inputs.halves = halves_over_keepers(*result, keepers);
  }
  return read_signs(inputs);
}

Learned learned_of_player(const Ledger& ledger, const std::string& player) {
  constexpr std::array kFigures{"stiffness", "imbalance tip", "imbalance lip", "tip",
                                "heart",     "rails",         "vamp",          "worst difference"};
  std::map<std::string, std::vector<double>> marks;
  for (const Row& row : ledger.rows("trial", {.equal = {{"player", player}}})) {
    const TrialRecord trial = trial_from(row);
    marks[trial.reed].push_back(overall_mark(trial));
  }
  std::vector<std::vector<double>> figures;
  std::vector<double> means;
  std::map<std::string, std::optional<ResultRecord>> results;
  std::map<std::pair<std::string, std::string>, int> kinds;
  for (const auto& [reed, of_reed] : marks) {
    const auto& result = results[reed] = latest_result(ledger, reed);
    if (result) ++kinds[{result->instrument, result->state}];
  }
  const auto usual =
      std::max_element(kinds.begin(), kinds.end(), [](const auto& a, const auto& b) { return a.second < b.second; });
  for (const auto& [reed, of_reed] : marks) {
    const auto& result = results[reed];
    if (!result || std::pair(result->instrument, result->state) != usual->first) continue;
    std::vector<double> values;
    for (const char* name : kFigures) {
      const FigureValue* const figure = figure_named(result->figures, name);
      if (figure == nullptr) break;
      values.push_back(std::string_view(name).starts_with("imbalance") ? std::abs(figure->value) : figure->value);
    }
    if (values.size() < kFigures.size()) continue;
    double sum = 0.0;
    for (const double mark : of_reed) sum += mark;
    figures.push_back(std::move(values));
    means.push_back(sum / static_cast<double>(of_reed.size()));
  }
  Eigen::MatrixXd x(static_cast<Eigen::Index>(figures.size()), static_cast<Eigen::Index>(kFigures.size()));
  for (Eigen::Index r = 0; r < x.rows(); ++r) {
    for (Eigen::Index c = 0; c < x.cols(); ++c)
      x(r, c) = figures[static_cast<std::size_t>(r)][static_cast<std::size_t>(c)];
  }
  return learn_from_marks({kFigures.begin(), kFigures.end()}, x,
                          Eigen::Map<const Eigen::VectorXd>(means.data(), static_cast<Eigen::Index>(means.size())),
                          // It is asked again after every trial: one chance finding in a hundred, not in twenty.
                          {.shuffles = 999, .seed = 1, .most_by_chance = 0.01});
}

}  // namespace canewise
