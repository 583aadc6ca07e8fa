#include "scanproc/report/season_page.h"

#include "scanproc/advise/box_view.h"
#include "scanproc/advise/keeping.h"
#include "scanproc/ledger/records.h"
#include "scanproc/report/box_screen.h"
#include "scanproc/report/reed_card.h"
#include "scanproc/report/said.h"

namespace canewise {
namespace {

/// As an address of the page.
std::string in_address(const std::string& name) {
  constexpr std::string_view kDigits = "0123456789ABCDEF";
  std::string address;
  for (const char c : name) {
    const auto byte = static_cast<unsigned char>(c);
    const bool is_plain = (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') ||
                          (byte >= '0' && byte <= '9') || c == '-' || c == '_' || c == '.';
    if (is_plain) {
      address += c;
    } else {
      address += {'%', kDigits[byte >> 4U], kDigits[byte & 15U]};
    }
  }
  return address;
}

}  // namespace

std::string ledger_section(const Ledger& ledger, const std::string& label, const PageHome& home, const Speech& speech) {
  if (label.empty() || !ledger.has("reed", label)) return {};
  const ReedRecord reed = find_reed(ledger, label);
  std::string section = "<section class=\"ledger\"><h2>" + said(Message{"season.noted"}, speech) + "</h2><p>" +
                        said_phrase(what_reed_is(reed), speech) + "</p><ul>";
  for (const TrialRecord& trial : trials_of(ledger, label))
    section += "<li>" + said_phrase(trial_message(trial), speech) + "</li>";
  return section + "</ul><div id=\"trial\" data-reed=\"" + escaped(label) + "\" data-stage=\"" +
         std::string(name_of(reed.stage)) + "\" data-keeper=\"" + (reed.is_keeper ? "1" : "0") + "\" data-token=\"" +
         escaped(home.token) + "\"></div></section>";
}

std::string season_page(const Ledger& ledger, const std::string& day, const PageHome& home, const Speech& speech) {
  const Message title{"season.today", {{"day", text(day)}}};
  std::string body = way_home(home, speech) + "<main><h1>" + said(title, speech) + "</h1>";
  const auto chores = chores_of(ledger, {}, day);
  if (chores.empty()) body += "<p>" + said(Message{"chore.none"}, speech) + "</p>";
  if (!chores.empty()) {
    body += "<ul class=\"chores\">";
    for (const ChoreOfDay& chore : chores) body += "<li>" + said(chore.what, speech) + "</li>";
    body += "</ul><p class=\"soft\">" + said(Message{"chore.habits"}, speech) + "</p>";
  }
  const TriedBoxes boxes = tried_boxes(ledger);
  body += "<h2>" + said(Message{"season.boxes"}, speech) + "</h2>";
  if (boxes.empty()) body += "<p>" + said(Message{"season.no_boxes"}, speech) + "</p>";
  for (const TriedBoxRecord& known : boxes) {
    const BoxView box = view_box(ledger, known.box.name, boxes);
    body += "<p><a href=\"/box/" + escaped(in_address(box.box.name)) + "/\"><strong>" + escaped(box.box.name) +
            "</strong></a> " + said(box_sentences(box), speech) + "<br>" + said(shelf_sentences(box), speech) + "</p>";
  }
  return framed_page(home, {title, body + "</main>"}, speech);
}

}  // namespace canewise
