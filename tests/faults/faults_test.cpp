// Every call of the command that changes a file fails once, or is the last before the process is killed: afterwards the
// old files are there as they were, or the new ones, and what is said of them is true.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/wait.h>

#include <algorithm>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <iterator>
#include <map>
#include <string>
#include <vector>

#include "tests/support/temp_file.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;
using testing::AnyOf;
using testing::HasSubstr;

/// Path below a folder -> bytes; of a folder: that it is one. Names of hidden folders count as "<staging>".
using Snapshot = std::map<std::string, std::string>;

std::string content(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

bool is_staging(const fs::path& path) { return path.filename().string().starts_with(".canewise-"); }

Snapshot snapshot_of(const fs::path& folder) {
  Snapshot found;
  for (auto it = fs::recursive_directory_iterator(folder); it != fs::recursive_directory_iterator(); ++it) {
    if (is_staging(it->path())) {
      it.disable_recursion_pending();
    } else {
      found[fs::relative(it->path(), folder)] = it->is_directory() ? "<folder>" : content(it->path());
    }
  }
  return found;
}

std::vector<fs::path> staging_in(const fs::path& folder) {
  std::vector<fs::path> found;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    if (is_staging(entry.path())) found.push_back(entry.path());
  }
  return found;
}

/// A folder that waits under a hidden name until the next writer puts it back counts as being there.
Snapshot with_those_put_aside(const fs::path& folder) {
  Snapshot found = snapshot_of(folder);
  for (const fs::path& staging : staging_in(folder)) {
    if (!fs::exists(staging / "aside") || !fs::exists(staging / "new")) continue;
    const std::string above = fs::relative(staging.parent_path(), folder);
    for (const auto& [path, bytes] : snapshot_of(staging / "aside")) {
      const bool is_taken = !found.emplace(above == "." ? path : above + "/" + path, bytes).second;
      EXPECT_FALSE(is_taken) << path << " is there twice";
    }
  }
  return found;
}

std::string names_of(const Snapshot& snapshot) {
  std::string names;
  for (const auto& [path, bytes] : snapshot) names += fmt::format("{} ({}), ", path, bytes.size());
  return names;
}

/// The beginning of the paths that change together, in the order in which a killed writer leaves them changed.
using Group = std::vector<std::string>;

struct Scenario {
  std::string name;
  std::string arguments;
  std::vector<Group> groups;  ///< Each is all or nothing, one after the other.
  std::string lacks;          ///< What the file system cannot do.
  long sample_every = 1;      ///< The sample strikes each call of so many.
  bool again_is_refused = false;
};

struct Fault {
  long at = 0;  ///< 0: none.
  std::string kind;
};

struct Outcome {
  int status = 0;
  std::string err;
  std::string struck;  ///< The call; empty if none was.
  [[nodiscard]] bool was_killed() const { return WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL; }
  [[nodiscard]] int code() const { return WIFEXITED(status) ? WEXITSTATUS(status) : -1; }
};

constexpr long kOldTime = 1767262323, kNewTime = 1780308000;  // 2026-01-01, 2026-06-01.

class Faults : public testing::Test {
 protected:
  /// Scans and results that all tests begin with, made by the command itself.
  static void SetUpTestSuite() {
    made_ = new test::TempFolder;
    const std::string line = "cd " + made_->path().string() + " && " CANEWISE_COMMAND " demo --out box >demo.txt 2>&1";
    ASSERT_EQ(std::system(line.c_str()), 0) << content(made_->path() / "demo.txt");
    (void)made_->file(
        "camera.yml",
        "%YAML:1.0\n---\nimage_width: 800\nimage_height: 600\ncamera_matrix: !!opencv-matrix\n   rows: 3\n"
        "   cols: 3\n   dt: d\n   data: [ 2400., 0., 401., 0., 2402., 299., 0., 0., 1. ]\n"
        "distortion_coefficients: !!opencv-matrix\n   rows: 5\n   cols: 1\n   dt: d\n"
        "   data: [ -0.11, 0.06, 4e-4, -3e-4, 0. ]\navg_reprojection_error: 0.12\n");
  }
  static void TearDownTestSuite() {
    delete made_;
    made_ = nullptr;
  }

  [[nodiscard]] static std::string made(const std::string& name) { return (made_->path() / name).string(); }

  /// The command, in the folder that is watched.
  Outcome run(const Scenario& scenario, const std::string& arguments, const Fault& fault, long clock = kNewTime) {
    const fs::path told = outside_.path() / "struck.txt", err = outside_.path() / "err.txt";
    fs::remove(told);
    const std::string line = fmt::format(
        "cd {} && exec env LD_PRELOAD={} CANEWISE_FAULT_BELOW={} CANEWISE_FAULT_AT={} CANEWISE_FAULT_KIND={} "
        "CANEWISE_FAULT_TOLD={} CANEWISE_FAULT_LACKS={} CANEWISE_FAULT_CLOCK={} {} {} >/dev/null 2>{}",
        work_.string(), CANEWISE_FAILING_FILES, work_.string(), fault.at, fault.kind.empty() ? "none" : fault.kind,
        told.string(), scenario.lacks, clock, CANEWISE_COMMAND, arguments, err.string());
    const int status = std::system(line.c_str());
    return {status, content(err), content(told)};
  }

