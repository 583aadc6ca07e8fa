#include "scanproc/report/reed_card.h"

#include "scanproc/advise/box_view.h"
#include "scanproc/ledger/dates.h"
#include "scanproc/report/screen.h"

namespace canewise {
namespace {

constexpr std::size_t kScreenWidth = 96;

}  // namespace

Message what_reed_is(const ReedRecord& reed) {
  const auto is_there = [](const std::string& name) { return word(name.empty() ? "no" : "yes"); };
  return {"reed.what",
          {{"label", text(reed.label)},
           {"has_box", is_there(reed.box)},
           {"box", text(reed.box)},
           {"has_player", is_there(reed.player)},
           {"player", text(reed.player)},
           {"stage", word(name_of(reed.stage))},
           {"keeper", word(reed.is_keeper ? "yes" : "no")},
           {"binned", word(reed.is_binned() ? "yes" : "no")},
           {"has_place", is_there(reed.place)},
           {"place", text(reed.place)}}};
}

Message trial_message(const TrialRecord& trial) {
  return {"reed.trial",
          {{"day", text(day_of(trial.played_at))},
           {"response", count(static_cast<std::size_t>(trial.response))},
           {"evenness", count(static_cast<std::size_t>(trial.evenness))},
           {"tone", count(static_cast<std::size_t>(trial.tone))},
           {"has_words", word(trial.words.empty() ? "no" : "yes")},
           {"words", text(trial.words)}}};
}

std::string reed_line(const ReedRecord& reed, const Speech& speech) {
  return wrapped(phrase(what_reed_is(reed), speech), kScreenWidth, 4);
}

std::string reed_screen(const Ledger& ledger, const std::string& label, const Speech& speech) {
  const ReedRecord reed = find_reed(ledger, label);
  std::string screen = reed_line(reed, speech);
  const auto add = [&](const Message& message) { screen += wrapped(sentence(message, speech), kScreenWidth, 2); };
  if (!reed.note.empty()) add({"reed.note", {{"note", text(reed.note)}}});
  if (const auto result = latest_result(ledger, label)) {
    add({"reed.scanned",
         {{"day", text(day_of(result->measured_at))},
          {"state", word(result->state)},
          {"shelf", word(name_of(shelf_of(result)))},
          {"folder", text(result->folder)}}});
  } else {
    add({"reed.not_scanned"});
  }
  add({"reed.minutes", {{"minutes", number(minutes_played(ledger, label))}}});
  for (const TrialRecord& trial : trials_of(ledger, label)) add(trial_message(trial));
  return screen;
}

}  // namespace canewise
