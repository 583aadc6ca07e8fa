#include "scanproc/report/box_page.h"

#include "scanproc/report/html.h"

namespace canewise {

std::string box_page(const std::string& title, const std::vector<BoxEntry>& entries) {
  std::string page =
      "<!doctype html><html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" "
      "content=\"width=device-width,initial-scale=1\"><title>" +
      escaped(title) + "</title><style>" + std::string(page_style()) + "</style></head><body><h1>" + escaped(title) +
      "</h1><div class=\"pictures\">";
  for (const auto& entry : entries) {
    const std::string folder = escaped(entry.folder);
    page += "<section><h2><a href=\"" + folder + "/report.html\">" + folder + "</a></h2><p>" + escaped(entry.headline) +
            "</p><p><strong>" + escaped(entry.to_do) + "</strong></p><p class=\"soft\">" + escaped(entry.story) +
            "</p><a href=\"" + folder + "/report.html\"><img alt=\"Balance of " + folder + "\" src=\"" + folder +
            "/balance.png\"></a></section>";
  }
  return page + "</div></body></html>\n";
}

}  // namespace canewise
