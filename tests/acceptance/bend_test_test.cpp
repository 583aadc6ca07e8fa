// A player's way: measure a reed, bend it with a weight, measure it with its own cane.
#include <gmock/gmock.h>

#include <nlohmann/json.hpp>

#include "fixtures/bench.h"
#include "scanproc/pipeline/result_json.h"
#include "tests/support/command_run.h"

namespace canewise::test {
namespace {

using testing::HasSubstr;

class BendTestRun : public CommandRun {
 protected:
  BendTestRun() {
    const fixtures::BenchedReed drawn = fixtures::draw_bench(5);
    const auto write = [&](const char* name, const Cloud& cloud) { folder_.file(name, fixtures::ply_binary(cloud)); };
    write("plate.ply", fixtures::scan_reed(drawn.reed, fixtures::profilometer(), {}, 5).cloud);
    write("free.ply", fixtures::bench_scan(drawn.reed, drawn.bench, fixtures::profilometer(), 6));
    write("both.ply", fixtures::bench_scan(drawn.reed, drawn.loaded(LoadSide::centre), fixtures::profilometer(), 7));
    write("left.ply", fixtures::bench_scan(drawn.reed, drawn.loaded(LoadSide::left), fixtures::profilometer(), 8));
    truth_ = drawn.cane;
  }
  Cane truth_;
};

TEST_F(BendTestRun, MeasureBendAndMeasureAgainWithTheReedsOwnCane) {
  ASSERT_EQ(run("measure plate.ply --state dry --out before").code, 0);
  const Outcome bent =
      run("bend-test free.ply both.ply left.ply --side centre --side left --mass-g 100 --state dry "
          "--result before --out bent");
  ASSERT_EQ(bent.code, 0) << bent.err;
  EXPECT_THAT(bent.out, HasSubstr("100 g at both rails"));
  EXPECT_THAT(bent.out, HasSubstr("--bend-test bent"));
  for (const char* file : {"bend-test.json", "bend-test.html", "deflection.png"})
    EXPECT_TRUE(std::filesystem::exists(folder_.path() / "bent" / file)) << file;
  const Outcome after = run("measure plate.ply --state dry --bend-test bent --out after");
  ASSERT_EQ(after.code, 0) << after.err;
  EXPECT_THAT(after.out, HasSubstr("With its own cane"));
  const Result with = read_result(folder_.path() / "after"), without = read_result(folder_.path() / "before");
  ASSERT_TRUE(with.cane);
  const auto u_rel = [](const Result& result) {
    const SpreadValue& stiffness = result.mechanics.figure(BendingFigure::stiffness_lip);
    return stiffness.u_cane / stiffness.value;
  };
  EXPECT_GT(u_rel(without), 0.2) << "N/mm of assumed cane";
  EXPECT_LT(u_rel(with), 0.04) << "N/mm of its own";
  EXPECT_THAT(content(folder_.path() / "after" / "report.html"), HasSubstr("own, bent on"));
  EXPECT_THAT(with.options, testing::Contains("bend-test=bent"));
}

TEST_F(BendTestRun, WhatCannotBeIsRefusedByItsName) {
  ASSERT_EQ(run("measure plate.ply --state dry --out before").code, 0);
  const std::string bend = "bend-test free.ply both.ply --mass-g 100 --result before ";
  EXPECT_EQ(run("bend-test free.ply both.ply --mass-g 100").code, 2) << "of which reed?";
  EXPECT_EQ(run("bend-test --result before --mass-g 100").code, 2);
  EXPECT_EQ(run("bend-test free.ply both.ply --result before").code, 2) << "how heavy?";
  EXPECT_EQ(run("bend-test free.ply both.ply left.ply --mass-g 100 --result before").code, 2) << "which is which?";
  EXPECT_EQ(run(bend + "--state wet").code, 2);
  EXPECT_EQ(run("bend-test both.ply free.ply --at-mm 5 --mass-g 100 --state dry --result before").code, 4);
  EXPECT_EQ(run("bend-test free.ply none.ply --mass-g 100 --state dry --result before").code, 3);
  EXPECT_FALSE(std::filesystem::exists(folder_.path() / "free-bend-test")) << "nothing is left behind";
  std::filesystem::create_directory(folder_.path() / "mine");
  folder_.file("mine/letter.txt", "dear");
  EXPECT_EQ(run(bend + "--state dry --out mine").code, 6) << "somebody else's folder";
  ASSERT_EQ(run(bend + "--state dry --out bent").code, 0);
  EXPECT_EQ(run("measure plate.ply --state wet --bend-test bent").code, 2) << "wet cane is another cane";
  EXPECT_EQ(run("measure plate.ply --state dry --bend-test before").code, 3) << "no bend test";
}

TEST_F(BendTestRun, TheSheetIsWritten) {
  const Outcome sheet = run("bend-test --sheet sheet.pdf");
  EXPECT_EQ(sheet.code, 0) << sheet.err;
  EXPECT_EQ(content(folder_.path() / "sheet.pdf").substr(0, 4), "%PDF");
}

}  // namespace
}  // namespace canewise::test
