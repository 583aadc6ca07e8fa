#pragma once

#include <string>
#include <vector>

#include "scanproc/advise/box_view.h"
#include "scanproc/words/speech.h"

namespace canewise {

/// One reed of a box, measured into a folder beside the page.
struct BoxEntry {
  std::string folder;
  Message story;
  Messages headline, to_do;
};

/// box.html beside box.png: what the tried reeds say of the others, every reed on one picture, its shelf and figures.
[[nodiscard]] std::string box_overview(const BoxView& box, const Speech& speech);

/// A page that shows each reed's balance picture and sentence and leads to its report.
[[nodiscard]] std::string box_page(const Message& title, const std::vector<BoxEntry>& entries, const Speech& speech);

}  // namespace canewise
