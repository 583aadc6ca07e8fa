#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "scanproc/core/budget.h"
#include "scanproc/pipeline/comparison_json.h"
#include "scanproc/report/charts.h"
#include "scanproc/report/comparison_outputs.h"
#include "scanproc/report/html.h"
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
      "Your hand took {:.0f} % of what was planned. From all that is known now a light stroke of yours takes {:.1f} "
      "µm, "
      "give or take {:.0f} %.",
      100.0 * hand.removed_over_planned, hand.depth_per_stroke_um, 100.0 * hand.u_depth_per_stroke_rel);
}

}  // namespace

std::string comparison_page(const Comparison& comparison, const Result& before, const Result& after,
                            const std::string& removal_png) {
  std::string page =
      "<!doctype html><html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" "
      "content=\"width=device-width,initial-scale=1\"><title>What came off</title><style>" +
      std::string(page_style()) + "</style></head><body><h1>" + escaped(comparison.sentence) + "</h1>";
  page += "<p><strong>What is left:</strong> " + escaped(comparison.left) + "</p>";
  if (!after.plan.steps.empty()) {
    page += "<div class=\"cautions\"><p><strong>Before you scrape again</strong></p><ul>";
    for (const auto caution : kCautions) page += "<li>" + escaped(caution) + "</li>";
    page += "</ul></div>";
  }
  page += "<figure><img alt=\"Map of the cane that came off: " + escaped(comparison.sentence) +
          "\" src=\"data:image/png;base64," + base64(removal_png) + "\"></figure>";
  for (const auto& text : comparison.remarks) page += "<p>" + escaped(text) + "</p>";
  if (!comparison.steps.empty()) {
    page +=
        "<h2>Planned and done</h2><div class=\"wide\"><table><tr><th>place</th><th>planned, µm</th><th>came off, "
        "µm</th><th></th></tr>";
    int number = 1;
    for (const RemovedStep& step : comparison.steps) {
      page += fmt::format("<tr><td>{}. {}</td><td>{:.0f}</td><td>{}</td><td>{}</td></tr>", number++,
                          escaped(step.where), step.planned_um, removed_text(step), verdict_of(step));
    }
    page += "</table></div>";
  }
  if (comparison.hand) page += "<p>" + escaped(hand_sentence(*comparison.hand)) + "</p>";
  page +=
      "<h2>Left against right, before and after</h2><div class=\"wide\"><table><tr><th>zone</th><th>before, "
      "µm</th><th>after, µm</th><th>verdict now</th></tr>";
  for (std::size_t z = 0; z < before.assessment.balance.zones.size() && z < after.assessment.balance.zones.size();
       ++z) {
    const ZoneBalance &was = before.assessment.balance.zones[z], &is = after.assessment.balance.zones[z];
    const auto um = [](double mm) {
      return std::isnan(mm) ? std::string("not seen") : fmt::format("{:+.1f}", 1e3 * mm);
    };
    page += fmt::format("<tr><td>{}, {}</td><td>{}</td><td>{}</td><td>{}</td></tr>", name_of(was.across),
                        name_of(was.along), um(was.difference.mean_mm), um(is.difference.mean_mm), name_of(is.verdict));
  }
  page += "</table></div>";
  if (before.mechanics.known() && after.mechanics.known()) {
    std::vector<PlannedFigure> figures;
    for (const BendingFigure f : kBendingFigures)
      figures.push_back({f, before.mechanics.figure(f).value, after.mechanics.figure(f).value});
    page += "<h2>How it bends, before and after</h2><figure>" + before_after_svg(figures) + "</figure>";
  }
  return page + "</body></html>\n";
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
          {"compare.html", comparison_page(comparison, before, after, picture)},
          {"compare.json", json_from_comparison(comparison, before_name, after_name)}};
}

}  // namespace canewise
