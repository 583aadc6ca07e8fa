#include "scanproc/compare/comparison_json.h"

#include <cmath>
#include <nlohmann/json.hpp>

#include "scanproc/scrape/scrape_plan.h"
#include "scanproc/words/message_json.h"

namespace canewise {
namespace {

using nlohmann::json;

constexpr int kComparisonVersion = 2;  // Of before: sentences in English.

json tenths_of_um(const Field& field) {
  json rows = json::array();
  for (Eigen::Index r = 0; r < field.rows(); ++r) {
    json row = json::array();
    for (Eigen::Index c = 0; c < field.cols(); ++c) {
      row.push_back(std::isnan(field(r, c)) ? json(nullptr)
                                            : json(std::lround(1e4 * static_cast<double>(field(r, c)))));
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

}  // namespace

std::string json_from_comparison(const Comparison& comparison, const std::string& before, const std::string& after) {
  json document{{"format", "canewise-comparison"},
                {"version", kComparisonVersion},
                {"before", before},
                {"after", after},
                {"sentence", comparison.sentence},
                {"left", comparison.left},
                {"remarks", comparison.remarks},
                {"left_right_only", comparison.left_right_only},
                {"clipped_mm", comparison.clipped_mm},
                {"u_clipped_mm", comparison.u_clipped_mm},
                {"cell_mm", comparison.grid.cell_mm},
                {"removed_tenths_um", tenths_of_um(comparison.removed_mm)},
                {"u_tenths_um", tenths_of_um(comparison.u_mm)}};
  for (const MessageId caution : kCautions) document["cautions"].push_back(Message(caution));
  if (!comparison.left_right_only) {
    document["swelling_rel"] = comparison.swelling_rel;
    document["u_swelling_rel"] = comparison.u_swelling_rel;
    document["volume_mm3"] = comparison.volume_mm3;
    document["u_volume_mm3"] = comparison.u_volume_mm3;
  }
  document["steps"] = json::array();
  for (const RemovedStep& step : comparison.steps) {
    document["steps"].push_back({{"where", step.where},
                                 {"planned_um", step.planned_um},
                                 {"removed_um", step.removed_um},
                                 {"u_um", step.u_um},
                                 {"as_planned", name_of(step.as_planned)}});
  }
  if (comparison.hand) {
    document["hand"] = {{"depth_per_stroke_um", comparison.hand->depth_per_stroke_um},
                        {"u_depth_per_stroke_rel", comparison.hand->u_depth_per_stroke_rel},
                        {"removed_over_planned", comparison.hand->removed_over_planned},
                        {"u_removed_over_planned", comparison.hand->u_removed_over_planned}};
  }
  return document.dump(-1, ' ', false, json::error_handler_t::replace) + "\n";
}

}  // namespace canewise
