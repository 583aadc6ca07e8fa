#include <memory>

#include "scanproc/advise/keeping.h"
#include "scanproc/advise/marked_reeds.h"
#include "scanproc/cli/commands.h"
#include "scanproc/cli/ledger_options.h"
#include "scanproc/cli/print_out.h"
#include "scanproc/core/error.h"
#include "scanproc/core/utc.h"
#include "scanproc/ledger/dates.h"
#include "scanproc/ledger/records.h"
#include "scanproc/report/box_screen.h"
#include "scanproc/report/screen.h"

namespace canewise {
namespace {

struct TrialArguments : LedgerArguments {
  std::string reed;
};

struct TodayArguments : LedgerArguments {
  std::string player, day;
};

void run_trial(const TrialArguments& a, const Speech& speech) {
  Ledger ledger(a.ledger, Ledger::Access::write);
  const ReedRecord reed = find_reed(ledger, a.reed);
  Row row = columns_of(a, "trial");
  row["reed"] = a.reed;
  if (!row.contains("played_at")) row["played_at"] = now_utc();
  if (!row.contains("player") && !reed.player.empty()) row["player"] = reed.player;
  const Cell id = ledger.insert("trial", row);
  const TrialRecord trial = trial_from(ledger.row("trial", id));
  std::string screen = phrase({"cli.trial.kept", {{"reed", text(a.reed)}}}, speech) + "\n";
  screen += signs_screen(signs_of_trial(ledger, trial), speech);
  if (!trial.player.empty())
    screen += wrapped(sentences(learned_sentences(learned_of_player(ledger, trial.player)), speech), 96, 2);
  print_out(screen);
}

void run_today(const TodayArguments& a, const Speech& speech) {
  const Ledger ledger(a.ledger, Ledger::Access::read);
  const std::string day = a.day.empty() ? day_of(now_utc()) : a.day;
  if (!is_day(day)) throw UsageError({"cli.today.no_day", {{"day", text(day)}}});
  if (!a.player.empty() && !ledger.has("player", a.player))
    throw UsageError({"ledger.no_such", {{"table", word("player")}, {"name", text(a.player)}}});
  std::string screen;
  for (const ChoreOfDay& chore : chores_of(ledger, a.player, day))
    screen += "- " + wrapped(sentence(chore.what, speech), 94, 2);
  if (screen.empty()) {
    screen = phrase({"chore.none"}, speech) + "\n";
  } else {
    screen += "\n" + wrapped(sentences({Message{"chore.habits"}}, speech), 96, 0);
  }
  print_out(screen);
}

}  // namespace

std::function<void()> add_trial_command(CLI::App& app, const Speech& speech) {
  auto a = std::make_shared<TrialArguments>();
  auto* verb = app.add_subcommand("trial", phrase({"cli.trial"}, speech));
  verb->add_option("reed", a->reed, phrase({"cli.reed.label"}, speech))->required();
  add_ledger_option(*verb, *a, speech);
  add_column_options(*verb, *a, "trial", {"reed"}, speech);
  return [verb, a, speech] {
    if (verb->parsed()) run_trial(*a, speech);
  };
}

std::function<void()> add_today_command(CLI::App& app, const Speech& speech) {
  auto a = std::make_shared<TodayArguments>();
  auto* verb = app.add_subcommand("today", phrase({"cli.today"}, speech));
  add_ledger_option(*verb, *a, speech);
  verb->add_option("--player", a->player,
                   phrase({"cli.column", {{"column", word("player")}, {"needed", word("no")}}}, speech));
  verb->add_option("--day", a->day, phrase({"cli.today.day"}, speech));
  return [verb, a, speech] {
    if (verb->parsed()) run_today(*a, speech);
  };
}

}  // namespace canewise
