#include <fmt/format.h>
#include <unistd.h>

#include <filesystem>
#include <memory>
#include <optional>

#include "scanproc/assess/target_file.h"
#include "scanproc/bendtest/bend_test_json.h"
#include "scanproc/cli/commands.h"
#include "scanproc/cli/ledger_options.h"
#include "scanproc/cli/print_out.h"
#include "scanproc/cli/progress_line.h"
#include "scanproc/core/error.h"
#include "scanproc/core/output_place.h"
#include "scanproc/core/utc.h"
#include "scanproc/ledger/dates.h"
#include "scanproc/ledger/file_result.h"
#include "scanproc/ledger/tables.h"
#include "scanproc/pipeline/pipeline.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/report/outputs.h"
#include "scanproc/report/screen.h"

namespace canewise {
namespace {

struct MeasureArguments {
  std::vector<std::string> scans;
  std::string out, units, rig, player, target, instrument, state = "unknown", rolling_test = "not-done";
  std::string datum, aim, reed, bend_test;
  LedgerArguments ledger;
  std::vector<std::string> save_map;
  double cell_mm = 0.0, pitch_mm = 0.0, table_tolerance_um = kTableTolerance_um;
  std::optional<int> progress_to;
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
  add("bend-test", a.bend_test);
  add("laid-anew", a.laid_anew ? "yes" : "");
  add("pitch-mm", a.pitch_mm > 0.0 ? fmt::format("{:g}", a.pitch_mm) : "");
  add("table-tolerance-um",
      a.table_tolerance_um != kTableTolerance_um ? fmt::format("{:g}", a.table_tolerance_um) : "");
  add("cell-mm", a.cell_mm > 0.0 ? fmt::format("{:g}", a.cell_mm) : "");
  return options;
}

/// A new folder beside the ledger for a scan of a reed: 'B3-7-2026-12-01', then 'B3-7-2026-12-01-2'. It is made at
/// once, so that two measurements do not write into one, and goes again if nothing was written.
class FolderOfReed {
 public:
  FolderOfReed(const std::filesystem::path& ledger, const std::string& label) {
    const std::string name = label + "-" + day_of(now_utc());
    folder_ = ledger.parent_path() / name;
    try {
      for (int k = 2; !std::filesystem::create_directory(folder_); ++k)
        folder_ = ledger.parent_path() / fmt::format("{}-{}", name, k);
    } catch (const std::filesystem::filesystem_error& error) {
      throw cannot_write(folder_, error.code().value(), Left::unchanged);
    }
  }
  ~FolderOfReed() {
    std::error_code ignored;
    std::filesystem::remove(folder_, ignored);  // Only if it is empty.
  }
  FolderOfReed(const FolderOfReed&) = delete;
  FolderOfReed& operator=(const FolderOfReed&) = delete;
  [[nodiscard]] const std::filesystem::path& folder() const { return folder_; }

 private:
  std::filesystem::path folder_;
};

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
  if (!a.bend_test.empty()) {
    const ReadBendTest test = read_bend_test(a.bend_test);
    if (a.each) throw UsageError({"cli.measure.bend_test_each"});
    if (!a.reed.empty() && !test.reed.label.empty() && test.reed.label != a.reed) {
      throw UsageError({"cli.measure.bend_test_of_other", {{"tested", text(test.reed.label)}, {"reed", text(a.reed)}}});
    }
    inputs.cane = test.cane;
  }
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
    if (!options.plan.aim) throw UsageError({"cli.measure.no_aim", {{"aim", text(a.aim)}}});
    if (options.plan.aim->target && a.target.empty()) throw UsageError({"cli.measure.aim_needs_target"});
  }
  return options;
}

OutputOptions outputs_from(const MeasureArguments& a, const Speech& speech) {
  OutputOptions outputs;
  outputs.speech = speech;
  for (const auto& name : a.save_map) outputs.save_map.push_back(name == "x3p" ? MapFormat::x3p : MapFormat::sdf);
  return outputs;
}

ProgramLines program_lines_of(const MeasureArguments& a) {
  if (a.progress_to) return a.progress_to;
  return a.progress ? ProgramLines(STDERR_FILENO) : std::nullopt;
}

