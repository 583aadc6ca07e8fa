#include <cmath>
#include <filesystem>
#include <memory>
#include <optional>

#include "scanproc/cli/commands.h"
#include "scanproc/cli/print_out.h"
#include "scanproc/core/error.h"
#include "scanproc/core/output_files.h"
#include "scanproc/core/utc.h"
#include "scanproc/heights/sdf.h"
#include "scanproc/heights/x3p.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/report/map_files.h"
#include "scanproc/scan/read_scan.h"
#include "scanproc/words/decimals.h"

namespace canewise {
namespace {

struct ConvertArguments {
  std::string from, to, format, units;
  double pitch_mm = 0.0;
};

std::string format_of(const ConvertArguments& a) {
  if (!a.format.empty()) return a.format;
  const std::string suffix = std::filesystem::path(a.to).extension().string();
  if (suffix == ".x3p") return "x3p";
  if (suffix == ".sdf") return "sdf";
  throw UsageError({"cli.convert.say_format"});
}

struct Heights {
  HeightMap map;
  X3pOrigin origin;
};

Heights heights_from(const ConvertArguments& a, const Speech& speech) {
  const std::filesystem::path from(a.from);
  std::error_code error;
  if (std::filesystem::is_directory(from, error) || from.extension() == ".json") {
    const Result result = read_result(from);
    const Message comment{"report.map_file", {{"headline", result.headline}}};
    return {height_map_of(result.map), {result.measured_at, sentence(comment, speech)}};
  }
  ReadOptions options;
  if (!a.units.empty()) options.tiff.height_unit = length_unit_from(a.units);
  if (a.pitch_mm > 0.0) options.tiff.pitch_mm = a.pitch_mm;
  const Message comment{"cli.convert.converted_from", {{"file", text(from.filename().string())}}};
  return {read_height_map(ScanFile(from), options), {now_utc(), sentence(comment, speech)}};
}

void run_convert(const ConvertArguments& a, const Speech& speech) {
  const std::string format = format_of(a);
  const std::filesystem::path to(a.to);
  if (is_there(to)) throw OutputError({"cli.convert.is_there", {{"file", text(to.string())}}});
  const Heights heights = heights_from(a, speech);
  const std::string bytes = format == "x3p"   ? x3p_bytes(heights.map, heights.origin)
                            : format == "sdf" ? sdf_bytes(heights.map, SdfEncoding::binary)
                                              : sdf_bytes(heights.map, SdfEncoding::ascii);
  const auto folder = to.has_parent_path() ? to.parent_path() : std::filesystem::path(".");
  write_output_files(folder, {{to.filename().string(), bytes}});
  const Message done{"cli.convert.done",
                     {{"file", text(to.string())},
                      {"columns", number(static_cast<double>(heights.map.columns))},
                      {"rows", number(static_cast<double>(heights.map.rows))},
                      {"step_x", mm(heights.map.step_x_mm, decimals_of(heights.map.step_x_mm))},
                      {"step_y", mm(heights.map.step_y_mm, decimals_of(heights.map.step_y_mm))}}};
  print_out(phrase(done, speech) + "\n");
}

}  // namespace

std::function<void()> add_convert_command(CLI::App& app, const Speech& speech) {
  auto arguments = std::make_shared<ConvertArguments>();
  auto* verb = app.add_subcommand("convert", phrase({"cli.convert"}, speech));
  verb->add_option("from", arguments->from, phrase({"cli.convert.from"}, speech))->required();
  verb->add_option("to", arguments->to, phrase({"cli.convert.to"}, speech))->required();
  verb->add_option("--to", arguments->format, phrase({"cli.convert.format"}, speech))
      ->check(CLI::IsMember({"x3p", "sdf", "sdf-ascii"}));
  verb->add_option("--units", arguments->units, phrase({"cli.convert.units"}, speech))
      ->check(CLI::IsMember({"mm", "um", "m", "in"}));
  verb->add_option("--pitch-mm", arguments->pitch_mm, phrase({"cli.convert.pitch"}, speech))
      ->check(CLI::PositiveNumber);
  return [verb, arguments, speech] {
    if (verb->parsed()) run_convert(*arguments, speech);
  };
}

}  // namespace canewise
