#include "scanproc/scrape/plan_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "scanproc/core/units.h"

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
std::string clip_advice(const std::vector<ClippedReed>& clipped, double ratio) {
  if (clipped.empty()) return "Clip 0.1 to 0.5 mm off the tip: the tip moves into thicker cane.";
  const auto nearest =
      std::min_element(clipped.begin(), clipped.end(), [&](const ClippedReed& a, const ClippedReed& b) {
        return std::abs(a.stiffness_ratio - ratio) < std::abs(b.stiffness_ratio - ratio);
      });
  return fmt::format(
      "Clip it, 0.1 mm at a time, and play in between: {:.1f} mm off makes it about {:.0f} % stiffer, with {:.2f} mm "
      "of "
      "cane at the tip.",
      nearest->clip_mm, 100.0 * (nearest->stiffness_ratio - 1.0), nearest->tip_thickness_mm);
}

bool hangs_over(const ScrapeStep& step, const Outline& outline) {
  return std::any_of(step.polygon.begin(), step.polygon.end(),
                     [&](const PlanPoint& p) { return std::abs(p.y_mm) > outline.half_width_mm(p.x_mm); });
}

/// Nobody scrapes the sound side without knowing it.
void remark_on_sides(ScrapePlan& plan, const PlanFindings& findings) {
  for (const Fault& fault : findings.levelled) {
    const std::string thin = place_of(fault, fault.thinner());
    if (fault.at_fault == AtFault::thinner_side) {
      plan.remarks.push_back(
          fmt::format("The fault is the {}: it is thin between {:.0f} and {:.0f} mm from the tip. Cane cannot be put "
                      "back, so these steps "
                      "take the sound side down to it, and the reed becomes softer.",
                      thin, fault.from_mm, fault.to_mm));
    } else if (fault.at_fault == AtFault::cannot_tell) {
      plan.remarks.push_back(fmt::format(
          "Between {:.0f} and {:.0f} mm from the tip this reed does not tell whether the {} is thick or the {} thin. "
          "The steps level them at the thinner one.",
          fault.from_mm, fault.to_mm, place_of(fault, fault.thicker), thin));
    }
  }
}

