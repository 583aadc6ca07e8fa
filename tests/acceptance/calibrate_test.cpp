// A rig calibrated from the pictures of a virtual one, as a person does it: step by step, with the command.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <iterator>
#include <sstream>

#include "fixtures/rig_session.h"
#include "fixtures/scanner.h"
#include "fixtures/write_cloud.h"
#include "scanproc/rig/rig.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;
using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

std::string content(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

class Calibrate : public testing::Test {
 protected:
  /// The session's pictures take a while and are never changed: all tests look at one.
  static void SetUpTestSuite() {
    session_ = new test::TempFolder;
    fixtures::write_rig_session(session_->path(), 1);
  }
  static void TearDownTestSuite() {
    delete session_;
    session_ = nullptr;
  }
  struct Outcome {
    int code = -1;
    std::string out, err;
  };
  Outcome run(const std::string& arguments) {
    const auto out = folder_.path() / "stdout.txt", err = folder_.path() / "stderr.txt";
    const std::string line = "cd " + folder_.path().string() + " && " CANEWISE_COMMAND " " + arguments + " >" +
                             out.string() + " 2>" + err.string();
    const int status = std::system(line.c_str());
    return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, content(out), content(err)};
  }
  [[nodiscard]] static std::string in(const std::string& name) { return (session_->path() / name).string(); }
  [[nodiscard]] std::size_t backups() const {
    std::size_t count = 0;
    for (const auto& entry : fs::directory_iterator(folder_.path()))
      count += entry.path().filename().string().starts_with("rig-before-");
    return count;
  }
  [[nodiscard]] bool has_picture(const std::string& name) const {
    std::error_code error;
    return fs::file_size(folder_.path() / "rig-pictures" / name, error) > 2000 && !error;
  }
  test::TempFolder folder_;
  static test::TempFolder* session_;
};
test::TempFolder* Calibrate::session_ = nullptr;

/// The commands that the session's own text and README tell a person to run.
std::vector<std::string> commands_in(const std::string& text) {
  std::vector<std::string> commands;
  std::istringstream lines(text);
  const std::string mark = "    canewise ";
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with(mark)) commands.push_back(line.substr(mark.size()));
  }
  return commands;
}

TEST_F(Calibrate, SquaresStatedTooLargeAreCaughtByTheStripsAndNothingIsChanged) {
  // As a new user tried it: 3 mm instead of 2.4, and a step of the stage that fits.
  const std::string board = " --square-mm 3";
  ASSERT_EQ(run("calibrate camera --boards " + in("boards") + board).code, 0);
  ASSERT_EQ(run("calibrate plane --boards " + in("plane-boards") + " --lines " + in("plane-lines") + board).code, 0);
  const Outcome honest = run("calibrate stage --boards " + in("stage") + " --step-mm 2 --per-frame-mm 0.2" + board);
  EXPECT_EQ(honest.code, 3) << "the stage's own step is a second length";
  EXPECT_THAT(honest.err, AllOf(HasSubstr("do not fit each other"), HasSubstr("--square-mm"), HasSubstr("--step-mm")));
  ASSERT_EQ(run("calibrate stage --boards " + in("stage") + " --step-mm 2.5 --per-frame-mm 0.25" + board).code, 0);
  const std::string before = content(folder_.path() / "rig.toml");
  const Outcome strips = run("calibrate step " + in("gauge.toml"));
  EXPECT_EQ(strips.code, 3) << strips.out;
  EXPECT_THAT(strips.err, AllOf(HasSubstr("heights come out 2"), HasSubstr("too large"), HasSubstr("--square-mm"),
                                HasSubstr("squares of 3 mm, stated"), HasSubstr("0.8"),
                                HasSubstr("height_um in gauge.toml"), HasSubstr("Nothing was changed")));
  EXPECT_EQ(content(folder_.path() / "rig.toml"), before);
}

TEST_F(Calibrate, AStageThatMovesOnePerCentTooFarContradictsTheSquaresUnlessItIsSaidToBeThatUnsure) {
  const std::string board = " --square-mm 2.4",
                    stage = "calibrate stage --boards " + in("stage") + " --per-frame-mm 0.2";
  ASSERT_EQ(run("calibrate camera --boards " + in("boards") + board).code, 0);
  const std::string before = content(folder_.path() / "rig.toml");
  const Outcome off = run(stage + board + " --step-mm 1.98");
  EXPECT_EQ(off.code, 3);
  EXPECT_THAT(off.err, AllOf(HasSubstr("the stage's step of 1.98 mm comes out 1."), HasSubstr("--u-step-rel"),
                             HasSubstr("--square-mm 2.4"), HasSubstr("Nothing was changed")));
  EXPECT_EQ(content(folder_.path() / "rig.toml"), before);
  EXPECT_EQ(run(stage + board + " --step-mm 1.98 --u-step-rel 0.01").code, 0);
}

