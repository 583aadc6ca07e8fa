// The command as a person meets it: outputs, exit codes, messages; nothing half-written.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <iterator>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>
#include <sstream>

#include "fixtures/scanner.h"
#include "fixtures/write_cloud.h"
#include "tests/support/command_run.h"
#include "tests/support/scans.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;
using test::content;
using test::Outcome;
using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

class Command : public test::CommandRun {};

TEST_F(Command, MeasureWritesEveryOutputAndOneScreen) {
  const Outcome outcome = run("measure " + scan() + " --out result --state dry");
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_EQ(outcome.err, "");
  for (const char* name : {"result.json", "thickness.csv", "map.png", "balance.png", "report.html", "template.pdf"}) {
    EXPECT_GT(fs::file_size(folder_.path() / "result" / name), 1000U) << name;
  }
  EXPECT_EQ(entries("result"), 8U);
  EXPECT_LE(std::count(outcome.out.begin(), outcome.out.end(), '\n'), 40);
  EXPECT_THAT(outcome.out, AllOf(HasSubstr("right rail"), HasSubstr("To do:"), HasSubstr("Sharp blade"),
                                 HasSubstr("95 times in 100")));
  EXPECT_THAT(content(folder_.path() / "result/result.json"), HasSubstr("\"state=dry\""));
}

TEST_F(Command, JsonPrintsMachineReadableOutputOnly) {
  const Outcome outcome = run("measure " + scan() + " --json");
  EXPECT_EQ(outcome.code, 0);
  EXPECT_TRUE(outcome.out.starts_with("{") && outcome.out.ends_with("}\n"));
  EXPECT_FALSE(fs::exists(folder_.path() / "scan-canewise"));
}

TEST_F(Command, ProgressForProgramsIsOneJsonLineAStageOnStandardError) {
  const Outcome outcome = run("measure " + scan() + " --out result --progress");
  EXPECT_EQ(outcome.code, 0);
  std::istringstream lines(outcome.err);
  std::set<std::string> stages;
  double fraction = 0.0;
  for (std::string line; std::getline(lines, line);) {
    const auto told = nlohmann::json::parse(line);
    stages.insert(told.at("stage").at("id").get<std::string>());
    EXPECT_GE(told.at("fraction").get<double>(), fraction) << line;
    fraction = told.at("fraction").get<double>();
  }
  EXPECT_GE(stages.size(), 5U);
  EXPECT_LE(fraction, 1.0);
  EXPECT_GT(fraction, 0.8);
  const std::string told = run("measure missing.ply --progress").err;
  const auto last = told.rfind('\n', told.size() - 2);
  const auto refused = nlohmann::json::parse(told.substr(last == std::string::npos ? 0 : last + 1));
  EXPECT_THAT(refused.at("refused").dump(), HasSubstr("missing.ply"));
}

TEST_F(Command, MeasuringTwiceGivesTheSameNumbers) {
  const std::string file = scan();
  const std::regex time("\"measured_at\":\"[^\"]*\"");
  const auto once = std::regex_replace(run("measure " + file + " --json").out, time, "");
  const auto twice = std::regex_replace(run("measure " + file + " --json").out, time, "");
  EXPECT_EQ(once, twice);
}

TEST_F(Command, UsageErrorsAreTwo) {
  EXPECT_EQ(run("").code, 2);
  EXPECT_EQ(run("measure").code, 2);
  EXPECT_EQ(run("polish scan.ply").code, 2);
  EXPECT_THAT(run("polish scan.ply").err, HasSubstr("no verb 'polish'"));
  const std::string file = scan();
  EXPECT_EQ(run("measure " + file + " --units parsec").code, 2);
  EXPECT_EQ(run("measure " + file + " --instrument kazoo").code, 2);
  EXPECT_EQ(run("measure " + file + " --target no-such").code, 2);
  EXPECT_EQ(run("measure " + file + " --cell-mm 77").code, 2);
  EXPECT_EQ(run("measure " + file + " --datum pads").code, 2);
  EXPECT_EQ(run("measure " + file + " " + file + " --each").code, 2);
  EXPECT_EQ(run("--help").code, 0);
  EXPECT_EQ(run("measure --help").code, 0);
  EXPECT_EQ(run("--version").code, 0);
}

