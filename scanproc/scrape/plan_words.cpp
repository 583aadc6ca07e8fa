#include "scanproc/scrape/plan_words.h"

#include <algorithm>
#include <array>
#include <cmath>

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

/// Nobody scrapes the sound side without knowing it.
void remark_on_sides(ScrapePlan& plan, const PlanFindings& findings) {
  for (const Fault& fault : findings.levelled) {
    const Argument thin = part(the_place(fault, fault.thinner())), from = mm(fault.from_mm), to = mm(fault.to_mm);
    if (fault.at_fault == AtFault::thinner_side) {
      plan.remarks.push_back({"plan.fault_is_thin", {{"place", thin}, {"from", from}, {"to", to}}});
    } else if (fault.at_fault == AtFault::cannot_tell) {
      plan.remarks.push_back(
          {"plan.thick_or_thin",
           {{"thick", part(the_place(fault, fault.thicker))}, {"thin", thin}, {"from", from}, {"to", to}}});
    }
  }
}

/// What the player should know beside the steps.
void remark(ScrapePlan& plan, const PlanFindings& findings, const Assessment& assessment, const Outline& outline,
            const BentReed& bent, const std::vector<ClippedReed>& clipped, const PlanOptions& options) {
  const ZoneBalance& heart =
      assessment.balance.zones.at(static_cast<std::size_t>(ZoneMap::label_of(AlongBand::middle, AcrossBand::centre)));
  if (heart.verdict == Verdict::outside) {
    const Side side = heart.difference.mean_mm > 0 ? Side::right : Side::left;
    plan.remarks.push_back({"plan.heart_to_a_side", {{"side", word(name_of(side))}}});
  }
  if (findings.other_side_left_out && !plan.steps.empty()) plan.remarks.push_back(Message{"plan.other_side_left_out"});
  if (has_balance_steps(plan)) {
    remark_on_sides(plan, findings);
    const auto even =
        std::count_if(plan.steps.begin(), plan.steps.end(), [](const ScrapeStep& s) { return s.for_bending; });
    if (even > 0) {
      plan.remarks.push_back(
          {"plan.for_bending", {{"even", count(static_cast<std::size_t>(even))}, {"steps", count(plan.steps.size())}}});
    }
    plan.remarks.push_back(Message{"plan.run_out_softly"});
    if (std::any_of(plan.steps.begin(), plan.steps.end(),
                    [&](const ScrapeStep& s) { return hangs_over(s, outline); })) {
      plan.remarks.push_back(Message{"plan.hang_over"});
    }
    if (findings.more_at_tip) plan.remarks.push_back(Message{"plan.little_at_tip"});
  }
  if (has_balance_steps(plan) && options.rolling_test == RollingTest::not_done && !findings.bending_off &&
      bends_evenly(bent)) {
    plan.remarks.push_back(Message{"plan.bends_evenly"});
  }
  if (has_balance_steps(plan) && !bent.figures) plan.remarks.push_back(Message{"plan.bending_unknown"});
  constexpr double worth_saying = 0.01;
  if (!plan.steps.empty() && std::abs(plan.cane_right_over_left) > worth_saying) {
    const Side side = plan.cane_right_over_left > 0.0 ? Side::right : Side::left;
    plan.remarks.push_back(
        {"plan.stiffer_cane",
         {{"stiffer", number(100.0 * std::abs(plan.cane_right_over_left))}, {"side", word(name_of(side))}}});
  }
  if (findings.aim_is_deep && !findings.deep && !plan.steps.empty()) {
    plan.remarks.push_back({"plan.never_in_one_go", {{"depth", um(options.most_depth_um)}}});
  } else if (findings.deep && !plan.steps.empty()) {
    plan.remarks.push_back({"plan.far_out", {{"depth", um(options.most_depth_um)}}});
  }
  if (findings.aim_unknown) plan.remarks.push_back(Message{"plan.softer_unknown"});
  if (findings.aim_cut_short && findings.wanted_halves < 0.0 && !plan.steps.empty()) {
    plan.remarks.push_back(Message{"plan.as_soft_as_one_session_goes"});
  } else if (findings.aim_cut_short && findings.wanted_halves == 0.0) {
    plan.remarks.push_back(Message{"plan.stops_before_target"});
  }
  if (findings.wanted_halves > 0.0 && !plan.steps.empty()) {
    plan.remarks.push_back(
        {"plan.only_balance",
         {{"advice", part(clip_advice(clipped, std::pow(kStiffnessPerHalf, findings.wanted_halves)))}}});
  }
  if (outline.chipped) plan.remarks.push_back(Message{"plan.chipped"});
  if (assessment.target && assessment.target->chosen_by_user) {
    const auto thin = std::count_if(
        assessment.target->zones.begin(), assessment.target->zones.end(),
        [](const ZoneDeviation& z) { return z.verdict == Verdict::outside && z.deviation.mean_mm < 0.0; });
    if (thin > 0) {
      plan.remarks.push_back(
          {"plan.thinner_than_target",
           {{"thin", count(static_cast<std::size_t>(thin))}, {"zones", count(assessment.target->zones.size())}}});
    }
  }
}

