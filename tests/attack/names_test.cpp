// Names of scans that would leave the folder, hide in it, or be read as an option.
#include <gtest/gtest.h>

#include <algorithm>

#include "tests/attack/support/scans_sent.h"
#include "tests/attack/support/tally.h"
#include "tests/attack/support/watches.h"

namespace canewise::attack {
namespace {

using namespace std::string_literals;
namespace fs = std::filesystem;

/// As bytes; the first few are measured in the quick part too.
std::vector<std::string> hostile_names() {
  std::vector<std::string> all{"-rf.ply"s,
                               "--out.ply"s,
                               ".ply"s,
                               "../escaped.ply"s,
                               "a\nb.ply"s,
                               "player.toml.ply"s,
                               "--help"s,
                               "--"s,
                               "-"s,
                               "---.ply"s,
                               "- -.ply"s,
                               "-o=x.ply"s,
                               "@file.ply"s,
                               "+x.ply"s,
                               "=x.ply"s,
                               "_x.ply"s,
                               " x.ply"s,
                               ".."s,
                               "."s,
                               "..."s,
                               "..ply"s,
                               ".hidden.ply"s,
                               ".canewise-incoming-x.ply"s,
                               ".canewise-1-x.ply"s,
                               ".git.ply"s,
                               "../../etc/passwd"s,
                               "/etc/passwd.ply"s,
                               "..\\..\\escaped.ply"s,
                               "C:\\escaped.ply"s,
                               "C:escaped.ply"s,
                               "//host/escaped.ply"s,
                               "a/b/../../../escaped.ply"s,
                               "a/..ply"s,
                               "..%2fescaped.ply"s,
                               "..\xc0\xaf\x65scaped.ply"s,
                               "\xe2\x80\xae"
                               "ylp.escaped"s,
                               "\xff\xfe.ply"s,
                               "a\0b.ply"s,
                               "\0.ply"s,
                               "a\rb.ply"s,
                               "a\tb.ply"s,
                               "\x1b[2J.ply"s,
                               "\x7f.ply"s,
                               "a\x08\x08.ply"s,
                               "a\"b.ply"s,
                               "a'b.ply"s,
                               "a`b`.ply"s,
                               "$(b).ply"s,
                               "a;b.ply"s,
                               "a|b.ply"s,
                               "a&b.ply"s,
                               "a<b>.ply"s,
                               "a*?.ply"s,
                               "a%s%n.ply"s,
                               "~root.ply"s,
                               "player.toml"s,
                               "index.html"s,
                               "CON.ply"s,
                               "NUL"s,
                               "aux.ply"s,
                               "x.ply."s,
                               "x.ply "s,
                               "x.ply::$DATA"s,
                               std::string(300, 'a') + ".ply",
                               std::string(5000, 'b'),
                               std::string(300, '.') + "ply",
                               std::string(300, '/') + "c.ply",
                               std::string(200, '-') + "d.ply"};
  return all;
}

bool is_plain(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '.' || c == '-' ||
         c == '_' || c == ' ';
}
bool begins_plainly(const std::string& name) {
  return !name.empty() && std::isalnum(static_cast<unsigned char>(name.front())) != 0;
}

/// What came of the names, on the disk and beside the folder.
void expect_plain_folders(const Served& served, const DiskWatch& disk) {
  constexpr std::size_t longest = 128;
  EXPECT_TRUE(DiskWatch::is_quiet(served)) << "uploads are left";
  EXPECT_EQ(served.beside(), (std::vector<std::string>{"outside", "served"}));
  EXPECT_TRUE(fs::is_empty(served.outside()));
  EXPECT_FALSE(fs::exists(served.folder() / "player.toml")) << "the hand's file is no result";
  for (const auto& entry : fs::directory_iterator(served.folder())) {
    const std::string name = entry.path().filename().string();
    EXPECT_TRUE(entry.is_directory() && !entry.is_symlink()) << testing::PrintToString(name);
    EXPECT_TRUE(begins_plainly(name)) << testing::PrintToString(name);
    EXPECT_TRUE(std::all_of(name.begin(), name.end(), is_plain)) << testing::PrintToString(name);
    EXPECT_LE(name.size(), longest);
    EXPECT_TRUE(fs::exists(entry.path() / "result.json")) << testing::PrintToString(name);
  }
  // What is given to the measurement as a file's name, hidden while it comes in.
  for (const std::string& path : disk.names()) {
    if (!path.starts_with(".canewise-incoming-")) continue;
    const std::string inside = path.substr(std::min(path.find('/'), path.size()));
    EXPECT_TRUE(inside.empty() || begins_plainly(inside.substr(1))) << testing::PrintToString(path);
    EXPECT_LE(std::count(path.begin(), path.end(), '/'), 1) << testing::PrintToString(path);
  }
}

void send_named(const std::vector<std::string>& names, const std::string& scan) {
  const Served served;
  const DiskWatch disk(served.folder());
  Tally tally("scans with hostile names");
  std::vector<std::string> jobs;
  for (const std::string& name : names) {
    const Answer answer = served.send_scan(percent_encoded(name), scan);
    tally.add(answer);
    EXPECT_TRUE(answer.status == 202 || answer.status == 400) << testing::PrintToString(name) << ": " << answer.status;
    if (answer.status == 202) jobs.push_back(job_of(answer));
    constexpr std::size_t waiting = 20;  // Few enough that none is turned away for want of room.
    if (jobs.size() >= waiting) {
      for (const auto& job : jobs) EXPECT_NE(last_state(events_of(served, job)), "");
      jobs.clear();
    }
  }
  for (const auto& job : jobs) EXPECT_NE(last_state(events_of(served, job)), "");
  expect_plain_folders(served, disk);
}

TEST(Names, OfBrokenScansStayInTheFolder) { send_named(hostile_names(), "ply\nformat ascii 1.0\nend_header\n"); }

TEST(Names, AnOptionsNameMakesAPlainFolder) {
  auto names = hostile_names();
  names.resize(6);
  send_named(names, good_scan());
}

TEST(NamesAtLength, OfGoodScansMakePlainFolders) { send_named(hostile_names(), good_scan()); }

TEST(Names, NoOptionComesInByAQuery) {
  const Served served;
  Tally tally("options in a query");
  for (const char* query :
       {"state=--out", "state=dry%00--out", "state=dry%20--out", "state=dry%0a--out", "rolling_test=--rig",
        "rolling_test=left,--rig", "state=-h", "rolling_test=%2d%2dhelp", "state=Dry", "state=%2fetc%2fpasswd"}) {
    const Answer answer = served.send_scan(std::string("a.ply&") + query, "ply\n");
    tally.add(answer);
    EXPECT_EQ(answer.status, 400) << query;
  }
  EXPECT_EQ(served.send_scan("", "ply\n").status, 400) << "no name";
}

}  // namespace
}  // namespace canewise::attack