TEST_F(Calibrate, WhatHungOnTheOldGeometryGoesWithIt) {
  const std::string board = " --square-mm 2.4";
  ASSERT_EQ(run("calibrate camera --boards " + in("boards") + board).code, 0);
  Rig rig = read_rig(folder_.path() / "rig.toml");
  rig.height_scale = HeightScale{0.8, 1e-3, Eigen::Vector3d::UnitZ()};
  rig.plate_form = PlateForm{};
  rig.plate_form->heights_um = Eigen::ArrayXXd::Zero(2, 2);
  rig.priors.plate_form_um = 0.5;
  rig.obtained["plate_form_um"] = "3 empty scans";
  rig.scale_parts["step gauge"] = 1e-3;
  combine_scale(rig);
  (void)save_rig(folder_.path() / "rig.toml", rig);
  const Outcome plane = run("calibrate plane --boards " + in("plane-boards") + " --lines " + in("plane-lines") + board);
  ASSERT_EQ(plane.code, 0) << plane.err;
  EXPECT_THAT(plane.out, HasSubstr("calibrate them anew"));
  const Rig after = read_rig(folder_.path() / "rig.toml");
  EXPECT_FALSE(after.height_scale || after.plate_form) << "a factor of the old plane would be applied to the new";
  EXPECT_TRUE(after.scale_parts.empty());
  EXPECT_EQ(after.priors.scale_rel, Priors{}.scale_rel);
  EXPECT_EQ(after.priors.plate_form_um, Priors{}.plate_form_um);
}

TEST_F(Calibrate, ACameraFileOfOpenCvAndAPlaneByHandMakeARig) {
  (void)folder_.file(
      "camera.yml",
      "%YAML:1.0\n---\ncalibration_time: \"a Tuesday\"\nimage_width: 800\nimage_height: 600\n"
      "camera_matrix: !!opencv-matrix\n   rows: 3\n   cols: 3\n   dt: d\n   data: [ 2400., 0., 401., 0., "
      "2402., 299., 0., 0., 1. ]\ndistortion_coefficients: !!opencv-matrix\n   rows: 5\n   cols: 1\n   dt: "
      "d\n   data: [ -0.11, 0.06, 4e-4, -3e-4, 0. ]\navg_reprojection_error: 0.12\n");
  (void)folder_.file(
      "rig.toml",
      "[laser_plane]\nnormal = [0.0, 0.809, 0.588]\ndistance_mm = 67.6\n[stage]\nstep_mm = [0.0, -0.1618, "
      "-0.1176]\n");
  const Outcome outcome = run("calibrate import camera.yml");
  ASSERT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_THAT(outcome.out, AllOf(HasSubstr("800 by 600 pixels"), HasSubstr("0.20 %"), HasSubstr("0.12 px"),
                                 HasSubstr("a Tuesday"), HasSubstr("known to"), HasSubstr("scan the empty plate")));
  EXPECT_EQ(backups(), 1U);
  const Rig rig = read_rig(folder_.path() / "rig.toml");
  EXPECT_TRUE(rig.is_laser_line());
  EXPECT_EQ(rig.camera->camera.cy, 299.0);
  EXPECT_GT(rig.priors.scale_rel, 2e-3) << "nobody said how sure it is";
  const std::string before = content(folder_.path() / "rig.toml");
  EXPECT_EQ(run("calibrate import rig.toml").code, 3);
  EXPECT_EQ(run("calibrate import camera.yml --width 640 --height 480").code, 3);
  EXPECT_EQ(run("calibrate import camera.yml --width 640").code, 2);
  EXPECT_EQ(content(folder_.path() / "rig.toml"), before);
}

