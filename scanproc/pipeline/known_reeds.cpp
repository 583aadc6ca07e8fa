#include "scanproc/pipeline/known_reeds.h"

#include <utility>

#include "scanproc/core/error.h"
#include "scanproc/mechanics/bend_reed.h"
#include "scanproc/pipeline/result_json.h"

namespace canewise {
namespace {

/// Why this mark does not count now; empty if it does, with its stiffness.
Message bend_again(const Player& player, std::string_view instrument, bool with_measured_cane, KnownReed& reed) {
  if (reed.result.empty()) return {"known_reed.no_result"};
  try {
    const Result result = read_result(player.folder / reed.result);
    if (result.measured_at != reed.measured_at) return {"known_reed.measured_again"};
    if (result.instrument != instrument) return {"known_reed.other_instrument"};
    reed.cane_is_measured = with_measured_cane && result.cane.has_value();
    const auto stiffness = stiffness_under_lip({.map = result.map,
                                                .outline = result.outline,
                                                .assessment = result.assessment,
                                                .player = player,
                                                .instrument = result.instrument,
                                                .state = result.state,
                                                .measured_cane = reed.cane_is_measured ? &*result.cane : nullptr});
    if (!stiffness) return {"known_reed.cannot_bend"};
    reed.stiffness_n_per_mm = *stiffness;
    return {};
  } catch (const InputError&) {
    return {"known_reed.cannot_read"};
  }
}

}  // namespace

KnownReedsNow bend_known_reeds(Player player, std::string_view instrument, bool with_measured_cane) {
  KnownReedsNow now;
  for (KnownReed& reed : player.known) {
    reed.stiffness_n_per_mm = 0.0;
    if (Message why = bend_again(player, instrument, with_measured_cane, reed); !why.empty())
      now.notes.push_back({"known_reed.not_counted", {{"mark", text(reed.mark)}, {"why", part(std::move(why))}}});
  }
  // Where they lie is the player's file's business.
  for (KnownReed& reed : player.known) reed.result.clear(), reed.measured_at.clear();
  player.folder.clear();
  now.player = std::move(player);
  return now;
}

}  // namespace canewise
