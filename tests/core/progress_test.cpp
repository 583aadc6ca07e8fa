#include "scanproc/core/progress.h"

#include <gtest/gtest.h>

#include <utility>
#include <vector>

namespace canewise {
namespace {

TEST(Progress, NobodyNeedsToListen) { EXPECT_FALSE(Progress()) << "who calls it asks first"; }

TEST(Progress, TellsTheStageAsAMessageAndTheShareDone) {
  std::vector<std::pair<Message, double>> told;
  const Progress progress = [&](const Message& stage, double fraction) { told.emplace_back(stage, fraction); };
  progress({"stage.laser_line", {{"frame", number(3)}, {"frames", number(8)}}}, 0.1);
  progress({"stage.thickness"}, 0.6);
  ASSERT_EQ(told.size(), 2U);
  EXPECT_EQ(told[0].first, (Message{"stage.laser_line", {{"frame", number(3)}, {"frames", number(8)}}}));
  EXPECT_EQ(told[0].second, 0.1);
  EXPECT_EQ(told[1].first.id, "stage.thickness");
  EXPECT_EQ(told[1].second, 0.6);
}

}  // namespace
}  // namespace canewise
