#include "scanproc/advise/keeping.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>

#include "scanproc/advise/likeness.h"
#include "scanproc/ledger/dates.h"
#include "scanproc/ledger/figures_of.h"
#include "scanproc/ledger/records.h"

namespace canewise {
namespace {

/// What belongs to a reed, asked once for all reeds.
struct History {
  std::set<std::string> days;  ///< Played on, trials included.
  double minutes = 0.0;
  std::vector<std::string> folders;  ///< Of its results, oldest first.
  std::vector<std::string> measured_at, states;
  std::string last_work;  ///< Moment; empty if it was never scraped.
};

std::map<std::string, History> histories(const Ledger& ledger) {
  std::map<std::string, History> all;
  for (const Row& row : ledger.rows("playing")) {
    History& history = all[words_in(row, "reed")];
    history.days.insert(words_in(row, "played_on"));
    history.minutes += number_in(row, "minutes").value_or(0.0);
  }
  for (const Row& row : ledger.rows("trial")) {
    const TrialRecord trial = trial_from(row);
    History& history = all[trial.reed];
    history.days.insert(day_of(trial.played_at));
    history.minutes += trial.minutes.value_or(0.0);
  }
  for (const Row& row : ledger.rows("result", {.order_by = "measured_at"})) {
    History& history = all[words_in(row, "reed")];
    history.folders.push_back(words_in(row, "folder"));
    history.measured_at.push_back(words_in(row, "measured_at"));
    history.states.push_back(words_in(row, "state"));
  }
  for (const Row& row : ledger.rows("work")) {
    std::string& last = all[words_in(row, "reed")].last_work;
    last = std::max(last, words_in(row, "done_at"));
  }
  return all;
}

/// A clock that was set back gives days after today: they count as today.
long days_since(const std::string& day, const std::string& today) { return std::max(0L, days_passed(day, today)); }

/// A reed with what its chores depend on.
struct Kept {
  ReedRecord reed;
  History history;
  /// Days to come, of a clock that was set back or a slip, say nothing.
  [[nodiscard]] long rested(const std::string& today) const {
    constexpr long never = 100000;
    const auto later = history.days.upper_bound(today);
    return later == history.days.begin() ? never : days_passed(*std::prev(later), today);
  }
};

class Day {
 public:
  Day(const Ledger& ledger, const std::string& player, std::string today, const KeepingHabits& habits)
      : ledger_(ledger), today_(std::move(today)), habits_(habits) {
    Row equal{{"binned_at", Cell()}};
    if (!player.empty()) equal["player"] = player;
    std::map<std::string, History> all = histories(ledger);
    for (const Row& row : ledger.rows("reed", {.equal = std::move(equal)})) {
      ReedRecord reed = reed_from(row);
      History& history = all[reed.label];
      reeds_.push_back({std::move(reed), std::move(history)});
    }
  }

  std::vector<ChoreOfDay> chores() {
    next_to_play();
    for (const Kept& kept : reeds_) break_in(kept);
    for (const Kept& kept : reeds_) refresh(kept);
    for (const Kept& kept : reeds_) scan_again(kept);
    for (const Kept& kept : reeds_) changed(kept);
    for (const Kept& kept : reeds_) retire(kept);
    places();
    return std::move(chores_);
  }

 private:
  void add(Chore chore, const std::string& reed, Message what) { chores_.push_back({chore, reed, std::move(what)}); }

  /// For each player the one that rested longest, unless one was played today already.
  void next_to_play() {
    std::map<std::string, const Kept*> next;
    std::set<std::string> has_played;
    for (const Kept& kept : reeds_) {
      if (kept.reed.stage != ReedStage::playing) continue;
      if (kept.rested(today_) == 0) has_played.insert(kept.reed.player);
      const Kept*& best = next[kept.reed.player];
      if (best == nullptr || kept.rested(today_) > best->rested(today_)) best = &kept;
    }
    for (const auto& [player, kept] : next) {
      if (has_played.contains(player)) continue;
      add(Chore::play, kept->reed.label,
          {"chore.play",
           {{"reed", text(kept->reed.label)},
            {"ever", word(kept->history.days.empty() ? "no" : "yes")},
            {"days", count(static_cast<std::size_t>(kept->history.days.empty() ? 0 : kept->rested(today_)))}}});
    }
  }

  void break_in(const Kept& kept) {
    if (kept.reed.stage != ReedStage::breaking_in) return;
    const std::size_t done = kept.history.days.size();
    const Argument reed = text(kept.reed.label);
    if (done >= habits_.break_in_minutes.size()) {
      add(Chore::break_in, kept.reed.label, {"chore.broken_in", {{"reed", reed}, {"days", count(done)}}});
    } else if (!kept.history.days.contains(today_)) {
      add(Chore::break_in, kept.reed.label,
          {"chore.break_in",
           {{"reed", reed},
            {"day", count(done + 1)},
            {"minutes", count(static_cast<std::size_t>(habits_.break_in_minutes[done]))}}});
    }
  }

