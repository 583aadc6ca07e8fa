#include <filesystem>
#include <fstream>
#include <memory>
#include <optional>

#include "scanproc/advise/box_view.h"
#include "scanproc/bendtest/bend_test.h"
#include "scanproc/bendtest/bend_test_json.h"
#include "scanproc/cli/commands.h"
#include "scanproc/cli/ledger_options.h"
#include "scanproc/cli/print_out.h"
#include "scanproc/cli/progress_line.h"
#include "scanproc/core/error.h"
#include "scanproc/core/output_files.h"
#include "scanproc/datum/rig_correction.h"
#include "scanproc/pipeline/load_scans.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/report/bend_test_outputs.h"

namespace canewise {
namespace {

struct BendTestArguments {
  std::string free, free_again, tap, result, reed, rig, units, out, sheet, state = "unknown";
  std::vector<std::string> loaded, sides;
  LedgerArguments ledger;
  double mass_g = 0.0, u_mass_percent = 1.0;
  std::optional<double> at_mm, stands_over_mm;
  bool json = false;
};

std::filesystem::path folder_for(const BendTestArguments& a) {
  if (!a.out.empty()) return a.out;
  if (!a.reed.empty()) return a.reed + "-bend-test";
  std::filesystem::path scan(a.free);
  if (!scan.has_filename()) scan = scan.parent_path();
  return scan.stem().string() + "-bend-test";
}

std::filesystem::path result_path(const BendTestArguments& a) {
  if (!a.result.empty() && !a.reed.empty()) throw UsageError({"cli.bend_test.result_or_reed"});
  if (!a.result.empty()) return a.result;
  if (a.reed.empty()) throw UsageError({"cli.bend_test.no_result"});
  const Ledger ledger(a.ledger.ledger, Ledger::Access::read);
  const auto latest = latest_result(ledger, a.reed);
  if (!latest) throw UsageError({"cli.bend_test.never_measured", {{"reed", text(a.reed)}}});
  return ledger.path().parent_path() / latest->folder;
}

LoadSide side_from(const std::string& name) {
  for (const LoadSide side : kLoadSides)
    if (name == name_of(side)) return side;
  return LoadSide::centre;
}

Cloud one_cloud(const std::string& scan, const Rig& rig, const BendTestArguments& a, const Progress& progress) {
  LoadOptions options{.unit = {}, .pitch_mm = {}, .rig = &rig, .progress = progress};
  if (!a.units.empty()) options.unit = length_unit_from(a.units);
  LoadedScans loaded = load_scans({scan}, options);
  static_cast<void>(correct_by_rig(loaded.clouds.front(), rig));
  return std::move(loaded.clouds.front());
}

void run_bend_test(const BendTestArguments& a, const Speech& speech) {
  if (!a.sheet.empty()) {
    const std::filesystem::path sheet(a.sheet);
    if (!a.free.empty()) throw UsageError({"cli.bend_test.sheet_alone"});
    if (std::ifstream there(sheet, std::ios::binary); there) {
      std::string begin(4, ' ');
      there.read(begin.data(), 4);
      if (begin != "%PDF") throw UsageError({"cli.bend_test.sheet_taken", {{"file", text(a.sheet)}}});
    }
    const std::filesystem::path folder = sheet.has_parent_path() ? sheet.parent_path() : std::filesystem::path(".");
    write_output_files(folder, {{sheet.filename().string(), bend_test_sheet_pdf(speech)}});
    return print_out(phrase({"cli.bend_test.sheet_written", {{"file", text(a.sheet)}}}, speech) + "\n");
  }
  if (a.free.empty() || a.loaded.empty()) throw UsageError({"bendtest.how_many"});
  if (!a.sides.empty() && a.sides.size() != a.loaded.size()) throw UsageError({"bendtest.side_twice"});
  if (a.sides.empty() && a.loaded.size() > 1) throw UsageError({"bendtest.side_twice"});
  const std::filesystem::path folder = folder_for(a);
  const bool writes = !a.json || !a.out.empty();
  if (writes) refuse_foreign(folder, own_bend_test_folder());
  const Result reed = read_result(result_path(a));
  const Rig rig = a.rig.empty() ? Rig() : read_rig(a.rig);
  std::optional<ProgressLine> line(std::in_place, Message(), std::nullopt, speech);
  BendTestInputs inputs{.reed = reed, .free = {}, .loaded = {}, .mass_g = a.mass_g, .state = {}};
  inputs.state = moisture_from(a.state).value_or(MoistureState::unknown);
  inputs.free = one_cloud(a.free, rig, a, line->callback());
  if (!a.free_again.empty()) inputs.free_again = one_cloud(a.free_again, rig, a, line->callback());
  if (!a.tap.empty()) inputs.tap = find_resonances(read_recording(a.tap));
  for (std::size_t k = 0; k < a.loaded.size(); ++k) {
    inputs.loaded.push_back({one_cloud(a.loaded[k], rig, a, line->callback()),
                             a.sides.empty() ? LoadSide::centre : side_from(a.sides[k]), a.at_mm});
  }
  BendTest test;
  try {
    test = bend_test(std::move(inputs), {a.u_mass_percent / 100.0, a.stands_over_mm}, line->callback());
  } catch (const NotMeasurable& error) {
    std::string names = a.free;
    for (const std::string& loaded : a.loaded) names += ", " + loaded;
    throw NotMeasurable({"in_file", {{"file", text(names)}, {"what", part(error.message())}}});
  }
  if (writes) write_output_folder(folder, bend_test_files(test, reed.outline, speech), own_bend_test_folder());
  line.reset();
  print_out(a.json ? json_from_bend_test(test) : bend_test_screen(test, folder.string(), speech));
}

}  // namespace

std::function<void()> add_bend_test_command(CLI::App& app, const Speech& speech) {
  auto a = std::make_shared<BendTestArguments>();
  auto* verb = app.add_subcommand("bend-test", phrase({"cli.bend_test"}, speech));
  verb->add_option("free", a->free, phrase({"cli.bend_test.free"}, speech));
  verb->add_option("loaded", a->loaded, phrase({"cli.bend_test.loaded"}, speech));
  verb->add_option("--free-again", a->free_again, phrase({"cli.bend_test.free_again"}, speech));
  verb->add_option("--tap", a->tap, phrase({"cli.bend_test.tap"}, speech));
  verb->add_option("--result", a->result, phrase({"cli.bend_test.result"}, speech));
  verb->add_option("--reed", a->reed, phrase({"cli.bend_test.reed"}, speech));
  add_ledger_option(*verb, a->ledger, speech);
  verb->add_option("--mass-g", a->mass_g, phrase({"cli.bend_test.mass"}, speech));
  verb->add_option("--u-mass-percent", a->u_mass_percent, phrase({"cli.bend_test.u_mass"}, speech));
  verb->add_option("--at-mm", a->at_mm, phrase({"cli.bend_test.at"}, speech));
  verb->add_option("--side", a->sides, phrase({"cli.bend_test.side"}, speech))
      ->allow_extra_args(false)
      ->check(CLI::IsMember({"left", "centre", "center", "both", "right"}));
  verb->add_option("--stands-over-mm", a->stands_over_mm, phrase({"cli.bend_test.stands_over"}, speech));
  verb->add_option("--state", a->state, phrase({"cli.measure.state"}, speech))
      ->check(CLI::IsMember({"dry", "wet", "unknown"}));
  verb->add_option("--units", a->units, phrase({"cli.measure.units"}, speech))
      ->check(CLI::IsMember({"mm", "um", "m", "in"}));
  verb->add_option("--rig", a->rig, phrase({"cli.rig"}, speech));
  verb->add_option("--out", a->out, phrase({"cli.bend_test.out"}, speech));
  verb->add_option("--sheet", a->sheet, phrase({"cli.bend_test.sheet"}, speech));
  verb->add_flag("--json", a->json, phrase({"cli.measure.json"}, speech));
  return [verb, a, speech] {
    if (verb->parsed()) run_bend_test(*a, speech);
  };
}

}  // namespace canewise
