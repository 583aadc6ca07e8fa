// Ways out of the served folder: paths, links, and links that come while a file is being read.
#include <fcntl.h>
#include <gtest/gtest.h>
#include <linux/fs.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <atomic>
#include <fstream>
#include <thread>

#include "tests/attack/support/crowd.h"
#include "tests/attack/support/tally.h"

namespace canewise::attack {
namespace {

namespace fs = std::filesystem;

constexpr const char* kSecret = "FROM OUTSIDE";
const std::string kOutsideResult =
    R"({"format":"canewise-result","version":9,"measured_at":"2026-01-01T00:00:00Z","state":"dry","headline":"FROM OUTSIDE"})";
const std::string kInsideResult =
    R"({"format":"canewise-result","version":9,"measured_at":"2026-01-01T00:00:00Z","state":"dry","headline":"from inside"})";

/// A reed inside, and one outside with the same files.
void furnish(const Served& served) {
  served.put("reed", "result.json", kInsideResult);
  served.put("reed", "balance.png", "from inside");
  fs::create_directories(served.outside() / "reed");
  std::ofstream(served.outside() / "reed" / "result.json") << kOutsideResult;
  std::ofstream(served.outside() / "reed" / "balance.png") << kSecret;
}

/// Two names exchanged again and again, each time at once: neither is ever missing.
class Exchanging {
 public:
  Exchanging(const fs::path& one, const fs::path& other) {
    exchanging_ = std::jthread([this, one, other](const std::stop_token& stop) {
      while (!stop.stop_requested()) {
        failed_ =
            failed_ || ::syscall(SYS_renameat2, AT_FDCWD, one.c_str(), AT_FDCWD, other.c_str(), RENAME_EXCHANGE) != 0;
        ++times_;
      }
    });
  }
  ~Exchanging() { std::printf("    exchanged %ld times\n", times_.load()); }
  [[nodiscard]] bool works() const { return !failed_; }

