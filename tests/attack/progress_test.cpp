// What a scan's file would like to say in the server's name, and what is said of one that is cancelled at its end.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <sstream>
#include <thread>

#include "fixtures/write_surface.h"
#include "scanproc/bytes/zip_archive.h"
#include "tests/attack/support/scans_sent.h"
#include "tests/attack/support/tally.h"
#include "tests/attack/support/watches.h"

namespace canewise::attack {
namespace {

using nlohmann::json;
using namespace std::string_literals;

/// Lines as a measurement itself tells its server how far it is.
const std::string kForged =
    "\n{\"stage\":{\"id\":\"verbatim\",\"text\":{\"text\":\"FORGED\"}},\"fraction\":0.123}\n"
    "{\"refused\":{\"id\":\"verbatim\",\"text\":{\"text\":\"FORGED\"}}}\nFORGED\n";

std::string little(std::uint32_t value, int bytes) {
  std::string text;
  for (int k = 0; k < bytes; ++k) text += static_cast<char>((value >> (8 * k)) & 0xffU);
  return text;
}

/// A TIFF file whose texts, known and unknown to the format, are forged lines.
std::string forged_tiff() {
  constexpr std::uint32_t head = 8;
  const std::uint32_t tags[]{270, 271, 272, 305, 306, 315, 33432, 42113, 65000, 65001};
  constexpr auto count = static_cast<std::uint32_t>(std::size(tags));
  const auto length = static_cast<std::uint32_t>(kForged.size());
  std::string file = "II*\0"s + little(head, 4) + little(count, 2);
  const std::uint32_t texts = head + 2 + 12 * count + 4;
  for (const std::uint32_t tag : tags) file += little(tag, 2) + little(2, 2) + little(length, 4) + little(texts, 4);
  return file + little(0, 4) + kForged;
}

std::vector<std::pair<std::string, std::string>> forged_files() {
  const std::string xml = "<p:ISO5436_2><Record1><Revision>" + kForged +
                          "</Revision></Record1><Record3><DataLink><PointDataLink>" + kForged +
                          "</PointDataLink></DataLink></Record3></p:ISO5436_2>";
  const std::string vertex = "element vertex 1\nproperty float x\nproperty float y\nproperty float z\nend_header\n";
  return {
      {"members.x3p", zip_bytes({{"a" + kForged, "a"}, {"main.xml", xml}})},
      {"folder.x3p", zip_bytes({{"a" + kForged + "/main.xml", xml}})},
      {"only.x3p", zip_bytes({{kForged, "a"}})},
      {"xml.x3p", fixtures::x3p_from(xml, {{kForged, "a"}})},
      {"texts.tif", forged_tiff()},
      {"comment.ply", "ply\nformat ascii 1.0\ncomment " + kForged + vertex + "1 2 3\n"},
      {"word.ply", "ply\nformat ascii 1.0" + kForged + vertex},
      {"element.ply", "ply\nformat ascii 1.0\nelement " + kForged + vertex},
      {"data.ply", "ply\nformat ascii 1.0\n" + vertex + kForged},
      {"solid.stl", "solid " + kForged + "facet normal" + kForged + "endsolid\n"},
      {"object.obj", "o " + kForged + "mtllib " + kForged + "v" + kForged + "v 1 2 3\n"},
      {"field.pcd", "VERSION 0.7\nFIELDS x y" + kForged + "SIZE 4 4 4\nDATA" + kForged},
      {"heights.sdf", "bISO-1.0" + kForged + std::string(200, ' ')},
      {"points.txt", "1 2 3" + kForged + "1 2 3\n"},
      {"lines.csv", kForged},
      {"carriage.txt", "1 2 3\r{\"stage\":{\"id\":\"verbatim\",\"text\":{\"text\":\"FORGED\"}},\"fraction\":0.123}\r"},
  };
}

/// A word of the file may be quoted in a sentence of the catalogue; a sentence of its own it has not.
bool says_forged(const json& told) {
  if (told.is_object() && told.value("id", json()) == "verbatim" && told.dump().find("FORGED") != std::string::npos)
    return true;
  if (!told.is_structured()) return false;
  for (const json& each : told)
    if (says_forged(each)) return true;
  return false;
}

std::vector<json> parsed(const std::string& events) {
  std::vector<json> all;
  std::istringstream lines(events);
  for (std::string line; std::getline(lines, line);)
    if (line.starts_with("data: ")) all.push_back(json::parse(line.substr(6), nullptr, false));
  return all;
}

TEST(Progress, IsNeverWhatAFileForged) {
  const Served served;
  Tally tally("files that forge progress");
  for (const auto& [name, bytes] : forged_files()) {
    const Answer sent = served.send_scan(name, bytes);
    tally.add(sent);
    ASSERT_EQ(sent.status, 202) << name;
    const std::string events = events_of(served, job_of(sent));
    EXPECT_EQ(last_state(events), "refused") << name;
    EXPECT_EQ(events.find(served.folder().parent_path().string()), std::string::npos)
        << name << " tells a path: " << events;
    for (const char* path : {"/tmp/", "/proc/", "canewise-incoming", "/home/"})
      EXPECT_EQ(events.find(path), std::string::npos) << name << " tells a path: " << events;
    for (const json& told : parsed(events)) {
      EXPECT_FALSE(says_forged(told)) << name << ": " << told;
      EXPECT_NE(told.value("fraction", 0.0), 0.123) << name;
    }
  }
}

TEST(Progress, OfAScanThatCannotBeForgedTellsItsStages) {
  const Served served;
  const Answer sent = served.send_scan("reed.ply", good_scan());
  const auto told = parsed(events_of(served, job_of(sent)));
  ASSERT_GE(told.size(), 2U) << "or the test above sees no events at all";
  EXPECT_EQ(told.back().at("state"), "done");
  EXPECT_EQ(told.back().at("result"), "reed");
}

Answer cancel(const Served& served, const std::string& job) {
  return ask(served.port, served.writes_head("DELETE", "/api/jobs/" + job, ""));
}

TEST(Cancelled, AfterItsEndItIsDone) {
  const Served served;
  const std::string job = job_of(served.send_scan("reed.ply", good_scan()));
  ASSERT_EQ(last_state(events_of(served, job)), "done");
  (void)cancel(served, job);
  EXPECT_EQ(last_state(events_of(served, job)), "done");
  EXPECT_TRUE(std::filesystem::exists(served.folder() / "reed" / "result.json"));
}

TEST(CancelledAtLength, AroundItsEndItIsDoneIfItsResultIsThere) {
  const Served served;
  auto since = Clock::now();
  const std::string first = job_of(served.send_scan("first.ply", good_scan()));
  ASSERT_EQ(last_state(events_of(served, first)), "done");
  const double usual_s = std::chrono::duration<double>(Clock::now() - since).count();
  int done = 0, cancelled = 0;
  constexpr int rounds = 40;
  for (int k = 0; k < rounds; ++k) {
    const std::string name = "reed" + std::to_string(k);
    since = Clock::now();
    const std::string job = job_of(served.send_scan(name + ".ply", good_scan()));
    // From a fifth before the usual end to a fifth behind it.
    const double wait_s = usual_s * (0.8 + 0.4 * k / rounds);
    std::this_thread::sleep_until(since +
                                  std::chrono::duration_cast<Clock::duration>(std::chrono::duration<double>(wait_s)));
    (void)cancel(served, job);
    const std::string state = last_state(events_of(served, job));
    const bool is_there = std::filesystem::exists(served.folder() / name / "result.json");
    EXPECT_EQ(state, is_there ? "done" : "cancelled") << "cancelled after " << wait_s << " s of " << usual_s;
    (is_there ? done : cancelled) += 1;
  }
  std::printf("    cancelled around the end of %.2f s: %d were done, %d cancelled\n", usual_s, done, cancelled);
  EXPECT_TRUE(DiskWatch::is_quiet(served));
}

}  // namespace
}  // namespace canewise::attack