  void refresh(const Kept& kept) {
    if (kept.reed.stage != ReedStage::concert || kept.rested(today_) < habits_.concert_days) return;
    add(Chore::refresh, kept.reed.label, {"chore.refresh", {{"reed", text(kept.reed.label)}}});
  }

  [[nodiscard]] static bool is_in_use(const ReedRecord& reed) {
    return reed.stage == ReedStage::playing || reed.stage == ReedStage::concert || reed.is_keeper;
  }

  void scan_again(const Kept& kept) {
    if (!is_in_use(kept.reed)) return;
    const Argument reed = text(kept.reed.label);
    const auto& measured_at = kept.history.measured_at;
    if (measured_at.empty()) return add(Chore::scan, kept.reed.label, {"chore.never_scanned", {{"reed", reed}}});
    const long age = days_since(day_of(measured_at.back()), today_);
    if (age < habits_.scan_again_days) return;
    add(Chore::scan, kept.reed.label, {"chore.scan", {{"reed", reed}, {"days", count(static_cast<std::size_t>(age))}}});
  }

  [[nodiscard]] NamedFigures figures_of_scan(const Kept& kept, std::size_t scan) const {
    NamedFigures found{kept.reed.label, {}, kept.history.states[scan]};
    for (const Row& row : ledger_.rows("figure", {.equal = {{"folder", kept.history.folders[scan]}}})) {
      found.figures.push_back(
          {words_in(row, "name"), number_in(row, "value").value_or(0.0), number_in(row, "u").value_or(0.0)});
    }
    return found;
  }

  /// First against last scan in one state of moisture since it was last scraped.
  void changed(const Kept& kept) {
    const History& history = kept.history;
    if (!is_in_use(kept.reed) || history.folders.size() < 2) return;
    const std::size_t last = history.folders.size() - 1;
    std::size_t first = 0;
    while (first < last &&
           (history.measured_at[first] < history.last_work || history.states[first] != history.states[last]))
      ++first;
    if (first == last) return;
    const auto drift = by_likeness({figures_of_scan(kept, last)}, {figures_of_scan(kept, first)});
    constexpr double kSure = 1.96;
    if (drift.empty() || drift.front().distance < 1.0 + kSure * std::sqrt(2.0) * drift.front().u) return;
    add(Chore::changed, kept.reed.label,
        {"chore.changed",
         {{"reed", text(kept.reed.label)},
          {"figure", part(title_of_figure(drift.front().farthest))},
          {"since", text(day_of(history.measured_at[first]))}}});
  }

  void retire(const Kept& kept) {
    constexpr double minutes_per_h = 60.0;
    const double hours = kept.history.minutes / minutes_per_h;
    if (kept.reed.stage == ReedStage::retired || hours < habits_.retire_after_h) return;
    add(Chore::retire, kept.reed.label, {"chore.retire", {{"reed", text(kept.reed.label)}, {"hours", number(hours)}}});
  }

  void places() {
    for (const Row& place : ledger_.rows("place")) {
      const std::string name = words_in(place, "name");
      // The last one that is not to come, if it is not too old to say anything.
      const Rows readings =
          ledger_.rows("humidity", {.equal = {{"place", name}}, .order_by = "read_at", .descending = true, .most = 50});
      const auto last = std::find_if(readings.begin(), readings.end(), [&](const Row& row) {
        return days_passed(day_of(words_in(row, "read_at")), today_) >= 0;
      });
      if (last == readings.end()) continue;
      const std::string read_on = day_of(words_in(*last, "read_at"));
      if (days_passed(read_on, today_) > habits_.reading_holds_days) continue;
      const double percent = number_in(*last, "percent").value_or(0.0);
      const bool is_dry = percent<habits_.driest_percent, is_wet = percent> habits_.wettest_percent;
      if (!is_dry && !is_wet) continue;
      add(Chore::air, name,
          {"chore.air",
           {{"place", text(name)},
            {"percent", number(percent)},
            {"day", text(read_on)},
            {"is", word(is_dry ? "dry" : "damp")}}});
    }
  }

  const Ledger& ledger_;
  std::string today_;
  const KeepingHabits& habits_;
  std::vector<Kept> reeds_;
  std::vector<ChoreOfDay> chores_;
};

}  // namespace

std::string_view name_of(Chore chore) {
  switch (chore) {
    case Chore::play:
      return "play";
    case Chore::break_in:
      return "break in";
    case Chore::refresh:
      return "refresh";
    case Chore::scan:
      return "scan";
    case Chore::changed:
      return "changed";
    case Chore::retire:
      return "retire";
    case Chore::air:
      break;
  }
  return "air";
}

std::vector<ChoreOfDay> chores_of(const Ledger& ledger, const std::string& player, const std::string& day,
                                  const KeepingHabits& habits) {
  return Day(ledger, player, day, habits).chores();
}

}  // namespace canewise
