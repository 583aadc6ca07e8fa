#pragma once

#include <string>
#include <vector>

namespace canewise {

/// One reed of a box, measured into a folder beside the page.
struct BoxEntry {
  std::string folder, story, headline, to_do;
};

/// A page that shows each reed's balance picture and sentence and leads to its report.
[[nodiscard]] std::string box_page(const std::string& title, const std::vector<BoxEntry>& entries);

}  // namespace canewise
