#include "scanproc/report/page_data.h"

#include <fmt/format.h>

#include <bit>
#include <cmath>
#include <nlohmann/json.hpp>

#include "scanproc/core/budget.h"
#include "scanproc/core/units.h"
#include "scanproc/drawing/colour.h"
#include "scanproc/pipeline/headline.h"
#include "scanproc/report/cautions_box.h"
#include "scanproc/report/page_frame.h"
#include "scanproc/report/reed_drawing.h"
#include "scanproc/scrape/scrape_region.h"
#include "scanproc/scrape/scrape_steps.h"
#include "scanproc/words/message_json.h"

namespace canewise {
namespace {

using nlohmann::json;

static_assert(std::endian::native == std::endian::little, "the page reads little-endian floats");

std::string packed(const Field& field) {
  return base64({reinterpret_cast<const char*>(field.data()), static_cast<std::size_t>(field.size()) * sizeof(float)});
}
std::string packed_um(const Field& field_mm) { return packed(field_mm * 1000.0F); }
std::string packed_u95_um(const Field& u_mm) { return packed(u_mm * static_cast<float>(1000.0 * kCoverage95)); }
std::string packed(const Eigen::ArrayXXd& field) { return packed(Field(field.cast<float>())); }

json grid_of(const Grid& grid) { return {{"cell_mm", grid.cell_mm}, {"rows", grid.rows}, {"columns", grid.columns}}; }

json number(double value) { return std::isnan(value) ? json(nullptr) : json(value); }

/// Colours of a scale at 256 even steps, as rrggbb one after the other: the page shows the very colours of the
/// pictures.
template <typename ColourOf>
std::string colours(const ColourOf& colour_of) {
  constexpr int steps = 256;
  std::string hex;
  for (int k = 0; k < steps; ++k) {
    const Colour c = colour_of(static_cast<double>(k) / (steps - 1));
    const auto byte = [](double share) { return static_cast<int>(std::lround(255.0 * share)); };
    hex += fmt::format("{:02x}{:02x}{:02x}", byte(c.red), byte(c.green), byte(c.blue));
  }
  return hex;
}

json points_of(const std::vector<CanvasPoint>& rim) {
  json points = json::array();
  // In a view of scale 1 at the origin the canvas runs along y, then x.
  for (const CanvasPoint& p : rim) points.push_back({p.y, p.x});
  return points;
}

json zones_of(const Balance& balance) {
  json zones = json::array();
  for (const ZoneBalance& zone : balance.zones) {
    zones.push_back({{"along", name_of(zone.along)},
                     {"across", name_of(zone.across)},
                     {"difference_um", number(um_from_mm(zone.difference.mean_mm))},
                     {"u95_um", number(um_from_mm(kCoverage95 * zone.difference.u_mm))},
                     {"tolerance_um", um_from_mm(zone.tolerance_mm)},
                     {"verdict", name_of(zone.verdict)}});
  }
  return zones;
}

/// The target's band along the centre and the rails: x, lowest and highest in micrometres.
json band_of(const Result& result, const Target& target, double e) {
  json band = json::array();
  const double vamp = result.assessment.cut.vamp_length_mm.value;
  for (Eigen::Index k = 0; k < Target::kNodesAlong; ++k) {
    const double t = Target::t_of(k), thickness = target.thickness_at(t, e), tolerance = target.tolerance_at(t, e);
    if (std::isnan(thickness) || std::isnan(tolerance)) continue;
    band.push_back({t * vamp, um_from_mm(thickness - tolerance), um_from_mm(thickness + tolerance)});
  }
  return band;
}

json plan_of(const ScrapePlan& plan, const Outline& outline) {
  json steps = json::array();
  for (const ScrapeStep& step : plan.steps) {
    json polygon = json::array();
    for (const PlanPoint& p : on_reed(step.polygon, outline)) polygon.push_back({p.x_mm, p.y_mm});
    steps.push_back({{"where", step.where},
                     {"stop", step.stop},
                     {"side", name_of(step.side)},
                     {"across", name_of(step.across)},
                     {"aim", step.aim == StepAim::balance  ? "balance"
                             : step.aim == StepAim::target ? "target"
                                                           : "softer"},
                     {"for_bending", step.for_bending},
                     {"pause", strokes_between_tests(step.strokes)},
                     {"depth_um", step.depth_um},
                     {"strokes", step.strokes},
                     {"from_mm", step.from_mm},
                     {"to_mm", step.to_mm},
                     {"polygon", std::move(polygon)}});
  }
  return {{"status", name_of(plan.status)},
          {"sentence", plan.sentence},
          {"needs_rolling_test", plan.needs_rolling_test},
          {"cane_right_over_left", plan.cane_right_over_left},
          {"steps", std::move(steps)}};
}

Messages cautions() {
  Messages all;
  for (const MessageId caution : kCautions) all.emplace_back(caution);
  return all;
}

json bars_of(const std::vector<PlannedFigure>& figures) {
  json bars = json::array();
  for (const PlannedFigure& figure : figures) {
    bars.push_back({{"name", title_of(figure.figure)},
                    {"imbalance", is_imbalance(figure.figure)},
                    {"before", number(figure.before)},
                    {"after", number(figure.after)}});
  }
  return bars;
}

json shape_of(const Eigen::ArrayXXd& shape) {
  return {{"rows", shape.rows()}, {"columns", shape.cols()}, {"values", packed(shape)}};
}

json bending_of(const Mechanics& m) {
  if (!m.known()) return nullptr;
  json modes = json::array();
  for (const ReedMode& mode : m.modes)
    modes.push_back({{"hz", number(mode.frequency_hz.value)}, {"kind", mode.kind}, {"shape", shape_of(mode.shape)}});
  json closing = json::array(), along = json::array();
  // Nobody trusts these pressures as such, only what they are of each other.
  const double last_kpa = m.closing.curve.empty() ? 1.0 : m.closing.curve.back().pressure_kpa;
  for (const ClosingPoint& p : m.closing.curve)
    closing.push_back({100.0 * p.pressure_kpa / last_kpa, number(p.left_mm), number(p.centre_mm), number(p.right_mm)});
  for (const ComplianceAt& c : m.along)
    along.push_back({c.x_mm, number(c.left_mm_per_n), number(c.centre_mm_per_n), number(c.right_mm_per_n)});
  return {{"lip_force_n", number(m.closing.lip_force_n)},
          {"step_mm", m.shape_step_mm},
          {"first_y_mm", m.shape_first_y_mm},
          {"bent_mm", shape_of(m.bent_mm)},
          {"modes", std::move(modes)},
          {"closing", std::move(closing)},
          {"compliance", std::move(along)}};
}

/// What headline and plan name, so that the read-out at the cursor names it too.
json faults_of(const Assessment& assessment) {
  json faults = json::array();
  for (const Fault& fault : assessment.faults) {
    const bool thin = fault.at_fault == AtFault::thinner_side;
    const Side side = thin ? fault.thinner() : fault.thicker;
    faults.push_back({{"place", place_of(fault, side)},
                      {"side", name_of(side)},
                      {"across", name_of(fault.across)},
                      {"in_heart", fault.in_heart},
                      {"from_mm", fault.from_mm},
                      {"to_mm", fault.to_mm},
                      {"difference_um", um_from_mm(fault.difference_mm)},
                      {"u95_um", um_from_mm(kCoverage95 * fault.u_mm)},
                      {"tolerance_um", um_from_mm(fault.tolerance_mm)},
                      {"thin", thin}});
  }
  return faults;
}

/// Every cell's fault, -1 where there is none.
Field fault_field(const Result& r) {
  Field field = Field::Constant(r.map.grid.rows, r.map.grid.columns, -1.0F);
  for (std::size_t k = 0; k < r.assessment.faults.size(); ++k) {
    for (const Eigen::Index cell : r.assessment.faults[k].cell_indices) {
      const Eigen::Index row = cell % field.rows(), column = cell / field.rows();
      field(row, column) = field(row, r.map.grid.mirrored(column)) = static_cast<float>(k);
    }
  }
  return field;
}

json document_of(const Result& r) {
  const Grid& grid = r.map.grid;
  json half_width = json::array();
  for (Eigen::Index row = 0; row < grid.rows; ++row) half_width.push_back(r.outline.half_width_mm(grid.x_mm(row)));
  json fields{{"thickness", packed_um(r.map.thickness_mm)}, {"u95", packed_u95_um(r.map.u_mm)}};
  fields["difference"] = packed_um(r.assessment.balance.difference_mm);
  fields["u95_difference"] = packed_u95_um(r.assessment.balance.u_difference_mm);
  fields["zone"] = packed(Field(r.assessment.zones.label.cast<float>()));
  fields["fault"] = packed(fault_field(r));
  json document{{"version", kResultVersion},
                {"kind", "reed"},
                {"title", Messages{kind_of(r)}},
                {"headline", r.headline},
                {"certainty", r.certainty},
                {"grid", grid_of(grid)},
                {"half_width_mm", std::move(half_width)},
                {"rim", points_of(rim_of(r.outline, {}, r.outline.length_mm))},
                {"length_mm", r.outline.length_mm},
                {"vamp_mm", r.assessment.cut.vamp_length_mm.value},
                {"limits", {{"t", ZoneLimits::t}, {"e", ZoneLimits::e}}},
                {"verdict", name_of(r.assessment.balance.verdict)},
                {"zones", zones_of(r.assessment.balance)},
                {"faults", faults_of(r.assessment)},
                {"plan", plan_of(r.plan, r.outline)},
                {"bars", bars_of(r.plan.figures)},
                {"imbalance_tolerance", number(r.mechanics.imbalance_tolerance)},
                {"bending", bending_of(r.mechanics)},
                {"cautions", cautions()},
                {"handedness_checked", handedness_is_checked(r)},
                {"colours",
                 {{"sequential", colours([](double t) { return sequential_colour(t); })},
                  {"diverging", colours([](double t) { return diverging_colour(2.0 * t - 1.0); })}}}};
  if (r.assessment.target) {
    const Target& target = r.assessment.target->target;
    fields["deviation"] = packed_um(r.assessment.target->deviation_mm);
    document["target"] = {{"title", Messages{title_of(target)}},
                          {"chosen_by_user", r.assessment.target->chosen_by_user},
                          {"centre", band_of(r, target, 0.0)},
                          {"rail", band_of(r, target, 0.82)}};
  }
  if (r.mechanics.known()) {
    // Per cent for 10 um off a square millimetre.
    const double lip = r.mechanics.figure(BendingFigure::stiffness_lip).value;
    const Field& stiffness = r.mechanics.sensitivity.at(index_of(BendingFigure::stiffness_lip));
    const Field& balance = r.mechanics.sensitivity.at(index_of(BendingFigure::imbalance_tip));
    if (stiffness.size() > 0) fields["stiffness_percent"] = packed(Field(stiffness * static_cast<float>(100.0 / lip)));
    if (balance.size() > 0) fields["balance_percent"] = packed(Field(balance * 100.0F));
  }
  document["fields"] = std::move(fields);
  return document;
}

/// '<' written as an escape, so that no text in it ends the script element that holds it.
std::string inlined(const json& document) {
  std::string text;
  for (const char c : document.dump(-1, ' ', false, json::error_handler_t::replace)) {
    if (c == '<') {
      text += "\\u003c";
    } else {
      text += c;
    }
  }
  return text;
}

}  // namespace

std::string page_data(const Result& result, const std::string& template_pdf) {
  json document = document_of(result);
  if (!template_pdf.empty()) document["template_pdf"] = base64(template_pdf);
  return inlined(document);
}

std::string page_data(const Comparison& comparison, const Result& before, const Result& after) {
  json document = document_of(after);
  document["kind"] = "comparison";
  document["headline"] = comparison.sentence;
  document["plan"]["sentence"] = comparison.left;
  json was = document_of(before);
  document["before"] = {{"grid", was.at("grid")},
                        {"half_width_mm", was.at("half_width_mm")},
                        {"rim", was.at("rim")},
                        {"length_mm", was.at("length_mm")},
                        {"plan", was.at("plan")},
                        {"fields",
                         {{"thickness", was.at("fields").at("thickness")},
                          {"u95", was.at("fields").at("u95")},
                          {"difference", was.at("fields").at("difference")},
                          {"u95_difference", was.at("fields").at("u95_difference")},
                          {"removed", packed_um(comparison.removed_mm)},
                          {"u95_removed", packed_u95_um(comparison.u_mm)}}}};
  document["clipped_mm"] = comparison.clipped_mm;
  document["left_right_only"] = comparison.left_right_only;
  document["bars"] = json::array();
  if (before.mechanics.known() && after.mechanics.known()) {
    std::vector<PlannedFigure> figures;
    for (const BendingFigure f : kBendingFigures)
      figures.push_back({f, before.mechanics.figure(f).value, after.mechanics.figure(f).value});
    document["bars"] = bars_of(figures);
  }
  return inlined(document);
}

}  // namespace canewise
