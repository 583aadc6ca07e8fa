#pragma once

#include "scanproc/bytes/settings.h"
#include "scanproc/rig/rig.h"

namespace canewise {

// The tables of a rig file that describe a laser line, as `calibrate` writes them or as a person does (docs/rig.md):
// the plane also as normal and distance, the way of the stage also as a step, and uncertainties in plain measures
// instead of covariances. Each throws InputError.

[[nodiscard]] CalibratedCamera camera_table(Settings settings);
[[nodiscard]] LaserPlane laser_plane_table(Settings settings);
[[nodiscard]] Stage stage_table(Settings settings);

}  // namespace canewise
