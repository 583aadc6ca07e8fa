// The real server, with the real command behind it: uploads, crowds, strangers, broken connections.
#include "viewer/server/server.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <atomic>
#include <chrono>
#include <fstream>
#include <nlohmann/json.hpp>
#include <random>
#include <thread>

#include "fixtures/hand.h"
#include "fixtures/scanner.h"
#include "fixtures/write_cloud.h"
#include "scanproc/core/error.h"
#include "scanproc/mechanics/player.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/words/message_json.h"
#include "scanproc/words/speech.h"
#include "tests/support/running_server.h"
#include "tests/support/scans.h"
#include "tests/support/temp_file.h"
#include "tests/support/wire.h"

namespace canewise {
namespace {

using nlohmann::json;
using test::Running;
using test::scan;
using test::status_of;
using test::Wire;
using testing::HasSubstr;
using testing::Not;
namespace fs = std::filesystem;

TEST(Server, MeasuresWhatIsDroppedAndTellsItsStages) {
  const Running running;
  const auto upload = running.send("my%20reed.ply", scan());
  ASSERT_TRUE(upload);
  ASSERT_EQ(status_of(upload), 202) << upload->body;
  const auto told = running.events(json::parse(upload->body).at("id").get<std::string>());
  ASSERT_GE(told.size(), 2U);
  double before = -1.0;
  for (const auto& event : told) {
    EXPECT_GE(event.at("fraction").get<double>(), before) << "progress never goes back";
    before = event.at("fraction").get<double>();
  }
  ASSERT_EQ(told.back().at("state"), "done") << told.back();
  EXPECT_EQ(told.back().at("result"), "my reed");
  auto http = running.client();
  const auto list = json::parse(http.Get("/api/results")->body).at("results");
  ASSERT_EQ(list.size(), 1U);
  EXPECT_EQ(list[0].at("name"), "my reed");
  const auto page = http.Get("/reed/my%20reed/");
  ASSERT_EQ(status_of(page), 200);
  EXPECT_THAT(page->body, HasSubstr("reed-data"));
  EXPECT_THAT(page->body, HasSubstr("Blades are sharp"));
  const auto picture = http.Get("/reed/my%20reed/balance.png");
  ASSERT_EQ(status_of(picture), 200);
  EXPECT_EQ(picture->get_header_value("Content-Type"), "image/png");
  std::ifstream kept(running.folder.path() / "my reed/result.json");
  const json result = json::parse(kept);
  EXPECT_EQ(result.at("state"), "dry") << "what was said of the reed reaches the measurement";
  EXPECT_EQ(result.at("scans")[0].at("file"), "my reed.ply");
  EXPECT_TRUE(running.nothing_left_behind());
}

TEST(Server, RefusesInTheCommandsOwnWordsWithoutItsPlaces) {
  const Running running;
  const json end = running.end_of(running.send("bad.ply", "garbage"));
  EXPECT_EQ(end.at("state"), "refused");
  EXPECT_THAT(sentence(end.at("message").get<Message>()), testing::StartsWith("Line 1"));
  EXPECT_THAT(end.at("message").dump(), Not(HasSubstr(running.folder.path().string())));
  EXPECT_TRUE(running.nothing_left_behind());
  EXPECT_EQ(status_of(running.client().Get("/")), 200);
}

TEST(Server, EveryAnswerCarriesThePolicies) {
  const Running running;
  auto http = running.client();
  for (const char* path : {"/", "/app.js", "/api/results", "/nothing"}) {
    const auto answer = http.Get(path);
    ASSERT_TRUE(answer) << path;
    EXPECT_THAT(
        answer->get_header_value("Content-Security-Policy"),
        testing::AllOf(HasSubstr("default-src 'none'"), HasSubstr("script-src 'self'"), Not(HasSubstr("unsafe"))));
    EXPECT_EQ(answer->get_header_value("X-Content-Type-Options"), "nosniff") << path;
    EXPECT_EQ(answer->get_header_value("Access-Control-Allow-Origin"), "") << path;
  }
}

TEST(Server, StrangersAreRefused) {
  const Running running;
  auto http = running.client();
  EXPECT_EQ(status_of(http.Get("/", {{"Host", "evil.example"}})), 421);
  EXPECT_EQ(status_of(running.stranger().Get("/")), 403) << "without the address that was printed";
  EXPECT_EQ(status_of(http.Get("/api/results", {{"Sec-Fetch-Site", "cross-site"}})), 403);
  EXPECT_EQ(status_of(http.Post("/api/scans?name=x.ply", scan(), "application/octet-stream")), 403) << "no token";
  httplib::Headers foreign = running.writing();
  foreign.emplace("Origin", "http://evil.example");
  EXPECT_EQ(status_of(http.Post("/api/scans?name=x.ply", foreign, scan(), "text/plain")), 403);
  EXPECT_EQ(status_of(http.Delete("/api/jobs/" + std::string(64, '0'))), 403);
  EXPECT_EQ(status_of(http.Delete("/api/jobs/" + std::string(64, '0'), running.writing())), 404);
  EXPECT_EQ(status_of(http.Options("/api/scans")), 403) << "no preflight is granted";
  EXPECT_EQ(running.left_behind(), 0);
}

TEST(Server, NothingIsShownWithoutTheAddressThatWasPrinted) {
  for (const bool lan : {false, true}) {
    const Running running([&](ServerOptions& o) { o.lan = lan; });
    auto http = running.stranger();
    for (const char* path : {"/", "/api/results", "/app.js", "/reed/x/", "/nothing"})
      EXPECT_EQ(status_of(http.Get(path)), 403) << path;
    const Secrets& secrets = running.server->secrets();
    const auto first = http.Get("/?token=" + secrets.reading);
    ASSERT_EQ(status_of(first), 200);
    EXPECT_THAT(first->body, HasSubstr("url=/\""));
    EXPECT_THAT(first->body, testing::AllOf(Not(HasSubstr(secrets.reading)), Not(HasSubstr(secrets.writing))));
    EXPECT_THAT(first->get_header_value("Set-Cookie"),
                testing::AllOf(testing::StartsWith(running.cookie()), HasSubstr("HttpOnly"),
                               HasSubstr("SameSite=Strict"), Not(HasSubstr(secrets.writing))));
    EXPECT_EQ(status_of(http.Get("/", {{"Cookie", "a=b; " + running.cookie()}})), 200);
    EXPECT_EQ(status_of(http.Get("/", {{"Cookie", running.cookie() + "0"}})), 403);
    EXPECT_EQ(status_of(http.Get("/?token=" + secrets.writing)), 403);
    EXPECT_EQ(status_of(http.Post("/api/scans?name=x.ply", {{"Cookie", running.cookie()}}, scan(), "a/b")), 403)
        << "a cookie goes along with what others send";
  }
}

TEST(Server, OneRequestAConnection) {
  const Running running;
  const std::string get = fmt::format("GET /app.css HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nCookie: {}\r\n\r\n",
                                      running.server->port(), running.cookie());
  const Wire wire(running.server->port());
  wire.send(get + get);
  const std::string all = wire.all();
  EXPECT_THAT(all, testing::StartsWith("HTTP/1.1 200 "));
  EXPECT_THAT(all, HasSubstr("Connection: close\r\n"));
  EXPECT_EQ(all.find("HTTP/1.1", 1), std::string::npos) << "what follows is no request";
  // Nor is a body that was refused.
  const Wire refused(running.server->port());
  refused.send(fmt::format("POST /api/scans?name=x.ply HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nContent-Length: {}\r\n\r\n{}",
                           running.server->port(), get.size(), get));
  const std::string answer = refused.all();
  EXPECT_THAT(answer, testing::StartsWith("HTTP/1.1 403 "));
  EXPECT_EQ(answer.find("HTTP/1.1", 1), std::string::npos);
}

TEST(Server, WhoFollowsALinkGetsAPageEvenWhereThereIsNothing) {
  const Running running;
  const httplib::Headers person{{"Accept", "text/html,*/*"},
                                {"Sec-Fetch-Site", "cross-site"},
                                {"Sec-Fetch-Mode", "navigate"},
                                {"Sec-Fetch-Dest", "document"}};
  auto http = running.client();
  const auto home = http.Get("/", person), nothing = http.Get("/reed/nothing/", person);
  EXPECT_EQ(status_of(home), 200);
  EXPECT_EQ(status_of(nothing), 404);
  EXPECT_THAT(nothing->body, testing::AllOf(HasSubstr("There is no such reed here."), HasSubstr("<a href=\"/\">")));
  const auto stranger = running.stranger().Get("/", person);
  EXPECT_EQ(status_of(stranger), 403);
  EXPECT_THAT(stranger->body, testing::AllOf(HasSubstr("Open the whole address"), Not(HasSubstr("<a "))));
  const auto program = http.Get("/reed/nothing/");
  EXPECT_EQ(sentence(json::parse(program->body).at("message").get<Message>()), "There is no such reed here.");
}

TEST(Server, KeepsTheHandOnceForWhoMayWriteAndPlansWithIt) {
  const Running running;
  fixtures::ReedFaults faults = test::rough_cane(1);
  faults.heavy_rail_um = 40.0;
  const fixtures::Reed reed({}, faults);
  ASSERT_EQ(running.end_of(running.send("before.ply", scan())).at("state"), "done");
  const Result before = read_result(running.folder.path() / "before");
  ASSERT_FALSE(before.plan.steps.empty());
  fixtures::Hand hand;
  hand.depth_factor = 1.5;
  fixtures::Reed scraped = reed;
  std::mt19937_64 random(1);
  for (const ScrapeStep& step : before.plan.steps) scraped = scraped.scraped(fixtures::cut_of(step, hand, random));
  const auto bytes = fixtures::ply_binary(fixtures::scan_reed(scraped, fixtures::profilometer(), {}, 2).cloud);
  ASSERT_EQ(running.end_of(running.send("after.ply", bytes)).at("state"), "done");

  const fs::path file = running.folder.path() / "player.toml";
  const std::string where = "/api/hand?before=before&after=after";
  auto http = running.client();
  EXPECT_EQ(status_of(http.Post(where)), 403);
  EXPECT_EQ(status_of(http.Get(where, running.writing())), 404) << "reading keeps nothing";
  for (const char* share : {"11", "-1", "nan", "1x", "1e400", "1,", ",1", "1,,1", "1;1"})
    EXPECT_EQ(status_of(http.Post(where + "&strokes_done=" + share, running.writing(), "", "")), 400) << share;
  EXPECT_EQ(status_of(http.Post("/api/hand?before=before&after=nothing", running.writing(), "", "")), 404);
  EXPECT_EQ(status_of(http.Post("/api/hand?before=after&after=before", running.writing(), "", "")), 422);
  EXPECT_EQ(status_of(http.Post(where + "&strokes_done=1,1,1,1,1,1,1,1,1,1,1,1", running.writing(), "", "")), 422);
  EXPECT_EQ(status_of(http.Post(where + "&strokes_done=0", running.writing(), "", "")), 409);
  EXPECT_FALSE(fs::exists(file));

  const auto kept = http.Post(where, running.writing(), "", "");
  ASSERT_EQ(status_of(kept), 200) << kept->body;
  EXPECT_TRUE(json::parse(kept->body).at("kept"));
  const Player learned = read_player(file);
  EXPECT_TRUE(learned.hand_is_known);
  EXPECT_GT(learned.depth_per_stroke_um, 1.2 * before.player.depth_per_stroke_um);
  const auto again = http.Post(where + "&strokes_done=0.5", running.writing(), "", "");
  EXPECT_FALSE(json::parse(again->body).at("kept"));
  EXPECT_EQ(read_player(file).depth_per_stroke_um, learned.depth_per_stroke_um);

  // A scan that bears the file's name does not take its place.
  const json named_so = running.end_of(running.send("player.toml.ply", scan()));
  ASSERT_EQ(named_so.at("state"), "done");
  EXPECT_NE(named_so.at("result"), "player.toml");
  EXPECT_EQ(read_player(file).depth_per_stroke_um, learned.depth_per_stroke_um);
  ASSERT_EQ(running.end_of(running.send("next.ply", scan())).at("state"), "done");
  EXPECT_EQ(read_result(running.folder.path() / "next").player.depth_per_stroke_um, learned.depth_per_stroke_um);
  // A file that somebody spoiled is left as it is, and said.
  std::ofstream(file) << "[hand]\ndepth_per_stroke_um = 'much'\n";
  const auto refused = http.Post(where, running.writing(), "", "");
  EXPECT_EQ(status_of(refused), 422);
  EXPECT_THAT(refused->body, HasSubstr("depth_per_stroke_um"));
}

TEST(Server, AFormIsRefusedInWordsAndLeavesNothing) {
  const Running running;
  const httplib::MultipartFormDataItems form{{"file", scan(), "reed.ply", "application/octet-stream"}};
  const auto refused = running.client().Post("/api/scans?name=reed.ply", running.writing(), form);
  EXPECT_EQ(status_of(refused), 415);
  EXPECT_THAT(refused->body, HasSubstr("serve.not_a_form"));
  EXPECT_TRUE(running.nothing_left_behind());
}

TEST(Server, NoPathLeadsOut) {
  const test::TempFolder outside;
  const Running running;
  fs::create_directories(outside.path() / "r");
  std::ofstream(outside.path() / "r/result.json") << "{\"format\":\"canewise-result\",\"headline\":\"secret\"}";
  fs::create_directory_symlink(outside.path() / "r", running.folder.path() / "link");
  fs::create_directories(running.folder.path() / "plain");
  std::ofstream(running.folder.path() / "plain/result.json") << "{}";
  fs::create_symlink("/etc/passwd", running.folder.path() / "plain/balance.png");
  const std::string up = "%2e%2e%2f" + outside.path().filename().string() + "%2fr";
  for (const std::string& path :
       {std::string("/reed/link/"), "/reed/" + up + "/", "/reed/" + up + "/result.json",
        std::string("/reed/plain/balance.png"), std::string("/reed/plain/..%2f..%2fetc%2fpasswd"),
        std::string("/reed/../../etc/passwd"), std::string("/reed/%00/"), std::string("/../../../etc/passwd"),
        std::string("//etc/passwd"), "/compare?before=" + up + "&after=" + up}) {
    const Wire wire(running.server->port());
    wire.send(fmt::format("GET {} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nCookie: {}\r\n\r\n", path, running.server->port(),
                          running.cookie()));
    const std::string answer = wire.answer();
    EXPECT_THAT(answer, testing::AnyOf(HasSubstr(" 404 "), HasSubstr(" 400 "))) << path << '\n' << answer;
    EXPECT_THAT(answer, Not(HasSubstr("root:"))) << path;
    EXPECT_THAT(answer, Not(HasSubstr("secret"))) << path;
  }
}

TEST(Server, TooLargeEmptyNamelessAndUnknownAreRefused) {
  const Running running([](ServerOptions& o) { o.largest_upload_bytes = 100000; });
  const auto large = running.send("large.ply", std::string(200000, 'x'));
  EXPECT_EQ(status_of(large), 413) << "is said, not only done";
  EXPECT_EQ(status_of(running.send("empty.ply", "")), 400);
  EXPECT_EQ(status_of(running.send("..%2f", "x")), 400);
  EXPECT_EQ(status_of(running.client().Post("/api/scans?name=x.ply&state=soaked", running.writing(), "x", "a/b")), 400);
  // An option is never taken from a stranger's text.
  EXPECT_EQ(status_of(running.client().Post("/api/scans?name=x.ply&rolling_test=--out", running.writing(), "x", "a/b")),
            400);
  // Without its length in front nothing of it is taken.
  std::size_t sent = 0;
  const auto chunked = running.client().Post(
      "/api/scans?name=chunked.ply", running.writing(),
      [&](std::size_t, httplib::DataSink& sink) {
        const std::string piece(50000, 'x');
        if (sent > 1000000 || !sink.write(piece.data(), piece.size())) {
          sink.done();
          return false;
        }
        sent += piece.size();
        return true;
      },
      "application/octet-stream");
  if (chunked) {
    EXPECT_EQ(chunked->status, 411);
  }
  EXPECT_TRUE(running.nothing_left_behind());
}

TEST(Server, MalformedRequestsAndCutConnectionsLeaveNothing) {
  const Running running;
  const int port = running.server->port();
  for (const std::string& bytes :
       {std::string("\r\n\r\n"), std::string("GET\r\n\r\n"), std::string(100000, 'A'),
        std::string("POST /api/scans HTTP/9.9\r\n\r\n"), std::string("GET / HTTP/1.1\r\nContent-Length: -5\r\n\r\n"),
        std::string("\x16\x03\x01\x02"), std::string(64, '\0')}) {
    const Wire wire(port);
    wire.send(bytes);
  }
  for (int k = 0; k < 5; ++k) {
    const Wire wire(port);
    wire.send(
        fmt::format("POST /api/scans?name=cut.ply HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nX-Canewise-Token: {}\r\n"
                    "Content-Length: 1000000\r\n\r\nonly this",
                    port, running.server->secrets().writing));
  }
  EXPECT_EQ(status_of(running.client().Get("/")), 200);
  EXPECT_TRUE(running.nothing_left_behind());
}

TEST(Server, SlowOnesDoNotKeepTheOthersWaiting) {
  const Running running;
  std::vector<std::unique_ptr<Wire>> slow;
  for (int k = 0; k < 40; ++k) {
    slow.push_back(std::make_unique<Wire>(running.server->port()));
    slow.back()->send("GET / HTTP/1.1\r\nHost: 127");
  }
  const auto begin = std::chrono::steady_clock::now();
  EXPECT_EQ(status_of(running.client().Get("/")), 200);
  // Far below the ten seconds that a silent connection is borne with.
  EXPECT_LT(std::chrono::steady_clock::now() - begin, std::chrono::seconds(5));
}

TEST(Server, FiftyUploadsAtOnceAllEnd) {
  const Running running;
  std::atomic<int> done{0}, refused{0}, told_to_wait{0}, other{0};
  std::vector<std::thread> crowd;
  for (int k = 0; k < 50; ++k) {
    crowd.emplace_back([&, k] {
      // Every fifth is a reed; measuring fifty would test patience, not the server.
      const auto upload = running.send(fmt::format("reed-{}.ply", k), k % 5 == 0 ? scan() : "garbage");
      if (!upload) {
        ADD_FAILURE() << "no answer to upload " << k << ": " << httplib::to_string(upload.error());
        return;
      }
      if (upload->status == 503) {
        ++told_to_wait;
        return;
      }
      const std::string id = json::parse(upload->body).at("id");
      // Only so many may watch at once; the others ask again.
      for (int tries = 0; tries < 600; ++tries) {
        const auto told = running.events(id);
        if (!told.empty() && told.back().at("state") == "done") return void(++done);
        if (!told.empty() && told.back().at("state") == "refused") return void(++refused);
        std::this_thread::sleep_for(std::chrono::milliseconds(100));
      }
      ++other;
    });
  }
  for (auto& one : crowd) one.join();
  EXPECT_EQ(other, 0);
  EXPECT_EQ(told_to_wait, 0) << "sixty may wait";
  EXPECT_EQ(done, 10);
  EXPECT_EQ(refused, 40);
  EXPECT_EQ(json::parse(running.client().Get("/api/results")->body).at("results").size(), 10U);
  EXPECT_TRUE(running.nothing_left_behind());
}

TEST(Server, CancelledAndAbandonedScansLeaveNothing) {
  Running running;
  std::vector<std::string> ids;
  for (int k = 0; k < 6; ++k) {
    const auto upload = running.send(fmt::format("reed-{}.ply", k), scan());
    ASSERT_EQ(status_of(upload), 202);
    ids.push_back(json::parse(upload->body).at("id"));
  }
  EXPECT_EQ(status_of(running.client().Delete("/api/jobs/" + ids.back(), running.writing())), 200);
  EXPECT_EQ(running.events(ids.back()).back().at("state"), "cancelled");
  const fs::path folder = running.folder.path();
  running.server.reset();  // As ctrl-C does, in the middle of the others.
  for (const auto& entry : fs::directory_iterator(folder)) {
    EXPECT_FALSE(entry.path().filename().string().starts_with(".")) << entry.path();
    EXPECT_TRUE(fs::exists(entry.path() / "report.html") && fs::exists(entry.path() / "result.json"))
        << entry.path() << " is half-written";
  }
}

TEST(Server, ATakenPortIsSaid) {
  const Running running;
  const test::TempFolder other;
  ServerOptions options;
  options.folder = other.path();
  options.port = running.server->port();
  try {
    const Server second(options);
    FAIL();
  } catch (const OutputError& error) {
    EXPECT_THAT(error.what(), HasSubstr("--port"));
  }
}

TEST(Server, EndsAtOnceAfterItsStart) {
  for (int k = 0; k < 20; ++k) const Running running;
}

}  // namespace
}  // namespace canewise
