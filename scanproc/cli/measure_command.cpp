#include <fmt/format.h>

#include <cstdio>
#include <filesystem>
#include <memory>
#include <optional>

#include "scanproc/assess/target_file.h"
#include "scanproc/cli/commands.h"
#include "scanproc/cli/progress_line.h"
#include "scanproc/core/error.h"
#include "scanproc/pipeline/pipeline.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/report/outputs.h"
#include "scanproc/report/screen.h"

namespace canewise {
namespace {

struct MeasureArguments {
  std::vector<std::string> scans;
  std::string out, units, rig, player, target, instrument, state = "unknown", rolling_test = "not-done";
  double cell_mm = 0.0;
  bool json = false;
};

MoistureState state_from(const std::string& name) {
  if (name == "dry") return MoistureState::dry;
  if (name == "wet") return MoistureState::wet;
  return MoistureState::unknown;
}

RollingTest rolling_test_from(const std::string& name) {
  if (name == "left") return RollingTest::left;
  if (name == "right") return RollingTest::right;
  if (name == "even") return RollingTest::even;
  return RollingTest::not_done;
}

std::vector<std::string> options_as_given(const MeasureArguments& a) {
  std::vector<std::string> options;
  const auto add = [&](const char* name, const std::string& value) {
    if (!value.empty()) options.push_back(std::string(name) + "=" + value);
  };
  add("units", a.units);
  add("rig", a.rig);
  add("player", a.player);
  add("target", a.target);
  add("instrument", a.instrument);
  add("state", a.state);
  add("rolling-test", a.rolling_test);
  add("cell-mm", a.cell_mm > 0.0 ? fmt::format("{:g}", a.cell_mm) : "");
  return options;
}

std::filesystem::path out_folder(const MeasureArguments& a) {
  if (!a.out.empty()) return a.out;
  const auto stem = std::filesystem::path(a.scans.front()).stem().string();
  return (stem.empty() ? std::string("scan") : stem) + "-canewise";
}

void run_measure(const MeasureArguments& a) {
  if (a.scans.size() > 1) {
    throw UsageError(
        "measure takes one scan file; measure several reeds one after the other, each into its own --out folder.");
  }
  MeasureInputs inputs;
  inputs.scan = a.scans.front();
  if (!a.rig.empty()) inputs.rig = read_rig(a.rig);
  if (!a.player.empty()) inputs.player = read_player(a.player);
  if (!a.target.empty()) inputs.target = load_target(a.target);
  MeasureOptions options;
  if (!a.units.empty()) options.unit = length_unit_from(a.units);
  options.instrument = a.instrument;
  options.state = state_from(a.state);
  options.thickness.cell_mm = a.cell_mm;
  options.plan.rolling_test = rolling_test_from(a.rolling_test);

  std::optional<ProgressLine> line;
  line.emplace();
  Result result;
  try {
    result = measure(inputs, options, line->callback());
  } catch (const NotMeasurable& error) {
    // Stages below know the cloud, not the file.
    throw NotMeasurable(a.scans.front() + ": " + error.what());
  }
  result.options = options_as_given(a);
  if (!a.json || !a.out.empty()) {
    line->callback()("drawing pictures and writing", 0.95);
    write_outputs(result, out_folder(a));
  }
  line.reset();
  const std::string text = a.json ? json_from_result(result) : screen_text(result, out_folder(a).string());
  if (std::fwrite(text.data(), 1, text.size(), stdout) != text.size() || std::fflush(stdout) != 0) {
    throw OutputError("standard output: cannot be written. Is the disk full, or the reading program gone?");
  }
}

}  // namespace

std::function<void()> add_measure_command(CLI::App& app) {
  auto arguments = std::make_shared<MeasureArguments>();
  auto* verb = app.add_subcommand("measure", "From a scan of a reed on a plate to its map, balance and scrape plan");
  verb->add_option("scan", arguments->scans, "scan file: PLY, PCD, or text with one point a line")->required();
  verb->add_option("--out", arguments->out, "folder for the results (default: named after the scan)");
  verb->add_option("--units", arguments->units, "unit of the file's numbers: mm, um, m, in")
      ->check(CLI::IsMember({"mm", "um", "m", "in"}));
  verb->add_option("--rig", arguments->rig, "rig file (TOML) of the scanner");
  verb->add_option("--player", arguments->player, "player file (TOML): hand, mouthpiece, wishes");
  verb->add_option("--target", arguments->target, "name of a built-in target, or a target file");
  verb->add_option("--instrument", arguments->instrument, "instrument, e.g. clarinet-bb (default: told by size)");
  verb->add_option("--state", arguments->state, "moisture of the reed: dry, wet, unknown")
      ->check(CLI::IsMember({"dry", "wet", "unknown"}));
  verb->add_option("--rolling-test", arguments->rolling_test,
                   "side that speaks less freely: left, right, even, not-done")
      ->check(CLI::IsMember({"left", "right", "even", "not-done"}));
  verb->add_option("--cell-mm", arguments->cell_mm, "grid step of the map (default: 0.25, coarser for coarse scans)");
  verb->add_flag("--json", arguments->json, "print result.json and nothing else");
  return [verb, arguments] {
    if (verb->parsed()) run_measure(*arguments);
  };
}

}  // namespace canewise
