#pragma once

#include "scanproc/mechanics/bend_reed.h"
#include "scanproc/scrape/plan_inputs.h"
#include "scanproc/scrape/plan_scrape.h"
#include "tests/support/reed_by_hand.h"
#include "tests/support/scans.h"

namespace canewise::test {

/// As a dry B-flat clarinet reed; one mode, because most tests look at none.
inline BentReed bent(const Measurement& m, const Player& player = {}, const BendOptions& options = {.modes = 1},
                     const MeasuredCane* cane = nullptr) {
  return bend_reed({.map = m.map,
                    .outline = m.aligned.outline,
                    .assessment = m.assessment,
                    .player = player,
                    .instrument = "clarinet-bb",
                    .state = MoistureState::dry,
                    .measured_cane = cane},
                   options);
}
inline BentReed bent(const ReedByHand& reed, const Player& player = {}, const BendOptions& options = {.modes = 1}) {
  return bend_reed({.map = reed.map,
                    .outline = reed.outline,
                    .assessment = reed.assessment,
                    .player = player,
                    .instrument = "clarinet-bb",
                    .state = MoistureState::dry},
                   options);
}

/// A reed of whose bending nothing is known.
inline BentReed not_bent() {
  BentReed unknown;
  unknown.mechanics.why_not = {"bending.no_tip"};
  return unknown;
}

/// Within what is usual for every instrument.
inline PlanInputs plan_inputs(const Measurement& m, const BentReed& bent, const Player& player,
                              const RemovalLimits& limits = kUsualRemoval) {
  return {.map = m.map,
          .outline = m.aligned.outline,
          .assessment = m.assessment,
          .bent = bent,
          .player = player,
          .limits = limits};
}
inline PlanInputs plan_inputs(const ReedByHand& reed, const BentReed& bent, const Player& player,
                              const RemovalLimits& limits = kUsualRemoval) {
  return {.map = reed.map,
          .outline = reed.outline,
          .assessment = reed.assessment,
          .bent = bent,
          .player = player,
          .limits = limits};
}

}  // namespace canewise::test