TEST_F(Command, BadInputIsThreeNamesTheFileAndLeavesNothing) {
  folder_.file("empty.ply", "");
  folder_.file("words.txt", "dear diary\n");
  folder_.file("nan.xyz", "nan nan nan\nnan nan nan\n");
  folder_.file("huge.ply",
               "ply\nformat binary_little_endian 1.0\nelement vertex 1000000000000\nproperty float x\nproperty float "
               "y\nproperty float z\nend_header\nabc");
  std::string cut = content(folder_.path() / scan());
  cut.resize(cut.size() / 2);
  folder_.file("cut.ply", cut);
  for (const char* name : {"missing.ply", "empty.ply", "words.txt", "nan.xyz", "huge.ply", "cut.ply"}) {
    const Outcome outcome = run(std::string("measure ") + name + " --out result");
    EXPECT_EQ(outcome.code, 3) << name;
    EXPECT_THAT(outcome.err, AllOf(HasSubstr(name), Not(HasSubstr("terminate")), Not(HasSubstr("std::")))) << name;
    EXPECT_EQ(outcome.out, "");
    EXPECT_FALSE(fs::exists(folder_.path() / "result")) << name;
  }
  folder_.file("rig.toml", "[priors]\nspeed = 3\n");
  EXPECT_EQ(run("measure " + scan() + " --rig rig.toml").code, 3);
  EXPECT_EQ(run("measure " + scan() + " --player rig.toml").code, 3);
  EXPECT_EQ(run("measure " + scan() + " --target rig.toml").code, 3);
  EXPECT_EQ(run("target make mine rig.toml").code, 3);
  folder_.file("deep.json", "{\"format\":\"canewise-result\",\"version\":1,\"a\":" + std::string(2000000, '['));
  EXPECT_EQ(run("target make mine deep.json").code, 3);
  EXPECT_EQ(run("target make mine " + std::string(300, 'a')).code, 3);
  EXPECT_EQ(run("measure " + scan() + " --target " + std::string(300, 'a')).code, 2);
}

TEST_F(Command, WhatIsNoReedIsFourAndSaysWhy) {
  using fixtures::SceneContent;
  for (const auto& [content, words] :
       std::vector<std::pair<SceneContent, const char*>>{{SceneContent::plate_only, "plate"},
                                                         {SceneContent::two_reeds, "2 reeds"},
                                                         {SceneContent::coin, "coin"},
                                                         {SceneContent::tip_half, "butt is missing"},
                                                         {SceneContent::upside_down, "upside down"}}) {
    fixtures::SceneOptions scene;
    scene.content = content;
    const Outcome outcome = run("measure " + scan("thing.ply", scene) + " --out result");
    EXPECT_EQ(outcome.code, 4) << words;
    EXPECT_THAT(outcome.err, AllOf(HasSubstr("thing.ply"), HasSubstr(words)));
    EXPECT_FALSE(fs::exists(folder_.path() / "result"));
  }
  const Outcome coarse = run("measure " + scan("depth.ply", {}, 40.0, fixtures::depth_camera()) + " --out result");
  EXPECT_EQ(coarse.code, 4);
  EXPECT_THAT(coarse.err, HasSubstr("cannot judge a reed"));
  folder_.file("line.xyz", [] {
    std::string text;
    for (int i = 0; i < 3000; ++i) text += std::to_string(0.02 * i) + " 0 0\n";
    return text;
  }());
  EXPECT_EQ(run("measure line.xyz").code, 4);
}

TEST_F(Command, OutputThatCannotBeWrittenIsSixAndKeepsWhatWasThere) {
  const std::string file = scan();
  EXPECT_EQ(run("measure " + file + " --out /proc/nowhere").code, 6);
  folder_.file("taken", "a file");
  EXPECT_EQ(run("measure " + file + " --out taken").code, 6);
  EXPECT_EQ(content(folder_.path() / "taken"), "a file");
  // A file size limit stands for a full disk: writing fails half-way.
  ASSERT_EQ(run("measure " + file + " --out kept").code, 0);
  const std::string before = content(folder_.path() / "kept/result.json");
  const Outcome full = run("measure " + file + " --out kept", "ulimit -f 60; ");
  EXPECT_EQ(full.code, 6) << full.err;
  EXPECT_EQ(content(folder_.path() / "kept/result.json"), before);
  EXPECT_EQ(entries("kept"), 8U);
}

