// Which scans are taken, by their heads alone, and what becomes of their bytes.
#include "viewer/server/scan_upload.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>

#include "scanproc/words/message_json.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;

/// A waiting room of a thousand bytes, with nobody who measures.
struct Room {
  test::TempFolder folder;
  Uploads uploads{folder.path(), {.bytes = 1000}};
  Jobs jobs{[this] {
    JobsOptions options;
    options.folder = folder.path();
    options.command = "/bin/true";
    options.at_once = 0;
    options.waiting = 2;
    return options;
  }()};
  UploadRules rules{folder.path() / "player.toml", folder.path() / "ledger.sqlite", 500};

  [[nodiscard]] static HttpRequest request(std::uint64_t length, const std::string& name = "reed.ply") {
    HttpRequest asked;
    asked.method = "POST";
    asked.path = "/api/scans";
    asked.query = {{"name", name}};
    asked.content_length = length;
    return asked;
  }
  auto take(const HttpRequest& asked) { return take_scan(asked, rules, uploads, jobs); }
  int status(const HttpRequest& asked) {
    const auto taken = take(asked);
    const auto* refused = std::get_if<UploadRefusal>(&taken);
    return refused == nullptr ? 0 : refused->status;
  }
  [[nodiscard]] std::size_t on_disk() const {
    std::size_t bytes = 0;
    for (const auto& entry : fs::recursive_directory_iterator(folder.path()))
      if (entry.is_regular_file()) bytes += entry.file_size();
    return bytes;
  }
};

TEST(ScanUpload, IsDecidedBeforeAByteOfItIsKept) {
  Room room;
  EXPECT_EQ(room.status(Room::request(500)), 0);
  EXPECT_EQ(room.status(Room::request(501)), 413);
  EXPECT_EQ(room.status(Room::request(0)), 400) << "an empty file";
  EXPECT_EQ(room.status(Room::request(5, "")), 400);
  EXPECT_EQ(room.status(Room::request(5, "../..")), 400);
  HttpRequest form = Room::request(5);
  for (const char* type : {"multipart/form-data; boundary=x", "MULTIPART/Form-Data"}) {
    form.headers = {{"content-type", type}};
    EXPECT_EQ(room.status(form), 415) << type;
  }
  for (const auto& [key, value] : {std::pair{"state", "soaked"}, {"rolling_test", "--out"}, {"state", "--rig"}}) {
    HttpRequest odd = Room::request(5);
    odd.query.emplace_back(key, value);
    EXPECT_EQ(room.status(odd), 400) << value;
  }
  EXPECT_EQ(room.on_disk(), 0U);
}

TEST(ScanUpload, AReedIsNamedByALabelOrNotAtAll) {
  Room room;
  const auto of_reed = [](const char* label) {
    HttpRequest asked = Room::request(5);
    asked.query.emplace_back("reed", label);
    return asked;
  };
  for (const char* label : {"B3-7", "Röschen", ""}) EXPECT_EQ(room.status(of_reed(label)), 0) << label;
  for (const char* label : {"--rig", "-rf", "../B3", "a/b", ".hidden", "a\nb"})
    EXPECT_EQ(room.status(of_reed(label)), 400) << label;
  EXPECT_FALSE(fs::exists(room.rules.ledger)) << "who measures begins it, not who asks";
}

TEST(ScanUpload, RoomIsKeptForWhatIsOnItsWay) {
  Room room;
  const auto one = room.take(Room::request(500)), other = room.take(Room::request(499));
  EXPECT_EQ(room.status(Room::request(2)), 503);
  EXPECT_EQ(room.status(Room::request(1)), 0);
}

TEST(ScanUpload, AScanThatCameWholeWaitsToBeMeasured) {
  Room room;
  auto taken = room.take(Room::request(6));
  auto& sink = *std::get<std::unique_ptr<BodySink>>(taken);
  EXPECT_TRUE(sink.take("abc"));
  EXPECT_TRUE(sink.take("def"));
  const HttpAnswer answer = sink.end(BodyEnd::whole);
  EXPECT_EQ(answer.status, 202);
  const std::string id = nlohmann::json::parse(answer.body).at("id");
  EXPECT_EQ(room.jobs.view(id).value().state, JobState::waiting);
  std::get<std::unique_ptr<BodySink>>(taken).reset();
  EXPECT_EQ(room.on_disk(), 6U) << "it stays until it was measured";
}

TEST(ScanUpload, WhatBrokeOffIsTakenAway) {
  for (const BodyEnd how : {BodyEnd::cut_off, BodyEnd::too_slow}) {
    Room room;
    {
      auto taken = room.take(Room::request(6));
      auto& sink = *std::get<std::unique_ptr<BodySink>>(taken);
      sink.take("abc");
      EXPECT_EQ(sink.end(how).status, 400);
    }
    EXPECT_EQ(room.on_disk(), 0U);
  }
}

TEST(ScanUpload, TooManyThatWaitAreSaidAndNothingIsLeftOfTheLast) {
  Room room;
  for (const int expected : {202, 202, 503}) {
    auto taken = room.take(Room::request(1));
    auto& sink = *std::get<std::unique_ptr<BodySink>>(taken);
    sink.take("a");
    EXPECT_EQ(sink.end(BodyEnd::whole).status, expected);
  }
  EXPECT_EQ(room.on_disk(), 2U);
}

TEST(ScanUpload, NoRefusalNamesAPlaceOnThisComputer) {
  Room room;
  fs::permissions(room.folder.path(), fs::perms::none);
  for (const std::uint64_t length : {std::uint64_t{5}, std::uint64_t{501}, std::uint64_t{0}}) {
    const auto taken = room.take(Room::request(length));
    if (const auto* refused = std::get_if<UploadRefusal>(&taken)) {
      const nlohmann::json said = refused->message;
      EXPECT_EQ(said.dump().find(room.folder.path().string()), std::string::npos) << said;
    }
  }
  fs::permissions(room.folder.path(), fs::perms::owner_all);
}

}  // namespace
}  // namespace canewise