/// What the player should know beside the steps.
void remark(ScrapePlan& plan, const PlanFindings& findings, const Assessment& assessment, const Outline& outline,
            const BentReed& bent, const std::vector<ClippedReed>& clipped, const PlanOptions& options) {
  const ZoneBalance& heart =
      assessment.balance.zones.at(static_cast<std::size_t>(ZoneMap::label_of(AlongBand::middle, AcrossBand::centre)));
  if (heart.verdict == Verdict::outside) {
    plan.remarks.push_back(
        fmt::format("The heart sits towards the {} side. It is left alone, so that part of the imbalance stays.",
                    name_of(heart.difference.mean_mm > 0 ? Side::right : Side::left)));
  }
  if (findings.other_side_left_out && !plan.steps.empty()) {
    plan.remarks.emplace_back(
        "Places on the other side are left alone because your rolling test spoke for one side only. Scan again after "
        "these steps.");
  }
  if (has_balance_steps(plan)) {
    remark_on_sides(plan, findings);
    const auto even =
        std::count_if(plan.steps.begin(), plan.steps.end(), [](const ScrapeStep& s) { return s.for_bending; });
    if (even > 0) {
      plan.remarks.push_back(fmt::format(
          "{} of {} steps {} where the map finds the cane even: cane comes off there because the reed bends unevenly.",
          even, plan.steps.size(), even == 1 ? "lies" : "lie"));
    }
    plan.remarks.emplace_back("Let every stroke run out softly at both ends of its place.");
    if (std::any_of(plan.steps.begin(), plan.steps.end(),
                    [&](const ScrapeStep& s) { return hangs_over(s, outline); })) {
      plan.remarks.emplace_back(
          "Where a place ends at the rim, let the tool hang over it: a wide tool cuts no farther in then.");
    }
    if (findings.more_at_tip) {
      plan.remarks.emplace_back(
          "So near to the tip's edge little comes off in one session, because a slip must not reach it. Scan again "
          "after "
          "these steps and see what is left.");
    }
  }
  if (has_balance_steps(plan) && options.rolling_test == RollingTest::not_done && !findings.bending_off &&
      bends_evenly(bent)) {
    plan.remarks.emplace_back(
        "By its shape this reed bends evenly in spite of the difference in thickness: if the rolling test finds both "
        "sides alike, leave it as it is.");
  }
  if (has_balance_steps(plan) && !bent.figures)
    plan.remarks.emplace_back("How this reed bends is not known, so the steps level its thickness and nothing more.");
  constexpr double worth_saying = 0.01;
  if (!plan.steps.empty() && std::abs(plan.cane_right_over_left) > worth_saying) {
    plan.remarks.push_back(fmt::format(
        "Your rolling test and the shape together speak for cane that is about {:.0f} % stiffer on the {}; the steps "
        "count that in.",
        100.0 * std::abs(plan.cane_right_over_left), plan.cane_right_over_left > 0.0 ? "right" : "left"));
  }
  if (findings.aim_is_deep && !findings.deep && !plan.steps.empty()) {
    plan.remarks.push_back(
        fmt::format("More than {:.0f} µm is never taken in one go: do these steps, scan again, and see what is left.",
                    options.most_depth_um));
  } else if (findings.deep && !plan.steps.empty()) {
    plan.remarks.push_back(
        fmt::format("This reed is far out, and no session takes more than {:.0f} µm off a place, or more than a little "
                    "where the cane is not too thick: do these steps, scan again, and think of asking a teacher or "
                    "technician, or of laying it aside.",
                    options.most_depth_um));
  }
  if (findings.aim_unknown) {
    plan.remarks.emplace_back(
        "Softer was asked for, but how this reed bends is not known, and so neither what would make it softer.");
  }
  if (findings.aim_cut_short && findings.wanted_halves < 0.0 && !plan.steps.empty()) {
    plan.remarks.emplace_back("That is as far as one session goes towards softer. Scan and play before you go on.");
  } else if (findings.aim_cut_short && findings.wanted_halves == 0.0) {
    plan.remarks.emplace_back(
        "All the way to your target would make the reed softer than you want: the steps stop before that.");
  }
  if (findings.wanted_halves > 0.0 && !plan.steps.empty()) {
    plan.remarks.push_back("Scraping never makes a reed harder: these steps only balance it. " +
                           clip_advice(clipped, std::pow(kStiffnessPerHalf, findings.wanted_halves)));
  }
  if (outline.chipped) {
    plan.remarks.emplace_back(
        "The tip's edge is chipped. Clipping may remove the chip; scraping will not. Lay the reed aside if in "
        "doubt.");
  }
  if (assessment.target && assessment.target->chosen_by_user) {
    const auto thin = std::count_if(
        assessment.target->zones.begin(), assessment.target->zones.end(),
        [](const ZoneDeviation& z) { return z.verdict == Verdict::outside && z.deviation.mean_mm < 0.0; });
    if (thin > 0) {
      plan.remarks.push_back(
          fmt::format("In {} of {} zones this reed is already thinner than your target: scraping leads further away "
                      "from it there.",
                      thin, assessment.target->zones.size()));
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
    return fmt::format("{} between {:.0f} and {:.0f} mm from the tip",
                       place_of(*findings.too_thin, findings.too_thin->thinner()), findings.too_thin->from_mm,
                       findings.too_thin->to_mm);
  };
  if (findings.softness_in_the_way && findings.too_thin && findings.too_thin->at_fault == AtFault::thinner_side) {
    plan.sentence = fmt::format(
        "Take nothing off: the {} is thin, and balancing this reed would leave it softer than you want.", thin_place());
  } else if (findings.softness_in_the_way) {
    plan.sentence = "Take nothing off: balancing this reed would leave it softer than you want.";
  } else if (findings.too_thin) {
    plan.sentence = fmt::format(
        "This reed cannot be balanced by scraping: its {} is so thin that taking the other side down to it would leave "
        "the reed too soft.",
        thin_place());
  } else {
    plan.sentence = "This reed cannot be balanced by scraping: the stiffer side would become too thin.";
  }
  plan.alternatives = {"Lay it aside: cane moves over the first weeks.",
                       "Give it to a player who wants it softer, or keep it for practice.",
                       clip_advice(clipped, 1.0) + " That does not balance it: scan again afterwards."};
}

void say_there_is_nothing(ScrapePlan& plan, const PlanFindings& findings, const Assessment& assessment,
                          const BentReed& bent, bool is_chipped) {
  if (findings.zones_off || findings.bending_off) {
    plan.status = PlanStatus::cannot_tell;
    plan.sentence =
        "Take nothing off: what is out of balance lies where cane must stay (heart, bark or the very tip) or is "
        "smaller than this scan can steer.";
    return;
  }
  if (assessment.balance.verdict == Verdict::within && (bends_evenly(bent) || !bent.figures)) {
    plan.status = PlanStatus::nothing_to_do;
    plan.sentence = is_chipped
                        ? "Take nothing off: left and right agree within tolerance wherever the scan shows them. "
                          "Scraping does not mend a chipped tip."
                        : "Take nothing off: left and right agree everywhere within tolerance.";
    return;
  }
  plan.status = PlanStatus::cannot_tell;
  plan.sentence = "Take nothing off: nothing is surely out of balance, but this scan cannot tell everywhere.";
  if (const ZoneBalance* suspect = most_suspect(assessment.balance)) {
    const Side side = suspect->difference.mean_mm > 0 ? Side::right : Side::left;
    plan.sentence += fmt::format(" If anything, the {} is thick, by {:.0f} µm: scan again, more finely if you can.",
                                 name_of(Zone{suspect->along, suspect->across, side}),
                                 um_from_mm(std::abs(suspect->difference.mean_mm)));
  }
}

}  // namespace

