#include <fmt/format.h>

#include <cstdio>
#include <filesystem>
#include <memory>

#include "scanproc/cli/commands.h"
#include "scanproc/core/error.h"
#include "scanproc/core/output_folder.h"
#include "scanproc/mechanics/player.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/scan/dated_copy.h"

namespace canewise {
namespace {

struct MarkArguments {
  std::string player, result, mark;
};

void run_mark(const MarkArguments& a) {
  const auto halves = halves_from(a.mark);
  if (!halves) {
    throw UsageError("'" + a.mark +
                     "' does not say how the reed plays. Say 'reference', or against it 'a half softer', 'a quarter "
                     "harder' and the like.");
  }
  const Result result = read_result(a.result);
  if (!result.mechanics.known()) throw NotMeasurable(a.result + ": " + result.mechanics.why_not);
  const std::filesystem::path path(a.player);
  Player player;
  if (is_there(path)) player = read_player(path);
  const double stiffness = result.mechanics.figure(BendingFigure::stiffness_lip).value;
  player.known.push_back({a.mark, *halves, stiffness, result.state});
  const std::string kept = write_keeping_old(path, player_text(player));
  std::fputs(
      fmt::format("{}: {:.2f} N/mm under the lip is now '{}'. {} reed{} on the scale; use it with --player {}.\n",
                  a.player, stiffness, a.mark, player.known.size(), player.known.size() == 1 ? "" : "s", a.player)
          .c_str(),
      stdout);
  if (!kept.empty()) std::fputs(("The file as it was is kept beside it: " + kept + "\n").c_str(), stdout);
}

}  // namespace

std::function<void()> add_player_command(CLI::App& app) {
  auto arguments = std::make_shared<MarkArguments>();
  auto* verb = app.add_subcommand("player", "Your hand, mouthpiece and known reeds, in a player file");
  verb->require_subcommand(1);
  auto* mark =
      verb->add_subcommand("mark", "Mark a measured reed by how it plays, so that others are placed against it");
  mark->add_option("player", arguments->player, "player file (TOML); made if it is not there")->required();
  mark->add_option("result", arguments->result, "result folder of the reed")->required();
  mark->add_option("mark", arguments->mark, "'reference', or against it: 'a half softer', 'a quarter harder'")
      ->required();
  return [mark, arguments] {
    if (mark->parsed()) run_mark(*arguments);
  };
}

}  // namespace canewise
