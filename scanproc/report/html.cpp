#include "scanproc/report/html.h"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "scanproc/core/budget.h"
#include "scanproc/core/units.h"
#include "scanproc/pipeline/headline.h"
#include "scanproc/report/charts.h"
#include "scanproc/report/table_words.h"

namespace canewise {
namespace {

constexpr std::string_view kStyle = R"css(
:root{color-scheme:light dark;--ink:#1a1a1e;--soft:#5a5a60;--paper:#fff;--line:#d5d5d8;--band:#c9c9cf;--left:#0b5fb0;--right:#b5500a;--box:#f4f4f6}
@media(prefers-color-scheme:dark){img{filter:brightness(.88)}:root{--ink:#ececf0;--soft:#a8a8b0;--paper:#17171a;--line:#3a3a40;--band:#4a4a52;--left:#6db3ff;--right:#ffa35c;--box:#222227}}
body{font:17px/1.5 system-ui,"DejaVu Sans",sans-serif;color:var(--ink);background:var(--paper);margin:0 auto;max-width:920px;padding:16px}
h1{font-size:1.5em;line-height:1.25;margin:.4em 0}h2{font-size:1.15em;margin:1.8em 0 .4em}
summary{font-size:1.15em;font-weight:700;margin:1.4em 0 .4em;cursor:pointer}p.sure,figcaption,.soft{color:var(--soft)}img{max-width:100%;height:auto;background:#fff;border-radius:4px}figure{margin:1em 0}
.pictures{display:grid;grid-template-columns:repeat(auto-fit,minmax(320px,1fr));gap:12px;align-items:start}
table{border-collapse:collapse;width:100%;font-size:.92em}th,td{border-bottom:1px solid var(--line);padding:.3em .5em;text-align:right}
th:first-child,td:first-child{text-align:left}.wide{overflow-x:auto}
ol.steps li{margin:.6em 0;padding:.6em .8em;background:var(--box);border-left:5px solid var(--ink)}
.cautions{border:2px solid var(--ink);padding:.2em 1em;margin:1em 0}
svg{width:100%;height:auto;font-size:13px}svg text{fill:var(--ink)}svg .tick{fill:var(--soft)}
.grid{stroke:var(--line)}.band{fill:var(--band);opacity:.75}.curve{fill:none;stroke-width:2.2;stroke:var(--ink)}
.left{stroke:var(--left);stroke-dasharray:7 4}.right{stroke:var(--right)}
@media print{body{max-width:none}figure,tr,li{break-inside:avoid}}
)css";

std::string um(double mm) { return std::isnan(mm) ? "not seen" : fmt::format("{:.0f}", um_from_mm(mm)); }
std::string signed_um(double mm) { return std::isnan(mm) ? "not seen" : fmt::format("{:+.1f}", um_from_mm(mm)); }

std::string_view purpose_of(StepAim aim) {
  switch (aim) {
    case StepAim::balance:
      return "to match the other side";
    case StepAim::target:
      return "to come nearer to your target";
    case StepAim::softer:
      break;
  }
  return "to make it softer";
}

void add_plan(const Result& result, std::string& page) {
  const ScrapePlan& plan = result.plan;
  page += "<h2>What to do</h2><p><strong>" + escaped(plan.sentence) + "</strong></p>";
  if (!plan.steps.empty()) {
    page += "<div class=\"cautions\"><p><strong>Before you scrape</strong></p><ul>";
    for (const auto caution : kCautions) page += "<li>" + escaped(caution) + "</li>";
    page += "</ul></div>";
    if (plan.needs_rolling_test) {
      page +=
          "<p><strong>First the rolling test.</strong> Roll the mouthpiece so that your lip damps one side of the reed "
          "at a time. "
          "Does the side to be scraped speak less freely? Then go on. If not, take nothing off: cane need not be as "
          "stiff as it "
          "is thick. Repeat the scan and the test.</p>";
    }
    page += "<ol class=\"steps\">";
    for (const auto& step : plan.steps) {
      page += fmt::format("<li><strong>{}</strong>: {:.0f} µm, {}; about {} light strokes along the fibre.<br>{}</li>",
                          escaped(step.where), step.depth_um, purpose_of(step.aim), step.strokes, escaped(step.stop));
    }
    page += "</ol>";
    page += fmt::format("<p class=\"soft\">Strokes count {:.1f} µm each, {}. Lay template.pdf beside the reed.</p>",
                        result.player.depth_per_stroke_um,
                        result.player.hand_is_known ? "as your player file says"
                                                    : "an assumption until a scan after scraping tells your hand");
  }
  for (const auto& text : plan.remarks) page += "<p>" + escaped(text) + "</p>";
  if (!plan.steps.empty() && !plan.figures.empty()) {
    page += "<figure>" + before_after_svg(plan.figures) +
            "<figcaption>What these steps do to its bending, by its shape.</figcaption></figure>";
  }
  if (!plan.alternatives.empty()) {
    page += "<ul>";
    for (const auto& alternative : plan.alternatives) page += "<li>" + escaped(alternative) + "</li>";
    page += "</ul>";
  }
}

void add_clipping(const Result& result, std::string& page) {
  if (result.clipped.empty()) return;
  page +=
      "<details><summary>If it were clipped instead</summary><div class=\"wide\"><table><tr><th>off the tip, "
      "mm</th><th>stiffness under the lip</th><th>tip, mm</th></tr>";
  for (const ClippedReed& reed : result.clipped) {
    page += fmt::format("<tr><td>{:.1f}</td><td>{:+.0f} %</td><td>{:.3f}</td></tr>", reed.clip_mm,
                        100.0 * (reed.stiffness_ratio - 1.0), reed.tip_thickness_mm);
  }
  page += "</table></div></details>";
}

void add_balance_table(const Result& result, std::string& page) {
  page +=
      "<details open><summary>Left against right</summary><p class=\"soft\">Right minus left, means over zones. 'Seen "
      "from' is the smallest "
      "true difference "
      "that 95 of 100 such scans would show.</p><div class=\"wide\"><table><tr><th>zone</th><th>difference, "
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
        "<tr><td>{}, {}</td><td>{}</td><td>{:.1f}</td><td>{}</td><td>{}</td><td>{}</td><td>{:.1f}</td><td>{:+.3f} "
        "±{:.3f}</td><td>{:.1f}</td><td>{}</td></tr>",
        name_of(zone.across), name_of(zone.along), signed_um(zone.difference.mean_mm),
        um_from_mm(kCoverage95 * zone.difference.u_mm), um(zone.tolerance_mm), name_of(zone.verdict),
        signed_um(zone.worst_mm), zone.area_beyond_u_mm2, zone.volume_mm3, kCoverage95 * zone.u_volume_mm3,
        um_from_mm(zone.smallest_visible_mm), after);
  }
  page += "</table></div>";
  page += "</details>";
}

void add_table_form(const Result& result, const std::string& table_png, std::string& page) {
  if (!result.table) return;
  page += "<h2>" + escaped(table_verdict(*result.table)) + "</h2><p>" + escaped(table_sentence(*result.table)) +
          "</p><figure><img style=\"max-width:620px;width:100%\" alt=\"Map of the table: " +
          escaped(table_sentence(*result.table)) + "\" src=\"data:image/png;base64," + base64(table_png) +
          "\"></figure>";
}

void add_target_table(const Result& result, std::string& page) {
  if (!result.assessment.target) return;
  const TargetComparison& comparison = *result.assessment.target;
  page += "<details><summary>Against the target</summary><p>" + escaped(comparison.target.title) + " (" +
          escaped(comparison.target.origin) + "). ";
  page +=
      comparison.chosen_by_user
          ? "Chosen by you."
          : "The nearest built-in cut, shown for orientation only; nothing is scraped towards it. Your own best reeds "
            "make the better target: 'canewise target make'.";
  page +=
      "</p><div class=\"wide\"><table><tr><th>zone</th><th>thickness, µm</th><th>target, µm</th><th>off, "
      "µm</th><th>U95, µm</th><th>tolerance, µm</th>"
      "<th>verdict</th><th>covered</th></tr>";
  for (const auto& zone : comparison.zones) {
    page += fmt::format(
        "<tr><td>{}</td><td>{}</td><td>{}</td><td>{}</td><td>{:.1f}</td><td>{}</td><td>{}</td><td>{:.0f} %</td></tr>",
        name_of(zone.zone), um(zone.target_mm + zone.deviation.mean_mm), um(zone.target_mm),
        signed_um(zone.deviation.mean_mm), um_from_mm(kCoverage95 * zone.deviation.u_mm), um(zone.tolerance_mm),
        name_of(zone.verdict), 100.0 * zone.deviation.covered);
  }
  page += "</table></div>";
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

void add_bending(const Result& result, const ReportPictures& pictures, std::string& page) {
  const Mechanics& m = result.mechanics;
  page += "<h2>How it bends</h2>";
  if (!m.known()) {
    page += "<p>" + escaped(m.why_not) + "</p>";
    return;
  }
  page += "<p><strong>" + escaped(m.sentence) +
          "</strong> Cane that is even in shape need not be even in stiffness: " + "the rolling test decides.</p><p>" +
          escaped(m.strength.sentence) + " " + escaped(m.strength.advice) + "</p>";
  page +=
      "<figure><img style=\"max-width:1000px;width:100%\" alt=\"How the reed bends under the lip, where cane holds "
      "its stiffness, and where its left-right balance.\" src=\"data:image/png;base64," +
      base64(pictures.bending_png) + "\"></figure>";
  const Closing& c = m.closing;
  page += "<figure>" + closing_svg(c) + "<figcaption>" +
          fmt::format("On {} facing ({:.2f} mm open, {:.0f} mm long), lip force {:.1f} N: {}",
                      c.mouthpiece.facing_is_invented ? "an invented example of a" : "your",
                      0.5 * (c.mouthpiece.left.tip_opening_mm + c.mouthpiece.right.tip_opening_mm),
                      c.mouthpiece.left.length_mm, c.lip_force_n, closing_in_words(c)) +
          "</figcaption></figure>";
  if (!c.others.empty()) {
    page += "<p>To close under the same pressure, another tip opening wants ";
    for (std::size_t k = 0; k < c.others.size(); ++k) {
      page += fmt::format("{}{:.2f} mm: {:.0f} % of this stiffness", k == 0 ? "" : "; ", c.others[k].tip_opening_mm,
                          100.0 * c.others[k].stiffness_ratio);
    }
    page += ". More open wants softer.</p>";
  }
  page += "<details><summary>Figures of bending</summary><p class=\"soft\">" + escaped(m.cane) +
          ". 'Scan' and 'cane' are 95 % intervals: what the scan leaves open, and what is not known of the cane. "
          "Newtons per millimetre and hertz depend on the cane; left against right hardly does.</p><div "
          "class=\"wide\"><table><tr><th></th><th></th><th>scan</th><th>cane</th></tr>";
  for (const BendingFigure figure : kBendingFigures) {
    page += is_imbalance(figure) ? spread_row(name_of(figure), m.figure(figure), 100.0, 1, "%, right over left")
                                 : spread_row(name_of(figure), m.figure(figure), 1.0, 2, "N/mm");
  }
  for (std::size_t k = 0; k < m.modes.size(); ++k)
    page += spread_row(fmt::format("mode {}, {}", k + 1, m.modes[k].kind), m.modes[k].frequency_hz, 1.0, 0, "Hz");
  page +=
      "</table></div><figure><img style=\"max-width:1000px;width:100%\" alt=\"Shapes of the first modes.\" "
      "src=\"data:image/png;base64," +
      base64(pictures.modes_png) + "\"></figure><figure>" + compliance_svg(m.along) + "</figure>";
  page += "</details>";
}

void add_cut(const Result& result, std::string& page) {
  const CutFeatures& cut = result.assessment.cut;
  const auto row = [&](std::string_view name, const Measured& m, int digits) {
    page += fmt::format("<tr><td>{}</td><td>{}</td><td>{:.{}f}</td></tr>", name,
                        std::isnan(m.value) ? std::string("not seen") : fmt::format("{:.{}f}", m.value, digits),
                        kCoverage95 * m.u, digits);
  };
  page +=
      "<details><summary>Which cut it is</summary><p class=\"soft\">Differences in kind, not faults.</p><div "
      "class=\"wide\"><table><tr><th></th><th>mm</th><th>U95, mm</th></tr>";
  row("length", cut.length_mm, 2);
  row("width at the tip", cut.tip_width_mm, 3);
  row("width at the butt", cut.butt_width_mm, 3);
  row("stock height", cut.stock_height_mm, 3);
  row("vamp length", cut.vamp_length_mm, 2);
  row("radius of the tip's arc", cut.tip_arc_radius_mm, 1);
  row("corners fall behind the arc by", cut.corner_drop_mm, 2);
  row("shaved off the bark's corners", cut.shaved_mm, 3);
  row("tip, 1 mm behind the edge", cut.tip_thickness_mm, 3);
  row("heart", cut.heart_thickness_mm, 3);
  row("rails, middle", cut.rail_thickness_mm, 3);
  page += "</table></div>";
  page += "</details>";
}

void add_budgets(const Result& result, std::string& page) {
  page += "<details><summary>How sure, and why</summary><p>" + escaped(result.certainty) +
          "</p><p class=\"soft\">Standard uncertainties in µm, after the GUM. All but the first line come from stated "
          "assumptions or the rig file; "
          "scan the reed again, turned by half a turn on the plate, and compare.</p><div "
          "class=\"wide\"><table><tr><th>source</th>";
  for (const auto& table : result.budgets) page += "<th>" + escaped(table.quantity) + "</th>";
  page += "</tr>";
  for (std::size_t line = 0; !result.budgets.empty() && line < result.budgets.front().lines.size(); ++line) {
    page += "<tr><td>" + escaped(result.budgets.front().lines[line].name) + "</td>";
    for (const auto& table : result.budgets) {
      page +=
          line < table.lines.size() ? fmt::format("<td>{:.2f}</td>", table.lines[line].in_output_unit()) : "<td></td>";
    }
    page += "</tr>";
  }
  page += "<tr><th>together</th>";
  for (const auto& table : result.budgets) page += fmt::format("<th>{:.2f}</th>", table.combined.standard_uncertainty);
  page += "</tr><tr><th>U95</th>";
  for (const auto& table : result.budgets) page += fmt::format("<th>{:.1f}</th>", table.combined.expanded_uncertainty);
  page += "</tr></table></div>";
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
  page += "<details><summary>Record</summary><ul class=\"soft\">";
  for (const auto& scan : result.scans) {
    page += fmt::format("<li>{}: {}, {} points, {}; SHA-256 {}</li>", escaped(scan.file), escaped(scan.format),
                        scan.points, scan.unit, scan.sha256);
  }
  page += fmt::format("<li>moisture: {}; rig: {}</li><li>{}</li>", name_of(result.state), escaped(result.rig.name),
                      escaped(datum_sentence(result)));
  page += "<li>left and right: " + escaped(result.handedness) + "." +
          (result.handedness.starts_with("assumed")
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

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

std::string base64(std::string_view bytes) {
  constexpr std::string_view digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string out;
  out.reserve((bytes.size() + 2) / 3 * 4);
  const auto byte = [&](std::size_t i) { return i < bytes.size() ? static_cast<unsigned char>(bytes[i]) : 0U; };
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const unsigned int triple = byte(i) << 16U | byte(i + 1) << 8U | byte(i + 2);
    for (unsigned int k = 0; k < 4; ++k) {
      out += i + k <= bytes.size() ? digits[triple >> (18U - 6U * k) & 63U] : '=';
    }
  }
  return out;
}

std::string_view page_style() { return kStyle; }

std::string report_html(const Result& result, const ReportPictures& pictures) {
  std::string page;
  page.reserve((pictures.map_png.size() + pictures.balance_png.size() + pictures.table_png.size()) * 4 / 3 + 100000);
  page +=
      "<!doctype html><html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" "
      "content=\"width=device-width,initial-scale=1\"><title>" +
      escaped(kind_of(result)) + "</title><style>" + std::string(kStyle) + "</style></head><body>";
  page += "<h1>" + escaped(result.headline) + "</h1><p class=\"sure\">" + escaped(result.certainty) + "</p>";
  page += "<div class=\"pictures\"><figure><img alt=\"Balance map of the vamp: " + escaped(result.headline) +
          "\" src=\"data:image/png;base64," + base64(pictures.balance_png) +
          "\"></figure><figure><img alt=\"Thickness map of the whole reed, tip up.\" src=\"data:image/png;base64," +
          base64(pictures.map_png) + "\"></figure></div>";
  add_plan(result, page);
  add_clipping(result, page);
  add_bending(result, pictures, page);
  add_table_form(result, pictures.table_png, page);
  page += "<h2>Along the reed</h2><figure>" + profile_svg(result) + "</figure><h2>Across the reed</h2>";
  const double vamp = result.assessment.cut.vamp_length_mm.value;
  for (const double t : {0.06, 0.18, 0.45, 0.75}) {
    const std::string section = section_svg(result, t * vamp);
    if (!section.empty())
      page += fmt::format("<figure>{}<figcaption>{:.0f} mm from the tip</figcaption></figure>", section, t * vamp);
  }
  add_balance_table(result, page);
  add_target_table(result, page);
  add_cut(result, page);
  add_budgets(result, page);
  add_record(result, page);
  page += "</body></html>\n";
  return page;
}

}  // namespace canewise
