#include "scanproc/report/page_parts.h"

#include "scanproc/report/said.h"

namespace canewise {

std::string begin_details(const Message& summary, const Speech& speech) {
  return "<details><summary>" + said(summary, speech) + "</summary>";
}

std::string soft_paragraph(const Messages& words, const Speech& speech) {
  return "<p class=\"soft\">" + said(words, speech) + "</p>";
}

std::string figure(const PageHome& home, const PagePicture& picture, const Speech& speech) {
  return "<figure>" + image(home, picture, speech) + "</figure>";
}

}  // namespace canewise
