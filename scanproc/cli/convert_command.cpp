#include <fmt/format.h>

#include <cstdio>
#include <filesystem>
#include <memory>
#include <optional>

#include "scanproc/cli/commands.h"
#include "scanproc/core/error.h"
#include "scanproc/core/output_folder.h"
#include "scanproc/core/utc.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/report/map_files.h"
#include "scanproc/scan/read_scan.h"
#include "scanproc/scan/sdf.h"
#include "scanproc/scan/x3p.h"

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
  throw UsageError("say into what to convert: end the name in .x3p or .sdf, or use --to x3p, sdf or sdf-ascii.");
}

struct Heights {
  HeightMap map;
  X3pOrigin origin;
};

Heights heights_from(const ConvertArguments& a) {
  const std::filesystem::path from(a.from);
  std::error_code error;
  if (std::filesystem::is_directory(from, error) || from.extension() == ".json") {
    const Result result = read_result(from);
    return {height_map_of(result.map), {result.measured_at, "Thickness of a reed. " + result.headline}};
  }
  ReadOptions options;
  if (!a.units.empty()) options.height_unit = length_unit_from(a.units);
  if (a.pitch_mm > 0.0) options.pitch_mm = a.pitch_mm;
  return {read_height_map(ScanFile(from), options), {now_utc(), "Converted from " + from.filename().string()}};
}

void run_convert(const ConvertArguments& a) {
  const std::string format = format_of(a);
  const std::filesystem::path to(a.to);
  if (is_there(to)) throw OutputError(to.string() + ": is there already. Choose another name, or move it away.");
  const Heights heights = heights_from(a);
  const std::string bytes = format == "x3p"   ? x3p_bytes(heights.map, heights.origin)
                            : format == "sdf" ? sdf_bytes(heights.map, SdfEncoding::binary)
                                              : sdf_bytes(heights.map, SdfEncoding::ascii);
  const auto folder = to.has_parent_path() ? to.parent_path() : std::filesystem::path(".");
  write_output_folder(folder, {{to.filename().string(), bytes}});
  std::fputs(fmt::format("{}: {} by {} heights, {:g} by {:g} mm apart.\n", to.string(), heights.map.columns,
                         heights.map.rows, heights.map.step_x_mm, heights.map.step_y_mm)
                 .c_str(),
             stdout);
}

}  // namespace

std::function<void()> add_convert_command(CLI::App& app) {
  auto arguments = std::make_shared<ConvertArguments>();
  auto* verb = app.add_subcommand("convert", "A height map, or a result's thickness map, as X3P or SDF");
  verb->add_option("from", arguments->from, "X3P, SDF or floating-point TIFF file, or a result folder")->required();
  verb->add_option("to", arguments->to, "file to write, ending in .x3p or .sdf")->required();
  verb->add_option("--to", arguments->format, "format instead of the name's: x3p, sdf, sdf-ascii")
      ->check(CLI::IsMember({"x3p", "sdf", "sdf-ascii"}));
  verb->add_option("--units", arguments->units, "unit of a TIFF's heights: mm, um, m, in")
      ->check(CLI::IsMember({"mm", "um", "m", "in"}));
  verb->add_option("--pitch-mm", arguments->pitch_mm, "distance of a TIFF's pixels")->check(CLI::PositiveNumber);
  return [verb, arguments] {
    if (verb->parsed()) run_convert(*arguments);
  };
}

}  // namespace canewise