/// The zone that comes nearest to being out, among those that the scan cannot tell; null if none is past half its
/// tolerance.
const ZoneBalance* most_suspect(const Balance& balance) {
  const ZoneBalance* suspect = nullptr;
  double most = 0.5;
  for (const auto& zone : balance.zones) {
    const double share = std::abs(zone.difference.mean_mm) / zone.tolerance_mm;
    if (zone.verdict != Verdict::cannot_tell || !(share > most)) continue;
    most = share;
    suspect = &zone;
  }
  return suspect;
}

void say_it_cannot_be_saved(ScrapePlan& plan, const PlanFindings& findings, const std::vector<ClippedReed>& clipped) {
  plan.status = PlanStatus::cannot_save;
  const auto thin_place = [&] {
    const Fault& thin = *findings.too_thin;
    return Arguments{
        {"place", part(the_place(thin, thin.thinner()))}, {"from", mm(thin.from_mm)}, {"to", mm(thin.to_mm)}};
  };
  if (findings.softness_in_the_way && findings.too_thin && findings.too_thin->at_fault == AtFault::thinner_side) {
    plan.sentence = {Message{"plan.thin_and_too_soft", thin_place()}};
  } else if (findings.softness_in_the_way) {
    plan.sentence = {Message{"plan.too_soft"}};
  } else if (findings.too_thin) {
    plan.sentence = {Message{"plan.too_thin_to_save", thin_place()}};
  } else {
    plan.sentence = {Message{"plan.cannot_save"}};
  }
  plan.alternatives = {Message{"plan.lay_aside"}, Message{"plan.give_away"},
                       Message{"plan.clip_unbalanced", {{"advice", part(clip_advice(clipped, 1.0))}}}};
}

void say_there_is_nothing(ScrapePlan& plan, const PlanFindings& findings, const Assessment& assessment,
                          const BentReed& bent, bool is_chipped) {
  if (findings.zones_off || findings.bending_off) {
    plan.status = PlanStatus::cannot_tell;
    plan.sentence = {Message{"plan.where_cane_must_stay"}};
    return;
  }
  if (assessment.balance.verdict == Verdict::within && (bends_evenly(bent) || !bent.figures)) {
    plan.status = PlanStatus::nothing_to_do;
    plan.sentence = {is_chipped ? Message{"plan.agree_but_chipped"} : Message{"plan.agree_everywhere"}};
    return;
  }
  plan.status = PlanStatus::cannot_tell;
  plan.sentence = {Message{"plan.cannot_tell_everywhere"}};
  if (const ZoneBalance* suspect = most_suspect(assessment.balance)) {
    const Side side = suspect->difference.mean_mm > 0 ? Side::right : Side::left;
    plan.sentence.push_back({"plan.if_anything",
                             {{"place", part(the_place(Zone{suspect->along, suspect->across, side}))},
                              {"thick", um(um_from_mm(std::abs(suspect->difference.mean_mm)))}}});
  }
}

}  // namespace

void put_in_words(ScrapePlan& plan, const PlanFindings& findings, const Assessment& assessment, const Outline& outline,
                  const BentReed& bent, const std::vector<ClippedReed>& clipped, const PlanOptions& options) {
  remark(plan, findings, assessment, outline, bent, clipped, options);
  if (options.seating_in_doubt) {
    plan.status = PlanStatus::cannot_tell;
    plan.sentence = {Message{"plan.lay_tilted"}};
    return;
  }
  if (findings.test_contradicts) {
    plan.status = PlanStatus::veto;
    plan.sentence = {options.rolling_test == RollingTest::even ? Message{"plan.test_finds_even"}
                                                               : Message{"plan.test_finds_other_side"}};
    return;
  }
  if (findings.floor_in_the_way || findings.softness_in_the_way) {
    say_it_cannot_be_saved(plan, findings, clipped);
    return;
  }
  plan.needs_rolling_test = has_balance_steps(plan) && options.rolling_test == RollingTest::not_done;
  if (!plan.steps.empty()) {
    plan.status = PlanStatus::steps;
    const ScrapeStep& first = plan.steps.front();
    plan.sentence = {Message{"plan.first",
                             {{"steps", count(plan.steps.size())},
                              {"test", word(plan.needs_rolling_test ? "yes" : "no")},
                              {"place", part(the_place(first))},
                              {"from", mm(first.from_mm)},
                              {"to", mm(first.to_mm)},
                              {"depth", um(first.depth_um)},
                              {"strokes", count(static_cast<std::size_t>(first.strokes))}}}};
    const bool thin = std::any_of(findings.levelled.begin(), findings.levelled.end(),
                                  [](const Fault& fault) { return fault.at_fault == AtFault::thinner_side; });
    if (thin) plan.sentence.push_back({"plan.thin_side"});
    return;
  }
  if (findings.wanted_halves > 0.0) {
    plan.status = PlanStatus::nothing_to_do;
    plan.sentence = {Message{"plan.never_harder"}};
    plan.alternatives = {clip_advice(clipped, std::pow(kStiffnessPerHalf, findings.wanted_halves)),
                         Message{"plan.play_harder_reed"}};
    return;
  }
  if (findings.aim_cut_short && findings.wanted_halves < 0.0) {
    plan.status = PlanStatus::cannot_tell;
    plan.sentence = {Message{"plan.no_softer_cut"}};
    return;
  }
  say_there_is_nothing(plan, findings, assessment, bent, outline.chipped);
}

}  // namespace canewise
