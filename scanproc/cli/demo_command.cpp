#include <filesystem>
#include <memory>

#include "fixtures/scanner.h"
#include "fixtures/scenario.h"
#include "fixtures/write_cloud.h"
#include "scanproc/cli/commands.h"
#include "scanproc/cli/print_out.h"
#include "scanproc/cli/progress_line.h"
#include "scanproc/compare/comparison.h"
#include "scanproc/core/output_files.h"
#include "scanproc/pipeline/pipeline.h"
#include "scanproc/report/box_page.h"
#include "scanproc/report/comparison_outputs.h"
#include "scanproc/report/outputs.h"
#include "scanproc/report/screen.h"

namespace canewise {
namespace {

/// This reed is scraped by an invented hand and scanned again.
constexpr std::size_t kScraped = 1;

Message story_of(const std::string& folder) { return {"cli.demo.story", {{"reed", word(folder)}}}; }

std::filesystem::path write_scan(const std::filesystem::path& out, const std::string& name,
                                 const fixtures::GeneratedScan& scan) {
  write_output_files(out / "scans", {{name + ".ply", fixtures::ply_binary(scan.cloud)}});
  return out / "scans" / (name + ".ply");
}

/// The page of another box is not written over.
void refuse_other_page(const std::filesystem::path& out, const std::string& first_reed) {
  const OwnFolder result = own_result_folder();
  if (is_there(out / "index.html")) refuse_foreign(out, {first_reed + "/" + result.proof, result.format, {}});
}

void add_scraped(const std::filesystem::path& out, const fixtures::DemoReed& reed, const Result& before,
                 const Progress& progress, const Speech& speech, std::vector<BoxEntry>& entries) {
  constexpr std::uint64_t seed = 12;
  const std::string folder = reed.folder + "-scraped";
  MeasureInputs inputs;
  inputs.scans = {write_scan(out, folder, fixtures::scan_scraped_demo_reed(reed, before.plan.steps, seed))};
  MeasureOptions options;
  options.state = MoistureState::dry;
  Result after = measure(inputs, options, progress);
  after.notes.push_back({"cli.demo.scraped"});
  after.options = {"state=dry"};
  write_outputs(after, out / folder, {.save_map = {}, .speech = speech});
  const Comparison comparison = compare(before, after);
  write_output_folder(out / (folder + "-compare"),
                      comparison_files(comparison, before, after, reed.folder, folder, speech),
                      own_comparison_folder());
  entries.push_back({folder,
                     {"cli.demo.scraped"},
                     comparison.sentence,
                     {Message{"screen.what_is_left", {{"what", after.plan.sentence}}}}});
}

void run_demo(const std::filesystem::path& out, const Speech& speech) {
  const auto box = fixtures::demo_box();
  refuse_other_page(out, box.front().folder);
  print_out(phrase({"cli.demo.begin"}, speech) + "\n\n");
  std::vector<BoxEntry> entries;
  for (std::size_t i = 0; i < box.size(); ++i) {
    ProgressLine line({"cli.demo.reed", {{"n", count(i + 1)}, {"reeds", count(box.size())}}}, std::nullopt, speech);
    const Progress progress = line.callback();
    progress({"cli.demo.inventing"}, 0.0);
    MeasureInputs inputs;
    inputs.scans = {write_scan(out, box[i].folder, fixtures::scan_demo_reed(box[i], i + 1))};
    MeasureOptions options;
    options.state = MoistureState::dry;
    Result result = measure(inputs, options, progress);
    const Message story = story_of(box[i].folder);
    result.notes.push_back(story);
    result.options = {"state=dry"};
    write_outputs(result, out / box[i].folder, {.save_map = {}, .speech = speech});
    entries.push_back({box[i].folder, story, result.headline, result.plan.sentence});
    if (i == kScraped) add_scraped(out, box[i], result, progress, speech, entries);
  }
  write_output_files(out, {{"index.html", box_page({"cli.demo.title"}, entries, speech)}});
  std::string screen;
  const auto paragraph = [&](const Messages& words) { return "  " + wrapped(sentences(words, speech), 94, 2); };
  for (const auto& entry : entries) {
    screen +=
        entry.folder + "\n" + paragraph({entry.story}) + paragraph(entry.headline) + paragraph(entry.to_do) + "\n";
  }
  const Message open_it{
      "cli.demo.open",
      {{"page", text((out / "index.html").string())}, {"report", text((out / "reed-N-.../report.html").string())}}};
  print_out(screen + phrase(open_it, speech) + "\n");
}

}  // namespace

std::function<void()> add_demo_command(CLI::App& app, const Speech& speech) {
  auto out = std::make_shared<std::string>("demo");
  auto* verb = app.add_subcommand("demo", phrase({"cli.demo"}, speech));
  verb->add_option("--out", *out, phrase({"cli.demo.out"}, speech));
  return [verb, out, speech] {
    if (verb->parsed()) run_demo(*out, speech);
  };
}

}  // namespace canewise
