#include "scanproc/report/box_page.h"

#include "scanproc/report/page_frame.h"
#include "scanproc/report/said.h"

namespace canewise {

std::string box_page(const Message& title, const std::vector<BoxEntry>& entries, const Speech& speech) {
  std::string body = "<main><h1>" + said(title, speech) + "</h1><ul class=\"reeds\">";
  for (const auto& entry : entries) {
    const std::string folder = escaped(entry.folder);
    const Message picture{"report.balance_of", {{"folder", text(entry.folder)}}};
    body += "<li><a href=\"" + folder + "/report.html\"><span class=\"small-picture\"><img" +
            said_as("alt", picture, speech) + " src=\"" + folder + "/balance.png\"></span><strong>" + folder +
            "</strong>" + said(entry.headline, speech) + "</a><p><strong>" + said(entry.to_do, speech) +
            "</strong></p><p class=\"soft\">" + said(entry.story, speech) + "</p></li>";
  }
  return framed_page({.pictures_inside = false}, {title, body + "</ul></main>"}, speech);
}

}  // namespace canewise
