#include <fmt/format.h>

#include <memory>

#include "scanproc/advise/box_view.h"
#include "scanproc/assess/target_file.h"
#include "scanproc/cli/commands.h"
#include "scanproc/cli/ledger_options.h"
#include "scanproc/cli/print_out.h"
#include "scanproc/core/error.h"
#include "scanproc/core/output_files.h"
#include "scanproc/datum/instrument.h"
#include "scanproc/pipeline/result_json.h"

namespace canewise {
namespace {

struct MakeArguments {
  std::string name, out, keepers;
  LedgerArguments ledger;
  std::vector<std::string> results;
};

void list_targets(const Speech& speech) {
  std::string screen = phrase({"cli.target.built_in"}, speech) + "\n\n";
  for (const Target& target : builtin_targets())
    screen += fmt::format("  {:<32}{}\n", target.name, phrase(title_of(target), speech));
  print_out(screen + "\n" + phrase({"cli.target.use_or_make"}, speech) + "\n");
}

/// One target is made of reeds that may be compared.
void check_like(const std::string& name, const Result& reed, const std::string& first_name, const Result& first) {
  if (reed.instrument != first.instrument) {
    const auto title = [](const Result& r) { return part({"instrument.title", {{"instrument", word(r.instrument)}}}); };
    throw UsageError({"cli.target.other_instrument",
                      {{"reed", text(name)},
                       {"instrument", title(reed)},
                       {"first", text(first_name)},
                       {"first_instrument", title(first)}}});
  }
  if (reed.state != first.state) {
    throw UsageError({"cli.target.other_state",
                      {{"reed", text(name)},
                       {"state", word(name_of(reed.state))},
                       {"first", text(first_name)},
                       {"first_state", word(name_of(first.state))}}});
  }
}

/// The latest results of a player's reference reeds, where the ledger says that they lie.
std::vector<std::string> results_of_keepers(const MakeArguments& a) {
  const Ledger ledger(a.ledger.ledger, Ledger::Access::read);
  std::vector<std::string> results;
  for (const NamedFigures& keeper : keepers_of(ledger, a.keepers, {}))
    results.push_back((ledger.path().parent_path() / latest_result(ledger, keeper.label)->folder).string());
  if (results.empty()) throw UsageError({"cli.target.no_keepers", {{"player", text(a.keepers)}}});
  return results;
}

void make_target(MakeArguments a, const Speech& speech) {
  if (!a.keepers.empty()) {
    const auto keepers = results_of_keepers(a);
    a.results.insert(a.results.end(), keepers.begin(), keepers.end());
  }
  if (a.results.empty()) throw UsageError({"cli.target.no_results"});
  if (a.name.empty() || a.name.find_first_of("/\\") != std::string::npos) throw UsageError({"cli.target.no_name"});
  const std::filesystem::path path =
      a.out.empty() ? std::filesystem::path(a.name + ".target.json") : std::filesystem::path(a.out);
  if (is_there(path)) throw OutputError({"cli.target.is_there", {{"file", text(path.string())}}});
  std::vector<Result> reeds;
  for (const auto& result : a.results) reeds.push_back(read_result(result));
  std::vector<Eigen::ArrayXXd> samples;
  for (std::size_t i = 0; i < reeds.size(); ++i) {
    check_like(a.results[i], reeds[i], a.results.front(), reeds.front());
    samples.push_back(reeds[i].relative_thickness_mm);
  }
  const Instrument* const instrument = find_instrument(reeds.front().instrument);
  if (instrument == nullptr)
    throw InputError({"in_file", {{"file", text(a.results.front())}, {"what", part({"result.instrument"})}}});
  Target target = mean_target(a.name, instrument->tolerances, samples);
  const CutFeatures& cut = reeds.front().assessment.cut;
  target.title = fmt::format("{}, {}", a.name, instrument->title);
  target.instrument = reeds.front().instrument;
  target.state = reeds.front().state;
  target.rig = identity_of(reeds.front().rig);
  for (const auto& reed : reeds)
    if (identity_of(reed.rig) != target.rig) target.rig.clear();
  target.blank = cut.blank;
  target.filed = cut.filed == Verdict::within;
  for (const auto& reed : reeds)
    target.vamp_length_mm += reed.assessment.cut.vamp_length_mm.value / static_cast<double>(reeds.size());
  const auto folder = path.has_parent_path() ? path.parent_path() : std::filesystem::path(".");
  write_output_files(folder, {{path.filename().string(), json_from_target(target)}});
  const Message made{"cli.target.made", {{"file", text(path.string())}, {"origin", part(origin_of(target))}}};
  print_out(phrase(made, speech) + "\n");
}

}  // namespace

std::function<void()> add_target_command(CLI::App& app, const Speech& speech) {
  auto arguments = std::make_shared<MakeArguments>();
  auto* verb = app.add_subcommand("target", phrase({"cli.target"}, speech));
  verb->require_subcommand(1);
  auto* list = verb->add_subcommand("list", phrase({"cli.target.list"}, speech));
  auto* make = verb->add_subcommand("make", phrase({"cli.target.make"}, speech));
  make->add_option("name", arguments->name, phrase({"cli.target.name"}, speech))->required();
  make->add_option("results", arguments->results, phrase({"cli.target.results"}, speech));
  make->add_option("--keepers", arguments->keepers, phrase({"cli.target.keepers"}, speech));
  add_ledger_option(*make, arguments->ledger, speech);
  make->add_option("--out", arguments->out, phrase({"cli.target.out"}, speech));
  return [list, make, arguments, speech] {
    if (list->parsed()) list_targets(speech);
    if (make->parsed()) make_target(*arguments, speech);
  };
}

}  // namespace canewise
