#pragma once

#include <string>
#include <string_view>

#include "scanproc/report/page_frame.h"
#include "scanproc/words/speech.h"

namespace canewise {

/// Begins a part of a page that opens on demand; </details> ends it.
[[nodiscard]] std::string begin_details(const Message& summary, const Speech& speech);
[[nodiscard]] std::string soft_paragraph(const Messages& words, const Speech& speech);
[[nodiscard]] std::string figure(const PageHome& home, const PagePicture& picture, const Speech& speech);

}  // namespace canewise
