#pragma once

#include <string>

#include "scanproc/compare/comparison.h"
#include "scanproc/pipeline/result.h"

namespace canewise {

/// What the page draws, as JSON that may stand inside an HTML script element. Fields are base64 of little-endian 32-bit
/// floats, column after column as the map's rows x columns lie in memory, in micrometres unless their name says
/// otherwise; NaN = not known. viewer/app/src/data.ts reads it.
/// `template_pdf` is put in as it is, to be saved from the page; empty for none.
[[nodiscard]] std::string page_data(const Result& result, const std::string& template_pdf);
/// The same for two scans of one reed: the scan after, with the scan before and what came off beside it.
[[nodiscard]] std::string page_data(const Comparison& comparison, const Result& before, const Result& after);

}  // namespace canewise
