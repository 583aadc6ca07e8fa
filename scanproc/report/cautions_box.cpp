#include "scanproc/report/cautions_box.h"

#include <fmt/format.h>

#include "scanproc/report/page_frame.h"
#include "scanproc/scrape/scrape_plan.h"

namespace canewise {

std::string cautions_box() {
  std::string box =
      "<div class=\"cautions\"><p><strong>" + worded("beforeYouScrape", "Before you scrape") + "</strong></p><ul>";
  for (std::size_t k = 0; k < kCautions.size(); ++k)
    box += "<li>" + worded(fmt::format("caution_{}", k + 1), kCautions.at(k)) + "</li>";
  return box + "</ul></div>";
}

}  // namespace canewise