/// Stages below know the clouds, not the files.
std::string names_of(const std::vector<std::string>& scans) {
  std::string names;
  for (const auto& scan : scans) names += (names.empty() ? "" : ", ") + scan;
  return names;
}

NotMeasurable not_measurable(const MeasureArguments& a, Argument why) {
  return NotMeasurable({"in_file", {{"file", text(names_of(a.scans))}, {"what", std::move(why)}}});
}

/// The ledger, if a reed was named; before a large scan is measured in vain.
std::optional<Ledger> ledger_for(const MeasureArguments& a, const Speech& speech) {
  if (a.reed.empty()) return std::nullopt;
  if (a.json) throw UsageError({"cli.measure.reed_or_json"});
  std::optional<Ledger> ledger(std::in_place, a.ledger.ledger, Ledger::Access::make);
  tell_if_new(*ledger, speech);
  return ledger;
}

void run_measure_one(const MeasureArguments& a, const Speech& speech) {
  const bool writes = !a.json || !a.out.empty();
  std::optional<Ledger> ledger = ledger_for(a, speech);
  const ReedName reed = ledger ? whose_reed(*ledger, a.reed) : ReedName();
  std::optional<FolderOfReed> of_reed;
  if (ledger && a.out.empty()) of_reed.emplace(a.ledger.ledger, reed.label);
  const std::filesystem::path folder = of_reed ? of_reed->folder() : out_folder(a);
  if (writes) refuse_foreign(folder, own_result_folder());
  const bool is_new_reed = ledger && !ledger->has("reed", reed.label);
  std::optional<ProgressLine> line(std::in_place, Message(), program_lines_of(a), speech);
  Result result;
  try {
    result = measure(inputs_from(a), options_from(a), line->callback());
    if (!a.bend_test.empty()) check_reed_of(read_bend_test(a.bend_test), result);
  } catch (const NotMeasurable& error) {
    throw not_measurable(a, part(error.message()));
  }
  result.options = options_as_given(a);
  result.reed = reed;
  if (writes) {
    line->callback()({"cli.measure.writing"}, 0.95);
    write_outputs(result, folder, outputs_from(a, speech));
  }
  if (ledger) file_result(*ledger, folder, result);
  line.reset();
  if (is_new_reed) print_out(phrase({"cli.reed.added", {{"reed", text(reed.label)}}}, speech) + "\n");
  print_out(a.json ? json_from_result(result) : screen_text(result, folder.string(), speech));
}

/// One reed of several on the screen.
std::string screen_of_one(const std::string& name, const Result& result, const std::filesystem::path& folder,
                          const Speech& speech) {
  const Message to_do{"screen.to_do", {{"what", result.plan.sentence}}};
  const Message where{"screen.pictures_and_report", {{"folder", text(folder.string())}}};
  return fmt::format("{}: {}  {}  {}\n", name, wrapped(sentences(result.headline, speech), 96, 2),
                     wrapped(sentence(to_do, speech), 94, 4), phrase(where, speech));
}

void run_measure_each(const MeasureArguments& a, const Speech& speech) {
  std::optional<Ledger> ledger = ledger_for(a, speech);
  std::optional<ProgressLine> line(std::in_place, Message(), program_lines_of(a), speech);
  std::vector<OneOfSeveral> reeds;
  try {
    reeds = measure_each(inputs_from(a), options_from(a), line->callback());
  } catch (const NotMeasurable& error) {
    throw not_measurable(a, part(error.message()));
  }
  std::string out;
  Messages refused;
  for (std::size_t i = 0; i < reeds.size(); ++i) {
    // '--reed B3' with '--each' is a box: its reeds lie in their order.
    const std::string name = fmt::format("{}-{}", a.reed.empty() ? "reed" : a.reed, i + 1);
    if (!reeds[i].result) {
      refused.push_back({"cli.measure.reed_refused",
                         {{"n", count(i + 1)}, {"reeds", count(reeds.size())}, {"why", part(reeds[i].refusal)}}});
      continue;
    }
    Result& result = *reeds[i].result;
    result.options = options_as_given(a);
    if (ledger) result.reed = whose_reed(*ledger, name);
    std::optional<FolderOfReed> of_reed;
    if (ledger && a.out.empty()) of_reed.emplace(a.ledger.ledger, name);
    const auto folder = of_reed ? of_reed->folder() : out_folder(a) / name;
    if (!a.json || !a.out.empty()) {
      line->callback()({"cli.measure.writing"}, static_cast<double>(i) / static_cast<double>(reeds.size()));
      write_outputs(result, folder, outputs_from(a, speech));
    }
    if (ledger) file_result(*ledger, folder, result);
    out += a.json ? (out.empty() ? "[" : ",") + json_from_result(result) : screen_of_one(name, result, folder, speech);
  }
  line.reset();
  if (a.json) out += out.empty() ? "[]\n" : "]\n";  // One document, however many reeds.
  print_out(out);
  if (!refused.empty()) throw not_measurable(a, std::move(refused));
}