TEST_F(Command, AFolderThatHoldsSomethingElseIsNotWrittenInto) {
  const std::string file = scan();
  ASSERT_EQ(run("measure " + file + " --out a").code, 0);
  for (const char* proof : {"", "{\"format\":\"speed-test\"}", "not even JSON"}) {
    for (const auto& [verb, name] : {std::pair{"measure " + file, "result.json"}, {"compare a a", "compare.json"}}) {
      fs::remove_all(folder_.path() / "mine");
      fs::create_directories(folder_.path() / "mine");
      folder_.file("mine/holiday.jpg", "sea");
      if (*proof != '\0') folder_.file(std::string("mine/") + name, proof);
      const std::size_t before = entries("mine");
      const Outcome refused = run(verb + " --out mine");
      EXPECT_EQ(refused.code, 6) << refused.err;
      EXPECT_THAT(refused.err, AllOf(HasSubstr("mine"), HasSubstr(name), HasSubstr("Nothing there was touched"),
                                     HasSubstr("--out")));
      EXPECT_EQ(entries("mine"), before);
      EXPECT_EQ(content(folder_.path() / "mine/holiday.jpg"), "sea");
      EXPECT_EQ(content(folder_.path() / "mine" / name), proof);
    }
  }
  folder_.file("mine/index.html", "my own page");
  EXPECT_EQ(run("demo --out mine").code, 6);
  EXPECT_EQ(content(folder_.path() / "mine/index.html"), "my own page");
}

TEST_F(Command, MeasuringAgainReplacesOneRunByTheOtherAndKeepsWhatIsNotItsOwn) {
  const std::string file = scan();
  ASSERT_EQ(run("measure " + file + " --out kept --save-map x3p").code, 0);
  folder_.file("kept/notes.txt", "plays well");
  fs::create_directory(folder_.path() / "elsewhere");
  fs::create_directory_symlink("../kept", folder_.path() / "elsewhere/link");
  const Outcome again = run("measure " + file + " --out elsewhere/link --state wet");
  EXPECT_EQ(again.code, 0) << again.err;
  EXPECT_TRUE(fs::is_symlink(folder_.path() / "elsewhere/link"));
  EXPECT_THAT(content(folder_.path() / "kept/result.json"), HasSubstr("\"state=wet\""));
  EXPECT_EQ(content(folder_.path() / "kept/notes.txt"), "plays well");
  EXPECT_FALSE(fs::exists(folder_.path() / "kept/thickness.x3p")) << "the map of the run before";
  EXPECT_EQ(entries("kept"), 9U);
}

TEST_F(Command, StoppedOnRequestItLeavesNothing) {
  // A scan large enough to be interrupted while it is read or measured.
  fixtures::ScannerModel fine;
  fine.along_mm = fine.between_mm = 0.03;
  const std::string file = scan("large.ply", {}, 0.0, fine);
  const auto err = folder_.path() / "stopped.txt";
  const std::string line = "cd " + folder_.path().string() + " && timeout -s INT 0.3 " + CANEWISE_COMMAND +
                           " measure " + file + " --out stopped >/dev/null 2>" + err.string() +
                           "; ls -A | grep -c -e '^stopped$' -e '^.canewise' > left.txt; true";
  ASSERT_EQ(std::system(line.c_str()), 0);
  EXPECT_THAT(content(err), HasSubstr("stopped on request"));
  EXPECT_EQ(content(folder_.path() / "left.txt"), "0\n");
}

TEST_F(Command, TargetsAreListedMadeAndUsed) {
  EXPECT_THAT(run("target list").out, AllOf(HasSubstr("bb-thick-filed-rounded"), HasSubstr("invented")));
  ASSERT_EQ(run("measure " + scan("a.ply", {}, 0.0) + " --out a --state dry").code, 0);
  ASSERT_EQ(run("measure " + scan("b.ply", {}, 10.0) + " --out b --state dry").code, 0);
  ASSERT_EQ(run("measure " + scan("w.ply", {}, 10.0) + " --out w --state wet").code, 0);
  const Outcome made = run("target make best a b/result.json");
  EXPECT_EQ(made.code, 0) << made.err;
  EXPECT_THAT(content(folder_.path() / "best.target.json"), HasSubstr("mean of 2 reeds"));
  const Outcome used = run("measure a.ply --out c --target best.target.json");
  EXPECT_EQ(used.code, 0) << used.err;
  EXPECT_THAT(used.out, HasSubstr("Target best"));
  const Outcome mixed = run("target make mixed a w");
  EXPECT_EQ(mixed.code, 2);
  EXPECT_THAT(mixed.err, HasSubstr("wet"));
}

