#include "scanproc/scrape/plan_words.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "scanproc/core/units.h"
#include "scanproc/scrape/place_words.h"

namespace canewise {

std::string_view name_of(PlanStatus status) {
  constexpr std::array<std::string_view, 5> names{"nothing to do", "cannot tell", "steps", "cannot save", "veto"};
  return names.at(static_cast<std::size_t>(status));
}

namespace {

bool has_balance_steps(const ScrapePlan& plan) {
  return std::any_of(plan.steps.begin(), plan.steps.end(),
                     [](const ScrapeStep& s) { return s.aim == StepAim::balance; });
}

bool bends_evenly(const BentReed& bent) {
  return bent.figures && bent.mechanics.verdicts.at(index_of(BendingFigure::imbalance_tip)) == Verdict::within &&
         bent.mechanics.verdicts.at(index_of(BendingFigure::imbalance_lip)) == Verdict::within;
}

/// What clipping would do, in words; the clip whose stiffness comes nearest to `ratio`.
Message clip_advice(const std::vector<ClippedReed>& clipped, double ratio) {
  if (clipped.empty()) return {"plan.clip_a_little"};
  const auto nearest =
      std::min_element(clipped.begin(), clipped.end(), [&](const ClippedReed& a, const ClippedReed& b) {
        return std::abs(a.stiffness_ratio - ratio) < std::abs(b.stiffness_ratio - ratio);
      });
  return {"plan.clip",
          {{"off", mm(nearest->clip_mm, 1)},
           {"stiffer", number(100.0 * (nearest->stiffness_ratio - 1.0))},
           {"tip", mm(nearest->tip_thickness_mm, 2)}}};
}

bool hangs_over(const ScrapeStep& step, const Outline& outline) {
  return std::any_of(step.polygon.begin(), step.polygon.end(),
                     [&](const PlanPoint& p) { return std::abs(p.y_mm) > outline.half_width_mm(p.x_mm); });
}

/// All that words come from.
struct Ground {
  const ScrapePlan& plan;
  const PlanFindings& findings;
  const Assessment& assessment;
  const Outline& outline;
  const BentReed& bent;
  const std::vector<ClippedReed>& clipped;
  const PlanOptions& options;
  const RemovalLimits& limits;
  [[nodiscard]] bool has_steps() const { return !plan.steps.empty(); }
};

Messages heart_remarks(const Ground& g) {
  const ZoneBalance& heart =
      g.assessment.balance.zones.at(static_cast<std::size_t>(ZoneMap::label_of(AlongBand::middle, AcrossBand::centre)));
  if (heart.verdict != Verdict::outside) return {};
  const Side side = heart.difference.mean_mm > 0 ? Side::right : Side::left;
  return {Message{"plan.heart_to_a_side", {{"side", word(name_of(side))}}}};
}

/// A blank that was not taken from the middle of its piece of tube is higher on one side; that is no fault of the cut.
Messages bark_remarks(const PlanFindings& findings) {
  if (!findings.bark_crown_mm) return {};
  return {Message{"plan.bark_off_centre",
                  {{"side", word(name_of(*findings.bark_crown_mm > 0.0 ? Side::right : Side::left))},
                   {"by", mm(std::abs(*findings.bark_crown_mm), 2)}}}};
}

/// Nobody scrapes the sound side without knowing it.
Messages side_remarks(const PlanFindings& findings) {
  Messages remarks;
  for (const Fault& fault : findings.levelled) {
    const Argument thin = part(the_place(fault, fault.thinner())), from = mm(fault.from_mm), to = mm(fault.to_mm);
    if (fault.at_fault == AtFault::thinner_side) {
      remarks.push_back({"plan.fault_is_thin", {{"place", thin}, {"from", from}, {"to", to}}});
    } else if (fault.at_fault == AtFault::cannot_tell) {
      remarks.push_back(
          {"plan.thick_or_thin",
           {{"thick", part(the_place(fault, fault.thicker))}, {"thin", thin}, {"from", from}, {"to", to}}});
    }
  }
  return remarks;
}

/// How the steps that level the sides are to be taken.
Messages balance_remarks(const Ground& g) {
  if (!has_balance_steps(g.plan)) return {};
  const auto& steps = g.plan.steps;
  Messages remarks = side_remarks(g.findings);
  const auto even = std::count_if(steps.begin(), steps.end(), [](const ScrapeStep& s) { return s.for_bending; });
  if (even > 0) {
    remarks.push_back(
        {"plan.for_bending", {{"even", count(static_cast<std::size_t>(even))}, {"steps", count(steps.size())}}});
  }
  remarks.push_back(Message{"plan.run_out_softly"});
  if (std::any_of(steps.begin(), steps.end(), [&](const ScrapeStep& s) { return hangs_over(s, g.outline); })) {
    remarks.push_back(Message{"plan.hang_over"});
  }
  if (g.findings.more_at_tip) remarks.push_back(Message{"plan.little_at_tip"});
  if (g.options.rolling_test == RollingTest::not_done && !g.findings.bending_off && bends_evenly(g.bent)) {
    remarks.push_back(Message{"plan.bends_evenly"});
  }
  if (!g.bent.figures) remarks.push_back(Message{"plan.bending_unknown"});
  return remarks;
}

Messages cane_remarks(const ScrapePlan& plan, bool was_bent) {
  constexpr double worth_saying = 0.01;
  if (plan.steps.empty() || !(std::abs(plan.cane_right_over_left) > worth_saying)) return {};
  const Side side = plan.cane_right_over_left > 0.0 ? Side::right : Side::left;
  return {Message{was_bent ? MessageId("plan.stiffer_cane_bent") : MessageId("plan.stiffer_cane"),
                  {{"stiffer", number(100.0 * std::abs(plan.cane_right_over_left))}, {"side", word(name_of(side))}}}};
}

/// What this session can reach of the depth and strength that are aimed at.
Messages aim_remarks(const Ground& g) {
  const PlanFindings& findings = g.findings;
  Messages remarks;
  if (findings.aim_is_deep && !findings.deep && g.has_steps()) {
    remarks.push_back({"plan.never_in_one_go", {{"depth", um(g.limits.most_depth_um)}}});
  } else if (findings.deep && g.has_steps()) {
    remarks.push_back({"plan.far_out", {{"depth", um(g.limits.most_depth_um)}}});
  }
  if (findings.aim_unknown) remarks.push_back(Message{"plan.softer_unknown"});
  if (findings.aim_cut_short && findings.wanted_halves < 0.0 && g.has_steps()) {
    remarks.push_back(Message{"plan.as_soft_as_one_session_goes"});
  } else if (findings.aim_cut_short && findings.wanted_halves == 0.0) {
    remarks.push_back(Message{"plan.stops_before_target"});
  }
  if (findings.wanted_halves > 0.0 && g.has_steps()) {
    remarks.push_back(
        {"plan.only_balance",
         {{"advice", part(clip_advice(g.clipped, std::pow(kStiffnessPerHalf, findings.wanted_halves)))}}});
  }
  return remarks;
}

Messages target_remarks(const Assessment& assessment) {
  if (!assessment.target || !assessment.target->chosen_by_user) return {};
  const auto& zones = assessment.target->zones;
  const auto thin = std::count_if(zones.begin(), zones.end(), [](const ZoneDeviation& z) {
    return z.verdict == Verdict::outside && z.deviation.mean_mm < 0.0;
  });
  if (thin == 0) return {};
  return {Message{"plan.thinner_than_target",
                  {{"thin", count(static_cast<std::size_t>(thin))}, {"zones", count(zones.size())}}}};
}

/// What the player should know beside the steps.
Messages remarks_on(const Ground& g) {
  Messages remarks = heart_remarks(g);
  const auto add = [&](const Messages& more) { remarks.insert(remarks.end(), more.begin(), more.end()); };
  if (g.findings.other_side_left_out && g.has_steps()) add({Message{"plan.other_side_left_out"}});
  add(bark_remarks(g.findings));
  add(balance_remarks(g));
  add(cane_remarks(g.plan, g.bent.sides.measured));
  add(aim_remarks(g));
  if (g.outline.chipped) add({Message{"plan.chipped"}});
  add(target_remarks(g.assessment));
  return remarks;
}

/// The zone that comes nearest to being out, among those that the scan cannot tell; null if none is past half its
/// tolerance.
const ZoneBalance* most_suspect(const Balance& balance, const PlanFindings& findings) {
  const ZoneBalance* suspect = nullptr;
  double most = 0.8;  // Half a tolerance is no fault.
  for (std::size_t z = 0; z < balance.zones.size(); ++z) {
    const ZoneBalance& zone = balance.zones[z];
    const double share = std::abs(zone.difference.mean_mm) / zone.tolerance_mm;
    if (zone.verdict != Verdict::cannot_tell || !(share > most) || findings.off_by_bark.at(z)) continue;
    most = share;
    suspect = &zone;
  }
  return suspect;
}

/// What the plan comes to.
struct Said {
  PlanStatus status;
  Messages sentence;
  Messages alternatives = {};
};

/// Nothing is to be scraped, whatever steps were found.
bool is_stopped(const Ground& g) {
  return g.options.seating_in_doubt || g.findings.facing_explains || g.findings.test_contradicts ||
         g.findings.floor_in_the_way || g.findings.softness_in_the_way;
}

Said cannot_be_saved(const Ground& g) {
  const PlanFindings& findings = g.findings;
  const auto thin_place = [&] {
    const Fault& thin = *findings.too_thin;
    return Arguments{
        {"place", part(the_place(thin, thin.thinner()))}, {"from", mm(thin.from_mm)}, {"to", mm(thin.to_mm)}};
  };
  const auto why = [&] {
    if (findings.softness_in_the_way && findings.too_thin && findings.too_thin->at_fault == AtFault::thinner_side)
      return Message{"plan.thin_and_too_soft", thin_place()};
    if (findings.softness_in_the_way) return Message{"plan.too_soft"};
    if (findings.too_thin) return Message{"plan.too_thin_to_save", thin_place()};
    return Message{"plan.cannot_save"};
  };
  return {PlanStatus::cannot_save,
          {why()},
          {Message{"plan.lay_aside"}, Message{"plan.give_away"},
           Message{"plan.clip_unbalanced", {{"advice", part(clip_advice(g.clipped, 1.0))}}}}};
}

Said first_step(const Ground& g) {
  const ScrapeStep& first = g.plan.steps.front();
  Said said{PlanStatus::steps,
            {Message{"plan.first",
                     {{"steps", count(g.plan.steps.size())},
                      {"test", word(g.plan.needs_rolling_test ? "yes" : "no")},
                      {"place", part(the_place(first))},
                      {"from", mm(first.from_mm)},
                      {"to", mm(first.to_mm)},
                      {"depth", um(first.depth_um)},
                      {"strokes", count(static_cast<std::size_t>(first.strokes))}}}}};
  const bool thin = std::any_of(g.findings.levelled.begin(), g.findings.levelled.end(),
                                [](const Fault& fault) { return fault.at_fault == AtFault::thinner_side; });
  if (thin) said.sentence.push_back({"plan.thin_side"});
  return said;
}

Said nothing_to_do(const Ground& g) {
  const Balance& balance = g.assessment.balance;
  if (g.findings.zones_off || g.findings.bending_off)
    return {PlanStatus::cannot_tell, {Message{"plan.where_cane_must_stay"}}};
  if (balance.verdict == Verdict::within && (bends_evenly(g.bent) || !g.bent.figures)) {
    return {PlanStatus::nothing_to_do,
            {g.outline.chipped ? Message{"plan.agree_but_chipped"} : Message{"plan.agree_everywhere"}}};
  }
  Said said{PlanStatus::cannot_tell, {Message{"plan.cannot_tell_everywhere"}}};
  if (const ZoneBalance* suspect = most_suspect(balance, g.findings)) {
    const Side side = suspect->difference.mean_mm > 0 ? Side::right : Side::left;
    said.sentence.push_back({"plan.if_anything",
                             {{"place", part(the_place(Zone{suspect->along, suspect->across, side}))},
                              {"thick", um(um_from_mm(std::abs(suspect->difference.mean_mm)))}}});
  }
  return said;
}

Said said_of(const Ground& g) {
  const PlanFindings& findings = g.findings;
  if (g.options.seating_in_doubt) return {PlanStatus::cannot_tell, {Message{"plan.lay_tilted"}}};
  if (const auto& why = findings.facing_explains) {
    return {PlanStatus::veto,
            {Message{"plan.facing_explains",
                     {{"shape", Number{100.0 * why->shape, 0, true}},
                      {"side", word(name_of(why->facing > 0.0 ? Side::right : Side::left))},
                      {"facing", number(100.0 * std::abs(why->facing))}}}}};
  }
  if (findings.test_contradicts) {
    return {PlanStatus::veto,
            {g.options.rolling_test == RollingTest::even ? Message{"plan.test_finds_even"}
                                                         : Message{"plan.test_finds_other_side"}}};
  }
  if (findings.floor_in_the_way || findings.softness_in_the_way) return cannot_be_saved(g);
  if (g.has_steps()) return first_step(g);
  if (findings.wanted_halves > 0.0) {
    return {PlanStatus::nothing_to_do,
            {Message{"plan.never_harder"}},
            {clip_advice(g.clipped, std::pow(kStiffnessPerHalf, findings.wanted_halves)),
             Message{"plan.play_harder_reed"}}};
  }
  if (findings.aim_cut_short && findings.wanted_halves < 0.0)
    return {PlanStatus::cannot_tell, {Message{"plan.no_softer_cut"}}};
  return nothing_to_do(g);
}

}  // namespace

ScrapePlan in_words(ScrapePlan plan, const PlanFindings& findings, const PlanInputs& inputs,
                    const PlanOptions& options) {
  const Ground ground{plan,    findings,     inputs.assessment, inputs.outline, inputs.bent, inputs.bent.clipped,
                      options, inputs.limits};
  const Messages remarks = remarks_on(ground);
  if (!is_stopped(ground))
    plan.needs_rolling_test =
        has_balance_steps(plan) && options.rolling_test == RollingTest::not_done && !inputs.bent.sides.measured;
  Said said = said_of(ground);
  plan.remarks.insert(plan.remarks.end(), remarks.begin(), remarks.end());
  plan.status = said.status;
  plan.sentence = std::move(said.sentence);
  if (!said.alternatives.empty()) plan.alternatives = std::move(said.alternatives);
  return plan;
}

}  // namespace canewise
