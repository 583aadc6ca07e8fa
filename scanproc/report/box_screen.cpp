#include "scanproc/report/box_screen.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "scanproc/core/budget.h"
#include "scanproc/ledger/figures_of.h"
#include "scanproc/report/numbers.h"
#include "scanproc/report/screen.h"

namespace canewise {
namespace {

constexpr std::size_t kBoxWidth = 96;
constexpr std::array<std::size_t, 7> kWidths{14, 16, 7, 17, 17, 12, 10};

/// '12 ±3', in units of the figure times `scale`; nothing where nobody measured it.
Message interval_of(const ReedOfBox& reed, std::string_view name, double scale, int decimals) {
  const FigureValue* const figure = reed.result ? figure_named(reed.result->figures, name) : nullptr;
  if (figure == nullptr) return {};
  return {"value.interval",
          {{"v", number(scale * figure->value, decimals)}, {"u", number(scale * kCoverage95 * figure->u, decimals)}}};
}

/// Padded by what a reader sees, not by bytes.
std::string cell(const std::string& words, std::size_t width) {
  std::size_t letters = 0;
  for (const char c : words) letters += (static_cast<unsigned char>(c) & 0xc0U) != 0x80U;
  return words + std::string(letters < width ? width - letters : 1, ' ');
}

std::string line_of(const ReedOfBox& reed, const Speech& speech) {
  std::string line = "  ";
  const Messages cells = box_cells(reed);
  for (std::size_t k = 0; k < cells.size(); ++k)
    line += cell(cells[k].empty() ? "–" : phrase(cells[k], speech), kWidths.at(k));
  return line.substr(0, line.find_last_not_of(' ') + 1) + "\n";
}

std::string heading(const Speech& speech) {
  std::string line = "  ";
  std::size_t k = 0;
  for (const char* column : {"reed", "shelf", "rank", "stiffness", "imbalance", "tip", "marks"})
    line += cell(phrase({"box.column", {{"column", word(column)}}}, speech), kWidths.at(k++));
  return line.substr(0, line.find_last_not_of(' ') + 1) + "\n";
}

Message rest_sentence(const BoxView& box) {
  const RestOfBox& rest = box.rest;
  constexpr double percent = 100.0;
  return {"box.rest",
          {{"rest", count(static_cast<std::size_t>(rest.rest))},
           {"fewest", count(static_cast<std::size_t>(rest.fewest))},
           {"most", count(static_cast<std::size_t>(rest.most))},
           {"next", number(percent * rest.next_suits)},
           {"boxes", count(static_cast<std::size_t>(box.earlier_boxes))}}};
}

std::string_view name_of_advice(BoxAdvice advice) {
  switch (advice) {
    case BoxAdvice::go_on:
      return "go on";
    case BoxAdvice::try_one_more:
      return "one more";
    case BoxAdvice::set_aside:
      return "set aside";
    case BoxAdvice::nothing_left:
      break;
  }
  return "nothing left";
}

}  // namespace

Messages box_cells(const ReedOfBox& reed) {
  constexpr double percent = 100.0;
  Message rank, marks;
  if (reed.likeness) rank = plain_number(reed.likeness->rank, 0);
  if (reed.trial) {
    marks = {"box.marks",
             {{"response", count(static_cast<std::size_t>(reed.trial->response))},
              {"evenness", count(static_cast<std::size_t>(reed.trial->evenness))},
              {"tone", count(static_cast<std::size_t>(reed.trial->tone))}}};
  }
  return {{"box.reed", {{"reed", text(reed.reed.label)}, {"keeper", word(reed.reed.is_keeper ? "yes" : "no")}}},
          {"box.shelf", {{"shelf", word(name_of(reed.shelf))}}},
          rank,
          interval_of(reed, "stiffness", 1.0, 2),
          interval_of(reed, "imbalance tip", percent, 1),
          interval_of(reed, "tip", 1.0, 0),
          marks};
}

Messages box_sentences(const BoxView& box) {
  const auto is_there = [](const std::string& name) { return word(name.empty() ? "no" : "yes"); };
  const auto scanned =
      std::count_if(box.reeds.begin(), box.reeds.end(), [](const ReedOfBox& reed) { return reed.result.has_value(); });
  const auto played =
      std::count_if(box.reeds.begin(), box.reeds.end(), [](const ReedOfBox& reed) { return reed.trial.has_value(); });
  Messages said{{"box.what",
                 {{"box", text(box.box.name)},
                  {"has_strength", is_there(box.box.strength)},
                  {"strength", text(box.box.strength)},
                  {"has_player", is_there(box.box.player)},
                  {"player", text(box.box.player)},
                  {"reeds", count(box.reeds.size())},
                  {"scanned", count(static_cast<std::size_t>(scanned))},
                  {"played", count(static_cast<std::size_t>(played))}}}};
  if (box.tried == 0) {
    if (!box.reeds.empty()) said.push_back({"box.none_tried"});
    return said;
  }
  said.push_back({"box.tried",
                  {{"tried", count(static_cast<std::size_t>(box.tried))},
                   {"suited", count(static_cast<std::size_t>(box.suited))},
                   {"work", count(static_cast<std::size_t>(box.suited_with_work))}}});
  if (box.rest.rest > 0) {
    said.push_back(rest_sentence(box));
    said.push_back({"box.advice", {{"advice", word(name_of_advice(box.rest.advice))}}});
  }
  const bool none_bad = box.tried == box.suited && box.rest.rest > 0;
  if (none_bad) {
    const int bad = bad_not_excluded(box.tried + box.rest.rest, box.tried);
    said.push_back({"box.counting_alone",
                    {{"tried", count(static_cast<std::size_t>(box.tried))},
                     {"bad", count(static_cast<std::size_t>(bad))},
                     {"holds", count(static_cast<std::size_t>(box.tried + box.rest.rest))}}});
  }
  return said;
}

Messages shelf_sentences(const BoxView& box) {
  Messages said;
  for (const Shelf shelf : {Shelf::play_now, Shelf::worth_work, Shelf::lay_aside}) {
    std::string reeds;
    for (const ReedOfBox& reed : box.reeds)
      if (reed.shelf == shelf) reeds += (reeds.empty() ? "" : ", ") + reed.reed.label;
    if (!reeds.empty()) said.push_back({"box.on_shelf", {{"shelf", word(name_of(shelf))}, {"reeds", text(reeds)}}});
  }
  return said;
}

Messages spread_sentences(const BoxView& box) {
  Messages said;
  for (const FigureSpread& spread : box.spreads) {
    for (const std::string& reed : spread.stand_apart)
      said.push_back({"box.stands_apart", {{"reed", text(reed)}, {"figure", part(title_of_figure(spread.name))}}});
    constexpr double percent = 100.0;
    if (spread.name == "stiffness" && spread.reeds > 1) {
      said.push_back({"box.stiffness_spread",
                      {{"percent", number(percent * spread.sd / spread.mean)},
                       {"reeds", count(static_cast<std::size_t>(spread.reeds))}}});
    }
  }
  if (box.keepers.empty()) {
    said.push_back({"box.no_keepers"});
  } else {
    said.push_back({"box.keepers", {{"reeds", count(box.keepers.size())}}});
  }
  return said;
}

std::string box_screen(const BoxView& box, const Speech& speech) {
  std::string screen = wrapped(sentences(box_sentences(box), speech), kBoxWidth, 2);
  if (box.reeds.empty()) return screen;
  const Messages shelves = shelf_sentences(box);
  if (!shelves.empty()) screen += wrapped(sentences(shelves, speech), kBoxWidth, 2);
  screen += "\n" + heading(speech);
  for (const ReedOfBox& reed : box.reeds) screen += line_of(reed, speech);
  return screen + "\n" + wrapped(sentences(spread_sentences(box), speech), kBoxWidth, 2);
}

Messages signs_sentences(const PlayingAdvice& advice) {
  Messages said;
  for (const Finding& finding : advice.findings) {
    said.push_back({"signs.finding",
                    {{"complaint", word(name_of(finding.complaint))},
                     {"sure", word(finding.likelihood == Likelihood::likely ? "likely" : "possible")}}});
    said.insert(said.end(), finding.reasons.begin(), finding.reasons.end());
  }
  if (advice.findings.empty()) said.push_back({"signs.none"});
  if (!advice.what_to_do.empty()) said.push_back({"signs.to_do", {{"what", advice.what_to_do}}});
  return said;
}

std::string signs_screen(const PlayingAdvice& advice, const Speech& speech) {
  return wrapped(sentences(signs_sentences(advice), speech), kBoxWidth, 2);
}

Messages learned_sentences(const Learned& learned) {
  if (learned.missing > 0) {
    return {Message{"learned.too_few",
                    {{"reeds", count(static_cast<std::size_t>(learned.reeds))},
                     {"missing", count(static_cast<std::size_t>(learned.missing))}}}};
  }
  if (!learned.is_claimed)
    return {Message{"learned.nothing", {{"reeds", count(static_cast<std::size_t>(learned.reeds))}}}};
  const FigureWeight& most = learned.weights.front();
  constexpr double percent = 100.0;
  return {Message{"learned.found",
                  {{"figure", part(title_of_figure(most.figure))},
                   {"more", word(most.marks_per_spread > 0.0 ? "more" : "less")},
                   {"error", number(learned.error_marks, 1)},
                   {"spread", number(learned.spread_marks, 1)},
                   {"chance", number(percent * learned.by_chance, 1)},
                   {"reeds", count(static_cast<std::size_t>(learned.reeds))}}}};
}

}  // namespace canewise
