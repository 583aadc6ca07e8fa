#pragma once

#include "scanproc/assess/assessment.h"
#include "scanproc/mechanics/bend_reed.h"
#include "scanproc/mechanics/player.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

/// What a plan is made from.
struct PlanInputs {
  const ThicknessMap& map;
  const Outline& outline;
  const Assessment& assessment;
  const BentReed& bent;  ///< Without figures thickness alone is levelled; its clips are for advice.
  const Player& player;
  const RemovalLimits& limits;  ///< Of the instrument.
};

}  // namespace canewise
