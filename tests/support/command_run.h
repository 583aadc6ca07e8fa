#pragma once

#include <gtest/gtest.h>
#include <sys/wait.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "fixtures/scanner.h"
#include "fixtures/write_cloud.h"
#include "tests/support/scans.h"
#include "tests/support/temp_file.h"

namespace canewise::test {

struct Outcome {
  int code = -1;
  std::string out, err;
};

inline std::string content(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

/// The command in a folder of its own.
class CommandRun : public testing::Test {
 protected:
  Outcome run(const std::string& arguments, const std::string& prefix = "") {
    const auto out = folder_.path() / "stdout.txt", err = folder_.path() / "stderr.txt";
    const std::string line = "cd " + folder_.path().string() + " && " + prefix + CANEWISE_COMMAND + " " + arguments +
                             " >" + out.string() + " 2>" + err.string();
    const int status = std::system(line.c_str());
    return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, content(out), content(err)};
  }
  /// A scan of a reed with a heavy right rail.
  std::string scan(const std::string& name = "scan.ply", const fixtures::SceneOptions& scene = {},
                   double heavy_um = 40.0, const fixtures::ScannerModel& scanner = fixtures::profilometer()) {
    fixtures::ReedFaults faults = rough_cane(1);
    faults.heavy_rail_um = heavy_um;
    return folder_
        .file(name, fixtures::ply_binary(fixtures::scan_reed(fixtures::Reed({}, faults), scanner, scene, 1).cloud))
        .filename();
  }
  [[nodiscard]] std::size_t entries(const std::string& name) const {
    return static_cast<std::size_t>(std::distance(std::filesystem::directory_iterator(folder_.path() / name),
                                                  std::filesystem::directory_iterator()));
  }
  TempFolder folder_;
};

}  // namespace canewise::test
