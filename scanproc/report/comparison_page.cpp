#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "scanproc/compare/comparison_json.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/units.h"
#include "scanproc/report/cautions_box.h"
#include "scanproc/report/comparison_outputs.h"
#include "scanproc/report/numbers.h"
#include "scanproc/report/page_data.h"
#include "scanproc/report/said.h"
#include "scanproc/report/screen.h"

namespace canewise {
namespace {

std::string_view verdict_of(const RemovedStep& step) {
  if (std::isnan(step.removed_um)) return "not seen";
  switch (step.as_planned) {
    case Verdict::within:
      return "as planned";
    case Verdict::outside:
      return step.removed_um < step.planned_um ? "too little" : "too much";
    case Verdict::cannot_tell:
      break;
  }
  return "cannot tell";
}

Message verdict_message(const RemovedStep& step) {
  return Message{"report.removed_verdict", {{"verdict", word(verdict_of(step))}}};
}

Message removed_message(const RemovedStep& step) {
  if (std::isnan(step.removed_um)) return Message{"report.removed_unknown"};
  return small_interval(step.removed_um, std::max(1.0, kCoverage95 * step.u_um));
}

Message hand_message(const LearnedHand& hand) {
  return Message{"report.hand",
                 {{"share", number(100.0 * hand.removed_over_planned)},
                  {"depth", um(hand.depth_per_stroke_um, 1)},
                  {"u", number(100.0 * hand.u_depth_per_stroke_rel)}}};
}

std::string paragraph(const Messages& words, const Speech& speech) { return "<p>" + said(words, speech) + "</p>"; }

/// The next plan, and what the remarks of this comparison add.
std::string what_is_left(const Comparison& comparison, const Result& after, const Speech& speech) {
  std::string page = "<h1>" + said(comparison.sentence, speech) + "</h1><h2>" +
                     said(Message{"report.what_is_left"}, speech) + "</h2><p><strong>" + said(comparison.left, speech) +
                     "</strong></p>";
  for (const Message& remark : after.plan.remarks) page += paragraph({remark}, speech);
  if (after.plan.needs_rolling_test) page += rolling_test_words(speech);
  page += "<div id=\"guide\"></div>";
  if (!after.plan.steps.empty()) page += cautions_box(speech);
  for (const Message& remark : comparison.remarks) page += paragraph({remark}, speech);
  return page;
}

/// What was learned of the hand; on a page that can write back, with a place to keep it.
std::string hand_section(const LearnedHand& learned, const Result& after, const PageHome& home, const Speech& speech) {
  Messages hand{hand_message(learned)};
  constexpr double worth_saying = 0.05;
  const double counted = after.player.depth_per_stroke_um;
  if (!after.plan.steps.empty() && std::abs(learned.depth_per_stroke_um - counted) > worth_saying * counted)
    hand.push_back(Message{"report.strokes_left", {{"depth", um(counted, 1)}}});
  std::string page = paragraph(hand, speech);
  if (!home.token.empty()) {
    page += fmt::format("<div id=\"hand\" data-token=\"{}\" data-known=\"{:d}\"></div>", escaped(home.token),
                        learned.known_already);
  }
  return page;
}

std::string steps_section(const std::vector<RemovedStep>& steps, const Speech& speech) {
  if (steps.empty()) return {};
  const Message name{"report.planned_and_done"};
  std::string page = "<h2>" + said(name, speech) + "</h2>" + table_begin(name, speech) +
                     table_row("th",
                               {Message{"report.place"}, in_small_unit(Message{"report.planned"}),
                                in_small_unit(Message{"report.came_off"}), Message{"report.verdict"}},
                               speech);
  std::size_t step_number = 1;
  for (const RemovedStep& step : steps) {
    const Message place{"report.numbered", {{"n", count(step_number++)}, {"what", part(step.where)}}};
    page +=
        table_row("td", {place, small_number(step.planned_um), removed_message(step), verdict_message(step)}, speech);
  }
  return page + std::string(kTableEnd);
}

std::string zones_section(const Balance& before, const Balance& after, const Speech& speech) {
  const Message name{"report.zone_by_zone"};
  std::string page = "<details open><summary>" + said(name, speech) + "</summary>" + table_begin(name, speech) +
                     table_row("th",
                               {Message{"report.zone"}, in_small_unit(Message{"report.before"}),
                                in_small_unit(Message{"report.after"}), Message{"report.verdict_now"}},
                               speech);
  for (std::size_t z = 0; z < before.zones.size() && z < after.zones.size(); ++z) {
    const ZoneBalance &was = before.zones[z], &is = after.zones[z];
    page += table_row("td",
                      {Message{"report.both_sides_zone",
                               {{"across", word(name_of(was.across))}, {"along", word(name_of(was.along))}}},
                       signed_small_number(um_from_mm(was.difference.mean_mm), 1),
                       signed_small_number(um_from_mm(is.difference.mean_mm), 1),
                       Message{"report.zone_verdict", {{"verdict", word(name_of(is.verdict))}}}},
                      speech);
  }
  return page + std::string(kTableEnd) + "</details>";
}

}  // namespace

std::string comparison_page(const ComparedScans& compared, const std::string& removal_png, const PageHome& home,
                            const Speech& speech) {
  const auto& [comparison, before, after] = compared;
  const Message picture{"report.picture_removal", {{"what", comparison.sentence}}};
  std::string page = way_home(home, speech) + "<main><div class=\"columns\"><div>";
  page += what_is_left(comparison, after, speech);
  if (comparison.hand) page += hand_section(*comparison.hand, after, home, speech);
  page += steps_section(comparison.steps, speech);
  page += "<div id=\"bars\"></div></div><div id=\"viewer\"><figure>" +
          image(home, {"removal.png", removal_png, picture}, speech) + "</figure></div></div>";
  page += zones_section(before.assessment.balance, after.assessment.balance, speech);
  page += "</main>";
  return framed_page(home, {Message{"report.what_came_off"}, page, page_data(comparison, before, after)}, speech);
}

std::string comparison_screen(const Comparison& comparison, const Result& after, const std::string& out_folder,
                              const Speech& speech) {
  constexpr std::size_t width = 96;
  const auto paragraph = [&](const Messages& words) { return wrapped(sentences(words, speech), width, 2); };
  std::string screen = paragraph(comparison.sentence);
  std::size_t step_number = 1;
  for (const RemovedStep& step : comparison.steps) {
    const Message line{"screen.removed",
                       {{"n", count(step_number++)},
                        {"where", part(step.where)},
                        {"removed", part(removed_message(step))},
                        {"planned", um(step.planned_um)},
                        {"verdict", part(verdict_message(step))}}};
    screen += "  " + wrapped(phrase(line, speech), width, 5);
  }
  if (comparison.hand) screen += paragraph({hand_message(*comparison.hand)});
  for (const Message& remark : comparison.remarks) screen += wrapped("- " + sentence(remark, speech), width, 2);
  screen += "\n" + paragraph({Message{"screen.what_is_left", {{"what", comparison.left}}}});
  if (!after.plan.steps.empty()) screen += paragraph({Message{"screen.cautions"}});
  return screen + phrase(Message{"screen.picture_and_page", {{"folder", text(out_folder)}}}, speech) + "\n";
}

OwnFolder own_comparison_folder() {
  return {"compare.json", "canewise-comparison", {"removal.png", "compare.html", "compare.json"}};
}

std::vector<OutputFile> comparison_files(const ComparedScans& compared, const std::string& before_name,
                                         const std::string& after_name, const Speech& speech) {
  const std::string picture = removal_png(compared.comparison, compared.before, speech);
  return {{"removal.png", picture},
          {"compare.html", comparison_page(compared, picture, {}, speech)},
          {"compare.json", json_from_comparison(compared.comparison, before_name, after_name)}};
}

}  // namespace canewise
