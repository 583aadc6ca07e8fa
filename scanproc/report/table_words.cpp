#include "scanproc/report/table_words.h"

#include <fmt/format.h>

#include <cmath>

#include "scanproc/core/budget.h"

namespace canewise {

std::string table_verdict(const TableForm& table) {
  switch (table.flat) {
    case Verdict::within:
      return "The table is flat";
    case Verdict::outside:
      return "The table is warped";
    case Verdict::cannot_tell:
      break;
  }
  return "Whether the table is flat this scan cannot tell";
}

std::string table_sentence(const TableForm& table) {
  const auto form = [](const char* name, const Measured& m) {
    // + 0.0 turns '-0' into '+0'.
    return fmt::format("{} {:+.0f} ±{:.0f} µm", name, std::round(m.value) + 0.0, std::ceil(kCoverage95 * m.u));
  };
  std::string text = fmt::format(
      "Dries flat? {}, {} and {} against a tolerance of {:.0f} µm; a plus of bow or cup is hollow.",
      form("Bow", table.bow_um), form("cup", table.cup_um), form("twist", table.twist_um), table.tolerance_um);
  // Common practice: reeds dry flat, on slats, or warp; a table is flattened before the vamp is judged.
  if (table.flat == Verdict::outside)
    text += " Let it rest and dry flat on slats and scan again; flatten the table before judging the vamp.";
  return text;
}

}  // namespace canewise
