#pragma once

#include <string>

#include "scanproc/words/speech.h"

namespace canewise {

// Numbers of tables and pictures, without the unit that their heading names. NaN is told as not seen.

/// A small length in the reader's unit.
[[nodiscard]] Message small_number(double micrometres, int decimals = 0);
/// '+12', '-3' or '0': no sign where there is nothing to sign.
[[nodiscard]] Message signed_small_number(double micrometres, int decimals = 0);
/// With its 95 % interval: '12 ±3'.
[[nodiscard]] Message small_interval(double micrometres, double u95_um);
[[nodiscard]] Message signed_small_interval(double micrometres, double u95_um);
/// Any other number.
[[nodiscard]] Message plain_number(double value, int decimals);

/// A heading that names the reader's unit of small lengths: 'tolerance, µm'.
[[nodiscard]] Message in_small_unit(Message what);

/// With as many decimals as it has, at most two.
[[nodiscard]] std::string short_number(double value, const Speech& speech);

}  // namespace canewise
