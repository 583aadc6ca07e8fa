// Every call of 'canewise serve' and of its children that changes a file fails once: who sends a scan is told, the
// server lives on, and what is in the folder is a whole result or nothing.
#include <gtest/gtest.h>

#include <algorithm>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <iostream>
#include <string>
#include <vector>

#include "tests/attack/support/scans_sent.h"
#include "tests/attack/support/served.h"
#include "tests/support/temp_file.h"

namespace canewise::attack {
namespace {

namespace fs = std::filesystem;

/// For a server that is started while this lives, and its children.
class WithFault {
 public:
  WithFault(const fs::path& below, long at, const std::string& kind) {
    const std::pair<const char*, std::string> values[]{{"TMPDIR", below.string()},
                                                       {"LD_PRELOAD", CANEWISE_FAILING_FILES},
                                                       {"CANEWISE_FAULT_BELOW", below.string()},
                                                       {"CANEWISE_FAULT_AT", std::to_string(at)},
                                                       {"CANEWISE_FAULT_KIND", kind}};
    for (const auto& [name, value] : values) ::setenv(name, value.c_str(), 1);
  }
  ~WithFault() {
    for (const char* name :
         {"TMPDIR", "LD_PRELOAD", "CANEWISE_FAULT_BELOW", "CANEWISE_FAULT_AT", "CANEWISE_FAULT_KIND"})
      ::unsetenv(name);
  }
  WithFault(const WithFault&) = delete;
  WithFault& operator=(const WithFault&) = delete;
};

std::vector<std::string> names_in(const fs::path& folder) {
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(folder)) names.push_back(entry.path().filename().string());
  return names;
}

/// How it ended for who sent the scan: 'done', 'refused', or the answer's status.
std::string sent_under(long at, const std::string& kind) {
  const test::TempFolder around;
  const WithFault fault(fs::canonical(around.path()), at, kind);
  Served served;
  const Answer answer = served.send_scan("reed.ply", good_scan());
  std::string end = std::to_string(answer.status);
  if (answer.status == 202) {
    end = last_state(events_of(served, job_of(answer)));
    EXPECT_TRUE(end == "done" || end == "refused") << kind << ' ' << at << ": " << end;
  } else {
    EXPECT_GE(answer.status, 500) << kind << ' ' << at;
    EXPECT_NE(answer.body.find("\"message\""), std::string::npos) << kind << ' ' << at << ": " << answer.body;
    EXPECT_EQ(answer.body.find(around.path().string()), std::string::npos) << "a place on this computer is told";
  }
  EXPECT_EQ(served.get("/").status, 200) << "the server lives on after " << kind << ' ' << at;
  EXPECT_EQ(served.end_by(SIGTERM).exit_code, 0) << kind << ' ' << at;
  for (const std::string& name : names_in(served.folder())) {
    if (name.starts_with('.')) continue;  // Taking away can fail too: the next start does it.
    const fs::path result = served.folder() / name;
    EXPECT_TRUE(fs::exists(result / "result.json") && fs::exists(result / "report.html"))
        << kind << ' ' << at << ": " << name << " is half there";
    EXPECT_EQ(end, "done") << kind << ' ' << at << ": what is there was said not to be";
  }
  if (end == "done") {
    EXPECT_TRUE(fs::exists(served.folder() / "reed/result.json")) << kind << ' ' << at;
  }
  return end;
}

TEST(ServeFaults, AreToldAndLeaveNothingHalf) {
  ASSERT_EQ(sent_under(0, "none"), "done");
  const bool all = std::getenv("CANEWISE_ALL_FAULTS") != nullptr;
  std::vector<long> calls{1, 2, 3, 5, 8, 13, 21};
  if (all) {
    calls.clear();
    for (long at = 1; at <= 60; ++at) calls.push_back(at);
  }
  int struck = 0, runs = 0;
  for (const std::string& kind :
       all ? std::vector<std::string>{"ENOSPC", "EIO", "EDQUOT"} : std::vector<std::string>{"ENOSPC"}) {
    for (const long at : calls) struck += sent_under(at, kind) != "done", ++runs;
  }
  std::cout << runs << " scans sent, " << struck << " refused for a fault\n";
  EXPECT_GE(struck, all ? 30 : 3);
}

}  // namespace
}  // namespace canewise::attack