  void restore_old() {
    fs::remove_all(work_);
    fs::copy(old_, work_, fs::copy_options::recursive | fs::copy_options::copy_symlinks);
  }

  /// Every state that may be found: after an error at the end of a group, after a kill also within one.
  [[nodiscard]] std::vector<Snapshot> states(const Scenario& scenario, const Snapshot& before, const Snapshot& after,
                                             bool killed) const {
    std::vector<Snapshot> all{before};
    Snapshot now = before;
    for (const Group& group : scenario.groups) {
      for (const std::string& beginning : group) {
        std::erase_if(now, [&](const auto& entry) { return entry.first.starts_with(beginning); });
        for (const auto& [path, bytes] : after) {
          if (path.starts_with(beginning)) now[path] = bytes;
        }
        if (killed || &beginning == &group.back()) all.push_back(now);
      }
    }
    EXPECT_EQ(names_of(all.back()), names_of(after)) << "the groups of the scenario name all that changes";
    return all;
  }

  void check(const Scenario& scenario, const Outcome& outcome, const Snapshot& before, const Snapshot& after) {
    const Snapshot found = with_those_put_aside(work_);
    const auto allowed = states(scenario, before, after, outcome.was_killed());
    EXPECT_TRUE(std::find(allowed.begin(), allowed.end(), found) != allowed.end()) << names_of(found);
    if (outcome.was_killed()) return;
    const bool while_clearing_up = outcome.struck == "unlinkat" || outcome.struck == "unlink" ||
                                   outcome.struck == "rmdir" || outcome.struck == "remove";
    if (while_clearing_up && outcome.code() == 0) {
      EXPECT_EQ(names_of(found), names_of(after));
    } else {
      EXPECT_EQ(outcome.code(), 6) << outcome.err;
      EXPECT_THAT(outcome.err, HasSubstr("cannot be written"));
      EXPECT_THAT(outcome.err, HasSubstr("What was there is unchanged"));
      EXPECT_TRUE(staging_in(work_).empty());
    }
  }

  /// What a killed writer left goes with the next one, who finds what he needs.
  void check_next(const Scenario& scenario) {
    if (staging_in(work_).empty()) return;
    const Outcome next = run(scenario, scenario.arguments, {});
    const bool is_refused = scenario.again_is_refused && next.code() == 6;
    EXPECT_TRUE(next.code() == 0 || is_refused) << next.err;
    if (!is_refused) {
      EXPECT_TRUE(staging_in(work_).empty());
    }
  }

  /// Strikes the first call, the second, and so on until the command ends without having been struck.
  void strike_all(const Scenario& scenario) {
    const Snapshot before = snapshot_of(work_);
    fs::rename(work_, old_);
    restore_old();
    const Outcome clean = run(scenario, scenario.arguments, {});
    ASSERT_EQ(clean.code(), 0) << clean.err;
    const Snapshot after = snapshot_of(work_);
    ASSERT_NE(before, after);
    ASSERT_TRUE(staging_in(work_).empty());
    const std::vector<std::string> kinds{"kill-before", "ENOSPC", "kill-after", "EIO", "EDQUOT"};
    const bool all = std::getenv("CANEWISE_ALL_FAULTS") != nullptr;
    long runs = 0, struck = 0;
    for (long at = 1;; at += all ? 1 : scenario.sample_every) {
      bool was_struck = false;
      for (std::size_t k = 0; k < kinds.size(); ++k) {
        if (!all && k != static_cast<std::size_t>(at / scenario.sample_every) % kinds.size())
          continue;  // Another kind each time.
        SCOPED_TRACE(fmt::format("{}: {} at call {}", scenario.name, kinds[k], at));
        restore_old();
        const Outcome outcome = run(scenario, scenario.arguments, {at, kinds[k]});
        ++runs;
        if (outcome.struck.empty()) continue;
        was_struck = true;
        ++struck;
        check(scenario, outcome, before, after);
        check_next(scenario);
        if (HasFailure()) return;
      }
      if (!was_struck) break;
    }
    EXPECT_GE(struck, 5);  // None of these writers does with fewer steps.
    fmt::print("{}: {} runs, {} faults struck\n", scenario.name, runs, struck);
  }

  test::TempFolder outside_;
  fs::path work_ = outside_.path() / "work", old_ = outside_.path() / "old";
  static test::TempFolder* made_;

  void SetUp() override { fs::create_directories(work_); }
  void put(const std::string& name, const std::string& bytes) const {
    fs::create_directories((work_ / name).parent_path());
    std::ofstream(work_ / name, std::ios::binary) << bytes;
  }
  /// An older, different measurement in `result`, with files of the user's among its own and one that no run writes
  /// now.
  void put_older_result(const Scenario& scenario) {
    const std::string older =
        "measure " + made("box/scans/reed-1-even.ply") + " --out result --save-map sdf --state wet";
    ASSERT_EQ(run(scenario, older, {}, kOldTime).code(), 0);
    put("result/my notes.txt", "plays well\n");
    put("result/pictures/of it/bark.png", "a picture");
  }
};
test::TempFolder* Faults::made_ = nullptr;