TEST_F(Command, DemoMakesFourReedsScrapesOneAndTellsWhereTheirReportsAre) {
  const Outcome outcome = run("demo --out box");
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  const std::string said = std::regex_replace(outcome.out, std::regex("\\s+"), " ");
  EXPECT_THAT(said, AllOf(HasSubstr("invented"), HasSubstr("index.html"), HasSubstr("this side is thin"),
                          HasSubstr("off the sound side"), HasSubstr("Take nothing off")));
  std::size_t reports = 0;
  for (const auto& entry : fs::recursive_directory_iterator(folder_.path() / "box"))
    reports += entry.path().filename() == "report.html";
  EXPECT_EQ(reports, 5U) << "four reeds, one of them again after scraping";
  // What the demo compared can be compared by hand, and the hand is learned.
  const std::string before = "box/reed-2-heavy-right-rail", after = before + "-scraped";
  const Outcome compared = run("compare " + before + " " + after + " --player me.toml --out off");
  EXPECT_EQ(compared.code, 0) << compared.err;
  EXPECT_THAT(compared.out, AllOf(HasSubstr("right rail"), HasSubstr("as planned"), HasSubstr("What is left:"),
                                  HasSubstr("Sharp blade"), HasSubstr("me.toml")));
  EXPECT_EQ(entries("off"), 3U);
  EXPECT_THAT(content(folder_.path() / "me.toml"), HasSubstr("depth_per_stroke_um = 1."));
  const std::string learned = content(folder_.path() / "me.toml");
  const Outcome again = run("compare " + before + " " + after + " --player me.toml --strokes-done 0.5 --out off");
  EXPECT_THAT(again.out, HasSubstr("me.toml knew of this scraping already"));
  EXPECT_EQ(content(folder_.path() / "me.toml"), learned);
  const Outcome backwards = run("compare " + after + " " + before + " --out nothing");
  EXPECT_EQ(backwards.code, 4);
  EXPECT_THAT(backwards.err, HasSubstr("wrong order"));
  EXPECT_FALSE(fs::exists(folder_.path() / "nothing"));
  EXPECT_EQ(run("compare " + before + " nowhere").code, 3);
}

TEST_F(Command, AnAimIsSaidInWords) {
  const std::string measure = "measure " + scan("reed.ply", {}, 0.0) + " --out aimed";
  EXPECT_THAT(run(measure + " --aim 'a quarter softer'").out, HasSubstr("left flank"));
  EXPECT_THAT(run(measure + " --aim 'a half harder'").out, HasSubstr("never harder"));
  for (const char* nonsense : {"nicer", "reference", "target"}) {
    const Outcome refused = run(measure + " --aim " + nonsense);
    EXPECT_EQ(refused.code, 2);
    EXPECT_THAT(refused.err, HasSubstr(nonsense));
  }
}

TEST_F(Command, WhatIsNoFileIsRefusedAtOnce) {
  const auto made = [&](const std::string& line) {
    return std::system(("cd " + folder_.path().string() + " && " + line).c_str());
  };
  ASSERT_EQ(
      made("ln -s loop loop && ln -s other.ply one.ply && ln -s one.ply other.ply && mkfifo pipe && mkdir plain && "
           "mkdir frames && mkfifo frames/frame.png && ln -s /dev/zero frames/zero.png"),
      0);
  folder_.file("frames/camera.toml", "width = 4\nheight = 3\nfx = 5\nfy = 5\ncx = 2\ncy = 1\n");
  for (const char* name : {"loop", "one.ply", "pipe", "/dev/zero", "/dev/stdin", "plain", "frames"}) {
    const Outcome outcome = run(std::string("measure ") + name + " --out result", "timeout 5 ");
    EXPECT_EQ(outcome.code, 3) << name << outcome.err;
    EXPECT_THAT(outcome.err, HasSubstr(name));
    EXPECT_FALSE(fs::exists(folder_.path() / "result"));
  }
}

TEST_F(Command, SeveralReedsGetAFolderEach) {
  fixtures::SceneOptions scene;
  fixtures::ReedFaults heavy = test::rough_cane(7);
  heavy.heavy_rail_um = 60.0;
  scene.neighbours = {fixtures::Reed({}, heavy)};
  const std::string file = scan("tray.ply", scene, 0.0);
  const Outcome refused = run("measure " + file + " --out tray");
  EXPECT_EQ(refused.code, 4);
  EXPECT_THAT(refused.err, HasSubstr("--each"));
  const Outcome each = run("measure " + file + " --each --out tray");
  EXPECT_EQ(each.code, 0) << each.err;
  EXPECT_EQ(entries("tray/reed-1"), 8U);
  EXPECT_EQ(entries("tray/reed-2"), 8U);
  EXPECT_THAT(content(folder_.path() / "tray/reed-1/result.json"), HasSubstr("headline.agree"));
  EXPECT_THAT(content(folder_.path() / "tray/reed-2/result.json"), HasSubstr("headline.fault"));
  EXPECT_THAT(each.out, AllOf(HasSubstr("reed-1:"), HasSubstr("reed-2:"), HasSubstr("right rail")));
}