TEST_F(Calibrate, TheSessionsTextLeadsFromABoardToAMeasuredReedAndReadmeSaysTheSame) {
  const auto commands = commands_in(content(session_->path() / "READ-ME.txt"));
  ASSERT_EQ(commands.size(), 8U);
  const std::string readme = content(CANEWISE_SOURCE_DIR "/README.md");
  for (const std::string& command : commands) EXPECT_THAT(readme, HasSubstr("    canewise " + command)) << command;
  for (const auto& entry : fs::directory_iterator(session_->path())) {
    if (entry.is_directory()) fs::create_directory_symlink(entry.path(), folder_.path() / entry.path().filename());
  }
  fs::copy_file(session_->path() / "gauge.toml", folder_.path() / "gauge.toml");  // Names its scans beside itself.
  const auto after = [&](std::size_t k) {
    const Outcome outcome = run(commands[k]);
    EXPECT_EQ(outcome.code, 0) << commands[k] << "\n" << outcome.err;
    return outcome.out;
  };
  EXPECT_THAT(after(0), AllOf(HasSubstr("limit 0.5 px"), HasSubstr("next: "), HasSubstr("calibrate plane")));
  EXPECT_TRUE(has_picture("camera.png"));
  EXPECT_EQ(backups(), 0U);
  EXPECT_THAT(after(1), HasSubstr("calibrate stage"));
  EXPECT_TRUE(has_picture("plane.png"));
  EXPECT_EQ(backups(), 1U) << "the file before is kept";
  EXPECT_THAT(after(2), HasSubstr("The stage moves 1.00"));
  EXPECT_TRUE(has_picture("stage.png"));
  (void)after(3);
  EXPECT_TRUE(has_picture("plate.png"));
  EXPECT_THAT(after(4), AllOf(HasSubstr("ISO 5436-1"), HasSubstr("no verification")));
  EXPECT_TRUE(has_picture("step.png"));
  EXPECT_THAT(after(5), HasSubstr("Left is left"));
  EXPECT_TRUE(has_picture("hand.png"));
  EXPECT_THAT(after(6), AllOf(HasSubstr("Smallest left-right difference that this rig shows"),
                              HasSubstr("scale: step gauge"), HasSubstr("assumed"), HasSubstr("calibrate reversal")));
  EXPECT_TRUE(has_picture("budget.png"));
  const Outcome measured = run(commands[7] + " --out measured");
  ASSERT_EQ(measured.code, 0) << measured.err;
  EXPECT_THAT(measured.out, AllOf(HasSubstr("the right rail"), HasSubstr("form of the rig's plate was taken off"),
                                  HasSubstr("proved by a mark"), Not(HasSubstr("stick tape"))));
  const std::string json = content(folder_.path() / "measured" / "result.json");
  EXPECT_THAT(json, AllOf(HasSubstr("laser-line frames"), HasSubstr("3 empty scans of")));
}

TEST_F(Calibrate, AStepThatFailsLeavesTheRigFileAsItWas) {
  ASSERT_EQ(run("calibrate camera --square-mm 2.4 --boards " + in("boards")).code, 0);
  const std::string before = content(folder_.path() / "rig.toml");
  fs::create_directory(folder_.path() / "none");
  (void)folder_.file("gauge.toml", "[[step]]\nheight_um = 500\nu_um = 2\nscans = [\"nowhere.ply\"]\n");
  (void)folder_.file("typo.toml", "[[step]]\nheight = 500\n");
  const struct {
    std::string arguments;
    int code;
    std::string words;
  } cases[] = {
      {"calibrate camera --boards none --square-mm 2.4", 3, "holds no PNG, TIFF or JPEG photograph"},
      {"calibrate camera --boards nowhere --square-mm 2.4", 3, "nowhere"},
      {"calibrate camera --boards " + in("plane-lines") + " --square-mm 2.4", 3, "only 0 of 10"},
      {"calibrate camera --boards " + in("boards") + " --square-mm 2.4 --marker-mm 1.2", 3, "do not fit each other"},
      {"calibrate camera --boards " + in("boards") + " --columns 10 --rows 8", 2, "odd number"},
      {"calibrate plane --square-mm 2.4 --boards " + in("plane-boards") + " --lines " + in("boards"), 3,
       "16 line pictures"},
      {"calibrate plane --square-mm 2.4 --boards " + in("plane-boards") + " --lines " + in("plane-boards"), 3,
       "poses show board and line"},
      {"calibrate stage --square-mm 2.4 --boards " + in("stage") + " --step-mm 2.2 --per-frame-mm 0.2", 3,
       "do not fit each other"},
      {"calibrate stage --square-mm 2.4 --boards " + in("boards") + " --step-mm 2 --per-frame-mm 0.2", 3, "turned"},
      {"calibrate plate gauge.toml", 3, "gauge.toml"},
      {"calibrate step gauge.toml", 3, "nowhere.ply"},
      {"calibrate step typo.toml", 3, "height"},
      {"calibrate hand " + in("empty-1"), 3, "need --rig"},
      {"calibrate reversal --straight a.ply --turned b.ply", 3, "a.ply"},
      {"calibrate study typo.toml", 3, "step"},
      {"calibrate touch typo.toml", 3, "scan"},
  };
  for (const auto& c : cases) {
    const Outcome outcome = run(c.arguments);
    EXPECT_EQ(outcome.code, c.code) << c.arguments << "\n" << outcome.err;
    EXPECT_THAT(outcome.err,
                AllOf(testing::StartsWith("canewise: "), HasSubstr(c.words), Not(HasSubstr("internal error"))))
        << c.arguments;
    EXPECT_EQ(content(folder_.path() / "rig.toml"), before) << c.arguments;
  }
  EXPECT_EQ(backups(), 0U);
}

