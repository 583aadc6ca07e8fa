#include "viewer/server/server.h"

#include <algorithm>
#include <atomic>
#include <nlohmann/json.hpp>
#include <optional>
#include <system_error>

#include "scanproc/core/error.h"
#include "scanproc/ledger/ledger.h"
#include "viewer/embedded/embedded_page.h"
#include "viewer/http/http_server.h"
#include "viewer/http/status.h"
#include "viewer/server/answers.h"
#include "viewer/server/guard.h"
#include "viewer/server/held_folder.h"
#include "viewer/server/job_events.h"
#include "viewer/server/jobs.h"
#include "viewer/server/pages.h"
#include "viewer/server/scan_upload.h"
#include "viewer/server/uploads.h"

namespace canewise {
namespace {

constexpr std::string_view kScans = "/api/scans";

/// What is measured is drawn and reported as the pages speak.
std::vector<std::string> measure_options_of(const ServerOptions& options) {
  std::vector<std::string> all = options.measure_options;
  all.emplace_back("--lang");
  all.emplace_back(code_of(options.speech.language));
  return all;
}

/// Folders that messages may name: those of what a child reads and writes.
std::vector<std::filesystem::path> places_of(const ServerOptions& options) {
  std::vector<std::filesystem::path> places{options.folder, options.player.parent_path()};
  for (const std::string& word : options.measure_options) {
    const auto place = std::filesystem::path(word).parent_path();
    if (place.is_absolute()) places.push_back(place);
  }
  return places;
}

/// 'reed', 'B3', 'map.png' of '/reed/B3/map.png'; the last is empty where the path ends with a slash.
std::vector<std::string> steps_of(std::string_view path) {
  std::vector<std::string> steps;
  path.remove_prefix(1);
  while (true) {
    const std::size_t end = std::min(path.find('/'), path.size());
    steps.emplace_back(path.substr(0, end));
    if (end == path.size()) return steps;
    path.remove_prefix(end + 1);
  }
}

HttpAnswer text_answer(std::string_view type, std::string_view text) {
  HttpAnswer answer;
  answer.type = type;
  answer.body = text;
  return answer;
}

/// Out of the address line, where the secret could be read over a shoulder or kept in a history. Not by a redirect:
/// after a link in a mail that would still count as the mail's request and go without the cookie.
HttpAnswer way_in(const GuardOptions& guard) {
  HttpAnswer answer = page_answer(
      "<!doctype html><html><head><meta charset=\"utf-8\"><meta http-equiv=\"refresh\" content=\"0;url=/\">"
      "<title>canewise</title></head><body><p><a href=\"/\">canewise</a></p></body></html>\n");
  answer.headers.emplace_back(
      "Set-Cookie", cookie_name(guard.port) + "=" + guard.secrets.reading + "; HttpOnly; SameSite=Strict; Path=/");
  return answer;
}

}  // namespace

struct Server::Parts : HttpHandler {
  ServerOptions options;
  GuardOptions guard;
  std::atomic<bool> stopping{false};
  HeldFolder folder;
  Uploads uploads;
  Jobs jobs;  // After the uploads: it ends before them.
  Pages pages;
  EventStreams streams;
  std::optional<HttpServer> http;  // Last: it ends first, and nobody asks for the others any more.

  explicit Parts(ServerOptions given)
      : options(std::move(given)),
        guard{{}, 0, options.lan},
        folder(options.folder),
        uploads(options.folder, {.bytes = options.largest_waiting_bytes}),
        jobs({options.folder,
              options.command,
              measure_options_of(options),
              options.limits,
              {options.player.filename().string(), kLedgerFile},
              places_of(options)}),
        pages(folder,
              {options.command, options.player, options.folder / kLedgerFile, options.limits, places_of(options),
               guard.secrets.writing, options.speech},
              stopping) {}

  [[nodiscard]] const std::vector<std::pair<std::string, std::string>>& common_headers() const override {
    return policies();
  }
  std::optional<HttpAnswer> refuse(const HttpRequest& request) override;
  HttpAnswer not_understood(int status) override;
  std::variant<HttpAnswer, std::unique_ptr<BodySink>> receive(const HttpRequest& request) override;
  HttpAnswer answer(const HttpRequest& request) override;

