#include <filesystem>
#include <memory>

#include "scanproc/bytes/dated_copy.h"
#include "scanproc/cli/commands.h"
#include "scanproc/cli/ledger_options.h"
#include "scanproc/cli/print_out.h"
#include "scanproc/core/error.h"
#include "scanproc/core/output_place.h"
#include "scanproc/mechanics/player.h"
#include "scanproc/pipeline/result_json.h"

namespace canewise {
namespace {

struct MarkArguments {
  std::string player, result, mark;
};

void run_mark(const MarkArguments& a, const Speech& speech) {
  const auto halves = halves_from(a.mark);
  if (!halves) throw UsageError({"cli.player.no_mark", {{"mark", text(a.mark)}}});
  const Result result = read_result(a.result);
  if (!result.mechanics.known())
    throw NotMeasurable({"in_file", {{"file", text(a.result)}, {"what", part(result.mechanics.why_not)}}});
  const std::filesystem::path path(a.player);
  Player player;
  if (is_there(path)) player = read_player(path);
  const auto folder = std::filesystem::absolute(path).parent_path();
  KnownReed reed{.mark = a.mark, .halves = *halves, .stiffness_n_per_mm = 0.0, .state = result.state};
  reed.result = std::filesystem::absolute(a.result).lexically_proximate(folder).string();
  reed.measured_at = result.measured_at;
  player.known.push_back(std::move(reed));
  const std::string kept = write_keeping_old(path, player_text(player));
  const Message marked{"cli.player.marked",
                       {{"player", text(a.player)}, {"mark", text(a.mark)}, {"reeds", count(player.known.size())}}};
  std::string screen = phrase(marked, speech) + "\n";
  if (!kept.empty()) screen += phrase({"cli.old_player_file", {{"copy", text(kept)}}}, speech) + "\n";
  print_out(screen);
}

struct EntryArguments : LedgerArguments {
  std::string name;
};

/// A player or a mouthpiece of the ledger; one that is there is changed.
void run_entry(const char* table, const EntryArguments& a, const Speech& speech) {
  Ledger ledger(a.ledger, Ledger::Access::make);
  tell_if_new(ledger, speech);
  Row row = columns_of(a, table);
  ledger.in_one_step([&] {
    if (ledger.has(table, a.name)) return ledger.update(table, a.name, row);
    row["name"] = a.name;
    ledger.insert(table, row);
  });
  print_out(phrase({"cli.changed", {{"name", text(a.name)}}}, speech) + "\n");
}

}  // namespace

std::function<void()> add_player_command(CLI::App& app, const Speech& speech) {
  auto entry = std::make_shared<EntryArguments>();
  auto arguments = std::make_shared<MarkArguments>();
  auto* verb = app.add_subcommand("player", phrase({"cli.player"}, speech));
  verb->require_subcommand(1);
  auto* mark = verb->add_subcommand("mark", phrase({"cli.player.mark"}, speech));
  mark->add_option("player", arguments->player, phrase({"cli.player.file"}, speech))->required();
  mark->add_option("result", arguments->result, phrase({"cli.player.result"}, speech))->required();
  mark->add_option("mark", arguments->mark, phrase({"cli.player.how_it_plays"}, speech))->required();
  const auto of_ledger = [&](const char* table, const char* name, const Message& help) {
    auto* made = verb->add_subcommand(name, phrase(help, speech));
    made->add_option("name", entry->name, phrase({"cli.player.entry_name"}, speech))->required();
    add_ledger_option(*made, *entry, speech);
    add_column_options(*made, *entry, table, {"name"}, speech);
    return made;
  };
  auto* add = of_ledger("player", "add", {"cli.player.add"});
  auto* mouthpiece = of_ledger("mouthpiece", "mouthpiece", {"cli.player.mouthpiece"});
  return [mark, add, mouthpiece, arguments, entry, speech] {
    if (mark->parsed()) run_mark(*arguments, speech);
    if (add->parsed()) run_entry("player", *entry, speech);
    if (mouthpiece->parsed()) run_entry("mouthpiece", *entry, speech);
  };
}

}  // namespace canewise
