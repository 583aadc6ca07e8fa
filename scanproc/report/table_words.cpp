#include "scanproc/report/table_words.h"

#include <cmath>

#include "scanproc/core/budget.h"

namespace canewise {

Message table_verdict(const TableForm& table) {
  return Message{"report.table_verdict", {{"verdict", word(name_of(table.flat))}}};
}

Message table_sentence(const TableForm& table) {
  // Whole micrometres, also where they are told in another unit.
  const auto value = [](const Measured& form) { return signed_um(std::round(form.value)); };
  const auto u95 = [](const Measured& form) { return um(std::ceil(kCoverage95 * form.u)); };
  // Common practice: reeds dry flat, on slats, or warp; a table is flattened before the vamp is judged.
  return Message{"report.table_form",
                 {{"bow", value(table.bow_um)},
                  {"u_bow", u95(table.bow_um)},
                  {"cup", value(table.cup_um)},
                  {"u_cup", u95(table.cup_um)},
                  {"twist", value(table.twist_um)},
                  {"u_twist", u95(table.twist_um)},
                  {"tolerance", um(table.tolerance_um)},
                  {"verdict", word(name_of(table.flat))}}};
}

}  // namespace canewise
