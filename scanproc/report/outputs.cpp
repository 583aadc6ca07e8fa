#include "scanproc/report/outputs.h"

#include <future>

#include "scanproc/core/error.h"
#include "scanproc/core/output_folder.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/report/csv.h"
#include "scanproc/report/html.h"
#include "scanproc/report/pictures.h"

namespace canewise {

std::vector<OutputFile> output_files(const Result& result, const OutputOptions& options) {
  auto balance = std::async(std::launch::async, [&] { return balance_png(result); });
  auto json = std::async(std::launch::async, [&] { return json_from_result(result); });
  const std::string map = map_png(result);
  std::string csv = thickness_csv(result.map);
  std::string pdf = template_pdf(result);
  std::string balance_bytes = balance.get();
  const std::string table = result.table ? table_png(result) : std::string();
  const std::string bending = result.mechanics.known() ? bending_png(result) : std::string();
  const std::string modes = result.mechanics.known() ? modes_png(result) : std::string();
  std::string html = report_html(result, {map, balance_bytes, table, bending, modes});
  std::vector<OutputFile> files{{"thickness.csv", std::move(csv)},
                                {"map.png", map},
                                {"balance.png", std::move(balance_bytes)},
                                {"report.html", std::move(html)},
                                {"template.pdf", std::move(pdf)}};
  if (result.table) files.push_back({"table.png", table});
  if (result.mechanics.known()) {
    files.push_back({"bending.png", bending});
    files.push_back({"modes.png", modes});
  }
  for (const MapFormat format : options.save_map) files.push_back(map_file(result, format));
  files.push_back({"result.json", json.get()});
  return files;
}

void write_outputs(const Result& result, const std::filesystem::path& folder, const OutputOptions& options) {
  const auto files = output_files(result, options);
  if (!is_there(folder / "result.json")) {
    for (const auto& file : files) {
      if (!is_there(folder / file.name)) continue;
      throw OutputError(
          (folder / file.name).string() +
          ": is there already and was not written by canewise. Choose another folder with --out, or move it away.");
    }
  }
  write_output_folder(folder, files);
}

}  // namespace canewise
