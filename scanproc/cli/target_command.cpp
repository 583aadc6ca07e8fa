#include <fmt/format.h>

#include <cstdio>
#include <memory>

#include "scanproc/assess/target_file.h"
#include "scanproc/cli/commands.h"
#include "scanproc/core/error.h"
#include "scanproc/core/output_folder.h"
#include "scanproc/pipeline/result_json.h"

namespace canewise {
namespace {

struct MakeArguments {
  std::string name, out;
  std::vector<std::string> results;
};

void list_targets() {
  std::fputs(
      "Built-in targets. All are invented: a start, not a measure. Your own best reeds make the better target.\n\n",
      stdout);
  for (const Target& target : builtin_targets())
    std::fputs(fmt::format("  {:<32}{}\n", target.name, target.title).c_str(), stdout);
  std::fputs(
      "\nUse one with 'canewise measure SCAN --target NAME'.\nMake your own with 'canewise target make NAME "
      "RESULT...'.\n",
      stdout);
}

void make_target(const MakeArguments& a) {
  if (a.name.empty() || a.name.find_first_of("/\\") != std::string::npos) {
    throw UsageError("a target's name must be a word without slashes; say where to write it with --out.");
  }
  const std::filesystem::path path =
      a.out.empty() ? std::filesystem::path(a.name + ".target.json") : std::filesystem::path(a.out);
  if (is_there(path)) {
    throw OutputError(path.string() + ": is there already. Choose another name or --out, or move it away.");
  }
  std::vector<Result> reeds;
  for (const auto& result : a.results) reeds.push_back(read_result(result));
  std::vector<Eigen::ArrayXXd> samples;
  for (std::size_t i = 0; i < reeds.size(); ++i) {
    if (reeds[i].instrument != reeds.front().instrument) {
      throw UsageError(a.results[i] + " is a " + reeds[i].instrument_title + " reed, " + a.results.front() + " a " +
                       reeds.front().instrument_title + " reed. Make a target from reeds of one instrument.");
    }
    if (reeds[i].state != reeds.front().state) {
      throw UsageError(a.results[i] + " was measured " + std::string(name_of(reeds[i].state)) + ", " +
                       a.results.front() + " " + std::string(name_of(reeds.front().state)) +
                       ". Cane swells when wet: measure all in one state and say it with --state.");
    }
    samples.push_back(reeds[i].relative_thickness_mm);
  }
  Target target = mean_target(a.name, samples);
  const CutFeatures& cut = reeds.front().assessment.cut;
  target.title = fmt::format("{}, {}", a.name, reeds.front().instrument_title);
  target.instrument = reeds.front().instrument;
  target.state = name_of(reeds.front().state);
  target.rig = identity_of(reeds.front().rig);
  for (const auto& reed : reeds)
    if (identity_of(reed.rig) != target.rig) target.rig.clear();
  target.blank = cut.blank;
  target.filed = cut.filed == Verdict::within;
  for (const auto& reed : reeds)
    target.vamp_length_mm += reed.assessment.cut.vamp_length_mm.value / static_cast<double>(reeds.size());
  const auto folder = path.has_parent_path() ? path.parent_path() : std::filesystem::path(".");
  write_output_folder(folder, {{path.filename().string(), json_from_target(target)}});
  std::fputs(fmt::format("{}: {}. Use it with 'canewise measure SCAN --target {}'.\n", path.string(), target.origin,
                         path.string())
                 .c_str(),
             stdout);
}

}  // namespace

std::function<void()> add_target_command(CLI::App& app) {
  auto arguments = std::make_shared<MakeArguments>();
  auto* verb = app.add_subcommand("target", "List built-in targets, or make one from your own best reeds");
  verb->require_subcommand(1);
  auto* list = verb->add_subcommand("list", "name the built-in targets");
  auto* make = verb->add_subcommand("make", "a target from one or more measured reeds: their mean and spread");
  make->add_option("name", arguments->name, "name of the new target")->required();
  make->add_option("results", arguments->results, "result folders or result.json files")->required();
  make->add_option("--out", arguments->out, "file to write (default: NAME.target.json here)");
  return [list, make, arguments] {
    if (list->parsed()) list_targets();
    if (make->parsed()) make_target(*arguments);
  };
}

}  // namespace canewise
