#pragma once

#include <string>

#include "scanproc/pipeline/result.h"

namespace canewise {

/// Pictures to inline.
struct ReportPictures {
  const std::string& map_png;
  const std::string& balance_png;
  const std::string& table_png;    ///< Empty unless the scan was two-sided.
  const std::string& bending_png;  ///< Empty where nothing is known of the bending...
  const std::string& modes_png;    ///< ...nor then of its modes.
};

/// report.html: one file that opens offline. `map_png` and `balance_png` are the pictures' bytes, put in as they are.
[[nodiscard]] std::string report_html(const Result& result, const ReportPictures& pictures);

/// Text as it may stand in HTML.
[[nodiscard]] std::string escaped(std::string_view text);
[[nodiscard]] std::string base64(std::string_view bytes);
/// The look that all pages share.
[[nodiscard]] std::string_view page_style();

}  // namespace canewise