TEST_F(Calibrate, ARigFileThatCannotBeReadIsNeverOverwritten) {
  (void)folder_.file("rig.toml", "name = 'mine'\n[camera]\nwidth = 800\n");
  const Outcome outcome = run("calibrate camera --square-mm 2.4 --boards " + in("boards"));
  EXPECT_EQ(outcome.code, 3);
  EXPECT_THAT(outcome.err, AllOf(HasSubstr("rig.toml"), HasSubstr("height")));
  EXPECT_EQ(content(folder_.path() / "rig.toml"), "name = 'mine'\n[camera]\nwidth = 800\n");
}

TEST_F(Calibrate, ReversalStudyAndCheckTakeScans) {
  const auto scan = [&](const std::string& name, double roll_um, std::uint64_t seed) {
    fixtures::SceneOptions scene;
    scene.nuisance.lie.roll_um = roll_um;
    (void)folder_.file(
        name, fixtures::ply_binary(fixtures::scan_reed(fixtures::Reed({}), fixtures::laser_line(), scene, seed).cloud));
  };
  std::string study = "quantity = 'rails'\n";
  for (int k = 0; k < 4; ++k) {
    scan("s" + std::to_string(k) + ".ply", 0.4 * k, static_cast<std::uint64_t>(k));
    scan("t" + std::to_string(k) + ".ply", -0.4 * k, static_cast<std::uint64_t>(10 + k));
    study += "[[scan]]\nreed = '" + std::to_string(k / 2) + "'\nperson = '" + std::to_string(k % 2) + "'\nresult = 's" +
             std::to_string(k) + ".ply'\n";
    study += "[[scan]]\nreed = '" + std::to_string(k / 2) + "'\nperson = '" + std::to_string(k % 2) + "'\nresult = 't" +
             std::to_string(k) + ".ply'\n";
  }
  (void)folder_.file("study.toml", study);
  Outcome step = run("calibrate reversal --straight s0.ply s1.ply s2.ply s3.ply --turned t0.ply t1.ply t2.ply t3.ply");
  EXPECT_EQ(step.code, 0) << step.err;
  EXPECT_TRUE(has_picture("reversal.png"));
  EXPECT_THAT(content(folder_.path() / "rig.toml"), HasSubstr("reversal of 20"));
  step = run("calibrate study study.toml");
  EXPECT_EQ(step.code, 0) << step.err;
  EXPECT_THAT(step.out, HasSubstr("cannot sort")) << "it is one and the same reed";
  EXPECT_TRUE(has_picture("study.png"));
  EXPECT_EQ(backups(), 0U) << "a study changes no rig";
  for (int k = 0; k < 4; ++k)
    step = run("calibrate check s" + std::to_string(k) + ".ply --reed-before s0.ply --reed-after t3.ply");
  EXPECT_EQ(step.code, 0) << step.err;
  EXPECT_THAT(step.out, AllOf(HasSubstr("Check 4 of at least 5"),
                              HasSubstr("canewise cannot tell whether the reed or the rig changed")));
  for (int k = 0; k < 3; ++k) step = run("calibrate check s" + std::to_string(k) + ".ply");
  EXPECT_THAT(step.out, HasSubstr("as ever"));
  EXPECT_TRUE(has_picture("check.png"));
}

TEST_F(Calibrate, SheetsArePdfsOfTheirTrueSize) {
  const Outcome outcome = run("calibrate sheets --out sheets");
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_THAT(outcome.out, HasSubstr("100 %"));
  std::size_t pdfs = 0;
  for (const auto& entry : fs::directory_iterator(folder_.path() / "sheets")) {
    EXPECT_TRUE(content(entry.path()).starts_with("%PDF-")) << entry.path();
    ++pdfs;
  }
  EXPECT_EQ(pdfs, 7U);
  EXPECT_EQ(run("calibrate sheets --columns 40 --rows 39 --square-mm 10").code, 2);
}

}  // namespace
}  // namespace canewise
