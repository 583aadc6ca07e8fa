// What the server knows of boxes, reeds and trials, through the wire.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>

#include "scanproc/ledger/file_result.h"
#include "scanproc/ledger/records.h"
#include "tests/support/running_server.h"

namespace canewise {
namespace {

using nlohmann::json;
using test::Running;
using test::scan;
using test::status_of;
using testing::AllOf;
using testing::HasSubstr;
using testing::Not;
namespace fs = std::filesystem;

TEST(Season, AScanDroppedWithALabelIsThatReedsNextScan) {
  const Running running;
  const fs::path file = running.folder.path() / "ledger.sqlite";
  auto http = running.client();
  EXPECT_EQ(status_of(http.Get("/season")), 422);
  EXPECT_FALSE(fs::exists(file)) << "who looks begins no ledger";
  {
    Ledger ledger(file, Ledger::Access::make);
    ledger.insert("player", {{"name", "Anna"}});
    ledger.insert("box", {{"name", "B3"}, {"player", "Anna"}, {"holds", std::int64_t{10}}});
  }
  const json first = running.end_of(running.send("scan.ply", scan(), "&reed=B3-7"));
  ASSERT_EQ(first.at("state"), "done") << first;
  const std::string name = first.at("result");
  EXPECT_THAT(name, testing::StartsWith("B3-7-20"));
  const json again = running.end_of(running.send("scan.ply", scan(), "&reed=B3-7"));
  EXPECT_EQ(again.at("result"), name + "-2");
  const Ledger ledger(file, Ledger::Access::read);
  EXPECT_EQ(ledger.count_of("result", {.equal = {{"reed", "B3-7"}}}), 2);
  EXPECT_EQ(find_reed(ledger, "B3-7").box, "B3");
  const json list = json::parse(http.Get("/api/results")->body).at("results");
  ASSERT_EQ(list.size(), 2U);
  EXPECT_EQ(list[0].at("label"), "B3-7");
  EXPECT_EQ(list[0].at("box"), "B3");
  EXPECT_EQ(list[0].at("player"), "Anna");
  EXPECT_THAT(http.Get("/season")->body, AllOf(HasSubstr("href=\"/box/B3/\""), HasSubstr("Worth work: B3-7")));
  EXPECT_THAT(http.Get("/box/B3/")->body, AllOf(HasSubstr("data:image/png;base64"), HasSubstr("B3-7")));
  EXPECT_EQ(status_of(http.Get("/box/B4/")), 422);
  EXPECT_THAT(http.Get("/reed/" + name + "/")->body,
              AllOf(HasSubstr("B3-7, box B3, Anna"), HasSubstr("id=\"trial\" data-reed=\"B3-7\"")));
  // A reed that was renamed is noted under the name that it has now.
  Ledger(file, Ledger::Access::write).update("reed", "B3-7", {{"label", "Solo"}});
  EXPECT_THAT(http.Get("/reed/" + name + "/")->body, HasSubstr("id=\"trial\" data-reed=\"Solo\""));
}

TEST(Season, ATrialIsKeptByWhoMayWriteAndItsSignsAreRead) {
  const Running running;
  const fs::path file = running.folder.path() / "ledger.sqlite";
  {
    Ledger ledger(file, Ledger::Access::make);
    add_reed(ledger, "B3-7");
  }
  auto http = running.client();
  const std::string marks = "/api/trial?reed=B3-7&response=2&evenness=4&tone=3";
  EXPECT_EQ(status_of(http.Post(marks)), 403);
  EXPECT_EQ(status_of(http.Get(marks, running.writing())), 404) << "reading keeps nothing";
  const auto post = [&](const std::string& where) { return http.Post(where, running.writing(), "", ""); };
  for (const char* no :
       {"/api/trial?reed=B3-7&response=2&evenness=4", "/api/trial?reed=B3-8&response=2&evenness=4&tone=3",
        "/api/trial?response=2&evenness=4&tone=3", "/api/trial?reed=B3-7&response=9&evenness=4&tone=3",
        "/api/trial?reed=B3-7&response=two&evenness=4&tone=3", "/api/reed?label=B3-9&stage=playing",
        "/api/reed?label=B3-7&stage=lost", "/api/reed?stage=playing"})
    EXPECT_EQ(status_of(post(no)), 422) << no;
  const auto kept =
      post(marks + "&airiness=5&resistance=4&words=late%20and%20%3Cb%3Eairy&played_at=1999-01-01T00:00:00Z");
  ASSERT_EQ(status_of(kept), 200) << kept->body;
  EXPECT_THAT(kept->body, AllOf(HasSubstr("signs.finding"), HasSubstr("advice.softer")));
  ASSERT_EQ(status_of(post("/api/reed?label=B3-7&stage=concert&is_keeper=yes&box=B9")), 200);
  const Ledger ledger(file, Ledger::Access::read);
  ASSERT_EQ(trials_of(ledger, "B3-7").size(), 1U);
  EXPECT_EQ(trials_of(ledger, "B3-7").front().words, "late and <b>airy");
  EXPECT_THAT(trials_of(ledger, "B3-7").front().played_at, Not(testing::StartsWith("1999"))) << "when it came";
  EXPECT_TRUE(find_reed(ledger, "B3-7").is_keeper);
  EXPECT_EQ(find_reed(ledger, "B3-7").stage, ReedStage::concert);
  EXPECT_EQ(find_reed(ledger, "B3-7").box, "") << "a page moves no reed";
}

// A ledger may name any place: only results beside it are drawn, and what is no ledger takes nothing down.
TEST(Season, AHostileLedgerShowsNothingFromElsewhere) {
  const Running running;
  const fs::path file = running.folder.path() / "ledger.sqlite", outside = running.folder.path() / "deep/below";
  ASSERT_EQ(running.end_of(running.send("reed.ply", scan())).at("state"), "done");
  fs::create_directories(outside);
  fs::rename(running.folder.path() / "reed", outside / "reed");
  {
    Ledger ledger(file, Ledger::Access::make);
    ledger.insert("box", {{"name", "B3"}});
    add_reed(ledger, "B3-1");
    add_reed(ledger, "B3-2");
    for (const auto& [folder, reed] : {std::pair{"deep/below/reed", "B3-1"}, {"../../../../etc", "B3-2"}})
      ledger.insert("result",
                    {{"folder", folder}, {"reed", reed}, {"measured_at", "2026-12-01T10:00:00Z"}, {"state", "dry"}});
  }
  auto http = running.client();
  const auto page = http.Get("/box/B3/");
  ASSERT_EQ(status_of(page), 200);
  const auto plain = [&] {
    Ledger ledger(file, Ledger::Access::write);
    for (const char* folder : {"deep/below/reed", "../../../../etc"}) ledger.erase("result", folder);
    return http.Get("/box/B3/");
  }();
  const auto picture = [](const std::string& body) {
    const std::size_t at = body.find("data:image/png");
    return body.substr(at, body.find('"', at) - at);
  };
  EXPECT_EQ(picture(page->body), picture(plain->body)) << "a box without reeds";
  fs::remove(file);
  std::ofstream(file) << std::string(100000, 'x');
  EXPECT_EQ(status_of(http.Get("/season")), 422);
  EXPECT_THAT(http.Get("/season")->body, Not(HasSubstr(running.folder.path().string()))) << "no place is told";
  EXPECT_EQ(status_of(http.Get("/")), 200);
}

}  // namespace
}  // namespace canewise
