#include <filesystem>
#include <memory>

#include "scanproc/bytes/dated_copy.h"
#include "scanproc/cli/commands.h"
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

}  // namespace

std::function<void()> add_player_command(CLI::App& app, const Speech& speech) {
  auto arguments = std::make_shared<MarkArguments>();
  auto* verb = app.add_subcommand("player", phrase({"cli.player"}, speech));
  verb->require_subcommand(1);
  auto* mark = verb->add_subcommand("mark", phrase({"cli.player.mark"}, speech));
  mark->add_option("player", arguments->player, phrase({"cli.player.file"}, speech))->required();
  mark->add_option("result", arguments->result, phrase({"cli.player.result"}, speech))->required();
  mark->add_option("mark", arguments->mark, phrase({"cli.player.how_it_plays"}, speech))->required();
  return [mark, arguments, speech] {
    if (mark->parsed()) run_mark(*arguments, speech);
  };
}

}  // namespace canewise
