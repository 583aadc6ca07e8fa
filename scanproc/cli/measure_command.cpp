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
  std::string datum, aim;
  std::vector<std::string> save_map;
  double cell_mm = 0.0, pitch_mm = 0.0, table_tolerance_um = kTableTolerance_um;
  bool json = false, each = false, laid_anew = false, progress = false;
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
  add("aim", a.aim);
  add("datum", a.datum);
  add("laid-anew", a.laid_anew ? "yes" : "");
  add("pitch-mm", a.pitch_mm > 0.0 ? fmt::format("{:g}", a.pitch_mm) : "");
  add("table-tolerance-um",
      a.table_tolerance_um != kTableTolerance_um ? fmt::format("{:g}", a.table_tolerance_um) : "");
  add("cell-mm", a.cell_mm > 0.0 ? fmt::format("{:g}", a.cell_mm) : "");
  return options;
}

std::filesystem::path out_folder(const MeasureArguments& a) {
  if (!a.out.empty()) return a.out;
  std::filesystem::path scan(a.scans.front());
  if (!scan.has_filename()) scan = scan.parent_path();  // A folder named with a slash at its end.
  const auto stem = scan.stem().string();
  return (stem.empty() ? std::string("scan") : stem) + "-canewise";
}

MeasureInputs inputs_from(const MeasureArguments& a) {
  MeasureInputs inputs;
  inputs.scans.assign(a.scans.begin(), a.scans.end());
  if (!a.rig.empty()) inputs.rig = read_rig(a.rig);
  if (!a.player.empty()) inputs.player = read_player(a.player);
  if (!a.target.empty()) inputs.target = load_target(a.target);
  return inputs;
}

MeasureOptions options_from(const MeasureArguments& a) {
  MeasureOptions options;
  if (!a.units.empty()) options.unit = length_unit_from(a.units);
  if (a.pitch_mm > 0.0) options.pitch_mm = a.pitch_mm;
  for (const DatumMode mode : {DatumMode::plate, DatumMode::pads, DatumMode::two_sided}) {
    if (a.datum == name_of(mode)) options.datum = mode;
  }
  options.laid_anew = a.laid_anew;
  options.table_tolerance_um = a.table_tolerance_um;
  options.instrument = a.instrument;
  options.state = state_from(a.state);
  options.thickness.cell_mm = a.cell_mm;
  options.plan.rolling_test = rolling_test_from(a.rolling_test);
  if (!a.aim.empty()) {
    options.plan.aim = aim_from(a.aim);
    if (!options.plan.aim) {
      throw UsageError(
          "'" + a.aim +
          "' is no aim. Say balance, target, or how it should play against now: 'a quarter softer', 'a half softer'.");
    }
    if (options.plan.aim->target && a.target.empty())
      throw UsageError("--aim target needs a target: name one with --target.");
  }
  return options;
}

OutputOptions outputs_from(const MeasureArguments& a) {
  OutputOptions outputs;
  for (const auto& name : a.save_map) outputs.save_map.push_back(name == "x3p" ? MapFormat::x3p : MapFormat::sdf);
  return outputs;
}

void print(const std::string& text) {
  if (std::fwrite(text.data(), 1, text.size(), stdout) != text.size() || std::fflush(stdout) != 0) {
    throw OutputError("standard output: cannot be written. Is the disk full, or the reading program gone?");
  }
}

ProgressFor reader_of(const MeasureArguments& a) { return a.progress ? ProgressFor::programs : ProgressFor::people; }

/// Stages below know the clouds, not the files.
std::string names_of(const std::vector<std::string>& scans) {
  std::string names;
  for (const auto& scan : scans) names += (names.empty() ? "" : ", ") + scan;
  return names;
}

void run_measure_one(const MeasureArguments& a) {
  std::optional<ProgressLine> line(std::in_place, "", reader_of(a));
  Result result;
  try {
    result = measure(inputs_from(a), options_from(a), line->callback());
  } catch (const NotMeasurable& error) {
    throw NotMeasurable(names_of(a.scans) + ": " + error.what());
  }
  result.options = options_as_given(a);
  if (!a.json || !a.out.empty()) {
    line->callback()("drawing pictures and writing", 0.95);
    write_outputs(result, out_folder(a), outputs_from(a));
  }
  line.reset();
  print(a.json ? json_from_result(result) : screen_text(result, out_folder(a).string()));
}

