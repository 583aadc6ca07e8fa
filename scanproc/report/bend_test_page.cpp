#include <cmath>

#include "scanproc/bendtest/bend_test_json.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/units.h"
#include "scanproc/report/bend_test_outputs.h"
#include "scanproc/report/numbers.h"
#include "scanproc/report/page_frame.h"
#include "scanproc/report/said.h"
#include "scanproc/report/screen.h"

namespace canewise {
namespace {

Message place_of(const BendTest& test, const BentBy& weight) {
  return {"bendtest.weight_at",
          {{"mass", number(test.mass_g)}, {"side", word(name_of(weight.side))}, {"at", mm(weight.at_mm, 1)}}};
}

Message down_of(const BentBy& weight) {
  return small_interval(um_from_mm(weight.at_thread_mm), kCoverage95 * um_from_mm(weight.u_at_thread_mm));
}

/// A part of the cane, its value and how sure it is.
struct CaneRow {
  CanePart part;
  double value, scale;  ///< What one unit of its uncertainty is.
  int decimals;
};

Messages cane_cells(const BendTest& test, const CaneRow& row) {
  const auto k = static_cast<Eigen::Index>(row.part);
  constexpr std::array<std::string_view, kCaneParts.size()> names{"e_l", "e_t", "g_lt", "density", "gradient", "sides"};
  const bool told = test.told.at(static_cast<std::size_t>(row.part));
  return {Message{"bendtest.part", {{"part", word(names.at(static_cast<std::size_t>(row.part)))}}},
          Message{"bendtest.value",
                  {{"value", number(row.value, row.decimals)},
                   {"u", number(kCoverage95 * row.scale * std::sqrt(test.cane.covariance(k, k)), row.decimals)}}},
          Message{"bendtest.told", {{"told", word(told ? "yes" : "no")}}}};
}

std::vector<CaneRow> cane_rows(const BendTest& test) {
  const Cane& cane = test.cane.cane;
  return {{CanePart::e_l, cane.e_l_mpa, cane.e_l_mpa, 0},
          {CanePart::e_t, cane.e_t_mpa, cane.e_t_mpa, 0},
          {CanePart::g_lt, cane.g_lt_mpa, cane.g_lt_mpa, 0},
          {CanePart::gradient, 100.0 * cane.gradient_per_mm, 100.0, 1},
          {CanePart::left_right, 100.0 * test.cane.left_right, 100.0, 1},
          {CanePart::density, cane.density_kg_per_m3, cane.density_kg_per_m3, 0}};
}

Message title_of(const BendTest& test) {
  return {"bendtest.title", {{"named", word(test.reed.label.empty() ? "no" : "yes")}, {"reed", text(test.reed.label)}}};
}

}  // namespace

std::string bend_test_page(const BendTest& test, const std::string& deflection_png, const Speech& speech) {
  const PageHome home;
  std::string page =
      "<main><h1>" + said(test.sentence, speech) + "</h1><p class=\"soft\">" +
      said(
          Message{
              "bendtest.made",
              {{"at", text(test.tested_at)}, {"state", word(name_of(test.cane.state))}, {"edge", mm(test.edge_mm, 1)}}},
          speech) +
      "</p>";
  page +=
      "<figure>" +
      image(home, {"deflection.png", deflection_png, Message{"bendtest.picture", {{"what", test.sentence}}}}, speech) +
      "</figure>";
  const Message weights{"bendtest.weights"}, parts{"bendtest.parts"};
  page += "<h2>" + said(weights, speech) + "</h2>" + table_begin(weights, speech) +
          table_row("th",
                    {Message{"bendtest.weight"}, in_small_unit(Message{"bendtest.down"}),
                     in_small_unit(Message{"bendtest.left"})},
                    speech);
  for (const BentBy& weight : test.weights)
    page += table_row("td", {place_of(test, weight), down_of(weight), small_number(um_from_mm(weight.rms_left_mm), 1)},
                      speech);
  page += std::string(kTableEnd) + "<h2>" + said(parts, speech) + "</h2>" + table_begin(parts, speech) +
          table_row("th", {Message{"bendtest.what"}, Message{"bendtest.value_head"}, Message{"bendtest.told_head"}},
                    speech);
  for (const CaneRow& row : cane_rows(test)) page += table_row("td", cane_cells(test, row), speech);
  page += kTableEnd;
  for (const Message& remark : test.remarks) page += "<p>" + said(remark, speech) + "</p>";
  page += "<p class=\"soft\">" + said(Message{"bendtest.assumes"}, speech) + "</p></main>";
  return framed_page(home, {title_of(test), page}, speech);
}

std::string bend_test_screen(const BendTest& test, const std::string& out_folder, const Speech& speech) {
  constexpr std::size_t width = 96;
  std::string screen = wrapped(sentences(test.sentence, speech), width, 2);
  for (const BentBy& weight : test.weights) {
    screen += "  " + wrapped(phrase({"screen.bent",
                                     {{"what", part(place_of(test, weight))},
                                      {"down", um(um_from_mm(weight.at_thread_mm))},
                                      {"u", um(kCoverage95 * um_from_mm(weight.u_at_thread_mm))}}},
                                    speech),
                             width, 4);
  }
  for (const Message& remark : test.remarks) screen += wrapped("- " + sentence(remark, speech), width, 2);
  screen += "\n" + wrapped(phrase({"screen.use_bend_test", {{"folder", text(out_folder)}}}, speech), width, 2);
  return screen + phrase(Message{"screen.picture_and_page", {{"folder", text(out_folder)}}}, speech) + "\n";
}

OwnFolder own_bend_test_folder() {
  return {kBendTestFile, kBendTestFormat, {"deflection.png", "bend-test.html", kBendTestFile}};
}

std::vector<OutputFile> bend_test_files(const BendTest& test, const Outline& outline, const Speech& speech) {
  const std::string picture = deflection_png(test, outline, speech);
  return {{"deflection.png", picture},
          {"bend-test.html", bend_test_page(test, picture, speech)},
          {kBendTestFile, json_from_bend_test(test)}};
}

}  // namespace canewise
