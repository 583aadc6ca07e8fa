#include "scanproc/report/outputs.h"

#include <utility>

#include "scanproc/core/output_folder.h"
#include "scanproc/core/parallel.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/report/csv.h"
#include "scanproc/report/pictures.h"
#include "scanproc/report/reed_page.h"

namespace canewise {

std::vector<OutputFile> output_files(const Result& result, const OutputOptions& options) {
  PagePictures pictures;
  std::string csv, json;
  const bool bends = result.mechanics.known();
  run_together({[&] { pictures.balance_png = balance_png(result, options.speech); },
                [&] { pictures.map_png = map_png(result, options.speech); },
                [&] {
                  if (bends) pictures.modes_png = modes_png(result, options.speech);
                },
                [&] {
                  if (bends) pictures.bending_png = bending_png(result, options.speech);
                },
                [&] { json = json_from_result(result); },
                [&] {
                  if (result.table) pictures.table_png = table_png(result, options.speech);
                  csv = thickness_csv(result.map);
                  pictures.template_pdf = template_pdf(result, options.speech);
                }});
  std::string page = reed_page(result, pictures, {}, options.speech);
  std::vector<OutputFile> files{{"thickness.csv", std::move(csv)},
                                {"map.png", std::move(pictures.map_png)},
                                {"balance.png", std::move(pictures.balance_png)},
                                {"report.html", std::move(page)},
                                {"template.pdf", std::move(pictures.template_pdf)}};
  if (result.table) files.push_back({"table.png", std::move(pictures.table_png)});
  if (bends) {
    files.push_back({"bending.png", std::move(pictures.bending_png)});
    files.push_back({"modes.png", std::move(pictures.modes_png)});
  }
  for (const MapFormat format : options.save_map) files.push_back(map_file(result, format, options.speech));
  files.push_back({"result.json", std::move(json)});
  return files;
}

OwnFolder own_result_folder() {
  return {"result.json",
          "canewise-result",
          {"thickness.csv", "map.png", "balance.png", "report.html", "template.pdf", "table.png", "bending.png",
           "modes.png", "thickness.x3p", "thickness.sdf", "result.json"}};
}

void write_outputs(const Result& result, const std::filesystem::path& folder, const OutputOptions& options) {
  write_output_folder(folder, output_files(result, options), own_result_folder());
}

}  // namespace canewise
