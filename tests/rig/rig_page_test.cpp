// docs/rig.md, the page that people write rig files by: its examples are read, and it names every key and no other.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <sstream>

#include "scanproc/core/error.h"
#include "scanproc/rig/rig.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

std::string page() {
  std::ifstream file(CANEWISE_SOURCE_DIR "/docs/rig.md");
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

Rig read(const std::string& text) {
  const test::TempFolder folder;
  return read_rig(folder.file("rig.toml", text));
}

std::vector<std::string> examples() {
  std::vector<std::string> found;
  const std::string text = page();
  for (std::size_t at = text.find("```toml\n"); at != std::string::npos; at = text.find("```toml\n", at + 1)) {
    const std::size_t begin = at + 8;
    found.push_back(text.substr(begin, text.find("```", begin) - begin));
  }
  return found;
}

TEST(RigPage, ItsWorkedExampleIsAWholeLaserRig) {
  ASSERT_EQ(examples().size(), 2U);
  const Rig rig = read(examples()[0]);
  ASSERT_TRUE(rig.is_laser_line());
  EXPECT_EQ(rig.name, "attic laser");
  EXPECT_EQ(rig.camera->camera.fx, 2412.5);
  EXPECT_NEAR(std::sqrt(rig.camera->covariance(2, 2)), 1.5, 1e-12);
  EXPECT_NEAR(1.0 / rig.laser_plane->q.norm(), 67.6, 1e-9);
  EXPECT_NEAR(rig.stage->travel_per_frame_mm, 0.2, 1e-4);
  EXPECT_GT(std::abs(rig.laser_plane->q.normalized().dot(rig.stage->motion.normalized())), 0.99)
      << "the reed passes through the light, not along it";
  EXPECT_GT(rig.priors.scale_rel, 1e-3);
  EXPECT_LT(rig.priors.scale_rel, 6e-3);
}

TEST(RigPage, ItsOtherExampleStatesPriors) {
  const Rig rig = read(examples().at(1));
  EXPECT_EQ(rig.priors.scale_rel, 0.0002);
  EXPECT_EQ(rig.obtained.at("plate_form_um"), "stated in the rig file");
}

/// Keys by table as the page lists them; '' is the top level.
std::map<std::string, std::set<std::string>> documented() {
  std::map<std::string, std::set<std::string>> keys;
  std::istringstream text(page());
  std::string line, table = "none";
  const std::regex name("`([a-z0-9_]+)`");
  while (std::getline(text, line)) {
    if (line.starts_with("## ")) {
      std::smatch found;
      const std::regex heading("## `\\[+([a-z_]+)\\]+`");
      table = std::regex_match(line, found, heading) ? found[1].str() : line == "## Top level" ? "" : "none";
      if (table != "none") keys[table];
    }
    if (table == "none" || !line.starts_with("| `")) continue;
    const std::string cell = line.substr(0, line.find('|', 1));
    for (auto at = std::sregex_iterator(cell.begin(), cell.end(), name); at != std::sregex_iterator(); ++at)
      keys[table].insert((*at)[1].str());
  }
  return keys;
}

/// Keys that the reader knows in a table: it lists them when it refuses another.
std::set<std::string> known(const std::string& table, const std::string& needed) {
  const std::string head = table.empty() ? "" : table == "check" ? "[[check]]\n" : "[" + table + "]\n";
  try {
    (void)read(head + "sparkle = 1\n" + needed);
  } catch (const InputError& error) {
    std::set<std::string> keys;
    const std::string words = error.what(), mark = "Known keys: ";
    const auto at = words.find(mark);
    EXPECT_NE(at, std::string::npos) << words;
    if (at == std::string::npos) return {};
    const std::regex name("[a-z0-9_]+");
    const std::string list = words.substr(at + mark.size());
    for (auto key = std::sregex_iterator(list.begin(), list.end(), name); key != std::sregex_iterator(); ++key)
      keys.insert(key->str());
    return keys;
  }
  ADD_FAILURE() << table << " takes anything";
  return {};
}

TEST(RigPage, NamesEveryKeyThatTheReaderKnowsAndNoOther) {
  const std::map<std::string, std::string> needed{
      {"pads", "above_table_mm = 1\n"},
      {"camera", "width = 8\nheight = 6\nfx = 5\nfy = 5\ncx = 4\ncy = 3\n"},
      {"laser_plane", "normal = [0, 0, 1]\ndistance_mm = 9\n"},
      {"stage", "step_mm = [0, 1, 0]\n"},
      {"plate_form", "along = [1, 0, 0]\nnormal = [0, 0, 1]\ncolumns = 1\nheights_um = [0]\n"},
      {"depth", "width = 8\nheight = 6\ncolumns = 1\nrows = 1\ndepths_mm = [9]\nerrors_um = [0]\n"}};
  auto keys = documented();
  // At the top level the reader knows its tables too: each has a chapter.
  std::set<std::string> top = keys.at("");
  for (const auto& [table, of_table] : keys) {
    if (!table.empty()) top.insert(table);
  }
  EXPECT_EQ(known("", ""), top);
  for (const auto& [table, of_table] : keys) {
    if (table.empty() || table == "obtained" || table == "scale_parts") continue;  // Their keys are the user's own.
    const auto more = needed.find(table);
    EXPECT_EQ(known(table, more == needed.end() ? "" : more->second), of_table) << table;
  }
}

TEST(RigPage, GivesThePriorsDefaults) {
  const std::string text = page();
  for (const auto& key : kPriorKeys) {
    std::ostringstream row;
    row << "| `" << key.name << "` | " << Priors{}.*(key.member) << " |";
    EXPECT_THAT(text, testing::HasSubstr(row.str()));
  }
}

}  // namespace
}  // namespace canewise