void put_in_words(ScrapePlan& plan, const PlanFindings& findings, const Assessment& assessment, const Outline& outline,
                  const BentReed& bent, const std::vector<ClippedReed>& clipped, const PlanOptions& options) {
  remark(plan, findings, assessment, outline, bent, clipped, options);
  if (options.seating_in_doubt) {
    plan.status = PlanStatus::cannot_tell;
    plan.sentence =
        "Take nothing off yet: the reed lay tilted in one of the scans. Wipe the plate and the table, lay the reed "
        "down "
        "again and scan it anew.";
    return;
  }
  if (findings.test_contradicts) {
    plan.status = PlanStatus::veto;
    plan.sentence =
        options.rolling_test == RollingTest::even
            ? "Take nothing off: one side is thicker or stiffer by its shape, but in your rolling test both speak "
              "alike. "
              "Cane need not be as stiff as it is thick. If in doubt repeat the scan and the test."
            : "Take nothing off: the side that is thicker or stiffer by its shape is not the one that speaks less "
              "freely "
              "in your rolling test. Cane need not be as stiff as it is thick. Repeat the scan and the test.";
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
    plan.sentence = fmt::format("{} step{}; first the {}, about {:.0f} µm, some {} {}, then play.", plan.steps.size(),
                                plan.steps.size() == 1 ? "" : "s", first.where, first.depth_um, first.strokes,
                                first.strokes == 1 ? "light stroke" : "light strokes");
    const bool thin = std::any_of(findings.levelled.begin(), findings.levelled.end(),
                                  [](const Fault& fault) { return fault.at_fault == AtFault::thinner_side; });
    if (thin) {
      plan.sentence +=
          " The thin side cannot be mended, so this takes cane off the sound side: the reed becomes softer.";
    }
    return;
  }
  if (findings.wanted_halves > 0.0) {
    plan.status = PlanStatus::nothing_to_do;
    plan.sentence = "Take nothing off: scraping makes a reed softer, never harder.";
    plan.alternatives = {clip_advice(clipped, std::pow(kStiffnessPerHalf, findings.wanted_halves)),
                         "Play a harder reed: the next step of your usual cut."};
    return;
  }
  if (findings.aim_cut_short && findings.wanted_halves < 0.0) {
    plan.status = PlanStatus::cannot_tell;
    plan.sentence =
        "Take nothing off: on this scan no cut that makes the reed softer is large enough to be steered. Scan again, "
        "more finely if you can.";
    return;
  }
  say_there_is_nothing(plan, findings, assessment, bent, outline.chipped);
}

}  // namespace canewise
