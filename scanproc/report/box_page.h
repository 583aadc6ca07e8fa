#pragma once

#include <string>
#include <vector>

#include "scanproc/words/speech.h"

namespace canewise {

/// One reed of a box, measured into a folder beside the page.
struct BoxEntry {
  std::string folder;
  Message story;
  Messages headline, to_do;
};

/// A page that shows each reed's balance picture and sentence and leads to its report.
[[nodiscard]] std::string box_page(const Message& title, const std::vector<BoxEntry>& entries, const Speech& speech);

}  // namespace canewise
