#include "scanproc/report/reed_page.h"

#include <fmt/format.h>

#include <cmath>

#include "scanproc/core/budget.h"
#include "scanproc/core/units.h"
#include "scanproc/pipeline/headline.h"
#include "scanproc/report/bending_section.h"
#include "scanproc/report/cautions_box.h"
#include "scanproc/report/numbers.h"
#include "scanproc/report/page_data.h"
#include "scanproc/report/page_parts.h"
#include "scanproc/report/said.h"
#include "scanproc/report/table_words.h"

namespace canewise {
namespace {

Argument signed_percent(double share, int decimals = 0) { return Number{100.0 * share, decimals, true}; }

std::string_view purpose_of(const ScrapeStep& step, const ScrapePlan& plan) {
  // Thickness agrees, or nearly: it is the cane that is stiffer here.
  constexpr double stiffer = 0.02;
  const double here = step.side == Side::right ? plan.cane_right_over_left : -plan.cane_right_over_left;
  switch (step.aim) {
    case StepAim::balance:
      if (step.for_bending) return "bending";
      return here > stiffer ? "cane" : "balance";
    case StepAim::target:
      return "target";
    case StepAim::softer:
      break;
  }
  return "softer";
}

std::string plan_section(const Result& result, const Speech& speech) {
  const ScrapePlan& plan = result.plan;
  std::string page = "<h2>" + said(Message{"report.what_to_do"}, speech) + "</h2><p><strong>" +
                     said(plan.sentence, speech) + "</strong></p>";
  // What speaks against scraping stands before the way to it.
  for (const Message& remark : plan.remarks) page += "<p>" + said(remark, speech) + "</p>";
  if (!plan.alternatives.empty()) {
    page += "<ul>";
    for (const Message& alternative : plan.alternatives) page += "<li>" + said(alternative, speech) + "</li>";
    page += "</ul>";
  }
  const bool before_the_steps = !plan.steps.empty() && plan.alternatives.empty();
  if (tells_to_cut(result) && !before_the_steps) page += cautions_box(speech);
  if (plan.steps.empty()) return page;
  if (!handedness_is_checked(result)) page += "<p>" + unchecked_handedness_words(speech) + "</p>";
  page += "<div id=\"guide\"></div>";
  if (before_the_steps) page += cautions_box(speech);
  if (plan.needs_rolling_test) page += rolling_test_words(speech);
  page += "<div id=\"steps\"><ol class=\"steps\">";
  for (const auto& step : plan.steps) {
    const Message where{"report.step_place", {{"where", part(step.where)}}};
    const Message what{"report.step",
                       {{"depth", um(step.depth_um)},
                        {"why", word(purpose_of(step, plan))},
                        {"strokes", count(static_cast<std::size_t>(step.strokes))}}};
    page += "<li><strong>" + said_phrase(where, speech) + "</strong> " + said_phrase(what, speech) + "<br>" +
            said(step.stop, speech) + "</li>";
  }
  page += "</ol></div><p>" + said(Message(kThenScan), speech) + "</p>";
  page += soft_paragraph({Message{"report.strokes_count",
                                  {{"depth", um(result.player.depth_per_stroke_um, 1)},
                                   {"hand", word(result.player.hand_is_known ? "known" : "assumed")}}}},
                         speech);
  return page + "<div id=\"bars\"></div>";
}

std::string clipping_section(const Result& result, const Speech& speech) {
  if (result.clipped.empty()) return {};
  const Message name{"report.if_clipped"};
  std::string page =
      begin_details(name, speech) + table_begin(name, speech) +
      table_row("th", {Message{"report.off_the_tip_mm"}, Message{"report.stiffness_lip"}, Message{"report.tip_mm"}},
                speech);
  for (const ClippedReed& reed : result.clipped) {
    page += table_row(
        "td",
        {plain_number(reed.clip_mm, 1), Message{"value.percent", {{"v", signed_percent(reed.stiffness_ratio - 1.0)}}},
         plain_number(reed.tip_thickness_mm, 3)},
        speech);
  }
  return page + std::string(kTableEnd) + "</details>";
}

std::string balance_section(const Result& result, const Speech& speech) {
  const Message name{"report.zone_by_zone"};
  std::string page =
      begin_details(name, speech) + soft_paragraph({Message{"report.balance_key"}}, speech) +
      table_begin(name, speech) +
      table_row(
          "th",
          {Message{"report.zone"}, in_small_unit(Message{"report.difference"}), in_small_unit(Message{"report.u95"}),
           in_small_unit(Message{"report.tolerance"}), Message{"report.verdict"},
           in_small_unit(Message{"report.worst_place"}), Message{"report.beyond_u_mm2"}, Message{"report.volume_mm3"},
           in_small_unit(Message{"report.seen_from"}), in_small_unit(Message{"report.after_the_plan"})},
          speech);
  for (const auto& zone : result.assessment.balance.zones) {
    Message after;
    for (const auto& planned : result.plan.prediction) {
      if (planned.along == zone.along && planned.across == zone.across)
        after = signed_small_number(planned.after_um, 1);
    }
    page += table_row(
        "td",
        {Message{"report.both_sides_zone",
                 {{"across", word(name_of(zone.across))}, {"along", word(name_of(zone.along))}}},
         signed_small_number(um_from_mm(zone.difference.mean_mm), 1),
         small_number(um_from_mm(kCoverage95 * zone.difference.u_mm), 1), small_number(um_from_mm(zone.tolerance_mm)),
         Message{"report.zone_verdict", {{"verdict", word(name_of(zone.verdict))}}},
         signed_small_number(um_from_mm(zone.worst_mm), 1), plain_number(zone.area_beyond_u_mm2, 1),
         Message{"value.interval",
                 {{"v", Number{zone.volume_mm3, 3, true}}, {"u", number(kCoverage95 * zone.u_volume_mm3, 3)}}},
         small_number(um_from_mm(zone.smallest_visible_mm), 1), after},
        speech);
  }
  return page + std::string(kTableEnd) + "</details>";
}

std::string table_section(const Result& result, const PagePictures& pictures, const PageHome& home,
                          const Speech& speech) {
  if (!result.table) return {};
  const Message form = table_sentence(*result.table);
  return "<h2>" + said(table_verdict(*result.table), speech) + "</h2><p>" + said(form, speech) + "</p>" +
         figure(home, {"table.png", pictures.table_png, Message{"report.picture_table", {{"what", part(form)}}}},
                speech);
}

std::string target_section(const Result& result, const Speech& speech) {
  if (!result.assessment.target) return {};
  const TargetComparison& comparison = *result.assessment.target;
  const Message name{"report.against_target"};
  std::string page =
      begin_details(name, speech) + "<p>" +
      said(Message{"report.target",
                   {{"title", part(title_of(comparison.target))}, {"origin", part(origin_of(comparison.target))}}},
           speech) +
      "</p><p>" +
      said(comparison.chosen_by_user ? Message{"report.target_chosen"} : Message{"report.target_nearest"}, speech) +
      "</p>" + table_begin(name, speech) +
      table_row("th",
                {Message{"report.zone"}, in_small_unit(Message{"report.thickness"}),
                 in_small_unit(Message{"report.target_value"}), in_small_unit(Message{"report.off"}),
                 in_small_unit(Message{"report.u95"}), in_small_unit(Message{"report.tolerance"}),
                 Message{"report.verdict"}, Message{"report.covered"}},
                speech);
  for (const auto& zone : comparison.zones) {
    page += table_row(
        "td",
        {place_of(zone.zone), small_number(um_from_mm(zone.target_mm + zone.deviation.mean_mm)),
         small_number(um_from_mm(zone.target_mm)), signed_small_number(um_from_mm(zone.deviation.mean_mm), 1),
         small_number(um_from_mm(kCoverage95 * zone.deviation.u_mm), 1), small_number(um_from_mm(zone.tolerance_mm)),
         Message{"report.zone_verdict", {{"verdict", word(name_of(zone.verdict))}}},
         Message{"value.percent", {{"v", number(100.0 * zone.deviation.covered)}}}},
        speech);
  }
  return page + std::string(kTableEnd) + "</details>";
}

std::string cut_section(const Result& result, const PagePictures& pictures, const PageHome& home,
                        const Speech& speech) {
  const CutFeatures& cut = result.assessment.cut;
  const auto row = [&](const Message& name, const Measured& m, int digits) {
    return table_row("td", {name, plain_number(m.value, digits), plain_number(kCoverage95 * m.u, digits)}, speech);
  };
  const Message name{"report.which_cut"};
  std::string page =
      begin_details(name, speech) + soft_paragraph({Message{"report.cut_key"}}, speech) + table_begin(name, speech) +
      table_row("th", {Message{"report.measure"}, Message{"report.mm"}, Message{"report.u95_mm"}}, speech);
  page += row(Message{"report.length"}, cut.length_mm, 2);
  page += row(Message{"report.width_tip"}, cut.tip_width_mm, 3);
  page += row(Message{"report.width_butt"}, cut.butt_width_mm, 3);
  page += row(Message{"report.stock_height"}, cut.stock_height_mm, 3);
  page += row(Message{"report.vamp_length"}, cut.vamp_length_mm, 2);
  page += table_row(
      "td",
      {Message{"report.shoulder"}, Message{"report.shoulder_kind", {{"kind", word(name_of(cut.shoulder))}}}, Message{}},
      speech);
  page += row(Message{"report.tip_arc"}, cut.tip_arc_radius_mm, 1);
  page += row(Message{"report.corner_drop"}, cut.corner_drop_mm, 2);
  page += row(Message{"report.shaved"}, cut.shaved_mm, 3);
  page += row(Message{"report.tip_thickness"}, cut.tip_thickness_mm, 3);
  page += row(Message{"report.heart"}, cut.heart_thickness_mm, 3);
  page += row(Message{"report.rails_middle"}, cut.rail_thickness_mm, 3);
  return page + std::string(kTableEnd) +
         figure(home, {"map.png", pictures.map_png, Message{"report.picture_map"}}, speech) + "</details>";
}

std::string budget_section(const Result& result, const Speech& speech) {
  const Message key = Message{"report.budget_key", {{"unit", um(0.0)}}};
  std::string page = begin_details(Message{"report.how_sure"}, speech) + "<p>" + said(result.certainty, speech) +
                     "</p>" + soft_paragraph({key}, speech) + table_begin(Message{"report.sources"}, speech);
  Messages heads{Message{"report.source"}}, together{Message{"report.together"}}, expanded{Message{"report.u95"}};
  for (const auto& table : result.budgets) {
    heads.push_back(table.quantity);
    together.push_back(small_number(table.combined.standard_uncertainty, 2));
    expanded.push_back(small_number(table.combined.expanded_uncertainty, 1));
  }
  page += table_row("th", heads, speech);
  for (std::size_t line = 0; !result.budgets.empty() && line < result.budgets.front().lines.size(); ++line) {
    Messages cells{result.budgets.front().lines[line].name};
    for (const auto& table : result.budgets)
      cells.push_back(line < table.lines.size() ? small_number(table.lines[line].in_output_unit(), 2) : Message{});
    page += table_row("td", cells, speech);
  }
  page += table_row("th", together, speech) + table_row("th", expanded, speech) + std::string(kTableEnd);
  if (!result.texture.empty()) {
    Messages texture{Message{"report.texture"}};
    for (const auto& patch : result.texture) {
      texture.push_back(Message{"report.texture_patch",
                                {{"side", word(name_of(patch.y_mm < 0 ? Side::left : Side::right))},
                                 {"sq", um(um_from_mm(patch.s_f.sq), 1)},
                                 {"fine", um(um_from_mm(patch.s_l.sq), 1)},
                                 {"waves", mm(kNesting_mm, 1)}}});
    }
    page += soft_paragraph(texture, speech);
  }
  return page + "</details>";
}

/// How the table's place is known, and what that leaves out.
Messages datum_messages(const Result& result) {
  Messages messages{Message{"report.datum", {{"datum", word(name_of(result.datum))}}}};
  if (result.registration) {
    messages.push_back(Message{"report.registration",
                               {{"method", part(result.registration->method)},
                                {"left", um(um_from_mm(result.registration->residual_mm), 1)}}});
  }
  return messages;
}

std::string record_section(const Result& result, const Speech& speech) {
  const auto item = [&](const Messages& words) { return "<li>" + said(words, speech) + "</li>"; };
  std::string page = begin_details(Message{"report.record"}, speech) + "<ul class=\"soft\">";
  for (const auto& scan : result.scans) {
    const Message line{"report.scan",
                       {{"file", text(scan.file)},
                        {"format", text(scan.format)},
                        {"points", number(static_cast<double>(scan.points))},
                        {"unit", text(scan.unit)},
                        {"digest", text(scan.sha256)}}};
    page += "<li>" + said_phrase(line, speech) + "</li>";
  }
  page += item({Message{"report.moisture_and_rig",
                        {{"state", word(name_of(result.state))}, {"rig", text(result.rig.name)}}}}) +
          item(datum_messages(result));
  Messages sides{Message{"report.sides", {{"what", part(handedness_of(result))}}}};
  if (!handedness_is_checked(result)) sides.push_back(Message{"report.check_sides"});
  page += item(sides);
  for (const Message& note : result.notes) page += item({note});
  for (const auto& option : result.options) page += "<li>" + escaped(option) + "</li>";
  return page + fmt::format("<li>canewise {}, {}</li></ul></details>", escaped(result.program_version),
                            escaped(result.measured_at));
}

std::string whose_line(const Result& result, const Speech& speech) {
  const Message name = whose(result);
  return name.empty() ? "" : "<p class=\"whose\">" + said_phrase(name, speech) + "</p>";
}

}  // namespace

std::string reed_page(const Result& result, const PagePictures& pictures, const PageHome& home, const Speech& speech,
                      const BesideResult& beside) {
  const Message balance{"report.picture_balance", {{"what", result.headline}}};
  const std::string body =
      way_home(home, speech) + "<main><div class=\"columns\"><div>" + whose_line(result, speech) + "<h1>" +
      said(result.headline, speech) + "</h1><p class=\"sure\">" + said(result.certainty, speech) + "</p>" +
      plan_section(result, speech) + beside.ledger_section + "</div><div id=\"viewer\">" +
      figure(home, {"balance.png", pictures.balance_png, balance}, speech) + "</div></div>" +
      table_section(result, pictures, home, speech) + bending_section(result, pictures, home, speech) +
      clipping_section(result, speech) + balance_section(result, speech) + target_section(result, speech) +
      cut_section(result, pictures, home, speech) + budget_section(result, speech) + record_section(result, speech) +
      "</main>";
  return framed_page(home, {title_of(result), body, page_data(result, pictures.template_pdf)}, speech);
}

}  // namespace canewise
