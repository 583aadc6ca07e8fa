#pragma once

#include <vector>

#include "scanproc/pipeline/result.h"

namespace canewise {

/// How the true thickness may differ from a result's map: one independent form each, millimetres for one standard
/// deviation. `u_x_mm`, `u_y_mm`: how well the map lies on the reed that is bent.
[[nodiscard]] std::vector<Field> thickness_doubts(const Result& reed, double u_x_mm, double u_y_mm);

}  // namespace canewise
