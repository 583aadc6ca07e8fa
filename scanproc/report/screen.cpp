#include "scanproc/report/screen.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <sstream>

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
                  {"off", count(off)}}};
}

Message bending_message(const Mechanics& mechanics) {
  Messages bending = mechanics.sentence;
  const Messages& strength = mechanics.strength.sentence;
  bending.insert(bending.end(), strength.begin(), strength.end());
  return Message{"screen.bending", {{"what", std::move(bending)}}};
}

/// What the reed is and what is off.
std::string findings(const Result& result, const Speech& speech) {
  const auto paragraph = [&](const Messages& words) { return paragraph_of(words, speech); };
  std::string screen = paragraph(result.headline);
  screen += paragraph(result.certainty) + "\n";
  screen += balance_table(result, speech);
  if (result.assessment.target) screen += paragraph({target_message(*result.assessment.target)});
  if (result.table) {
    screen += paragraph(
        {Message{"screen.table", {{"verdict", part(table_verdict(*result.table))}}}, table_sentence(*result.table)});
  }
  if (result.mechanics.known()) screen += paragraph({bending_message(result.mechanics)});
  return screen;
}

std::string what_to_do(const ScrapePlan& plan, const Speech& speech) {
  const auto paragraph = [&](const Messages& words) { return paragraph_of(words, speech); };
  std::string screen = "\n" + paragraph({Message{"screen.to_do", {{"what", plan.sentence}}}});
  if (!plan.steps.empty()) {
    if (plan.needs_rolling_test) screen += paragraph({Message{"screen.rolling_test"}});
    screen += paragraph({Message{"screen.cautions"}});
  }
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

/// Remarks and notes as far as they fit below so many lines. What does not fit stands in the report.
std::string remarks_that_fit(const Result& result, std::size_t lines, const Speech& speech) {
  std::string screen;
  const auto add_if_it_fits = [&](const std::string& words) {
    const std::size_t more = lines_of(words);
    if (lines + more > kMostLines) return false;
    lines += more;
    screen += words;
    return true;
  };
  for (const Messages* list : {&result.plan.remarks, &result.plan.alternatives}) {
    for (const Message& item : *list) {
      if (!add_if_it_fits(wrapped("- " + sentence(item, speech), kWidth, 4))) break;
    }
  }
  for (const Message& note : result.notes) {
    if (!add_if_it_fits(paragraph_of({Message{"screen.note", {{"what", part(note)}}}}, speech))) break;
  }
  return screen;
}

}  // namespace

std::string wrapped(const std::string& words, std::size_t width, std::size_t indent) {
  std::istringstream stream(words);
  std::string word, out;
  std::size_t column = 0;
  while (stream >> word) {
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
  const std::string screen = findings(result, speech) + what_to_do(result.plan, speech);
  const std::string tail = last_lines(result, out_folder, speech);
  return screen + remarks_that_fit(result, lines_of(screen) + lines_of(tail), speech) + tail;
}

}  // namespace canewise
