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
  Message name;
  double value, u95;
  int decimals;
};

std::vector<CaneRow> cane_rows(const BendTest& test) {
  const Cane& cane = test.cane.cane;
  const BestKnownModulus best = best_known_modulus(test.cane);
  const auto u95 = [&](CanePart part) {
    const auto k = static_cast<Eigen::Index>(part);
    return kCoverage95 * std::sqrt(test.cane.covariance(k, k));
  };
  const auto named = [](std::string_view which) { return Message{"bendtest.part", {{"part", word(which)}}}; };
  return {{CanePart::e_l, Message{"bendtest.modulus_at", {{"depth", mm(best.depth_mm, 1)}}}, best.e_l_mpa,
           kCoverage95 * best.u_rel * best.e_l_mpa, 0},
          {CanePart::e_t, named("e_t"), cane.e_t_mpa, u95(CanePart::e_t) * cane.e_t_mpa, 0},
          {CanePart::g_lt, named("g_lt"), cane.g_lt_mpa, u95(CanePart::g_lt) * cane.g_lt_mpa, 0},
          {CanePart::gradient, named("gradient"), 100.0 * cane.gradient_per_mm, 100.0 * u95(CanePart::gradient), 1},
          {CanePart::left_right, named(test.cane.left_right < 0.0 ? "left" : "right"),
           100.0 * std::abs(test.cane.left_right), 100.0 * u95(CanePart::left_right), 1},
          {CanePart::density, named("density"), cane.density_kg_per_m3, u95(CanePart::density) * cane.density_kg_per_m3,
           0}};
}

Messages cane_cells(const BendTest& test, const CaneRow& row) {
  const bool told = test.told.at(static_cast<std::size_t>(row.part));
  return {row.name,
          Message{"bendtest.value", {{"value", number(row.value, row.decimals)}, {"u", number(row.u95, row.decimals)}}},
          Message{"bendtest.told", {{"told", word(told ? "yes" : "no")}}}};
}

Message title_of(const BendTest& test) {
  return {"bendtest.title", {{"named", word(test.reed.label.empty() ? "no" : "yes")}, {"reed", text(test.reed.label)}}};
}

}  // namespace

std::string bend_test_page(const BendTest& test, const std::string& deflection_png, const Speech& speech) {
  const PageHome home;
  std::string page = "<main><p>" + said_phrase(title_of(test), speech) + "</p><h1>" + said(test.sentence, speech) +
                     "</h1><p class=\"soft\">" +
                     said(Message{"bendtest.made",
                                  {{"at", text(test.tested_at.substr(0, 10))},
                                   {"state", word(name_of(test.cane.state))},
                                   {"mass", number(test.mass_g)},
                                   {"edge", mm(test.edge_mm, 1)}}},
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
