#include "scanproc/bendtest/bend_test_json.h"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <vector>

#include "scanproc/bytes/scan_file.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/core/units.h"
#include "scanproc/pipeline/check_result.h"
#include "scanproc/pipeline/fields_json.h"
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

/// Rows of numbers; null where nothing was measured.
Eigen::ArrayXXd nodes_from(const json& rows) {
  const std::size_t height = rows.size(), width = height > 0 ? rows.at(0).size() : 0;
  constexpr std::size_t most = 1000;
  if (height > most || width > most) throw Impossible{Message{"result.matrix_size"}};
  Eigen::ArrayXXd nodes(static_cast<Eigen::Index>(height), static_cast<Eigen::Index>(width));
  for (std::size_t r = 0; r < height; ++r) {
    if (rows.at(r).size() != width) throw Impossible{Message{"result.matrix_size"}};
    for (std::size_t c = 0; c < width; ++c) {
      const json& value = rows.at(r).at(c);
      nodes(static_cast<Eigen::Index>(r), static_cast<Eigen::Index>(c)) =
          value.is_null() ? std::nan("") : value.get<double>();
    }
  }
  return nodes;
}

}  // namespace

std::string json_from_bend_test(const BendTest& test) {
  json document{{"format", kBendTestFormat},
                {"version", kBendTestVersion},
                {"tested_at", test.tested_at},
                {"measured_at", test.measured_at},
                {"stock_height_mm", {test.stock_height_mm.value, test.stock_height_mm.u}},
                {"butt_width_mm", {test.butt_width_mm.value, test.butt_width_mm.u}},
                {"relative_thickness_mm", rows_from(test.relative_thickness_mm)},
                {"mass_g", test.mass_g},
                {"edge_mm", test.edge_mm},
                {"clamp_mm", test.clamp_mm},
                {"cane", json_from(test.cane)},
                {"told", test.told},
                {"sentence", test.sentence},
                {"remarks", test.remarks},
                {"cell_mm", test.grid.cell_mm}};
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
    if (!document.at("version").is_number_integer() || document.at("version") != kBendTestVersion)
      file.fail({"bendtest.other_version"});
    ReadBendTest read;
    read.cane = cane_from(document.at("cane"));
    document.at("measured_at").get_to(read.measured_at);
    const auto measured = [&](const char* key) {
      const json& pair = document.at(key);
      const auto value = [&](std::size_t k) { return pair.at(k).is_null() ? std::nan("") : pair.at(k).get<double>(); };
      return Measured{value(0), value(1)};
    };
    read.stock_height_mm = measured("stock_height_mm");
    read.butt_width_mm = measured("butt_width_mm");
    read.relative_thickness_mm = nodes_from(document.at("relative_thickness_mm"));
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

void check_reed_of(const ReadBendTest& test, const Result& result) {
  const auto refuse = [](double by_mm) {
    throw NotMeasurable({"bendtest.of_other_reed", {{"by", um(um_from_mm(by_mm))}}});
  };
  const CutFeatures& cut = result.assessment.cut;
  const auto check_size = [&](const Measured& was, const Measured& is, double spare_mm) {
    const double by = std::abs(was.value - is.value);
    if (by > spare_mm + kCoverage95 * std::hypot(was.u, is.u)) refuse(by);
  };
  constexpr double spare_mm = 0.12, thicker_mm = 0.06, thicker_share = 0.02;
  check_size(test.stock_height_mm, cut.stock_height_mm, spare_mm);
  check_size(test.butt_width_mm, cut.butt_width_mm, spare_mm);
  const Eigen::ArrayXXd& was = test.relative_thickness_mm;
  const Eigen::ArrayXXd& is = result.relative_thickness_mm;
  if (was.rows() != is.rows() || was.cols() != is.cols()) return;
  // Behind the tip, whose curl may differ from laying to laying.
  std::vector<double> thicker;
  for (Eigen::Index c = 0; c < is.cols(); ++c)
    for (Eigen::Index r = is.rows() / 8; r < is.rows(); ++r)
      if (std::isfinite(is(r, c) - was(r, c))) thicker.push_back(is(r, c) - was(r, c));
  if (thicker.empty()) return;
  const auto top =
      thicker.begin() + static_cast<std::ptrdiff_t>((1.0 - thicker_share) * static_cast<double>(thicker.size() - 1));
  std::nth_element(thicker.begin(), top, thicker.end());
  if (*top > thicker_mm) refuse(*top);
}

}  // namespace canewise
