#include "scanproc/report/screen.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <sstream>
#include <string_view>
#include <vector>

#include "scanproc/core/budget.h"
#include "scanproc/core/units.h"
#include "scanproc/pipeline/headline.h"
#include "scanproc/report/cautions_box.h"
#include "scanproc/report/numbers.h"
#include "scanproc/report/table_words.h"

namespace canewise {
namespace {

constexpr std::size_t kWidth = 96;
constexpr std::size_t kMostLines = 40;

std::string balance_table(const Result& result, const Speech& speech) {
  const auto column = [&](AcrossBand across) {
    return phrase(Message{"screen.across", {{"across", word(name_of(across))}}}, speech);
  };
  std::string screen = phrase(Message{"screen.balance", {{"unit", um(0.0)}}}, speech) + "\n";
  screen += fmt::format("  {:<8}{:>18}{:>18}{:>18}{:>12}\n", "", column(AcrossBand::rail), column(AcrossBand::flank),
                        column(AcrossBand::centre), phrase(Message{"report.tolerance"}, speech));
  const auto& zones = result.assessment.balance.zones;
  for (const AlongBand along : kAlongBands) {
    screen += fmt::format("  {:<8}", phrase(Message{"screen.along", {{"along", word(name_of(along))}}}, speech));
    for (const AcrossBand across : {AcrossBand::rail, AcrossBand::flank, AcrossBand::centre}) {
      const ZoneBalance& zone = zones.at(static_cast<std::size_t>(ZoneMap::label_of(along, across)));
      const char* mark = zone.verdict == Verdict::within ? "ok" : zone.verdict == Verdict::outside ? "!" : "?";
      const double mean_um = um_from_mm(zone.difference.mean_mm);
      const Message interval =
          signed_small_interval(mean_um, std::ceil(um_from_mm(kCoverage95 * zone.difference.u_mm)));
      screen += fmt::format("{:>18}", std::isnan(mean_um) ? phrase(interval, speech)
                                                          : fmt::format("{} {:<2}", phrase(interval, speech), mark));
    }
    screen += fmt::format("{:>12}\n",
                          phrase(small_number(um_from_mm(tolerance_mm(result.assessment.balance, along))), speech));
  }
  return screen + "  " + phrase(Message{"screen.marks"}, speech) + "\n";
}

/// Code points of UTF-8: bytes that continue one are none.
std::size_t letters_of(const std::string& word) {
  return static_cast<std::size_t>(
      std::count_if(word.begin(), word.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xc0U) != 0x80U; }));
}

std::string paragraph_of(const Messages& words, const Speech& speech) {
  return wrapped(sentences(words, speech), kWidth, 2);
}

std::size_t lines_of(const std::string& words) {
  return static_cast<std::size_t>(std::count(words.begin(), words.end(), '\n'));
}

Message target_message(const TargetComparison& target) {
  std::size_t off = 0, within = 0;
  for (const auto& zone : target.zones)
    off += zone.verdict == Verdict::outside, within += zone.verdict == Verdict::within;
  return Message{"screen.target",
                 {{"chosen", word(target.chosen_by_user ? "yes" : "no")},
                  {"name", text(target.target.name)},
                  {"within", count(within)},
                  {"zones", count(target.zones.size())},
                  {"off", count(off)},
                  {"open", word(within + off < target.zones.size() ? "yes" : "no")}}};
}

Message bending_message(const Result& result) {
  Messages bending = result.mechanics.sentence;
  const Strength& strength = result.mechanics.strength;
  bending.insert(bending.end(), strength.sentence.begin(), strength.sentence.end());
  if (!strength.advice.empty()) bending.push_back(strength.advice);
  return Message{"screen.bending", {{"what", std::move(bending)}}};
}

/// What the reed is and what is off.
std::string findings(const Result& result, const Speech& speech) {
  const auto paragraph = [&](const Messages& words) { return paragraph_of(words, speech); };
  std::string screen = result.reed.label.empty() ? "" : paragraph({whose(result)});
  screen += paragraph(result.headline);
  screen += paragraph(result.certainty) + "\n";
  screen += balance_table(result, speech);
  if (result.assessment.target) screen += paragraph({target_message(*result.assessment.target)});
  if (result.table) {
    screen += paragraph(
        {Message{"screen.table", {{"verdict", part(table_verdict(*result.table))}}}, table_sentence(*result.table)});
  }
  if (result.mechanics.known()) screen += paragraph({bending_message(result)});
  return screen;
}

