#include "scanproc/report/screen.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "scanproc/core/budget.h"
#include "scanproc/core/units.h"
#include "scanproc/report/numbers.h"
#include "scanproc/report/table_words.h"

namespace canewise {
namespace {

constexpr std::size_t kWidth = 96;
constexpr std::size_t kMostLines = 40;

void add_balance(const Result& result, std::string& screen) {
  screen += "Right minus left, in thousandths of a millimetre (µm); minus: the left is thicker:\n";
  screen += fmt::format("  {:<8}{:>18}{:>18}{:>18}{:>12}\n", "", "rails", "flanks", "centre", "tolerance");
  const auto& zones = result.assessment.balance.zones;
  for (const AlongBand along : kAlongBands) {
    screen += fmt::format("  {:<8}", name_of(along));
    for (const AcrossBand across : {AcrossBand::rail, AcrossBand::flank, AcrossBand::centre}) {
      const ZoneBalance& zone = zones.at(static_cast<std::size_t>(ZoneMap::label_of(along, across)));
      const char* mark = zone.verdict == Verdict::within ? "ok" : zone.verdict == Verdict::outside ? "!" : "?";
      const std::string cell = std::isnan(zone.difference.mean_mm)
                                   ? std::string("not seen")
                                   : fmt::format("{} ±{:.0f} {:<2}", signed_whole_um(zone.difference.mean_mm),
                                                 std::ceil(um_from_mm(kCoverage95 * zone.difference.u_mm)), mark);
      screen += fmt::format("{:>18}", cell);
    }
    screen += fmt::format("{:>12.0f}\n", um_from_mm(balance_tolerance_mm(along)));
  }
  screen += "  ok: surely within, !: surely outside, ?: this scan cannot tell\n";
}

}  // namespace

std::string wrapped(const std::string& words, std::size_t width, std::size_t indent) {
  std::istringstream stream(words);
  std::string word, out;
  std::size_t column = 0;
  while (stream >> word) {
    if (column > 0 && column + 1 + word.size() > width) {
      out += "\n" + std::string(indent, ' ');
      column = indent;
    } else if (column > 0) {
      out += ' ';
      ++column;
    }
    out += word;
    column += word.size();
  }
  return out + "\n";
}

std::string screen_text(const Result& result, const std::string& out_folder) {
  std::string screen = wrapped(result.headline, kWidth, 2);
  screen += wrapped(result.certainty, kWidth, 2) + "\n";
  add_balance(result, screen);
  if (result.assessment.target) {
    const TargetComparison& target = *result.assessment.target;
    std::size_t off = 0, within = 0;
    for (const auto& zone : target.zones)
      off += zone.verdict == Verdict::outside, within += zone.verdict == Verdict::within;
    screen += wrapped(fmt::format("{} {}: {} of {} zones within its band, {} outside.",
                                  target.chosen_by_user ? "Target" : "Nearest built-in cut", target.target.name, within,
                                  target.zones.size(), off),
                      kWidth, 2);
  }
  if (result.table) {
    screen += wrapped(table_verdict(*result.table) + ". " + table_sentence(*result.table), kWidth, 2);
  }
  if (result.mechanics.known()) {
    screen += wrapped("Bending: " + result.mechanics.sentence + " " + result.mechanics.strength.sentence, kWidth, 2);
  }
  screen += "\n" + wrapped("To do: " + result.plan.sentence, kWidth, 2);
  if (!result.plan.steps.empty()) {
    if (result.plan.needs_rolling_test) {
      screen += wrapped(
          "First the rolling test: damp one side at a time with the lip. Scrape only a side that speaks less freely; "
          "say which with "
          "--rolling-test left or right.",
          kWidth, 2);
    }
    screen += wrapped(
        "Sharp blade: cut away from fingers. Don't breathe cane dust. Play after every few strokes; cane cannot be put "
        "back. When unsure, ask "
        "a teacher or technician.",
        kWidth, 2);
  }
  int number = 1;
  for (const auto& step : result.plan.steps) {
    screen +=
        fmt::format("  {}. {}: {:.0f} µm, about {} light strokes\n", number++, step.where, step.depth_um, step.strokes);
  }
  for (const auto& text : result.plan.remarks) screen += wrapped("  - " + text, kWidth, 4);
  for (const auto& alternative : result.plan.alternatives) screen += wrapped("  - " + alternative, kWidth, 4);
  std::string tail;
  if (!result.instrument_given) {
    tail += "Taken for a " + result.instrument_title +
            " reed by its size; if it is none, name its instrument with --instrument.\n";
  }
  const bool assumed = result.handedness.starts_with("assumed");
  tail += wrapped("Left and right " + result.handedness + (assumed ? " (stick tape on one rail once and look)" : "") +
                      ". Moisture: " + std::string(name_of(result.state)) + ".",
                  kWidth, 2);
  tail += "Pictures and report: " + out_folder + "\n";
  auto lines = static_cast<std::size_t>(std::count(screen.begin(), screen.end(), '\n') +
                                        std::count(tail.begin(), tail.end(), '\n'));
  for (const auto& note : result.notes) {
    const std::string text = wrapped("Note: " + note, kWidth, 2);
    const auto more = static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
    if (lines + more > kMostLines) break;
    lines += more;
    screen += text;
  }
  return screen + tail;
}

}  // namespace canewise