 private:
  std::atomic<long> times_{0};
  std::atomic<bool> failed_{false};
  std::jthread exchanging_;  // Last: it ends before the others.
};

void expect_nothing_from_outside(const Served& served, const std::vector<std::string>& targets, int times) {
  Tally tally("reads while files are exchanged for links");
  std::size_t leaked = 0, wrong = 0, inside = 0;
  for (int k = 0; k < times; ++k) {
    for (const std::string& target : targets) {
      const Answer answer = served.get(target);
      tally.add(answer);
      leaked += answer.body.find(kSecret) != std::string::npos;
      inside += answer.status == 200;
      wrong += answer.status != 200 && !refuses(answer.status);
    }
  }
  EXPECT_EQ(leaked, 0U) << "answers with what lies outside, of " << targets.size() * static_cast<std::size_t>(times);
  EXPECT_EQ(wrong, 0U);
  EXPECT_GT(inside, 0U) << "or nothing was tried";
}

void swap_file(const char* file, int times) {
  const Served served;
  furnish(served);
  const fs::path reed = served.folder() / "reed";
  fs::create_symlink(served.outside() / "reed" / file, reed / "other");
  Exchanging exchanging(reed / file, reed / "other");
  expect_nothing_from_outside(served, {std::string("/reed/reed/") + file}, times);
  expect_nothing_from_outside(served, {"/api/results", "/reed/reed/", "/compare?before=reed&after=reed"}, times / 100);
  EXPECT_TRUE(exchanging.works());
}

void swap_folder(int times) {
  const Served served;
  furnish(served);
  fs::create_directory_symlink(served.outside() / "reed", served.folder() / "other");
  Exchanging exchanging(served.folder() / "reed", served.folder() / "other");
  expect_nothing_from_outside(served, {"/reed/reed/balance.png", "/reed/reed/result.json", "/reed/other/balance.png"},
                              times / 2);
  expect_nothing_from_outside(served, {"/api/results", "/reed/reed/", "/compare?before=reed&after=reed"}, times / 100);
  EXPECT_TRUE(exchanging.works());
}

TEST(Exchanged, PicturesForLinks) { swap_file("balance.png", 1000); }
TEST(Exchanged, ResultsForLinks) { swap_file("result.json", 1000); }
TEST(Exchanged, FoldersForLinks) { swap_folder(1000); }
TEST(ExchangedAtLength, PicturesForLinks) { swap_file("balance.png", 10000); }
TEST(ExchangedAtLength, ResultsForLinks) { swap_file("result.json", 10000); }
TEST(ExchangedAtLength, FoldersForLinks) { swap_folder(10000); }

TEST(Links, ThatStandInTheFolderAreNotFollowed) {
  const Served served;
  furnish(served);
  const fs::path folder = served.folder();
  fs::create_directory_symlink(served.outside() / "reed", folder / "linked");
  fs::create_directory_symlink(served.outside(), folder / "above");
  fs::create_directory_symlink("../outside/reed", folder / "relative");
  fs::create_directory_symlink("/proc/self/root" + (served.outside() / "reed").string(), folder / "roundabout");
  served.put("half", "result.json", kInsideResult);
  fs::create_symlink("../../outside/reed/balance.png", folder / "half" / "balance.png");
  fs::create_symlink("/proc/self/environ", folder / "half" / "map.png");
  fs::create_directories(folder / "half" / "template.pdf");
  EXPECT_EQ(::mkfifo((folder / "half" / "modes.png").c_str(), 0600), 0);
  served.put("linked-result", "balance.png", "from inside");
  fs::create_symlink(served.outside() / "reed" / "result.json", folder / "linked-result" / "result.json");
  for (const char* target :
       {"/reed/linked/balance.png", "/reed/linked/result.json", "/reed/linked/", "/reed/above/balance.png",
        "/reed/relative/balance.png", "/reed/roundabout/balance.png", "/reed/half/balance.png", "/reed/half/map.png",
        "/reed/half/template.pdf", "/reed/half/modes.png", "/reed/linked-result/result.json", "/reed/linked-result/"}) {
    const Answer answer = served.get(target);
    EXPECT_TRUE(answer.closed) << target;
    EXPECT_TRUE(refuses(answer.status)) << target << ": " << answer.status;
    EXPECT_EQ(answer.body.find(kSecret), std::string::npos) << target;
  }
  EXPECT_EQ(served.get("/api/results").body.find(kSecret), std::string::npos);
}

TEST(Paths, NeverLeaveTheFolder) {
  const Served served;
  furnish(served);
  served.put(".hidden", "result.json", kInsideResult);
  served.put(".hidden", "balance.png", kSecret);
  served.put("reed", "player.toml", kSecret);
  std::ofstream(served.folder() / "player.toml.png") << kSecret;
  Tally tally("paths");
  for (const char* target : {"/../outside/reed/balance.png",
                             "/reed/../outside/reed/balance.png",
                             "/reed/..%2foutside%2freed/balance.png",
                             "/reed/%2e%2e/balance.png",
                             "/reed/%2e%2e%2foutside%2freed/result.json",
                             "/reed/..%5coutside%5creed/balance.png",
                             "/reed/..%252foutside%252freed/balance.png",
                             "/reed/%c0%ae%c0%ae%2foutside%2freed/balance.png",
                             "/reed/..;/outside/reed/balance.png",
                             "/reed/.hidden/balance.png",
                             "/reed/%2ehidden/balance.png",
                             "/reed/./balance.png",
                             "/reed/%2e/balance.png",
                             "/reed//balance.png",
                             "//outside/reed/balance.png",
                             "/reed/reed/..%2f..%2foutside%2freed%2fbalance.png",
                             "/reed/reed/../../../outside/reed/balance.png",
                             "/reed/reed%00/balance.png",
                             "/reed/reed/balance.png%00.html",
                             "/reed/reed/player.toml",
                             "/reed/reed/%2e%2e%2fplayer.toml.png",
                             "/reed/%2ftmp/balance.png",
                             "/reed/reed/%2fetc%2fpasswd",
                             "/%2e%2e/outside/reed/balance.png",
                             "/reed/reed/balance.png/",
                             "/reed/reed/balance.png/..",
                             "/reed/%/balance.png",
                             "/reed/%zz/balance.png",
                             "/reed/%2/balance.png",
                             "/reed/reed\\balance.png",
                             "/compare?before=..%2foutside%2freed&after=reed",
                             "/compare?before=reed&after=.hidden",
                             "/compare?before=%2e%2e&after=%2e",
                             "/compare?before=reed%00&after=reed"}) {
    const Answer answer = served.get(target);
    tally.add(answer);
    EXPECT_TRUE(refuses(answer.status)) << target << ": " << answer.status;
    EXPECT_EQ(answer.body.find(kSecret), std::string::npos) << target;
    EXPECT_EQ((answer.head + answer.body).find(served.folder().string()), std::string::npos)
        << target << " tells where the folder is";
  }
}

}  // namespace
}  // namespace canewise::attack
