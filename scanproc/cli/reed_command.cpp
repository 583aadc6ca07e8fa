#include <filesystem>
#include <memory>

#include "scanproc/cli/commands.h"
#include "scanproc/cli/ledger_options.h"
#include "scanproc/cli/print_out.h"
#include "scanproc/core/error.h"
#include "scanproc/core/output_files.h"
#include "scanproc/core/utc.h"
#include "scanproc/ledger/dates.h"
#include "scanproc/ledger/file_result.h"
#include "scanproc/ledger/records.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/report/print_sheets.h"
#include "scanproc/report/reed_card.h"

namespace canewise {
namespace {

struct ReedArguments : LedgerArguments {
  std::string label, find, order = "label", day, out;
  double minutes = 0.0;
  bool is_all = false;
};

void say(const Message& what, const Speech& speech) { print_out(phrase(what, speech) + "\n"); }

void run_add(const ReedArguments& a, const Speech& speech) {
  Ledger ledger(a.ledger, Ledger::Access::make);
  tell_if_new(ledger, speech);
  ledger.in_one_step([&] {
    add_reed(ledger, a.label);
    ledger.update("reed", a.label, columns_of(a, "reed"));
  });
  say({"cli.reed.added", {{"reed", text(a.label)}}}, speech);
}

void run_change(const ReedArguments& a, const Speech& speech) {
  Ledger ledger(a.ledger, Ledger::Access::write);
  Row changes = columns_of(a, "reed");
  if (changes.contains("stage")) changes["stage_since"] = day_of(now_utc());
  ledger.update("reed", a.label, changes);
  say({"cli.changed", {{"name", text(a.label)}}}, speech);
}

void run_bin(const ReedArguments& a, const Speech& speech) {
  Ledger ledger(a.ledger, Ledger::Access::write);
  ledger.update("reed", a.label, {{"binned_at", now_utc()}});
  say({"cli.reed.binned", {{"reed", text(a.label)}}}, speech);
}

void run_restore(const ReedArguments& a, const Speech& speech) {
  Ledger ledger(a.ledger, Ledger::Access::write);
  ledger.update("reed", a.label, {{"binned_at", Cell()}});
  say({"cli.changed", {{"name", text(a.label)}}}, speech);
}

/// For good. Their results stay where they lie.
void run_empty_bin(const ReedArguments& a, const Speech& speech) {
  Ledger ledger(a.ledger, Ledger::Access::write);
  std::size_t gone = 0;
  ledger.in_one_step([&] {
    for (const Row& row : ledger.rows("reed")) {
      const ReedRecord reed = reed_from(row);
      if (!reed.is_binned()) continue;
      ledger.erase("reed", reed.label);
      ++gone;
    }
  });
  say({"cli.reed.bin_emptied", {{"reeds", count(gone)}}}, speech);
}

void run_played(const ReedArguments& a, const Speech& speech) {
  Ledger ledger(a.ledger, Ledger::Access::write);
  ledger.insert("playing",
                {{"reed", a.label}, {"played_on", a.day.empty() ? day_of(now_utc()) : a.day}, {"minutes", a.minutes}});
  say({"cli.reed.played",
       {{"reed", text(a.label)}, {"minutes", number(a.minutes)}, {"all", number(minutes_played(ledger, a.label))}}},
      speech);
}

/// What was scraped after the latest scan.
void run_scraped(const ReedArguments& a, const Speech& speech) {
  Ledger ledger(a.ledger, Ledger::Access::write);
  Row row = columns_of(a, "work");
  row["reed"] = a.label;
  if (!row.contains("done_at")) row["done_at"] = now_utc();
  const auto result = latest_result(ledger, a.label);
  if (result && !row.contains("folder")) row["folder"] = result->folder;
  ledger.insert("work", row);
  say({"cli.changed", {{"name", text(a.label)}}}, speech);
}

void run_card(const ReedArguments& a, const Speech& speech) {
  const Ledger ledger(a.ledger, Ledger::Access::read);
  const ReedRecord reed = find_reed(ledger, a.label);
  const auto result = latest_result(ledger, a.label);
  if (!result) throw UsageError({"cli.reed.not_scanned", {{"reed", text(a.label)}}});
  const std::string name = a.label + "-card.pdf";
  const std::filesystem::path out = a.out.empty() ? std::filesystem::path(".") : std::filesystem::path(a.out);
  const Result measured = read_result(ledger.path().parent_path() / result->folder);
  write_output_files(out, {{name, reed_card_pdf(reed, measured, trials_of(ledger, a.label), speech)}});
  say({"cli.written", {{"file", text((out / name).string())}}}, speech);
}

void run_show(const ReedArguments& a, const Speech& speech) {
  const Ledger ledger(a.ledger, Ledger::Access::read);
  print_out(reed_screen(ledger, a.label, speech));
}

void run_list(const ReedArguments& a, const Speech& speech) {
  const Ledger ledger(a.ledger, Ledger::Access::read);
  LedgerQuery query{.find = a.find, .order_by = a.order};
  if (!a.is_all) query.equal["binned_at"] = Cell();
  std::string screen;
  for (const Row& row : ledger.rows("reed", query)) screen += reed_line(reed_from(row), speech);
  print_out(screen.empty() ? phrase({"cli.reed.none"}, speech) + "\n" : screen);
}

}  // namespace

std::function<void()> add_reed_command(CLI::App& app, const Speech& speech) {
  auto a = std::make_shared<ReedArguments>();
  auto* verb = app.add_subcommand("reed", phrase({"cli.reed"}, speech));
  verb->require_subcommand(1);
  std::vector<std::pair<CLI::App*, void (*)(const ReedArguments&, const Speech&)>> runs;
  const auto sub = [&](const char* name, const Message& help, auto run) {
    auto* made = verb->add_subcommand(name, phrase(help, speech));
    add_ledger_option(*made, *a, speech);
    runs.emplace_back(made, run);
    return made;
  };
  const auto named = [&](const char* name, const Message& help, auto run) {
    auto* made = sub(name, help, run);
    made->add_option("reed", a->label, phrase({"cli.reed.label"}, speech))->required();
    return made;
  };
  add_column_options(*named("add", {"cli.reed.add"}, run_add), *a, "reed",
                     {"label", "added_at", "stage_since", "binned_at"}, speech);
  add_column_options(*named("change", {"cli.reed.change"}, run_change), *a, "reed",
                     {"added_at", "stage_since", "binned_at"}, speech);
  named("show", {"cli.reed.show"}, run_show);
  auto* list = sub("list", {"cli.reed.list"}, run_list);
  list->add_option("--find", a->find, phrase({"cli.reed.find"}, speech));
  list->add_option("--order", a->order, phrase({"cli.reed.order"}, speech))
      ->check(CLI::IsMember({"label", "box", "player", "place", "stage", "added_at"}));
  list->add_flag("--all", a->is_all, phrase({"cli.reed.all"}, speech));
  auto* played = named("played", {"cli.reed.played_help"}, run_played);
  played
      ->add_option("--minutes", a->minutes,
                   phrase({"cli.column", {{"column", word("minutes")}, {"needed", word("no")}}}, speech))
      ->required();
  played->add_option("--on", a->day,
                     phrase({"cli.column", {{"column", word("played_on")}, {"needed", word("no")}}}, speech));
  add_column_options(*named("scraped", {"cli.reed.scraped"}, run_scraped), *a, "work", {"reed", "folder"}, speech);
  named("card", {"cli.reed.card"}, run_card)->add_option("--out", a->out, phrase({"cli.folder_out"}, speech));
  named("bin", {"cli.reed.bin"}, run_bin);
  named("restore", {"cli.reed.restore"}, run_restore);
  sub("empty-bin", {"cli.reed.empty_bin"}, run_empty_bin);
  return [runs, a, speech] {
    for (const auto& [made, run] : runs)
      if (made->parsed()) run(*a, speech);
  };
}

}  // namespace canewise
