// What `measure` and `measure_each` have in common: options out of their bounds, and the wish to stop.
#include "scanproc/pipeline/measure_loaded.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "scanproc/core/error.h"

namespace canewise {
namespace {

TEST(MeasureOptions, TheUsualOnesAndEveryInstrumentAreFine) {
  EXPECT_NO_THROW(check({}));
  for (const Instrument& instrument : kInstruments) {
    MeasureOptions options;
    options.instrument = instrument.name;
    EXPECT_NO_THROW(check(options)) << instrument.name;
  }
}

TEST(MeasureOptions, AnInstrumentThatNobodyKnowsIsRefusedWithThoseThatAreKnown) {
  MeasureOptions options;
  options.instrument = "kazoo";
  try {
    check(options);
    FAIL() << "not refused";
  } catch (const UsageError& error) {
    const std::string said = phrase(error.message());
    EXPECT_NE(said.find("kazoo"), std::string::npos) << said;
    EXPECT_NE(said.find(kInstruments.front().name), std::string::npos) << said;
  }
}

TEST(MeasureOptions, ATableToleranceIsMoreThanNothingAndNoMoreThanAMillimetre) {
  for (const double fine : {0.1, 20.0, 1000.0}) {
    MeasureOptions options;
    options.table_tolerance_um = fine;
    EXPECT_NO_THROW(check(options)) << fine;
  }
  for (const double wrong : {0.0, -1.0, 1000.1, std::nan(""), std::numeric_limits<double>::infinity()}) {
    MeasureOptions options;
    options.table_tolerance_um = wrong;
    EXPECT_THROW(check(options), UsageError) << wrong;
  }
}

TEST(MeasureOptions, TheStagesOwnOptionsAreLookedAtToo) {
  MeasureOptions cells, bending, plan;
  cells.thickness.cell_mm = 2.5;
  bending.bending.spacing_mm = -1.0;
  plan.plan.most_steps = 0;
  for (const auto* options : {&cells, &bending, &plan}) EXPECT_THROW(check(*options), UsageError);
}

TEST(Stoppable, TellsEveryStageUntilAStopIsAskedFor) {
  std::vector<std::string> told;
  const Progress progress = [&](const Message& stage, double) { told.emplace_back(stage.id); };
  std::stop_source source;
  const std::stop_token stop = source.get_token();
  const Progress stage = stoppable(progress, stop);
  stage({"stage.read"}, 0.0);
  source.request_stop();
  EXPECT_THROW(stage({"stage.plan"}, 0.5), Cancelled);
  EXPECT_EQ(told, std::vector<std::string>{"stage.read"});
}

TEST(Stoppable, StopsAlsoWhereNobodyListens) {
  const Progress nobody;
  std::stop_source source;
  const std::stop_token stop = source.get_token();
  const Progress stage = stoppable(nobody, stop);
  EXPECT_NO_THROW(stage({"stage.read"}, 0.0));
  source.request_stop();
  EXPECT_THROW(stage({"stage.read"}, 0.1), Cancelled);
}

}  // namespace
}  // namespace canewise
