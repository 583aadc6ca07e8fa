#include "scanproc/bendtest/bend_test_json.h"

#include <cmath>
#include <nlohmann/json.hpp>

#include "scanproc/bytes/scan_file.h"
#include "scanproc/pipeline/check_result.h"
#include "scanproc/pipeline/result_caps.h"
#include "scanproc/pipeline/result_parts_json.h"
#include "scanproc/words/message_json.h"

namespace canewise {
namespace {

using nlohmann::json;

constexpr int kBendTestVersion = 1;

json tenths_um_rows(const Field& field) {
  json rows = json::array();
  for (Eigen::Index r = 0; r < field.rows(); ++r) {
    json row = json::array();
    for (Eigen::Index c = 0; c < field.cols(); ++c) {
      row.push_back(std::isfinite(field(r, c)) ? json(std::lround(1e4 * static_cast<double>(field(r, c))))
                                               : json(nullptr));
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

}  // namespace

std::string json_from_bend_test(const BendTest& test) {
  json document{{"format", kBendTestFormat},       {"version", kBendTestVersion},  {"tested_at", test.tested_at},
                {"measured_at", test.measured_at}, {"mass_g", test.mass_g},        {"edge_mm", test.edge_mm},
                {"clamp_mm", test.clamp_mm},       {"cane", json_from(test.cane)}, {"told", test.told},
                {"sentence", test.sentence},       {"remarks", test.remarks},      {"cell_mm", test.grid.cell_mm}};
  if (test.tap) {
    json modes = json::array();
    for (const HeardMode& mode : test.tap->modes) {
      modes.push_back({{"kind", mode.twists ? "twisting" : "bending"},
                       {"computed_hz", mode.computed_hz},
                       {"u_computed_hz", mode.u_computed_hz},
                       {"heard_hz", mode.heard.frequency_hz},
                       {"u_heard_hz", mode.heard.u_frequency_hz},
                       {"q", mode.heard.q},
                       {"u_q", mode.heard.u_q}});
    }
    document["tap"] = {{"taps", test.tap->taps}, {"agrees", test.tap->agrees}, {"modes", modes}};
  }
  if (test.crept_mm) document["crept_mm"] = *test.crept_mm;
  if (!test.reed.label.empty())
    document["reed"] = {{"label", test.reed.label}, {"box", test.reed.box}, {"player", test.reed.player}};
  for (const BentBy& weight : test.weights) {
    document["weights"].push_back({{"side", name_of(weight.side)},
                                   {"at_mm", weight.at_mm},
                                   {"u_at_mm", weight.u_at_mm},
                                   {"at_was_seen", weight.at_was_seen},
                                   {"at_thread_mm", weight.at_thread_mm},
                                   {"u_at_thread_mm", weight.u_at_thread_mm},
                                   {"rms_left_mm", weight.rms_left_mm},
                                   {"measured_tenths_um", tenths_um_rows(weight.measured_mm)},
                                   {"u_tenths_um", tenths_um_rows(weight.u_mm)},
                                   {"computed_tenths_um", tenths_um_rows(weight.computed_mm)}});
  }
  return document.dump(-1, ' ', false, json::error_handler_t::replace) + "\n";
}

ReadBendTest read_bend_test(const std::filesystem::path& path) {
  std::error_code error;
  const ScanFile file(std::filesystem::is_directory(path, error) ? path / kBendTestFile : path);
  if (file.size() > kResultCaps.file_mib << 20U)
    file.fail({"result.too_large", {{"mib", number(static_cast<double>(kResultCaps.file_mib))}}});
  try {
    const json document = json::parse(file.all());
    if (!document.is_object() || document.value("format", "") != kBendTestFormat) file.fail({"bendtest.no_file"});
    if (document.at("version").get<int>() != kBendTestVersion) file.fail({"bendtest.other_version"});
    ReadBendTest read;
    read.cane = cane_from(document.at("cane"));
    document.at("measured_at").get_to(read.measured_at);
    if (document.contains("reed")) {
      document.at("reed").at("label").get_to(read.reed.label);
      document.at("reed").at("box").get_to(read.reed.box);
      document.at("reed").at("player").get_to(read.reed.player);
    }
    return read;
  } catch (const Impossible& why) {
    file.fail(why.why);
  } catch (const json::exception&) {
    file.fail({"bendtest.no_file"});
  } catch (const std::invalid_argument&) {
    file.fail({"bendtest.no_file"});
  }
}

}  // namespace canewise
