#pragma once

#include <string>
#include <vector>

#include "scanproc/ledger/ledger.h"
#include "scanproc/words/message.h"

namespace canewise {

/// Habits of players, all of them common practice and a matter of taste.
struct KeepingHabits {
  std::vector<int> break_in_minutes{5, 10, 15, 20,
                                    25};  ///< On the first day, the second and so on; then it is broken in.
  double retire_after_h = 25.0;
  long scan_again_days = 42;
  long concert_days = 14;  ///< A reed in reserve is played for a few minutes this often.
  double driest_percent = 40.0, wettest_percent = 75.0;
  long reading_holds_days = 14;  ///< An older reading of humidity says nothing.
};

enum class Chore { play, break_in, refresh, scan, changed, retire, air };
[[nodiscard]] std::string_view name_of(Chore chore);

/// One thing to do on a day.
struct ChoreOfDay {
  Chore chore = Chore::play;
  std::string reed;  ///< Its label; for `air` the place.
  Message what;
};

/// What to do on `day`, in the order of the list above: which reed to play next (the one that rested longest), which
/// new one to play in and for how long, what to scan again, what changed by itself since the first scan, what to lay
/// aside, which place is too dry or too damp. `player` empty: of everybody.
[[nodiscard]] std::vector<ChoreOfDay> chores_of(const Ledger& ledger, const std::string& player, const std::string& day,
                                                const KeepingHabits& habits = {});

}  // namespace canewise