  HttpAnswer refusal(const HttpRequest& request, int status, const Message& message) const {
    return refusal_answer(request, status, message, options.speech);
  }
  HttpAnswer routed(const HttpRequest& request);
  HttpAnswer read(const HttpRequest& request, const std::vector<std::string>& steps);
  HttpAnswer events(const HttpRequest& request, const std::string& id);
  [[nodiscard]] UploadRules upload_rules() const {
    return {options.player, options.folder / kLedgerFile,
            std::min<std::uintmax_t>(options.largest_upload_bytes, options.largest_waiting_bytes)};
  }
};

std::optional<HttpAnswer> Server::Parts::refuse(const HttpRequest& request) {
  const bool follows_a_link =
      request.header("sec-fetch-mode") == "navigate" && request.header("sec-fetch-dest") == "document";
  const auto refused = refusal_of(
      {request.method, request.header("host"), request.header("origin"), request.header("sec-fetch-site"),
       follows_a_link, request.header("x-canewise-token"), request.parameter("token"), request.header("cookie")},
      guard);
  if (!refused) return std::nullopt;
  return refusal(request, refused->status, refused->message);
}

HttpAnswer Server::Parts::not_understood(int status) {
  const Message why = status == kLengthRequired ? Message{"serve.size_needed"} : Message{"serve.not_understood"};
  return refusal({}, status, why);
}

std::variant<HttpAnswer, std::unique_ptr<BodySink>> Server::Parts::receive(const HttpRequest& request) {
  if (request.method != "POST" || request.path != kScans)
    return refusal(request, kBadRequest, {"serve.not_understood"});
  if (!folder.is_in_place()) return refusal(request, kUnavailable, {"serve.folder_gone"});
  auto taken = take_scan(request, upload_rules(), uploads, jobs);
  if (const auto* why = std::get_if<UploadRefusal>(&taken)) return refusal(request, why->status, why->message);
  return std::move(std::get<std::unique_ptr<BodySink>>(taken));
}

HttpAnswer Server::Parts::answer(const HttpRequest& request) {
  try {
    return routed(request);
  } catch (const std::exception&) {
    return refusal(request, kBroken, {"serve.internal"});
  }
}

HttpAnswer Server::Parts::events(const HttpRequest& request, const std::string& id) {
  auto told = events_of(id, jobs, streams);
  if (auto* answer = std::get_if<HttpAnswer>(&told)) return std::move(*answer);
  return std::get<EventsRefused>(told) == EventsRefused::too_many
             ? refusal(request, kUnavailable, {"serve.too_many_pages"})
             : refusal(request, kNotFound, {"serve.no_such_scan"});
}

HttpAnswer Server::Parts::read(const HttpRequest& request, const std::vector<std::string>& steps) {
  const std::string& path = request.path;
  if (path == "/") return request.has_parameter("token") ? way_in(guard) : pages.home();
  if (path == "/app.js") return text_answer("text/javascript; charset=utf-8", page_script());
  if (path == "/app.css") return text_answer("text/css; charset=utf-8", page_style());
  if (path == "/api/results") return pages.list();
  if (path == "/compare") return pages.comparison(request);
  if (path == "/season") return pages.season(request);
  if (steps.size() == 3 && steps[0] == "box" && steps[2].empty()) return pages.box(request, steps[1]);
  if (steps.size() == 3 && steps[0] == "reed")
    return steps[2].empty() ? pages.reed(request, steps[1]) : pages.reed_file(request, steps[1], steps[2]);
  if (steps.size() == 4 && steps[0] == "api" && steps[1] == "jobs" && steps[3] == "events")
    return events(request, steps[2]);
  return refusal(request, kNotFound, {"serve.nothing_here"});
}

HttpAnswer Server::Parts::routed(const HttpRequest& request) {
  const std::vector<std::string> steps = steps_of(request.path);
  if (request.reads()) return read(request, steps);
  if (request.method == "POST" && request.path == "/api/hand") return pages.keep_hand(request);
  if (request.method == "POST" && request.path == "/api/trial") return pages.note(request, "trial");
  if (request.method == "POST" && request.path == "/api/reed") return pages.note(request, "reed");
  if (request.method == "POST" && request.path == kScans) {
    // Without a body: there is something to say all the same.
    const auto refused = take_scan(request, upload_rules(), uploads, jobs);
    const auto& why = std::get<UploadRefusal>(refused);
    return refusal(request, why.status, why.message);
  }
  if (request.method == "DELETE" && steps.size() == 3 && steps[0] == "api" && steps[1] == "jobs") {
    if (!jobs.cancel(steps[2])) return refusal(request, kNotFound, {"serve.no_such_scan"});
    return json_answer(200, nlohmann::json::object());
  }
  return refusal(request, request.method == "POST" ? kNotFound : kMethodNotAllowed, {"serve.nothing_here"});
}

Server::Server(ServerOptions options) : parts_(std::make_unique<Parts>(std::move(options))) {
  Parts& p = *parts_;
  try {
    p.http.emplace(p, HttpEndpoint{p.options.lan, p.options.port});
  } catch (const std::system_error& error) {
    const Argument port = number(static_cast<double>(p.options.port));
    if (error.code() == std::errc::permission_denied) throw OutputError({"serve.port_forbidden", {{"port", port}}});
    throw OutputError({"serve.port_taken", {{"port", port}}});
  }
  p.guard.port = p.http->port();
}

Server::~Server() {
  parts_->stopping = true;
  parts_->jobs.stop();  // All at once: their children need a moment.
  parts_->http.reset();
}

int Server::port() const { return parts_->guard.port; }
const Secrets& Server::secrets() const { return parts_->guard.secrets; }
void Server::start() { parts_->http->start(); }

}  // namespace canewise