std::string measure_arguments(const std::string& scan) { return "measure " + scan + " --out result --state dry"; }

TEST_F(Faults, MeasureIntoANewFolder) {
  strike_all(
      {"measure, new folder", measure_arguments(made("box/scans/reed-3-thick-tip-corner.ply")), {{"result"}}, "", 4});
}

TEST_F(Faults, MeasureIntoAnOlderMeasurement) {
  const Scenario scenario{
      "measure, older result", measure_arguments(made("box/scans/reed-3-thick-tip-corner.ply")), {{"result"}}, "", 4};
  put_older_result(scenario);
  strike_all(scenario);
  EXPECT_EQ(content(work_ / "result/my notes.txt"), "plays well\n");
  EXPECT_EQ(content(work_ / "result/pictures/of it/bark.png"), "a picture");
  EXPECT_FALSE(fs::exists(work_ / "result/thickness.sdf")) << "the map of another scan";
}

TEST_F(Faults, MeasureWhereFoldersCannotBeExchangedAndFilesNotLinked) {
  const Scenario scenario{"measure, older result, poor file system",
                          measure_arguments(made("box/scans/reed-3-thick-tip-corner.ply")),
                          {{"result"}},
                          "exchange,links",
                          4};
  put_older_result(scenario);
  strike_all(scenario);
  EXPECT_EQ(content(work_ / "result/pictures/of it/bark.png"), "a picture");
}

TEST_F(Faults, CompareIntoANewFolder) {
  const std::string before = made("box/reed-2-heavy-right-rail");
  const Scenario scenario{
      "compare, new folder", "compare " + before + " " + before + "-scraped --out off", {{"off"}}, "", 2};
  strike_all(scenario);
}

TEST_F(Faults, CompareIntoAnOlderComparison) {
  const std::string before = made("box/reed-2-heavy-right-rail");
  const Scenario scenario{"compare, older comparison",
                          "compare " + before + " " + before + "-scraped --strokes-done 1 --out off",
                          {{"off"}},
                          "",
                          3};
  ASSERT_EQ(run(scenario, "compare " + before + " " + before + "-scraped --lang de --out off", {}, kOldTime).code(), 0);
  put("off/my notes.txt", "plays better\n");
  strike_all(scenario);
}

TEST_F(Faults, CompareThatLearnsAHand) {
  const std::string before = made("box/reed-2-heavy-right-rail");
  const Scenario scenario{"compare, learning a hand",
                          "compare " + before + " " + before + "-scraped --player me.toml --out off",
                          {{"off"}, {"me-before-", "me.toml"}},
                          "",
                          2};
  put("me.toml", "name = \"me\"\n");
  strike_all(scenario);
}

TEST_F(Faults, CalibrateIntoANewRigFile) {
  strike_all({"calibrate, new rig file", "calibrate import " + made("camera.yml"), {{"rig.toml"}}, ""});
}

TEST_F(Faults, CalibrateIntoAnOlderRigFile) {
  put("rig.toml",
      "[laser_plane]\nnormal = [0.0, 0.809, 0.588]\ndistance_mm = 67.6\n[stage]\n"
      "step_mm = [0.0, -0.1618, -0.1176]\n");
  strike_all(
      {"calibrate, older rig file", "calibrate import " + made("camera.yml"), {{"rig-before-", "rig.toml"}}, ""});
}

TEST_F(Faults, SheetsIntoAFolderOfTheUsers) {
  put("sheets/charuco-11x8-3mm.pdf", "an older sheet");
  put("sheets/step-gauge-and-plate.pdf", "another");
  put("sheets/mine.pdf", "mine");
  const Group in_order{"sheets/charuco-11x8-3mm.pdf",    "sheets/chessboard-10x7-3mm.pdf",
                       "sheets/charuco-11x8-5mm.pdf",    "sheets/chessboard-10x7-5mm.pdf",
                       "sheets/charuco-11x8-12mm.pdf",   "sheets/chessboard-10x7-12mm.pdf",
                       "sheets/step-gauge-and-plate.pdf"};
  strike_all({"sheets, the user's folder", "calibrate sheets --out sheets", {in_order}, "", 3});
  EXPECT_EQ(content(work_ / "sheets/mine.pdf"), "mine");
}

TEST_F(Faults, PlayerFileThatIsThereOnAPoorFileSystem) {
  put("me.toml", "name = \"me\"\n");
  const std::string mark = "player mark me.toml " + made("box/reed-1-even") + " 'a half softer'";
  strike_all({"player file", mark, {{"me-before-", "me.toml"}}, "links"});
}

TEST_F(Faults, TargetOfTwoReeds) {
  const std::string reeds = made("box/reed-1-even") + " " + made("box/reed-3-thick-tip-corner");
  strike_all({"target", "target make best " + reeds, {{"best.target.json"}}, "", 1, true});
}

}  // namespace
}  // namespace canewise
