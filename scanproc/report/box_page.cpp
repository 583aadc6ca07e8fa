#include "scanproc/report/box_page.h"

#include "scanproc/report/box_screen.h"
#include "scanproc/report/page_frame.h"
#include "scanproc/report/said.h"

namespace canewise {

std::string box_overview(const BoxView& box, std::string_view picture, const PageHome& home, const Speech& speech) {
  const Message title{"box.picture", {{"box", text(box.box.name)}}};
  std::string body = way_home(home, speech) + "<main><h1>" + said(title, speech) + "</h1><p>" +
                     said(box_sentences(box), speech) + "</p><p><strong>" + said(shelf_sentences(box), speech) +
                     "</strong></p>" + image(home, {"box.png", picture, title}, speech) + "<p>" +
                     said(spread_sentences(box), speech) + "</p>" + table_begin(title, speech);
  Messages heads;
  for (const char* column : {"reed", "shelf", "rank", "stiffness", "imbalance", "tip", "marks"})
    heads.push_back({"box.column", {{"column", word(column)}}});
  body += table_row("th", heads, speech);
  for (const ReedOfBox& reed : box.reeds) body += table_row("td", box_cells(reed), speech);
  return framed_page(home, {title, body + std::string(kTableEnd) + "</main>"}, speech);
}

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