std::string what_to_do(const Result& result, const Speech& speech) {
  const ScrapePlan& plan = result.plan;
  const auto paragraph = [&](const Messages& words) { return paragraph_of(words, speech); };
  std::string screen = "\n" + paragraph({Message{"screen.to_do", {{"what", plan.sentence}}}});
  if (!plan.steps.empty() && plan.needs_rolling_test) screen += paragraph({Message{"screen.rolling_test"}});
  if (tells_to_cut(result)) screen += paragraph({Message{"screen.cautions"}});
  std::size_t step_number = 1;
  for (const auto& step : plan.steps) {
    const Message what{"screen.step",
                       {{"n", count(step_number++)},
                        {"where", part(step.where)},
                        {"depth", um(step.depth_um)},
                        {"strokes", count(static_cast<std::size_t>(step.strokes))}}};
    screen += "  " + wrapped(phrase(what, speech), kWidth, 5);
  }
  return screen;
}

/// What was taken for granted, and where the rest stands.
std::string last_lines(const Result& result, const std::string& out_folder, const Speech& speech) {
  std::string tail;
  if (!result.instrument_given) {
    const Message instrument{"instrument.title", {{"instrument", word(result.instrument)}}};
    tail += paragraph_of({Message{"screen.taken_for", {{"instrument", part(instrument)}}}}, speech);
  }
  tail += paragraph_of({Message{"screen.sides",
                                {{"what", part(handedness_of(result))},
                                 {"checked", word(handedness_is_checked(result) ? "yes" : "no")}}},
                        Message{"screen.moisture", {{"state", word(name_of(result.state))}}}},
                       speech);
  return tail + phrase(Message{"screen.pictures_and_report", {{"folder", text(out_folder)}}}, speech) + "\n";
}

/// Remarks and notes as far as they fit below so many lines. What does not fit stands in the report, which is said.
std::string remarks_that_fit(const Result& result, std::size_t lines, const Speech& speech) {
  std::vector<std::string> pieces;
  for (const Messages* list : {&result.plan.remarks, &result.plan.alternatives}) {
    for (const Message& item : *list) pieces.push_back(wrapped("- " + sentence(item, speech), kWidth, 4));
  }
  for (const Message& note : result.notes)
    pieces.push_back(paragraph_of({Message{"screen.note", {{"what", part(note)}}}}, speech));
  std::size_t all = 0;
  for (const std::string& piece : pieces) all += lines_of(piece);
  std::string more = lines + all > kMostLines ? paragraph_of({Message{"screen.more_notes"}}, speech) : "";
  lines += lines_of(more);
  std::string screen;
  for (const std::string& piece : pieces) {
    if (lines + lines_of(piece) > kMostLines) continue;
    lines += lines_of(piece);
    screen += piece;
  }
  return screen + more;
}

/// What a line must not begin with: a unit without its number, or a mark that stands apart in French.
bool clings_to_what_is_before(std::string_view word) {
  static constexpr std::array kUnits{"µm", "mm", "thou", "mm²", "mm³", "N/mm", "N", "Hz", "%", "±"};
  static constexpr std::array kMarks{":", ";", "?", "!", "»"};
  const auto is_unit = [&](std::string_view unit) {
    return word.starts_with(unit) && word.find_first_not_of(".,;:)%", unit.size()) == std::string_view::npos;
  };
  return std::any_of(kUnits.begin(), kUnits.end(), is_unit) ||
         std::any_of(kMarks.begin(), kMarks.end(), [&](std::string_view mark) { return word.starts_with(mark); });
}

/// Words, with what belongs to them.
std::vector<std::string> pieces_of(const std::string& words) {
  std::istringstream stream(words);
  std::vector<std::string> pieces;
  bool is_opened = false;
  for (std::string word; stream >> word;) {
    if (!pieces.empty() && (is_opened || clings_to_what_is_before(word))) {
      pieces.back() += " " + word;
    } else {
      pieces.push_back(word);
    }
    is_opened = word == "«" || word == "±";
  }
  return pieces;
}

}  // namespace

std::string wrapped(const std::string& words, std::size_t width, std::size_t indent) {
  std::string out;
  std::size_t column = 0;
  for (const std::string& word : pieces_of(words)) {
    const std::size_t letters = letters_of(word);
    if (column > 0 && column + 1 + letters > width) {
      out += "\n" + std::string(indent, ' ');
      column = indent;
    } else if (column > 0) {
      out += ' ';
      ++column;
    }
    out += word;
    column += letters;
  }
  return out + "\n";
}

std::string screen_text(const Result& result, const std::string& out_folder, const Speech& speech) {
  const std::string screen = findings(result, speech) + what_to_do(result, speech);
  const std::string tail = last_lines(result, out_folder, speech);
  return screen + remarks_that_fit(result, lines_of(screen) + lines_of(tail), speech) + tail;
}

}  // namespace canewise
