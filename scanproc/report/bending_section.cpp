#include "scanproc/report/bending_section.h"

#include <cmath>
#include <utility>

#include "scanproc/core/budget.h"
#include "scanproc/report/page_parts.h"
#include "scanproc/report/said.h"

namespace canewise {
namespace {

/// In what unit a value is told.
struct TellingUnit {
  double factor;  ///< From the value's own unit.
  int digits;
  std::string_view name;
};

/// Value with what the scan and what unknown cane leave open, each as a 95 % interval.
std::string spread_row(const Message& name, const SpreadValue& v, const TellingUnit& unit, const Speech& speech) {
  const auto open = [&](double u) {
    return Message{"value.plus_minus", {{"u", number(unit.factor * kCoverage95 * u, unit.digits)}}};
  };
  const Message value{"report.figure_value",
                      {{"v", number(unit.factor * v.value, unit.digits)}, {"unit", word(unit.name)}}};
  return table_row("td", {name, value, open(v.u_scan), open(v.u_cane)}, speech);
}

Messages closing_caption(const Mechanics& m) {
  const Closing& c = m.closing;
  Messages caption{
      Message{"report.closing",
              {{"facing", word(c.mouthpiece.facing_is_invented ? "invented" : "yours")},
               {"open", mm(0.5 * (c.mouthpiece.left.tip_opening_mm + c.mouthpiece.right.tip_opening_mm), 2)},
               {"long", mm(c.mouthpiece.left.length_mm)},
               {"force", number(c.lip_force_n, 1)}}}};
  if (m.lying)
    caption.push_back({"report.lies", {{"left", mm(m.lying->left_rests_mm)}, {"right", mm(m.lying->right_rests_mm)}}});
  if (std::isnan(c.pressure_kpa)) caption.push_back(Message{"report.stays_open"});
  if (!std::isnan(c.pressure_kpa)) {
    constexpr double worth_saying_um = 1.0;
    const bool by_facing = std::abs(c.facing_right_minus_left_um) >= worth_saying_um;
    caption.push_back(Message{"report.half_closed",
                              {{"right", signed_um(c.right_minus_left_um)},
                               {"by_facing", word(by_facing ? "yes" : "no")},
                               {"facing", signed_um(c.facing_right_minus_left_um)}}});
  }
  if (c.others.empty()) return caption;
  Messages openings;
  for (std::size_t k = 0; k < c.others.size(); ++k) {
    openings.push_back(Message{"report.other_opening",
                               {{"open", mm(c.others[k].tip_opening_mm, 2)},
                                {"share", number(100.0 * c.others[k].stiffness_ratio)},
                                {"last", word(k + 1 == c.others.size() ? "yes" : "no")}}});
  }
  caption.push_back(Message{"report.other_openings", {{"openings", std::move(openings)}}});
  caption.push_back(Message{"report.more_open"});
  return caption;
}

}  // namespace

std::string bending_section(const Result& result, const PagePictures& pictures, const PageHome& home,
                            const Speech& speech) {
  const Mechanics& m = result.mechanics;
  std::string page = "<h2>" + said(Message{"report.how_it_bends"}, speech) + "</h2>";
  if (!m.known()) return page + "<p>" + said(m.why_not, speech) + "</p>";
  Messages strength = m.strength.sentence;
  strength.push_back(m.strength.advice);
  page += "<p><strong>" + said(m.sentence, speech) + "</strong> " +
          (m.cane.id == "cane.measured" ? std::string() : said(Message{"report.rolling_decides"}, speech)) + "</p><p>" +
          said(strength, speech) + "</p>" + begin_details(Message{"report.bending_details"}, speech) +
          figure(home, {"bending.png", pictures.bending_png, Message{"report.picture_bending"}}, speech) +
          "<div id=\"closing\"></div><p>" + said(closing_caption(m), speech) + "</p>" +
          soft_paragraph({Message{"report.cane", {{"cane", part(m.cane)}}}, Message{"report.bending_key"}}, speech) +
          table_begin(Message{"report.bending_figures"}, speech) +
          table_row("th",
                    {Message{"report.figure"}, Message{"report.value"}, Message{"report.scan_leaves"},
                     Message{"report.cane_leaves"}},
                    speech);
  for (const BendingFigure figure : kBendingFigures) {
    const Message name = title_of(figure);
    page += is_imbalance(figure) ? spread_row(name, m.figure(figure), {100.0, 1, "percent"}, speech)
                                 : spread_row(name, m.figure(figure), {1.0, 2, "n_per_mm"}, speech);
  }
  for (std::size_t k = 0; k < m.modes.size(); ++k) {
    const Message name{"report.mode", {{"n", count(k + 1)}, {"kind", word(m.modes[k].kind)}}};
    page += spread_row(name, m.modes[k].frequency_hz, {1.0, 0, "hz"}, speech);
  }
  return page + std::string(kTableEnd) +
         figure(home, {"modes.png", pictures.modes_png, Message{"report.picture_modes"}}, speech) +
         "<div id=\"compliance\"></div></details>";
}

}  // namespace canewise
