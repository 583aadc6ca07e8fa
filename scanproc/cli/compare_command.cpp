#include <filesystem>
#include <memory>

#include "scanproc/cli/commands.h"
#include "scanproc/cli/print_out.h"
#include "scanproc/compare/comparison.h"
#include "scanproc/compare/learned_hand.h"
#include "scanproc/core/error.h"
#include "scanproc/core/output_folder.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/report/comparison_outputs.h"

namespace canewise {
namespace {

struct CompareArguments {
  std::string before, after, out, player;
  std::vector<double> strokes_done;
};

/// What the player file knows now.
Messages kept_words(const CompareArguments& a, const std::optional<KeptHand>& kept) {
  if (!kept) return {Message{"cli.compare.known_already", {{"player", text(a.player)}}}};
  Messages words{Message{"cli.compare.hand_kept", {{"player", text(a.player)}}}};
  if (!kept->old_copy.empty()) words.push_back({"cli.old_player_file", {{"copy", text(kept->old_copy)}}});
  return words;
}

std::filesystem::path out_folder(const CompareArguments& a) {
  if (!a.out.empty()) return a.out;
  std::filesystem::path folder(a.after);
  if (!folder.has_filename()) folder = folder.parent_path();
  if (folder.filename() == "result.json") folder = std::filesystem::absolute(folder).parent_path();
  folder += "-compare";
  return folder;
}

void run_compare(const CompareArguments& a, const Speech& speech) {
  const Result before = read_result(a.before), after = read_result(a.after);
  const std::filesystem::path folder = out_folder(a);
  refuse_foreign(folder, own_comparison_folder());
  CompareOptions options{before.player, a.strokes_done};
  const std::filesystem::path player_path(a.player);
  if (!a.player.empty() && is_there(player_path)) options.player = read_player(player_path);
  Comparison comparison;
  try {
    comparison = compare(before, after, options);
  } catch (const NotMeasurable& error) {
    throw NotMeasurable({"in_file", {{"file", text(a.before + ", " + a.after)}, {"what", part(error.message())}}});
  }
  write_output_folder(folder, comparison_files(comparison, before, after, a.before, a.after, speech),
                      own_comparison_folder());
  // Said before the hand is kept: if that fails, the comparison is there all the same.
  print_out(comparison_screen(comparison, after, folder.string(), speech));
  Messages hand;
  if (!a.player.empty() && comparison.hand) {
    hand = kept_words(a, keep_hand(player_path, comparison, options.player));
  } else if (comparison.hand) {
    hand = {Message{"cli.compare.name_player_file"}};
  }
  std::string screen;
  for (const Message& words : hand) screen += phrase(words, speech) + "\n";
  print_out(screen);
}

}  // namespace

std::function<void()> add_compare_command(CLI::App& app, const Speech& speech) {
  auto arguments = std::make_shared<CompareArguments>();
  auto* verb = app.add_subcommand("compare", phrase({"cli.compare"}, speech));
  verb->add_option("before", arguments->before, phrase({"cli.compare.before"}, speech))->required();
  verb->add_option("after", arguments->after, phrase({"cli.compare.after"}, speech))->required();
  verb->add_option("--player", arguments->player, phrase({"cli.compare.player"}, speech));
  verb->add_option("--strokes-done", arguments->strokes_done, phrase({"cli.compare.strokes_done"}, speech))
      ->delimiter(',')
      ->check(CLI::Range(0.0, 10.0));
  verb->add_option("--out", arguments->out, phrase({"cli.compare.out"}, speech));
  return [verb, arguments, speech] {
    if (verb->parsed()) run_compare(*arguments, speech);
  };
}

}  // namespace canewise
