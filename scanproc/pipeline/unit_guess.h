#pragma once

#include "scanproc/clouds/cloud.h"
#include "scanproc/core/units.h"

namespace canewise {

/// Unit that the numbers of a file can be meant in, if a reed on a plate is in view: read as millimetres they span some
/// centimetres, else exactly one other unit must make them do so. Throws NotMeasurable where none does.
[[nodiscard]] LengthUnit guess_unit(const Cloud& cloud_as_mm);

/// Throws NotMeasurable if a scan read in `unit` cannot be one of a reed on a plate.
void check_unit(const Cloud& cloud_as_mm, LengthUnit unit);

/// The cloud read as `unit` instead of millimetres.
void rescale(Cloud& cloud_as_mm, LengthUnit unit);

}  // namespace canewise
