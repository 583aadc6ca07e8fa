// One request a connection, deadlines on everything, and strangers who cost nothing.
#include "viewer/http/http_server.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <atomic>
#include <mutex>
#include <system_error>
#include <thread>

#include "tests/support/wire.h"

namespace canewise {
namespace {

using test::Wire;
using testing::HasSubstr;
using testing::StartsWith;
using Clock = std::chrono::steady_clock;
using namespace std::chrono_literals;

/// Keeps what it was given.
struct Kept {
  std::mutex mutex;
  std::string body;
  std::optional<BodyEnd> end;
  std::atomic<int> answers{0}, received{0};
  /// Within two seconds.
  bool has_ended(BodyEnd how) {
    for (int waits = 0; waits < 100; ++waits) {
      {
        const std::lock_guard lock(mutex);
        if (end) return end == how;
      }
      std::this_thread::sleep_for(20ms);
    }
    return false;
  }
};

class KeepingSink : public BodySink {
 public:
  explicit KeepingSink(Kept& kept) : kept_(kept) {}
  bool take(std::string_view bytes) override {
    const std::lock_guard lock(kept_.mutex);
    kept_.body += bytes;
    return kept_.body.size() < 1000000;
  }
  HttpAnswer end(BodyEnd how) override {
    const std::lock_guard lock(kept_.mutex);
    kept_.end = how;
    return {.status = 202, .type = "text/plain", .body = "kept", .headers = {}, .events = {}, .hold = {}};
  }

