#include <fmt/format.h>

#include <cstdio>
#include <filesystem>
#include <memory>

#include "scanproc/cli/commands.h"
#include "scanproc/core/error.h"
#include "scanproc/core/output_folder.h"
#include "scanproc/pipeline/comparison.h"
#include "scanproc/pipeline/learned_hand.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/report/comparison_outputs.h"

namespace canewise {
namespace {

struct CompareArguments {
  std::string before, after, out, player;
  std::vector<double> strokes_done;
};

void run_compare(const CompareArguments& a) {
  const Result before = read_result(a.before), after = read_result(a.after);
  CompareOptions options{before.player, a.strokes_done};
  const std::filesystem::path player_path(a.player);
  if (!a.player.empty() && is_there(player_path)) options.player = read_player(player_path);
  Comparison comparison;
  try {
    comparison = compare(before, after, options);
  } catch (const NotMeasurable& error) {
    throw NotMeasurable(a.before + ", " + a.after + ": " + error.what());
  }
  std::filesystem::path folder(a.out);
  if (a.out.empty()) {
    folder = a.after;
    if (!folder.has_filename()) folder = folder.parent_path();
    if (folder.filename() == "result.json") folder = std::filesystem::absolute(folder).parent_path();
    folder += "-compare";
  }
  if (!is_there(folder / "compare.json") && (is_there(folder / "removal.png") || is_there(folder / "compare.html"))) {
    throw OutputError(folder.string() +
                      ": holds a removal.png or compare.html that canewise did not write. Choose another "
                      "folder with --out.");
  }
  write_output_folder(folder, comparison_files(comparison, before, after, a.before, a.after));
  std::string text = comparison_screen(comparison, after, folder.string());
  if (!a.player.empty() && comparison.hand) {
    const auto kept = keep_hand(player_path, comparison, options.player);
    text += kept ? fmt::format("Your hand is now known in {}; give it to the next plan with --player {}.\n", a.player,
                               a.player)
                 : fmt::format("{} knew of this scraping already and stays as it is.\n", a.player);
    if (kept && !kept->old_copy.empty()) text += "The file as it was is kept beside it: " + kept->old_copy + "\n";
  } else if (comparison.hand) {
    text += "To keep what your hand does for the next plan, name your player file with --player.\n";
  }
  if (std::fwrite(text.data(), 1, text.size(), stdout) != text.size() || std::fflush(stdout) != 0)
    throw OutputError("standard output: cannot be written. Is the disk full, or the reading program gone?");
}

}  // namespace

std::function<void()> add_compare_command(CLI::App& app) {
  auto arguments = std::make_shared<CompareArguments>();
  auto* verb = app.add_subcommand("compare", "What came off a reed between two scans, against its plan");
  verb->add_option("before", arguments->before, "result folder of the scan before scraping")->required();
  verb->add_option("after", arguments->after, "result folder of the scan after it")->required();
  verb->add_option("--player", arguments->player, "player file (TOML) that learns your hand; made if it is not there");
  verb->add_option("--strokes-done", arguments->strokes_done,
                   "strokes that you made over those that the plan told, for all or step by step: 1,0,0.5 if you left "
                   "the second out and stopped half-way in the third (default: 1)")
      ->delimiter(',')
      ->check(CLI::Range(0.0, 10.0));
  verb->add_option("--out", arguments->out, "folder for picture and page (default: AFTER-compare)");
  return [verb, arguments] {
    if (verb->parsed()) run_compare(*arguments);
  };
}

}  // namespace canewise