void run_measure(const MeasureArguments& a, const Speech& speech) {
  if (a.each) {
    run_measure_each(a, speech);
  } else {
    run_measure_one(a, speech);
  }
}

}  // namespace

std::function<void()> add_measure_command(CLI::App& app, const Speech& speech) {
  auto arguments = std::make_shared<MeasureArguments>();
  auto* verb = app.add_subcommand("measure", phrase({"cli.measure"}, speech));
  verb->add_option("scan", arguments->scans, phrase({"cli.measure.scan"}, speech))->required();
  verb->add_option("--out", arguments->out, phrase({"cli.measure.out"}, speech));
  verb->add_option("--units", arguments->units, phrase({"cli.measure.units"}, speech))
      ->check(CLI::IsMember({"mm", "um", "m", "in"}));
  verb->add_option("--rig", arguments->rig, phrase({"cli.rig"}, speech));
  verb->add_option("--player", arguments->player, phrase({"cli.measure.player"}, speech));
  verb->add_option("--target", arguments->target, phrase({"cli.target_named"}, speech));
  verb->add_option("--instrument", arguments->instrument, phrase({"cli.instrument"}, speech));
  verb->add_option("--state", arguments->state, phrase({"cli.measure.state"}, speech))
      ->check(CLI::IsMember({"dry", "wet", "unknown"}));
  verb->add_option("--rolling-test", arguments->rolling_test, phrase({"cli.measure.rolling_test"}, speech))
      ->check(CLI::IsMember({"left", "right", "even", "not-done"}));
  verb->add_option("--bend-test", arguments->bend_test, phrase({"cli.measure.bend_test"}, speech));
  verb->add_option("--aim", arguments->aim, phrase({"cli.measure.aim"}, speech));
  verb->add_option("--cell-mm", arguments->cell_mm, phrase({"cli.measure.cell"}, speech));
  verb->add_option("--datum", arguments->datum, phrase({"cli.measure.datum"}, speech))
      ->check(CLI::IsMember({"plate", "pads", "two-sided"}));
  verb->add_flag("--laid-anew", arguments->laid_anew, phrase({"cli.measure.laid_anew"}, speech));
  verb->add_flag("--each", arguments->each, phrase({"cli.measure.each"}, speech));
  verb->add_option("--table-tolerance-um", arguments->table_tolerance_um,
                   phrase({"cli.measure.table_tolerance"}, speech));
  verb->add_option("--pitch-mm", arguments->pitch_mm, phrase({"cli.measure.pitch"}, speech))
      ->check(CLI::PositiveNumber);
  verb->add_option("--save-map", arguments->save_map, phrase({"cli.measure.save_map"}, speech))
      ->allow_extra_args(false)
      ->check(CLI::IsMember({"x3p", "sdf"}));
  verb->add_option("--reed", arguments->reed, phrase({"cli.measure.reed"}, speech))
      ->check([](const std::string& label) {
        check_row(table_named("reed"), {{"label", label}}, false);
        return std::string();
      });
  add_ledger_option(*verb, arguments->ledger, speech);
  verb->add_flag("--json", arguments->json, phrase({"cli.measure.json"}, speech));
  verb->add_flag("--progress", arguments->progress, phrase({"cli.measure.progress"}, speech));
  // For a program whose standard error others write to as well.
  verb->add_option("--progress-to", arguments->progress_to)->check(CLI::Range(3, 1023))->group("");
  return [verb, arguments, speech] {
    if (verb->parsed()) run_measure(*arguments, speech);
  };
}

}  // namespace canewise
