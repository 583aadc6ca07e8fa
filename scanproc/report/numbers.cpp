#include "scanproc/report/numbers.h"

#include <fmt/format.h>

#include <cmath>

#include "scanproc/core/units.h"

namespace canewise {

std::string signed_whole_um(double mm) {
  if (std::isnan(mm)) return "not seen";
  const long um = std::lround(um_from_mm(mm));
  return um == 0 ? "0" : fmt::format("{:+}", um);
}

}  // namespace canewise
