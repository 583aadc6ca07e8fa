#include "scanproc/report/box_page.h"

#include "scanproc/report/page_frame.h"

namespace canewise {

std::string box_page(const std::string& title, const std::vector<BoxEntry>& entries) {
  std::string body = "<main><h1>" + escaped(title) + "</h1><ul class=\"reeds\">";
  for (const auto& entry : entries) {
    const std::string folder = escaped(entry.folder);
    body += "<li><a href=\"" + folder + "/report.html\"><span class=\"small-picture\"><img alt=\"Balance of " + folder +
            "\" src=\"" + folder + "/balance.png\"></span><strong>" + folder + "</strong><span>" +
            escaped(entry.headline) + "</span></a><p><strong>" + escaped(entry.to_do) +
            "</strong></p><p class=\"soft\">" + escaped(entry.story) + "</p></li>";
  }
  return framed_page({.pictures_inside = false}, title, body + "</ul></main>", {});
}

}  // namespace canewise
