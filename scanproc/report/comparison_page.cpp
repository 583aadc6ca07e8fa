#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "scanproc/core/budget.h"
#include "scanproc/core/units.h"
#include "scanproc/pipeline/comparison_json.h"
#include "scanproc/report/cautions_box.h"
#include "scanproc/report/comparison_outputs.h"
#include "scanproc/report/page_data.h"
#include "scanproc/report/screen.h"

namespace canewise {
namespace {

std::string verdict_of(const RemovedStep& step) {
  if (std::isnan(step.removed_um)) return "not seen in both scans";
  switch (step.as_planned) {
    case Verdict::within:
      return "as planned";
    case Verdict::outside:
      return step.removed_um < step.planned_um ? "too little" : "too much";
    case Verdict::cannot_tell:
      break;
  }
  return "these scans cannot tell";
}

std::string removed_text(const RemovedStep& step) {
  return std::isnan(step.removed_um)
             ? std::string("-")
             : fmt::format("{:.0f} ±{:.0f}", step.removed_um, std::max(1.0, kCoverage95 * step.u_um));
}

std::string hand_sentence(const LearnedHand& hand) {
  return fmt::format(
      "Over all places together {:.0f} % of the planned cane came off. From all that is known now a light stroke of "
      "yours takes {:.1f} µm, give or take {:.0f} %.",
      100.0 * hand.removed_over_planned, hand.depth_per_stroke_um, 100.0 * hand.u_depth_per_stroke_rel);
}

}  // namespace

std::string comparison_page(const Comparison& comparison, const Result& before, const Result& after,
                            const std::string& removal_png, const PageHome& home) {
  std::string page;
  page += way_home(home);
  page += "<main lang=\"en\"><div class=\"columns\"><div><h1>" + escaped(comparison.sentence) + "</h1><h2>" +
          worded("whatIsLeft", "What is left") + "</h2><p><strong>" + escaped(comparison.left) + "</strong></p>";
  for (const auto& text : after.plan.remarks) page += "<p>" + escaped(text) + "</p>";
  if (after.plan.needs_rolling_test) page += rolling_test_words();
  page += "<div id=\"guide\"></div>";
  if (!after.plan.steps.empty()) page += cautions_box();
  for (const auto& text : comparison.remarks) page += "<p>" + escaped(text) + "</p>";
  if (comparison.hand) {
    page += "<p>" + escaped(hand_sentence(*comparison.hand));
    constexpr double worth_saying = 0.05;
    const double counted = after.player.depth_per_stroke_um;
    if (!after.plan.steps.empty() && std::abs(comparison.hand->depth_per_stroke_um - counted) > worth_saying * counted)
      page += escaped(fmt::format(" The strokes of what is left still count {:.1f} µm each.", counted));
    page += "</p>";
    if (!home.token.empty()) {
      page += fmt::format("<div id=\"hand\" data-token=\"{}\" data-known=\"{:d}\"></div>", escaped(home.token),
                          comparison.hand->known_already);
    }
  }
  if (!comparison.steps.empty()) {
    page += "<h2>" + worded("details_done", "Planned and done") + "</h2>" + table_begin("Planned and done") +
            "<tr><th>place</th><th>planned, µm</th><th>came off, µm</th><th>verdict</th></tr>";
    int number = 1;
    for (const RemovedStep& step : comparison.steps) {
      page += fmt::format("<tr><td>{}. {}</td><td data-um>{:.0f}</td><td data-um>{}</td><td>{}</td></tr>", number++,
                          escaped(step.where), step.planned_um, removed_text(step), verdict_of(step));
    }
    page += kTableEnd;
  }
  page += "<div id=\"bars\"></div>";
  page += "</div><div id=\"viewer\"><figure>" +
          image(home, "removal.png", removal_png, "Map of the cane that came off: " + comparison.sentence) +
          "</figure></div></div>";
  page += "<details open><summary>" + worded("details_balance", "Left against right, zone by zone") + "</summary>" +
          table_begin("Left against right, zone by zone") +
          "<tr><th>zone</th><th>before, µm</th><th>after, µm</th><th>verdict "
          "now</th></tr>";
  for (std::size_t z = 0; z < before.assessment.balance.zones.size() && z < after.assessment.balance.zones.size();
       ++z) {
    const ZoneBalance &was = before.assessment.balance.zones[z], &is = after.assessment.balance.zones[z];
    const auto um = [](double mm) {
      return std::isnan(mm) ? std::string("not seen") : fmt::format("{:+.1f}", um_from_mm(mm));
    };
    page +=
        fmt::format("<tr><td>{}, {}</td><td data-um>{}</td><td data-um>{}</td><td>{}</td></tr>", name_of(was.across),
                    name_of(was.along), um(was.difference.mean_mm), um(is.difference.mean_mm), name_of(is.verdict));
  }
  page += std::string(kTableEnd) + "</details></main>";
  return framed_page(home, "What came off", page, page_data(comparison, before, after));
}

std::string comparison_screen(const Comparison& comparison, const Result& after, const std::string& out_folder) {
  constexpr std::size_t width = 96;
  std::string screen = wrapped(comparison.sentence, width, 2);
  int number = 1;
  for (const RemovedStep& step : comparison.steps) {
    screen += fmt::format("  {}. {}: {} of {:.0f} µm, {}\n", number++, step.where, removed_text(step), step.planned_um,
                          verdict_of(step));
  }
  if (comparison.hand) screen += wrapped(hand_sentence(*comparison.hand), width, 2);
  for (const auto& text : comparison.remarks) screen += wrapped("- " + text, width, 2);
  screen += "\n" + wrapped("What is left: " + comparison.left, width, 2);
  if (!after.plan.steps.empty()) {
    screen += wrapped(
        "Sharp blade: cut away from fingers. Don't breathe cane dust. Play after every few strokes; cane cannot be put "
        "back. When unsure, ask a teacher or technician.",
        width, 2);
  }
  return screen + "Picture and page: " + out_folder + "\n";
}

std::vector<OutputFile> comparison_files(const Comparison& comparison, const Result& before, const Result& after,
                                         const std::string& before_name, const std::string& after_name) {
  const std::string picture = removal_png(comparison, before);
  return {{"removal.png", picture},
          {"compare.html", comparison_page(comparison, before, after, picture, {})},
          {"compare.json", json_from_comparison(comparison, before_name, after_name)}};
}

}  // namespace canewise
