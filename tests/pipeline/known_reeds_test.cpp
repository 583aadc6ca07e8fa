// A marked reed is compared as it bends now, on the mouthpiece of today, or not at all.
#include "scanproc/pipeline/known_reeds.h"

#include <gtest/gtest.h>

#include "scanproc/pipeline/result_json.h"
#include "tests/support/results.h"

namespace canewise {
namespace {

const Result& reed() {
  static const Result result = test::heavy_rail_result();
  return result;
}

/// A player whose reference lies in this folder.
Player with_reference(const test::TempFolder& folder) {
  (void)folder.file("result.json", json_from_result(reed()));
  Player player;
  player.folder = folder.path();
  player.known = {{"reference", 0.0, 0.0, reed().state, "result.json", reed().measured_at}};
  return player;
}

/// Why the only mark does not count.
std::string why_not(const KnownReedsNow& now) {
  EXPECT_EQ(now.player.known.at(0).stiffness_n_per_mm, 0.0);
  EXPECT_TRUE(now.player.known_in(MoistureState::dry).empty()) << "what does not count is not compared with";
  if (now.notes.size() != 1U) return "said " + std::to_string(now.notes.size()) + " times";
  return std::get<Messages>(now.notes.front().arguments.at("why")).front().id;
}

TEST(KnownReeds, AReferenceBendsAsItsResultSays) {
  const test::TempFolder folder;
  const KnownReedsNow now = bend_known_reeds(with_reference(folder), "clarinet-bb");
  EXPECT_TRUE(now.notes.empty());
  const double measured = reed().mechanics.figure(BendingFigure::stiffness_lip).value;
  EXPECT_NEAR(now.player.known.at(0).stiffness_n_per_mm / measured, 1.0, 1e-4) << "the map's last digits";
  EXPECT_EQ(now.player.known_in(MoistureState::dry).size(), 1U);
  EXPECT_TRUE(now.player.known.at(0).result.empty()) << "a result does not tell where the player keeps others";
}

TEST(KnownReeds, WithAnotherLipItIsBentUnderThat) {
  const test::TempFolder folder;
  Player player = with_reference(folder);
  player.lip_at_mm = 13.0;  // Nearer to where it is held: it is stiffer.
  const double usual = bend_known_reeds(with_reference(folder), "clarinet-bb").player.known.at(0).stiffness_n_per_mm;
  EXPECT_GT(bend_known_reeds(player, "clarinet-bb").player.known.at(0).stiffness_n_per_mm, 1.3 * usual);
}

TEST(KnownReeds, WhatWasMeasuredAgainSinceIsAnotherReed) {
  const test::TempFolder folder;
  Player player = with_reference(folder);
  player.known.at(0).measured_at = "2020-01-01T00:00:00Z";
  EXPECT_EQ(why_not(bend_known_reeds(player, "clarinet-bb")), "known_reed.measured_again");
}

TEST(KnownReeds, WhatIsGoneOrAnotherInstrumentsOrOlderDoesNotCount) {
  const test::TempFolder folder;
  EXPECT_EQ(why_not(bend_known_reeds(with_reference(folder), "sax-alto")), "known_reed.other_instrument");
  Player gone = with_reference(folder);
  gone.known.at(0).result = "lost/result.json";
  EXPECT_EQ(why_not(bend_known_reeds(gone, "clarinet-bb")), "known_reed.cannot_read");
  Player older = with_reference(folder);
  older.known.at(0).result.clear();
  EXPECT_EQ(why_not(bend_known_reeds(older, "clarinet-bb")), "known_reed.no_result");
  Player too_long = with_reference(folder);
  too_long.ligature_mm = 79.0;
  EXPECT_EQ(why_not(bend_known_reeds(too_long, "clarinet-bb")), "known_reed.cannot_bend");
}

TEST(KnownReeds, AReferenceThatWasBentIsBentWithItsOwnCaneIfThisReedIsToo) {
  const test::TempFolder folder;
  const Player player = with_reference(folder);
  Result bent = reed();
  bent.cane.emplace();
  bent.cane->cane.e_l_mpa *= 1.4, bent.cane->cane.e_t_mpa *= 1.4, bent.cane->cane.g_lt_mpa *= 1.4;
  (void)folder.file("result.json", json_from_result(bent));
  const KnownReed own = bend_known_reeds(player, "clarinet-bb", true).player.known.at(0),
                  assumed = bend_known_reeds(player, "clarinet-bb", false).player.known.at(0);
  EXPECT_TRUE(own.cane_is_measured);
  EXPECT_FALSE(assumed.cane_is_measured);
  EXPECT_NEAR(own.stiffness_n_per_mm / assumed.stiffness_n_per_mm, 1.4, 0.03);
}

}  // namespace
}  // namespace canewise
