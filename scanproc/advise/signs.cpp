#include "scanproc/advise/signs.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace canewise {
namespace {

constexpr int kPoor = 2, kMuch = 4;
/// Suction holds a reed that seals for some seconds: common practice.
constexpr double kHolds_s = 3.0;
constexpr double kSure = 1.96;

void add_if(Messages& reasons, bool is_so, Message reason) {
  if (is_so) reasons.push_back(std::move(reason));
}

Messages signs_of_soft(const SignInputs& in) {
  const TrialRecord& t = in.trial;
  Messages reasons;
  add_if(reasons, t.high_register == HighRegister::drops, {"sign.drops"});
  add_if(reasons, t.high_register == HighRegister::flat, {"sign.flat"});
  add_if(reasons, t.articulation && *t.articulation <= kPoor, {"sign.articulation"});
  add_if(reasons, t.dynamic_range && *t.dynamic_range <= kPoor, {"sign.dynamics"});
  add_if(reasons, t.resistance == 1, {"sign.no_resistance"});
  if (in.halves)
    add_if(reasons, in.halves->value < -0.25 && -in.halves->value > kSure * in.halves->u, {"sign.map_softer"});
  return reasons;
}

Messages signs_of_hard(const SignInputs& in) {
  const TrialRecord& t = in.trial;
  Messages reasons;
  add_if(reasons, t.airiness && *t.airiness >= kMuch, {"sign.airy"});
  add_if(reasons, t.resistance && *t.resistance >= kMuch, {"sign.resists"});
  // A late response alone has many causes.
  add_if(reasons, !reasons.empty() && t.response <= kPoor, {"sign.late"});
  if (in.halves)
    add_if(reasons, in.halves->value > 0.25 && in.halves->value > kSure * in.halves->u, {"sign.map_harder"});
  return reasons;
}

bool one_side_is_freer(const TrialRecord& t) {
  return t.freer_side == FreerSide::left || t.freer_side == FreerSide::right;
}

Messages signs_of_imbalance(const SignInputs& in) {
  Messages reasons;
  if (one_side_is_freer(in.trial))
    reasons.push_back({"sign.freer", {{"side", word(in.trial.freer_side == FreerSide::left ? "left" : "right")}}});
  add_if(reasons, in.trial.evenness <= kPoor, {"sign.uneven"});
  add_if(reasons, in.map_is_uneven, {"sign.map_uneven"});
  return reasons;
}

Messages signs_of_leak(const SignInputs& in) {
  Messages reasons;
  if (in.trial.suction_s && *in.trial.suction_s < kHolds_s)
    reasons.push_back({"sign.suction", {{"seconds", number(*in.trial.suction_s, 1)}}});
  return reasons;
}

Messages signs_of_something_else(const SignInputs& in) {
  Messages reasons;
  constexpr double low = 3.0;
  constexpr std::size_t enough = 2;
  if (overall_mark(in.trial) >= low) return reasons;
  const bool all_low =
      in.others_that_day.size() >= enough &&
      std::all_of(in.others_that_day.begin(), in.others_that_day.end(), [](double m) { return m < low; });
  if (all_low) reasons.push_back({"sign.others_too", {{"reeds", count(in.others_that_day.size())}}});
  add_if(reasons, all_low && in.map_is_even, {"sign.map_even"});
  return reasons;
}

/// The stiffer side speaks less freely.
bool feels_otherwise_than_the_map(const SignInputs& in) {
  const FigureValue* const imbalance = figure_named(in.figures, "imbalance tip");
  if (imbalance == nullptr || !one_side_is_freer(in.trial)) return false;
  constexpr double clear = 0.03;
  const bool right_is_stiffer = imbalance->value > 0.0;
  return std::abs(imbalance->value) > std::max(clear, kSure * imbalance->u) &&
         (in.trial.freer_side == FreerSide::right) == right_is_stiffer;
}

Messages to_do(const PlayingAdvice& advice, bool side_is_known) {
  Messages sentences;
  const bool is_soft = std::any_of(advice.findings.begin(), advice.findings.end(),
                                   [](const Finding& f) { return f.complaint == Complaint::too_soft; });
  if (advice.contradicts_itself) return {Message{"advice.signs_contradict"}};
  for (const Finding& finding : advice.findings) {
    if (finding.complaint == Complaint::not_the_reed) return {Message{"advice.not_the_reed"}};
  }
  for (const Finding& finding : advice.findings) {
    const Argument sure = word(finding.likelihood == Likelihood::likely ? "likely" : "possible");
    switch (finding.complaint) {
      case Complaint::too_soft:
        sentences.push_back({"advice.harder", {{"sure", sure}}});
        break;
      case Complaint::too_hard:
        sentences.push_back({"advice.softer", {{"sure", sure}}});
        break;
      case Complaint::unbalanced:
        if (advice.contradicts_the_map) {
          sentences.push_back({"advice.feels_otherwise"});
        } else if (!is_soft) {  // Balancing takes cane off.
          sentences.push_back({"advice.balance", {{"side", word(side_is_known ? "yes" : "no")}}});
        }
        break;
      case Complaint::leaks:
        sentences.push_back({"advice.leaks"});
        break;
      case Complaint::not_the_reed:
        break;
    }
  }
  return sentences;
}

}  // namespace

std::string_view name_of(Complaint complaint) {
  switch (complaint) {
    case Complaint::too_soft:
      return "too soft";
    case Complaint::too_hard:
      return "too hard";
    case Complaint::unbalanced:
      return "unbalanced";
    case Complaint::leaks:
      return "leaks";
    case Complaint::not_the_reed:
      break;
  }
  return "elsewhere";
}

double overall_mark(const TrialRecord& trial) { return (trial.response + trial.evenness + trial.tone) / 3.0; }

bool suits(const TrialRecord& trial) {
  constexpr int good_enough = 3;
  return std::min({trial.response, trial.evenness, trial.tone}) >= good_enough;
}

PlayingAdvice read_signs(const SignInputs& inputs) {
  PlayingAdvice advice;
  const auto add = [&](Complaint complaint, Messages reasons) {
    if (reasons.empty()) return;
    const Likelihood likelihood = reasons.size() > 1 ? Likelihood::likely : Likelihood::possible;
    advice.findings.push_back({complaint, likelihood, std::move(reasons)});
  };
  const Messages soft = signs_of_soft(inputs), hard = signs_of_hard(inputs);
  advice.contradicts_itself = !soft.empty() && !hard.empty();
  advice.contradicts_the_map = feels_otherwise_than_the_map(inputs);
  add(Complaint::too_soft, soft);
  add(Complaint::too_hard, hard);
  add(Complaint::unbalanced, signs_of_imbalance(inputs));
  add(Complaint::leaks, signs_of_leak(inputs));
  add(Complaint::not_the_reed, signs_of_something_else(inputs));
  std::stable_sort(advice.findings.begin(), advice.findings.end(),
                   [](const Finding& a, const Finding& b) { return a.likelihood > b.likelihood; });
  advice.what_to_do = to_do(advice, inputs.trial.freer_side.has_value());
  return advice;
}

}  // namespace canewise