void run_measure_each(const MeasureArguments& a) {
  std::optional<ProgressLine> line(std::in_place, "", reader_of(a));
  std::vector<OneOfSeveral> reeds;
  try {
    reeds = measure_each(inputs_from(a), options_from(a), line->callback());
  } catch (const NotMeasurable& error) {
    throw NotMeasurable(names_of(a.scans) + ": " + error.what());
  }
  std::string text, refused;
  for (std::size_t i = 0; i < reeds.size(); ++i) {
    const std::string name = fmt::format("reed-{}", i + 1);
    if (!reeds[i].result) {
      refused += fmt::format("{}{}: {}", refused.empty() ? "" : "\n", name, reeds[i].refusal);
      continue;
    }
    Result& result = *reeds[i].result;
    result.options = options_as_given(a);
    const auto folder = out_folder(a) / name;
    if (!a.json || !a.out.empty()) {
      line->callback()("drawing pictures and writing", static_cast<double>(i) / static_cast<double>(reeds.size()));
      std::error_code error;
      std::filesystem::create_directories(out_folder(a), error);
      if (error) throw OutputError(out_folder(a).string() + ": cannot be made: " + error.message() + ".");
      write_outputs(result, folder, outputs_from(a));
    }
    text += a.json ? (text.empty() ? "[" : ",") + json_from_result(result)
                   : fmt::format("{}: {}  {}  Pictures and report: {}\n", name, wrapped(result.headline, 96, 2),
                                 wrapped("To do: " + result.plan.sentence, 94, 4), folder.string());
  }
  line.reset();
  if (a.json) text += text.empty() ? "[]\n" : "]\n";  // One document, however many reeds.
  print(text);
  if (!refused.empty()) throw NotMeasurable(names_of(a.scans) + ": " + refused);
}

void run_measure(const MeasureArguments& a) {
  if (a.each) {
    run_measure_each(a);
  } else {
    run_measure_one(a);
  }
}

}  // namespace

std::function<void()> add_measure_command(CLI::App& app) {
  auto arguments = std::make_shared<MeasureArguments>();
  auto* verb = app.add_subcommand("measure", "From the scan of a reed to its map, balance and scrape plan");
  verb->add_option("scan", arguments->scans,
                   "scan of one reed: PLY, PCD, STL, OBJ, X3P, SDF, float TIFF or text points, or a folder of depth "
                   "frames with its camera file; several passes, or both sides, one after the other")
      ->required();
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
  verb->add_option(
      "--aim", arguments->aim,
      "what the plan is for: balance, target, or 'a quarter softer' and the like (default: balance, then the "
      "target if you named one)");
  verb->add_option("--cell-mm", arguments->cell_mm, "grid step of the map (default: 0.25, coarser for coarse scans)");
  verb->add_option("--datum", arguments->datum, "plate, pads or two-sided (default: told by what the scans show)")
      ->check(CLI::IsMember({"plate", "pads", "two-sided"}));
  verb->add_flag("--laid-anew", arguments->laid_anew,
                 "several scans: the reed was lifted and laid down again from one to the next, so they measure how it "
                 "seats");
  verb->add_flag("--each", arguments->each, "measure every reed of one scan, numbered from the left, a folder each");
  verb->add_option("--table-tolerance-um", arguments->table_tolerance_um,
                   "two-sided: bow, cup and twist up to which the table counts as flat (default: 20)");
  verb->add_option("--pitch-mm", arguments->pitch_mm, "distance of the pixels of a TIFF height map")
      ->check(CLI::PositiveNumber);
  verb->add_option("--save-map", arguments->save_map,
                   "also write the map as a surface file: x3p or sdf; may be given twice")
      ->allow_extra_args(false)
      ->check(CLI::IsMember({"x3p", "sdf"}));
  verb->add_flag("--json", arguments->json, "print result.json and nothing else");
  verb->add_flag("--progress", arguments->progress, "tell every stage on standard error, for programs that call this");
  return [verb, arguments] {
    if (verb->parsed()) run_measure(*arguments);
  };
}

}  // namespace canewise
