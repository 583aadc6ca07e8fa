#pragma once

#include "scanproc/pipeline/result.h"
#include "scanproc/words/message.h"

namespace canewise {

/// 'A filed B-flat clarinet reed, thick blank: the right rail is on average 24 um thicker than the left between 5 and
/// 14 mm from the tip (tolerance 15 um).' Names the thin side where that is the one at fault; place and side are the
/// plan's.
[[nodiscard]] Messages headline_of(const Result& result);
/// 'This scan can see a left-right difference of 4 um at the tip and 3 um elsewhere.'
[[nodiscard]] Messages certainty_of(const Result& result);
/// 'filed B-flat clarinet reed, thick blank' and the like, for titles.
[[nodiscard]] Message kind_of(const Result& result);
/// The same after the reed's own label, where it has one: what stands over pages and pictures.
[[nodiscard]] Message title_of(const Result& result);
/// 'B3-7, box B3, Anna, measured on 2026-12-01'; empty where nobody said whose reed it is. A part of a sentence.
[[nodiscard]] Message whose(const Result& result);
/// How it is known which side is left: 'corrected by the rig file'. A part of a sentence.
[[nodiscard]] Message handedness_of(const Result& result);

}  // namespace canewise
