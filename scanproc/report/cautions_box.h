#pragma once

#include <string>
#include <string_view>

#include "scanproc/pipeline/result.h"
#include "scanproc/words/speech.h"

namespace canewise {

/// The cautions as a box on a page; it stands wherever the page tells a person to scrape.
[[nodiscard]] std::string cautions_box(const Speech& speech);

/// Whether the result tells a person to take cane off, by a step or by clipping.
[[nodiscard]] bool tells_to_cut(const Result& result);

/// What comes after the last step, on the page and on the template.
inline constexpr MessageId kThenScan = "report.then_scan";

/// The rolling test as a paragraph: it comes before every balance step.
[[nodiscard]] std::string rolling_test_words(const Speech& speech);

/// Left and right are only as sure as somebody made sure that the scanner does not mirror.
[[nodiscard]] bool handedness_is_checked(const Result& result);
[[nodiscard]] std::string unchecked_handedness_words(const Speech& speech);

}  // namespace canewise
