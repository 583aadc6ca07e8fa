#include "scanproc/advise/marked_reeds.h"

#include <gtest/gtest.h>

#include <random>

#include "scanproc/ledger/file_result.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

struct MarkedReeds : testing::Test {
  test::TempFolder folder;
  Ledger ledger{folder.path() / "ledger.sqlite", Ledger::Access::make};

  void SetUp() override { ledger.insert("player", {{"name", "Anna"}}); }
  void reed(const std::string& label, double stiffness, double imbalance, const std::string& plan = "nothing to do") {
    add_reed(ledger, label);
    ledger.update("reed", label, {{"player", "Anna"}});
    ledger.insert("result", {{"folder", label},
                             {"reed", label},
                             {"measured_at", "2026-12-01T10:00:00Z"},
                             {"state", "dry"},
                             {"plan", plan}});
    const std::vector<std::pair<std::string, double>> figures{{"stiffness", stiffness},
                                                              {"imbalance tip", imbalance},
                                                              {"imbalance lip", 0.3 * imbalance},
                                                              {"tip", 100.0},
                                                              {"heart", 2200.0},
                                                              {"rails", 900.0},
                                                              {"vamp", 33.0},
                                                              {"worst difference", 0.5}};
    for (const auto& [name, value] : figures)
      ledger.insert("figure", {{"folder", label}, {"name", name}, {"value", value}, {"u", 0.002 * std::abs(value)}});
  }
  TrialRecord played(const std::string& label, int mark, const std::string& day = "2026-12-02") {
    TrialRecord trial;
    trial.reed = label, trial.player = "Anna", trial.played_at = day + "T10:00:00Z";
    trial.response = trial.evenness = trial.tone = mark;
    trial.id = std::get<std::int64_t>(ledger.insert("trial", row_of(trial)));
    return trial;
  }
};

TEST_F(MarkedReeds, TheMapJoinsTheSigns) {
  reed("K", 40.0, 0.0);
  ledger.update("reed", "K", {{"is_keeper", std::int64_t{1}}});
  reed("soft", 22.0, 0.0);
  const PlayingAdvice advice = signs_of_trial(ledger, played("soft", 4));
  ASSERT_EQ(advice.findings.size(), 1U) << "cane scatters by a tenth, this reed's shape is half as stiff";
  EXPECT_EQ(advice.findings.front().complaint, Complaint::too_soft);
  reed("nearly", 36.0, 0.0);
  EXPECT_TRUE(signs_of_trial(ledger, played("nearly", 4)).findings.empty());
  reed("heavy", 40.0, 0.1, "steps");
  EXPECT_TRUE(signs_of_trial(ledger, played("heavy", 4)).findings.empty()) << "steps may be for softness";
  for (const Row& row : ledger.rows("figure", {.equal = {{"folder", "heavy"}, {"name", "worst difference"}}}))
    ledger.update("figure", row.at("id"), {{"value", 2.0}});
  EXPECT_EQ(signs_of_trial(ledger, played("heavy", 4)).findings.front().complaint, Complaint::unbalanced);
}

TEST_F(MarkedReeds, OtherReedsOfTheDayAreThoseOnTheSameMouthpiece) {
  ledger.insert("mouthpiece", {{"name", "open"}});
  for (const char* label : {"A", "B", "C"}) reed(label, 40.0, 0.0);
  (void)played("A", 1);
  (void)played("A", 1);
  for (const Finding& finding : signs_of_trial(ledger, played("C", 1)).findings)
    EXPECT_NE(finding.complaint, Complaint::not_the_reed) << "one other reed, tried twice";
  (void)played("B", 2);
  EXPECT_EQ(signs_of_trial(ledger, played("C", 1)).findings.front().complaint, Complaint::not_the_reed);
  ledger.update("trial", std::int64_t{4}, {{"mouthpiece", "open"}});
  for (const Finding& finding : signs_of_trial(ledger, played("C", 1)).findings)
    EXPECT_NE(finding.complaint, Complaint::not_the_reed);
}

TEST_F(MarkedReeds, AMarkedReedCountsOnceWithItsMeanAndItsSizeOfImbalance) {
  EXPECT_EQ(learned_of_player(ledger, "Anna").missing, kFewestMarkedReeds);
  std::mt19937_64 random(2);
  std::uniform_real_distribution<double> askew(-0.12, 0.12);
  for (int k = 0; k < 16; ++k) {
    const std::string label = "R" + std::to_string(k);
    const double imbalance = askew(random);
    reed(label, 40.0, imbalance);
    const int mark = static_cast<int>(std::lround(5.0 - 30.0 * std::abs(imbalance)));
    (void)played(label, mark);
    (void)played(label, mark, "2026-12-03");
  }
  add_reed(ledger, "unscanned");
  (void)played("unscanned", 1);
  const Learned learned = learned_of_player(ledger, "Anna");
  EXPECT_EQ(learned.reeds, 16);
  ASSERT_TRUE(learned.is_claimed);
  EXPECT_TRUE(learned.weights.front().figure.starts_with("imbalance"));
  EXPECT_LT(learned.weights.front().marks_per_spread, 0.0);
  EXPECT_EQ(learned_of_player(ledger, "Ben").reeds, 0);
}

}  // namespace
}  // namespace canewise
