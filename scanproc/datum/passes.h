#pragma once

#include <optional>
#include <string>
#include <vector>

#include "scanproc/clouds/cloud.h"
#include "scanproc/datum/aligned.h"
#include "scanproc/datum/plane_search.h"
#include "scanproc/words/message.h"

namespace canewise {

/// Several passes over one reed as one scan, in the first pass's axes.
struct JoinedPasses {
  Cloud cloud;
  Plane plate;
  Registration registration;  ///< Covariance in the first pass's axes.
  Message note;               ///< What was done, for people.
};

/// Passes in one pose are merged. Passes in different poses (the reed on its plate, or the scanner, was moved between
/// them) are registered: level by the plate, then by three spheres if they show, else by the reed's shape alone,
/// because a plate lets everything slide; first guesses from feature matching and from the reed's long axis, each
/// refined point to plane; a pose graph where there are more than two. Throws NotMeasurable where a pass shows no
/// plate, where no two passes fit, or where they fit in more than one way. `plates`: of each pass, where it is known.
[[nodiscard]] JoinedPasses join_passes(std::vector<Cloud> passes, const std::vector<std::optional<Plane>>& plates = {});

}  // namespace canewise
