#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "scanproc/advise/box_view.h"
#include "scanproc/report/page_frame.h"
#include "scanproc/words/speech.h"

namespace canewise {

/// One reed of a box, measured into a folder beside the page.
struct BoxEntry {
  std::string folder;
  Message story;
  Messages headline, to_do;
};

/// What the tried reeds say of the others, every reed on one picture, its shelf and figures.
/// `picture` is box.png: in the page, or beside it.
[[nodiscard]] std::string box_overview(const BoxView& box, std::string_view picture, const PageHome& home,
                                       const Speech& speech);

/// A page that shows each reed's balance picture and sentence and leads to its report.
[[nodiscard]] std::string box_page(const Message& title, const std::vector<BoxEntry>& entries, const Speech& speech);

}  // namespace canewise
