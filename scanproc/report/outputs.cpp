#include "scanproc/report/outputs.h"

#include <future>

#include "scanproc/core/error.h"
#include "scanproc/core/output_folder.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/report/csv.h"
#include "scanproc/report/pictures.h"
#include "scanproc/report/reed_page.h"

namespace canewise {

std::vector<OutputFile> output_files(const Result& result, const OutputOptions& options) {
  auto balance = std::async(std::launch::async, [&] { return balance_png(result, options.speech); });
  auto json = std::async(std::launch::async, [&] { return json_from_result(result); });
  auto modes = std::async(std::launch::async,
                          [&] { return result.mechanics.known() ? modes_png(result, options.speech) : std::string(); });
  PagePictures pictures;
  pictures.map_png = map_png(result, options.speech);
  std::string csv = thickness_csv(result.map);
  pictures.template_pdf = template_pdf(result, options.speech);
  if (result.table) pictures.table_png = table_png(result, options.speech);
  if (result.mechanics.known()) pictures.bending_png = bending_png(result, options.speech);
  pictures.modes_png = modes.get();
  pictures.balance_png = balance.get();
  std::string page = reed_page(result, pictures, {}, options.speech);
  std::vector<OutputFile> files{{"thickness.csv", std::move(csv)},
                                {"map.png", std::move(pictures.map_png)},
                                {"balance.png", std::move(pictures.balance_png)},
                                {"report.html", std::move(page)},
                                {"template.pdf", std::move(pictures.template_pdf)}};
  if (result.table) files.push_back({"table.png", std::move(pictures.table_png)});
  if (result.mechanics.known()) {
    files.push_back({"bending.png", std::move(pictures.bending_png)});
    files.push_back({"modes.png", std::move(pictures.modes_png)});
  }
  for (const MapFormat format : options.save_map) files.push_back(map_file(result, format, options.speech));
  files.push_back({"result.json", json.get()});
  return files;
}

void write_outputs(const Result& result, const std::filesystem::path& folder, const OutputOptions& options) {
  const auto files = output_files(result, options);
  if (!is_there(folder / "result.json")) {
    for (const auto& file : files) {
      if (!is_there(folder / file.name)) continue;
      throw OutputError(
          {"in_file",
           {{"file", text((folder / file.name).string())}, {"what", part(Message{"report.not_written_by_us"})}}});
    }
  }
  write_output_folder(folder, files);
}

}  // namespace canewise
