#include "scanproc/report/reed_page.h"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "scanproc/core/budget.h"
#include "scanproc/core/units.h"
#include "scanproc/pipeline/headline.h"
#include "scanproc/report/cautions_box.h"
#include "scanproc/report/page_data.h"
#include "scanproc/report/table_words.h"

namespace canewise {
namespace {

std::string um(double mm) { return std::isnan(mm) ? "not seen" : fmt::format("{:.0f}", um_from_mm(mm)); }
std::string signed_um(double mm) { return std::isnan(mm) ? "not seen" : fmt::format("{:+.1f}", um_from_mm(mm)); }

std::string_view purpose_of(const ScrapeStep& step, const ScrapePlan& plan) {
  // Thickness agrees, or nearly: it is the cane that is stiffer here.
  constexpr double stiffer = 0.02;
  const double here = step.side == Side::right ? plan.cane_right_over_left : -plan.cane_right_over_left;
  switch (step.aim) {
    case StepAim::balance:
      if (step.for_bending) return "because this side bends more stiffly, though the map finds the cane even here";
      return here > stiffer ? "because the cane is stiffer on this side" : "to match the other side";
    case StepAim::target:
      return "to come nearer to your target";
    case StepAim::softer:
      break;
  }
  return "to make it softer";
}

void add_plan(const Result& result, std::string& page) {
  const ScrapePlan& plan = result.plan;
  page += "<h2>" + worded("whatToDo", "What to do") + "</h2><p><strong>" + escaped(plan.sentence) + "</strong></p>";
  // What speaks against scraping stands before the way to it.
  for (const auto& text : plan.remarks) page += "<p>" + escaped(text) + "</p>";
  if (!plan.alternatives.empty()) {
    page += "<ul>";
    for (const auto& alternative : plan.alternatives) page += "<li>" + escaped(alternative) + "</li>";
    page += "</ul>" + cautions_box();
  }
  if (plan.steps.empty()) return;
  if (!handedness_is_checked(result)) page += "<p>" + std::string(unchecked_handedness_words()) + "</p>";
  page += "<div id=\"guide\"></div>";
  if (plan.alternatives.empty()) page += cautions_box();
  if (plan.needs_rolling_test) page += rolling_test_words();
  page += "<div id=\"steps\"><ol class=\"steps\">";
  for (const auto& step : plan.steps) {
    page += fmt::format("<li><strong>{}</strong>: {:.0f} µm, {}; about {} light stroke{} along the fibre.<br>{}</li>",
                        escaped(step.where), step.depth_um, purpose_of(step, plan), step.strokes,
                        step.strokes == 1 ? "" : "s", escaped(step.stop));
  }
  page += "</ol></div><p>" + worded("thenScan", kThenScan) + "</p>";
  page += fmt::format(
      "<p class=\"soft\">Strokes count {:.1f} µm each, {}. Lay the template (template.pdf) beside the "
      "reed.</p>",
      result.player.depth_per_stroke_um,
      result.player.hand_is_known ? "as your player file says"
                                  : "an assumption until a scan after scraping tells your hand");
  page += "<div id=\"bars\"></div>";
}

void add_clipping(const Result& result, std::string& page) {
  if (result.clipped.empty()) return;
  page += "<details><summary><span data-text=\"details_clip\">If it were clipped instead</span></summary>" +
          table_begin("If it were clipped instead") +
          "<tr><th>off the tip, "
          "mm</th><th>stiffness under the lip</th><th>tip, mm</th></tr>";
  for (const ClippedReed& reed : result.clipped) {
    page += fmt::format("<tr><td>{:.1f}</td><td>{:+.0f} %</td><td>{:.3f}</td></tr>", reed.clip_mm,
                        100.0 * (reed.stiffness_ratio - 1.0), reed.tip_thickness_mm);
  }
  page += std::string(kTableEnd) + "</details>";
}

void add_balance_table(const Result& result, std::string& page) {
  page +=
      "<details><summary><span data-text=\"details_balance\">Left against right, zone by zone</span></summary><p "
      "class=\"soft\">Right minus left, means over zones. 'Seen "
      "from' is the smallest "
      "true difference "
      "that 95 of 100 such scans would show.</p>" +
      table_begin("Left against right, zone by zone") +
      "<tr><th>zone</th><th>difference, "
      "µm</th><th>U95, µm</th>"
      "<th>tolerance, µm</th><th>verdict</th><th>worst place, µm</th><th>beyond U, mm2</th><th>volume, "
      "mm3</th><th>seen from, µm</th>"
      "<th>after the plan, µm</th></tr>";
  for (const auto& zone : result.assessment.balance.zones) {
    std::string after;
    for (const auto& planned : result.plan.prediction) {
      if (planned.along == zone.along && planned.across == zone.across)
        after = fmt::format("{:+.1f}", planned.after_um);
    }
    page += fmt::format(
        "<tr><td>{}, {}</td><td data-um>{}</td><td data-um>{:.1f}</td><td data-um>{}</td><td>{}</td><td "
        "data-um>{}</td><td>{:.1f}</td><td>{:+.3f} ±{:.3f}</td><td data-um>{:.1f}</td><td data-um>{}</td></tr>",
        name_of(zone.across), name_of(zone.along), signed_um(zone.difference.mean_mm),
        um_from_mm(kCoverage95 * zone.difference.u_mm), um(zone.tolerance_mm), name_of(zone.verdict),
        signed_um(zone.worst_mm), zone.area_beyond_u_mm2, zone.volume_mm3, kCoverage95 * zone.u_volume_mm3,
        um_from_mm(zone.smallest_visible_mm), after);
  }
  page += kTableEnd;
  page += "</details>";
}

void add_table_form(const Result& result, const std::string& table_png, const PageHome& home, std::string& page) {
  if (!result.table) return;
  page += "<h2>" + escaped(table_verdict(*result.table)) + "</h2><p>" + escaped(table_sentence(*result.table)) +
          "</p><figure>" + image(home, "table.png", table_png, "Map of the table: " + table_sentence(*result.table)) +
          "</figure>";
}

void add_target_table(const Result& result, std::string& page) {
  if (!result.assessment.target) return;
  const TargetComparison& comparison = *result.assessment.target;
  page += "<details><summary><span data-text=\"details_target\">Against the target</span></summary><p>" +
          escaped(comparison.target.title) + " (" + escaped(comparison.target.origin) + ").</p><p>";
  page +=
      comparison.chosen_by_user
          ? "Chosen by you."
          : "The nearest built-in cut, shown for orientation only; nothing is scraped towards it. Your own best reeds "
            "make the better target: 'canewise target make'.";
  page += "</p>" + table_begin("Against the target") +
          "<tr><th>zone</th><th>thickness, µm</th><th>target, µm</th><th>off, "
          "µm</th><th>U95, µm</th><th>tolerance, µm</th>"
          "<th>verdict</th><th>covered</th></tr>";
  for (const auto& zone : comparison.zones) {
    page += fmt::format(
        "<tr><td>{}</td><td data-um>{}</td><td data-um>{}</td><td data-um>{}</td><td data-um>{:.1f}</td><td "
        "data-um>{}</td><td>{}</td><td>{:.0f} %</td></tr>",
        name_of(zone.zone), um(zone.target_mm + zone.deviation.mean_mm), um(zone.target_mm),
        signed_um(zone.deviation.mean_mm), um_from_mm(kCoverage95 * zone.deviation.u_mm), um(zone.tolerance_mm),
        name_of(zone.verdict), 100.0 * zone.deviation.covered);
  }
  page += kTableEnd;
  page += "</details>";
}

/// Value with what the scan and what unknown cane leave open, each as a 95 % interval.
std::string spread_row(std::string_view name, const SpreadValue& v, double factor, int digits, std::string_view unit) {
  return fmt::format("<tr><td>{}</td><td>{:.{}f} {}</td><td>±{:.{}f}</td><td>±{:.{}f}</td></tr>", name,
                     factor * v.value, digits, unit, factor * kCoverage95 * v.u_scan, digits,
                     factor * kCoverage95 * v.u_cane, digits);
}

std::string closing_in_words(const Closing& c) {
  if (std::isnan(c.pressure_kpa)) {
    return fmt::format("at {:.0f} kPa, more than anyone blows, it is still open. Are tip opening and lip force right?",
                       c.curve.back().pressure_kpa);
  }
  return fmt::format(
      "closes at {:.0f} ±{:.0f} kPa. At half of that the right side stands {:+.0f} µm against the left{}.",
      c.pressure_kpa, kCoverage95 * c.u_pressure_kpa, c.right_minus_left_um,
      std::abs(c.facing_right_minus_left_um) >= 1.0
          ? fmt::format(", {:+.0f} µm of it by the facing itself", c.facing_right_minus_left_um)
          : std::string());
}

std::string closing_caption(const Closing& c) {
  std::string text = fmt::format("On {} facing ({:.2f} mm open, {:.0f} mm long), lip force {:.1f} N: {}",
                                 c.mouthpiece.facing_is_invented ? "an invented example of a" : "your",
                                 0.5 * (c.mouthpiece.left.tip_opening_mm + c.mouthpiece.right.tip_opening_mm),
                                 c.mouthpiece.left.length_mm, c.lip_force_n, closing_in_words(c));
  if (c.others.empty()) return text;
  text += " To close under the same pressure, another tip opening wants ";
  for (std::size_t k = 0; k < c.others.size(); ++k) {
    text += fmt::format("{}{:.2f} mm: {:.0f} % of this stiffness", k == 0 ? "" : "; ", c.others[k].tip_opening_mm,
                        100.0 * c.others[k].stiffness_ratio);
  }
  return text + ". More open wants softer.";
}

void add_bending(const Result& result, const PagePictures& pictures, const PageHome& home, std::string& page) {
  const Mechanics& m = result.mechanics;
  page += "<h2>" + worded("details_bending", "How it bends") + "</h2>";
  if (!m.known()) {
    page += "<p>" + escaped(m.why_not) + "</p>";
    return;
  }
  page += "<p><strong>" + escaped(m.sentence) +
          "</strong> Cane that is even in shape need not be even in stiffness: the rolling test decides.</p><p>" +
          escaped(m.strength.sentence) + " " + escaped(m.strength.advice) + "</p><details><summary>" +
          worded("details_figures", "Pictures and figures of bending") + "</summary><figure>" +
          image(home, "bending.png", pictures.bending_png,
                "How the reed bends under the lip, where cane holds its stiffness, and where its left-right balance.") +
          "</figure><div id=\"closing\"></div><p>" + escaped(closing_caption(m.closing)) + "</p><p class=\"soft\">" +
          escaped(m.cane) +
          ". 'Scan' and 'cane' are 95 % intervals: what the scan leaves open, and what is not known of the cane. "
          "Newtons per millimetre and hertz depend on the cane; left against right hardly does.</p>" +
          table_begin("Figures of bending") + "<tr><th>figure</th><th>value</th><th>scan</th><th>cane</th></tr>";
  for (const BendingFigure figure : kBendingFigures) {
    page += is_imbalance(figure) ? spread_row(name_of(figure), m.figure(figure), 100.0, 1, "%, right over left")
                                 : spread_row(name_of(figure), m.figure(figure), 1.0, 2, "N/mm");
  }
  for (std::size_t k = 0; k < m.modes.size(); ++k) {
    page +=
        spread_row(fmt::format("mode {}, {}", k + 1, escaped(m.modes[k].kind)), m.modes[k].frequency_hz, 1.0, 0, "Hz");
  }
  page += std::string(kTableEnd) + "<figure>" +
          image(home, "modes.png", pictures.modes_png, "Shapes of the first modes.") +
          "</figure><div id=\"compliance\"></div></details>";
}

void add_cut(const Result& result, const PagePictures& pictures, const PageHome& home, std::string& page) {
  const CutFeatures& cut = result.assessment.cut;
  const auto row = [&](std::string_view name, const Measured& m, int digits) {
    page += fmt::format("<tr><td>{}</td><td>{}</td><td>{:.{}f}</td></tr>", name,
                        std::isnan(m.value) ? std::string("not seen") : fmt::format("{:.{}f}", m.value, digits),
                        kCoverage95 * m.u, digits);
  };
  page +=
      "<details><summary><span data-text=\"details_cut\">Which cut it is</span></summary><p class=\"soft\">Differences "
      "in kind, not faults.</p>" +
      table_begin("Which cut it is") + "<tr><th>measure</th><th>mm</th><th>U95, mm</th></tr>";
  row("length", cut.length_mm, 2);
  row("width at the tip", cut.tip_width_mm, 3);
  row("width at the butt", cut.butt_width_mm, 3);
  row("stock height", cut.stock_height_mm, 3);
  row("vamp length", cut.vamp_length_mm, 2);
  page += fmt::format("<tr><td>shoulder</td><td>{}</td><td></td></tr>", name_of(cut.shoulder));
  row("radius of the tip's arc", cut.tip_arc_radius_mm, 1);
  row("corners fall behind the arc by", cut.corner_drop_mm, 2);
  row("shaved off the bark's corners", cut.shaved_mm, 3);
  row("tip, 1 mm behind the edge", cut.tip_thickness_mm, 3);
  row("heart", cut.heart_thickness_mm, 3);
  row("rails, middle", cut.rail_thickness_mm, 3);
  page += std::string(kTableEnd) + "<figure>" +
          image(home, "map.png", pictures.map_png, "Thickness map of the whole reed, tip up.") + "</figure>";
  page += "</details>";
}

void add_budgets(const Result& result, std::string& page) {
  page += "<details><summary><span data-text=\"details_sure\">How sure, and why</span></summary><p>" +
          escaped(result.certainty) +
          "</p><p class=\"soft\">Standard uncertainties in µm, after the GUM. All but the first line come from stated "
          "assumptions or the rig file; "
          "scan the reed again, turned by half a turn on the plate, and compare.</p>" +
          table_begin("Sources of uncertainty") + "<tr><th>source</th>";
  for (const auto& table : result.budgets) page += "<th>" + escaped(table.quantity) + "</th>";
  page += "</tr>";
  for (std::size_t line = 0; !result.budgets.empty() && line < result.budgets.front().lines.size(); ++line) {
    page += "<tr><td>" + escaped(result.budgets.front().lines[line].name) + "</td>";
    for (const auto& table : result.budgets) {
      page += line < table.lines.size() ? fmt::format("<td data-um>{:.2f}</td>", table.lines[line].in_output_unit())
                                        : "<td></td>";
    }
    page += "</tr>";
  }
  page += "<tr><th>together</th>";
  for (const auto& table : result.budgets)
    page += fmt::format("<th data-um>{:.2f}</th>", table.combined.standard_uncertainty);
  page += "</tr><tr><th>U95</th>";
  for (const auto& table : result.budgets)
    page += fmt::format("<th data-um>{:.1f}</th>", table.combined.expanded_uncertainty);
  page += "</tr>" + std::string(kTableEnd);
  if (!result.texture.empty()) {
    page += "<p class=\"soft\">Texture of the vamp (ISO 25178-2; the scanner's noise is in it): ";
    for (const auto& patch : result.texture) {
      page += fmt::format("{} flank Sq {:.1f} µm, {:.1f} µm without waves over 0.8 mm. ",
                          patch.y_mm < 0 ? "left" : "right", um_from_mm(patch.s_f.sq), um_from_mm(patch.s_l.sq));
    }
    page += "</p>";
  }
  page += "</details>";
}

/// How the table's place is known, and what that leaves out.
std::string datum_sentence(const Result& result) {
  std::string text;
  if (result.datum == "two-sided") {
    text = "Datum: both sides were seen, so the thickness is the cane's own and the table's form is measured";
  } else if (result.datum == "pads") {
    text = "Datum: the jig's pads; how the table is warped is not seen and stays in the uncertainty as an assumption";
  } else {
    text =
        "Datum: the plate; how the table is warped is not seen and stays in the uncertainty as an assumption ([priors] "
        "of the rig file)";
  }
  if (result.registration) {
    text += fmt::format(". Scans brought together by {}, {:.1f} µm left between them", result.registration->method,
                        um_from_mm(result.registration->residual_mm));
  }
  return text + ".";
}

void add_record(const Result& result, std::string& page) {
  page += "<details><summary><span data-text=\"details_record\">Record</span></summary><ul class=\"soft\">";
  for (const auto& scan : result.scans) {
    page += fmt::format("<li>{}: {}, {} points, {}; SHA-256 {}</li>", escaped(scan.file), escaped(scan.format),
                        scan.points, escaped(scan.unit), escaped(scan.sha256));
  }
  page += fmt::format("<li>moisture: {}; rig: {}</li><li>{}</li>", name_of(result.state), escaped(result.rig.name),
                      escaped(datum_sentence(result)));
  page += "<li>left and right: " + escaped(result.handedness) + "." +
          (!handedness_is_checked(result)
               ? " Check once: stick a scrap of tape on the right rail, scan, and see it on the right in the picture "
                 "(tip up, vamp towards you)."
               : "") +
          "</li>";
  for (const auto& note : result.notes) page += "<li>" + escaped(note) + "</li>";
  for (const auto& option : result.options) page += "<li>" + escaped(option) + "</li>";
  page += fmt::format("<li>canewise {}, {}</li></ul>", escaped(result.program_version), escaped(result.measured_at));
  page += "</details>";
}

}  // namespace

std::string reed_page(const Result& result, const PagePictures& pictures, const PageHome& home) {
  std::string body;
  body += way_home(home);
  body += "<main lang=\"en\"><div class=\"columns\"><div><h1>" + escaped(result.headline) + "</h1><p class=\"sure\">" +
          escaped(result.certainty) + "</p>";
  add_plan(result, body);
  body += "</div><div id=\"viewer\"><figure>" +
          image(home, "balance.png", pictures.balance_png, "Balance map of the vamp: " + result.headline) +
          "</figure></div></div>";
  add_table_form(result, pictures.table_png, home, body);
  add_bending(result, pictures, home, body);
  add_clipping(result, body);
  add_balance_table(result, body);
  add_target_table(result, body);
  add_cut(result, pictures, home, body);
  add_budgets(result, body);
  add_record(result, body);
  return framed_page(home, kind_of(result), body + "</main>", page_data(result, pictures.template_pdf));
}

}  // namespace canewise
