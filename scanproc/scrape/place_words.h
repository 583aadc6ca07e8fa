#pragma once

#include "scanproc/assess/faults.h"
#include "scanproc/assess/zones.h"
#include "scanproc/scrape/scrape_plan.h"
#include "scanproc/words/message.h"

namespace canewise {

/// 'the left rail, front' as the subject of a clause: with its article, in the nominative case.
[[nodiscard]] Message the_place(const Zone& zone);
/// 'the right rail', 'the left half of the heart'.
[[nodiscard]] Message the_place(const Fault& fault, Side side);
/// 'the right rail'.
[[nodiscard]] Message the_place(const ScrapeStep& step);

}  // namespace canewise