TEST_F(Command, BothSidesGiveATablePictureAndAVerdict) {
  fixtures::SceneOptions scene;
  scene.plate_margin_mm = 22.0;
  scene.balls = fixtures::carrier_balls();
  scene.nuisance.lie.bow_um = 35.0;
  scene.content = fixtures::SceneContent::on_carrier;
  const std::string top = scan("top.ply", scene, 0.0);
  scene.content = fixtures::SceneContent::from_below;
  const std::string underside = scan("underside.ply", scene, 0.0);
  const Outcome outcome = run("measure " + top + " " + underside + " --out both");
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_THAT(outcome.out, AllOf(HasSubstr("The table is warped"), HasSubstr("a positive")));
  EXPECT_GT(fs::file_size(folder_.path() / "both/table.png"), 1000U);
  EXPECT_THAT(content(folder_.path() / "both/result.json"), HasSubstr("\"two-sided\""));
  EXPECT_THAT(run("measure " + top + " " + underside + " --table-tolerance-um 60").out, HasSubstr("The table is flat"));
}

TEST_F(Command, MapsGoToSurfaceProgramsAndBack) {
  const Outcome measured = run("measure " + scan() + " --out result --save-map x3p --save-map sdf");
  EXPECT_EQ(measured.code, 0) << measured.err;
  EXPECT_EQ(entries("result"), 10U);
  EXPECT_EQ(run("convert result again.x3p").code, 0);
  EXPECT_EQ(run("convert result/thickness.x3p one.sdf").code, 0);
  EXPECT_EQ(run("convert result/thickness.sdf two.sdf").code, 0);
  EXPECT_EQ(run("convert two.sdf text.sdf --to sdf-ascii").code, 0);
  EXPECT_EQ(run("convert text.sdf three.sdf").code, 0);
  EXPECT_EQ(content(folder_.path() / "two.sdf"), content(folder_.path() / "result/thickness.sdf"));
  EXPECT_EQ(content(folder_.path() / "three.sdf"), content(folder_.path() / "two.sdf"));
  EXPECT_EQ(run("convert result again.x3p").code, 6);  // Is there already.
  EXPECT_EQ(run("convert result nowhere.txt").code, 2);
  EXPECT_EQ(run("convert scan.ply map.x3p").code, 3);
  // A thickness map is no scan: it has no plate.
  EXPECT_EQ(run("measure result/thickness.x3p").code, 4);
}

TEST_F(Command, AMarkedReedIsBentAnewAndAnotherInItsPlaceDoesNotCount) {
  const std::string reed = scan();
  ASSERT_EQ(run("measure " + reed + " --out best").code, 0);
  const Outcome marked = run("player mark players/me.toml best reference");
  ASSERT_EQ(marked.code, 0) << marked.err;
  EXPECT_THAT(marked.out, HasSubstr("this reed is now 'reference'"));
  EXPECT_THAT(content(folder_.path() / "players/me.toml"), HasSubstr("result = \"../best\""));
  const Outcome same = run("measure " + reed + " --player players/me.toml --out new");
  EXPECT_THAT(same.out, HasSubstr("like your reference")) << same.err;
  // Another lip: both are bent under it, so that they still agree.
  const std::string lip = content(folder_.path() / "players/me.toml") + "\n";
  folder_.file("players/firm.toml", std::regex_replace(lip, std::regex("\\[lip\\]"), "[lip]\nat_mm = 13.0"));
  EXPECT_THAT(run("measure " + reed + " --player players/firm.toml --out new").out, HasSubstr("like your reference"));
  // Measured a second later into the marked reed's folder: that may be any reed.
  std::string result = content(folder_.path() / "best/result.json");
  result = std::regex_replace(result, std::regex("\"measured_at\": ?\"[^\"]*\""),
                              "\"measured_at\":\"2020-01-01T00:00:00Z\"");
  folder_.file("best/result.json", result);
  const Outcome other = run("measure " + reed + " --player players/me.toml --out new");
  EXPECT_EQ(other.code, 0) << other.err;
  EXPECT_THAT(other.out, Not(HasSubstr("like your reference")));
  EXPECT_THAT(content(folder_.path() / "new/result.json"), HasSubstr("known_reed.measured_again"));
}

}  // namespace
}  // namespace canewise