 private:
  Kept& kept_;
};

/// Knows who sends 'Known: yes'.
class SmallHandler : public HttpHandler {
 public:
  Kept kept;
  std::atomic<int> events_asked{0};
  [[nodiscard]] const std::vector<std::pair<std::string, std::string>>& common_headers() const override {
    static const std::vector<std::pair<std::string, std::string>> headers{{"X-Everywhere", "yes"}};
    return headers;
  }
  std::optional<HttpAnswer> refuse(const HttpRequest& request) override {
    if (request.header("known") == "yes") return std::nullopt;
    return HttpAnswer{.status = 403, .type = "text/plain", .body = "no", .headers = {}, .events = {}, .hold = {}};
  }
  HttpAnswer not_understood(int status) override {
    return {.status = status, .type = "text/plain", .body = "what?", .headers = {}, .events = {}, .hold = {}};
  }
  std::variant<HttpAnswer, std::unique_ptr<BodySink>> receive(const HttpRequest& request) override {
    ++kept.received;
    if (request.path == "/full")
      return HttpAnswer{.status = 507, .type = "text/plain", .body = "full", .headers = {}, .events = {}, .hold = {}};
    return std::make_unique<KeepingSink>(kept);
  }
  HttpAnswer answer(const HttpRequest& request) override {
    ++kept.answers;
    if (request.path == "/slow") std::this_thread::sleep_for(300ms);
    HttpAnswer answer{
        .status = 200, .type = "text/plain", .body = "hello", .headers = {{"X-Own", "1"}}, .events = {}, .hold = {}};
    if (request.path == "/large") answer.body.assign(20000000, 'x');
    if (request.path == "/events") {
      answer.events = [this, k = 0]() mutable -> EventNews {
        ++events_asked;
        return {.text = k % 2 == 0 ? "data: " + std::to_string(k) + "\n\n" : "", .over = ++k > 4};
      };
    }
    if (request.path == "/endless") answer.events = [] { return EventNews{}; };
    return answer;
  }
};

struct Running {
  SmallHandler handler;
  HttpServer server;
  explicit Running(const HttpLimits& limits = {}) : server(handler, {}, limits) { server.start(); }
  [[nodiscard]] std::string ask(std::string_view bytes) const {
    const Wire wire(server.port());
    wire.send(bytes);
    return wire.all();
  }
};

std::string get(const std::string& path) { return "GET " + path + " HTTP/1.1\r\nHost: a\r\nKnown: yes\r\n\r\n"; }
std::string post(const std::string& path, std::size_t length, const std::string& body = {}) {
  return "POST " + path + " HTTP/1.1\r\nHost: a\r\nKnown: yes\r\nContent-Length: " + std::to_string(length) +
         "\r\n\r\n" + body;
}

TEST(HttpServer, AnswersAndCloses) {
  const Running running;
  const std::string answer = running.ask(get("/"));
  EXPECT_THAT(answer, StartsWith("HTTP/1.1 200 OK\r\n"));
  for (const char* header : {"X-Everywhere: yes\r\n", "X-Own: 1\r\n", "Content-Type: text/plain\r\n",
                             "Content-Length: 5\r\n", "Connection: close\r\n"})
    EXPECT_THAT(answer, HasSubstr(header));
  EXPECT_TRUE(answer.ends_with("\r\n\r\nhello")) << answer;
}

TEST(HttpServer, HeadHasNoBody) {
  const Running running;
  const std::string answer = running.ask("HEAD / HTTP/1.1\r\nHost: a\r\nKnown: yes\r\n\r\n");
  EXPECT_THAT(answer, HasSubstr("Content-Length: 5\r\n"));
  EXPECT_TRUE(answer.ends_with("\r\n\r\n")) << answer;
}

TEST(HttpServer, WhatFollowsARequestIsNoRequest) {
  Running running;
  for (const std::string& bytes : {get("/") + get("/"), post("/full", 5) + get("/"), post("/", 5, "hello") + get("/"),
                                   "GET / HTTP/1.1\r\nHost: a\r\n\r\n" + get("/")}) {
    const std::string answer = running.ask(bytes);
    EXPECT_THAT(answer, StartsWith("HTTP/1.1 ")) << bytes;
    EXPECT_EQ(answer.find("HTTP/1.1", 1), std::string::npos) << bytes;
  }
  EXPECT_EQ(running.handler.kept.answers, 1);
}

TEST(HttpServer, ABodyIsAsLongAsItSaid) {
  Running running;
  const std::string body(300000, 'b');
  EXPECT_THAT(running.ask(post("/", body.size(), body + "and more")), StartsWith("HTTP/1.1 202 "));
  EXPECT_EQ(running.handler.kept.body, body);
  EXPECT_EQ(running.handler.kept.end, BodyEnd::whole);
}

TEST(HttpServer, ABodyThatBreaksOffIsTold) {
  Running running;
  {
    const Wire wire(running.server.port());
    wire.send(post("/", 100, "only this"));
  }
  EXPECT_TRUE(running.handler.kept.has_ended(BodyEnd::cut_off));
}

TEST(HttpServer, ASilentSenderIsCutOff) {
  HttpLimits limits;
  limits.silence = std::chrono::seconds(1);
  Running running(limits);
  const auto begin = Clock::now();
  EXPECT_EQ(running.ask(post("/", 100, "only this")), "") << "who does not speak does not listen";
  EXPECT_LT(Clock::now() - begin, 10s);
  EXPECT_TRUE(running.handler.kept.has_ended(BodyEnd::cut_off));
}

TEST(HttpServer, ASenderWhoDripsIsCutOff) {
  HttpLimits limits;
  limits.silence = std::chrono::seconds(1);
  Running running(limits);
  const Wire drips(running.server.port());
  drips.send(post("/", 100000));
  const auto begin = Clock::now();
  std::thread sender([&] {
    for (int k = 0; k < 60 && drips.send("a"); ++k) std::this_thread::sleep_for(100ms);
  });
  EXPECT_THAT(drips.all(), HasSubstr("kept"));
  const auto took = Clock::now() - begin;
  sender.join();
  EXPECT_LT(took, 4s) << "however often a byte comes";
  EXPECT_EQ(running.handler.kept.end, BodyEnd::too_slow);
}

TEST(HttpServer, AFullSinkEndsTheBody) {
  Running running;
  const std::string body(3000000, 'b');
  EXPECT_THAT(running.ask(post("/", body.size(), body)), HasSubstr("kept"));
  EXPECT_LT(running.handler.kept.body.size(), 1200000U);
}

TEST(HttpServer, WhoStillSendsHearsWhyAllTheSame) {
  const Running running;
  const std::string body(5000000, 'b');
  EXPECT_THAT(running.ask(post("/full", body.size(), body)), StartsWith("HTTP/1.1 507 "));
  EXPECT_THAT(running.ask("POST / HTTP/1.1\r\nContent-Length: 5000000\r\n\r\n" + body), StartsWith("HTTP/1.1 403 "));
}

TEST(HttpServer, ContinuesWhereItIsAskedFirst) {
  Running running;
  const Wire wire(running.server.port());
  wire.send("POST / HTTP/1.1\r\nKnown: yes\r\nExpect: 100-continue\r\nContent-Length: 2\r\n\r\n");
  std::this_thread::sleep_for(200ms);
  wire.send("ab");
  EXPECT_THAT(wire.all(), StartsWith("HTTP/1.1 100 Continue\r\n\r\nHTTP/1.1 202 "));
  EXPECT_EQ(running.handler.kept.body, "ab");
}

TEST(HttpServer, AStrangersBodyReachesNobody) {
  Running running;
  EXPECT_THAT(running.ask("POST / HTTP/1.1\r\nContent-Length: 3\r\n\r\nabc"), StartsWith("HTTP/1.1 403 "));
  EXPECT_EQ(running.handler.kept.received, 0);
  EXPECT_EQ(running.handler.kept.answers, 0);
}

TEST(HttpServer, AHeadThatDoesNotEndIsNotWaitedFor) {
  HttpLimits limits;
  limits.head = std::chrono::seconds(1);
  const Running running(limits);
  const Wire drips(running.server.port());
  const auto begin = Clock::now();
  std::thread sender([&] {
    for (int k = 0; k < 30 && drips.send("A"); ++k) std::this_thread::sleep_for(100ms);
  });
  (void)drips.all();
  const auto took = Clock::now() - begin;
  sender.join();
  EXPECT_GT(took, 800ms);
  EXPECT_LT(took, 2s) << "however often a byte comes";
}

TEST(HttpServer, EventsComeOneByOneUntilTheyAreOver) {
  Running running;
  const std::string told = running.ask(get("/events"));
  EXPECT_TRUE(told.ends_with("\r\n\r\ndata: 0\n\ndata: 2\n\ndata: 4\n\n")) << told;
  EXPECT_EQ(told.find("Content-Length"), std::string::npos);
  EXPECT_EQ(running.handler.events_asked, 5);
}

TEST(HttpServer, SlowAnswersKeepNobodyWaiting) {
  const Running running;
  std::vector<std::thread> slow;
  for (int k = 0; k < 4; ++k) slow.emplace_back([&] { EXPECT_THAT(running.ask(get("/slow")), HasSubstr("hello")); });
  std::this_thread::sleep_for(50ms);
  const auto begin = Clock::now();
  EXPECT_THAT(running.ask(get("/")), HasSubstr("hello"));
  EXPECT_LT(Clock::now() - begin, 200ms);
  for (auto& one : slow) one.join();
}

TEST(HttpServer, TheOldestWhoHasNotAskedMakesRoom) {
  HttpLimits limits;
  limits.connections = 10;
  const Running running(limits);
  std::vector<std::unique_ptr<Wire>> silent;
  for (int k = 0; k < 30; ++k) silent.push_back(std::make_unique<Wire>(running.server.port()));
  const auto begin = Clock::now();
  EXPECT_THAT(running.ask(get("/")), HasSubstr("hello"));
  EXPECT_LT(Clock::now() - begin, 1s);
  EXPECT_EQ(silent.front()->all(), "") << "the first was closed";
  EXPECT_LT(Clock::now() - begin, 2s) << "and not by its own silence";
}

TEST(HttpServer, EndsAtOnceWhateverIsOpen) {
  auto running = std::make_unique<Running>();
  const int port = running->server.port();
  const Wire silent(port), drips(port), reads_nothing(port), watches(port), sends(port);
  drips.send("GET / HT");
  reads_nothing.send(get("/large"));
  watches.send(get("/endless"));
  sends.send(post("/", 1000, "some"));
  std::this_thread::sleep_for(100ms);
  const auto begin = Clock::now();
  running.reset();
  EXPECT_LT(Clock::now() - begin, 1s);
  EXPECT_EQ(silent.all(), "");
}

TEST(HttpServer, APortThatIsTakenIsSaid) {
  Running running;
  SmallHandler other;
  EXPECT_THROW(HttpServer(other, {.whole_network = false, .port = running.server.port()}), std::system_error);
}

TEST(HttpServer, EndsAtOnceAfterItsStartOrWithoutOne) {
  for (int k = 0; k < 20; ++k) const Running running;
  SmallHandler handler;
  const HttpServer never_started(handler, {});
}

}  // namespace
}  // namespace canewise
