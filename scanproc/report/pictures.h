#pragma once

#include <string>

#include "scanproc/pipeline/result.h"
#include "scanproc/words/speech.h"

namespace canewise {

/// map.png: the whole reed's thickness, tip up, with lines of equal thickness and the cut's dimensions.
[[nodiscard]] std::string map_png(const Result& result, const Speech& speech);
/// balance.png: how much thicker each place of the vamp is than its partner on the other side, with the zones' means.
[[nodiscard]] std::string balance_png(const Result& result, const Speech& speech);
/// table.png, two-sided scans only: how the table departs from its own plane. `result.table` must be there.
[[nodiscard]] std::string table_png(const Result& result, const Speech& speech);
/// bending.png: the reed bent under the lip, and where cane counts for its stiffness and for its balance.
/// `result.mechanics` must be known.
[[nodiscard]] std::string bending_png(const Result& result, const Speech& speech);
/// modes.png: the first modes of vibration, side by side. `result.mechanics` must be known.
[[nodiscard]] std::string modes_png(const Result& result, const Speech& speech);
/// template.pdf: the plan's places at 1:1 and 4:1, with a ruler of 50 mm.
[[nodiscard]] std::string template_pdf(const Result& result, const Speech& speech);

}  // namespace canewise
