#include <fmt/format.h>

#include <cstdio>
#include <filesystem>
#include <memory>

#include "fixtures/scenario.h"
#include "fixtures/write_cloud.h"
#include "scanproc/cli/commands.h"
#include "scanproc/cli/progress_line.h"
#include "scanproc/core/error.h"
#include "scanproc/core/output_folder.h"
#include "scanproc/pipeline/comparison.h"
#include "scanproc/pipeline/pipeline.h"
#include "scanproc/report/box_page.h"
#include "scanproc/report/comparison_outputs.h"
#include "scanproc/report/outputs.h"
#include "scanproc/report/screen.h"

namespace canewise {
namespace {

/// This reed is scraped by an invented hand and scanned again.
constexpr std::size_t kScraped = 1;

void add_scraped(const std::filesystem::path& out, const fixtures::DemoReed& reed, const Result& before,
                 const Progress& progress, std::vector<BoxEntry>& entries) {
  constexpr std::uint64_t seed = 12;
  const std::string folder = reed.folder + "-scraped";
  const auto scan_path = out / "scans" / (folder + ".ply");
  fixtures::write_file(scan_path,
                       fixtures::ply_binary(fixtures::scan_scraped_demo_reed(reed, before.plan.steps, seed).cloud));
  MeasureInputs inputs;
  inputs.scans = {scan_path};
  MeasureOptions options;
  options.state = MoistureState::dry;
  Result after = measure(inputs, options, progress);
  const std::string story = "Invented: the same reed after Ottoline did what the plan said, with a light hand.";
  after.notes.push_back(story);
  after.options = {"state=dry"};
  write_outputs(after, out / folder);
  const Comparison comparison = compare(before, after);
  write_output_folder(out / (folder + "-compare"), comparison_files(comparison, before, after, reed.folder, folder));
  entries.push_back({folder, story, comparison.sentence, "What is left: " + after.plan.sentence});
}

void run_demo(const std::filesystem::path& out) {
  std::fputs("A box of four invented reeds; players, box and reeds are made up.\n\n", stdout);
  const auto box = fixtures::demo_box();
  std::error_code error;
  std::filesystem::create_directories(out / "scans", error);
  if (error) {
    throw OutputError((out / "scans").string() + ": cannot be made: " + error.message() +
                      ". Choose another folder with --out.");
  }
  std::vector<BoxEntry> entries;
  for (std::size_t i = 0; i < box.size(); ++i) {
    ProgressLine line(fmt::format("reed {} of {}: ", i + 1, box.size()));
    const Progress progress = line.callback();
    progress("inventing and scanning", 0.0);
    const auto scan_path = out / "scans" / (box[i].folder + ".ply");
    fixtures::write_file(scan_path, fixtures::ply_binary(fixtures::scan_demo_reed(box[i], i + 1).cloud));
    MeasureInputs inputs;
    inputs.scans = {scan_path};
    MeasureOptions options;
    options.state = MoistureState::dry;
    Result result = measure(inputs, options, progress);
    result.notes.push_back(box[i].story);
    result.options = {"state=dry"};
    write_outputs(result, out / box[i].folder);
    entries.push_back({box[i].folder, box[i].story, result.headline, result.plan.sentence});
    if (i == kScraped) add_scraped(out, box[i], result, progress, entries);
  }
  write_output_folder(out, {{"index.html", box_page("A box of four invented reeds", entries)}});
  for (const auto& entry : entries) {
    std::fputs(fmt::format("{}\n  {}  {}  {}\n", entry.folder, wrapped(entry.story, 94, 2),
                           wrapped(entry.headline, 94, 2), wrapped(entry.to_do, 94, 2))
                   .c_str(),
               stdout);
  }
  std::fputs(fmt::format("Open {} in a browser; each reed's report is {}\n", (out / "index.html").string(),
                         (out / "reed-N-.../report.html").string())
                 .c_str(),
             stdout);
}

}  // namespace

std::function<void()> add_demo_command(CLI::App& app) {
  auto out = std::make_shared<std::string>("demo");
  auto* verb = app.add_subcommand("demo", "Invent a box of four reeds, scan and measure them, write their reports");
  verb->add_option("--out", *out, "folder for the demo (default: demo)");
  return [verb, out] {
    if (verb->parsed()) run_demo(*out);
  };
}

}  // namespace canewise
