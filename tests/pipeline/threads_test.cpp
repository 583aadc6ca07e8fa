// Equal input gives equal bytes, however many threads a machine has: parts are fixed, threads are not.
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "scanproc/core/parallel.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/report/outputs.h"
#include "tests/support/results.h"

namespace canewise {
namespace {

std::vector<OutputFile> outputs_with(std::size_t threads, const fixtures::ScannerModel& scanner) {
  const test::TempFolder folder;
  fixtures::ReedFaults faults = test::rough_cane(1);
  faults.heavy_rail_um = 40.0;
  MeasureInputs inputs;
  inputs.scans = {folder.file(
      "reed.ply", fixtures::ply_binary(fixtures::scan_reed(fixtures::Reed({}, faults), scanner, {}, 1).cloud))};
  std::vector<OutputFile> files;
  with_threads(threads, [&] {
    Result result = measure(inputs);
    result.measured_at = "2026-11-29T12:00:00Z";
    files = output_files(result, {});
  });
  return files;
}

TEST(Threads, HaveNoSayInAnyOutput) {
  for (const auto& scanner : {fixtures::profilometer(), fixtures::laser_line()}) {
    const auto one = outputs_with(1, scanner);
    ASSERT_GT(one.size(), 6U);
    for (const std::size_t threads : {2U, 3U, 8U}) {
      const auto several = outputs_with(threads, scanner);
      ASSERT_EQ(several.size(), one.size());
      for (std::size_t k = 0; k < one.size(); ++k)
        EXPECT_TRUE(several[k].bytes == one[k].bytes) << one[k].name << " with " << threads << " threads";
    }
  }
}

}  // namespace
}  // namespace canewise
