#include "viewer/server/server.h"

#include <fmt/format.h>
#include <httplib.h>
// A macro of <resolv.h>, which httplib includes; Eigen has variables of that name.
#undef _res

#include <algorithm>
#include <atomic>
#include <charconv>
#include <fstream>
#include <nlohmann/json.hpp>
#include <thread>

#include "scanproc/compare/comparison.h"
#include "scanproc/compare/learned_hand.h"
#include "scanproc/core/error.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/report/comparison_outputs.h"
#include "scanproc/report/reed_page.h"
#include "scanproc/report/said.h"
#include "scanproc/words/message_json.h"
#include "viewer/embedded/embedded_page.h"
#include "viewer/server/guard.h"
#include "viewer/server/jobs.h"
#include "viewer/server/results.h"
#include "viewer/server/uploads.h"

namespace canewise {
namespace {

using httplib::Request;
using httplib::Response;
using nlohmann::json;

/// More than uploads and event streams together may hold, so that pages are still answered.
constexpr std::size_t kThreads = 96, kMostEventStreams = 16;
constexpr const char* kScans = "/api/scans";
const PageHome kServed{.in_one_file = false};
constexpr std::chrono::minutes kLongestUpload{10};
constexpr std::chrono::seconds kLongestDrain{30}, kDrainOfStrangers{2};

struct ServedFile {
  std::string_view name, type;
};
constexpr std::array kServedFiles{
    ServedFile{"balance.png", "image/png"},  ServedFile{"map.png", "image/png"},
    ServedFile{"bending.png", "image/png"},  ServedFile{"modes.png", "image/png"},
    ServedFile{"table.png", "image/png"},    ServedFile{"template.pdf", "application/pdf"},
    ServedFile{"thickness.csv", "text/csv"}, ServedFile{"result.json", "application/json"},
};

void answer(Response& response, int status, const json& body) {
  response.status = status;
  response.set_content(body.dump(-1, ' ', false, json::error_handler_t::replace), "application/json");
}
std::string cookie_token(const Request& request) {
  const std::string cookies = request.get_header_value("Cookie");
  constexpr std::string_view name = "canewise=";
  for (std::size_t at = 0; at < cookies.size();) {
    const std::size_t end = std::min(cookies.find(';', at), cookies.size());
    std::string_view one(cookies.data() + at, end - at);
    one.remove_prefix(std::min(one.find_first_not_of(' '), one.size()));
    if (one.starts_with(name)) return std::string(one.substr(name.size()));
    at = end + 1;
  }
  return {};
}

/// A number that goes up while this is alive.
class Counted {
 public:
  explicit Counted(std::atomic<std::size_t>& count) : count_(count), now_(++count) {}
  ~Counted() { --count_; }
  Counted(const Counted&) = delete;
  Counted& operator=(const Counted&) = delete;
  [[nodiscard]] std::size_t now() const { return now_; }

 private:
  std::atomic<std::size_t>& count_;
  std::size_t now_;
};

std::string event_of(const JobView& view) {
  json told{{"state", name_of(view.state)}, {"fraction", view.fraction}};
  if (!view.message.empty()) told["message"] = view.message;
  if (!view.result.empty()) told["result"] = view.result;
  return "data: " + told.dump(-1, ' ', false, json::error_handler_t::replace) + "\n\n";
}

/// '1,0,0.5'; nothing if it is no such list.
std::optional<std::vector<double>> shares_from(const std::string& text) {
  std::vector<double> shares;
  constexpr std::size_t most_steps = 100;
  const char *at = text.data(), *const end = at + text.size();
  while (at != end && shares.size() < most_steps) {
    double share = 0.0;
    const auto [rest, failed] = std::from_chars(at, end, share);
    constexpr double most = 10.0;
    if (failed != std::errc() || !(share >= 0.0 && share <= most) || (rest != end && *rest != ',')) return std::nullopt;
    shares.push_back(share);
    at = rest == end ? end : rest + 1;
    if (rest != end && at == end) return std::nullopt;
  }
  return at == end ? std::optional(shares) : std::nullopt;
}

/// What is measured is drawn and reported as the pages speak.
std::vector<std::string> measure_options_of(const ServerOptions& options) {
  std::vector<std::string> all = options.measure_options;
  all.emplace_back("--lang");
  all.emplace_back(code_of(options.speech.language));
  return all;
}

struct Compared {
  Result before, after;
  Comparison comparison;
};

}  // namespace

struct Server::Parts {
  ServerOptions options;
  GuardOptions guard;
  Uploads uploads;
  Jobs jobs;  // After the uploads: it ends before them.
  httplib::Server http;
  std::thread listener;
  std::mutex results_mutex;
  ResultList results;
  std::mutex player_mutex;
  std::atomic<std::size_t> event_streams{0};
  std::atomic<bool> stopping{false};
  socket_t bound = INVALID_SOCKET;

  explicit Parts(ServerOptions given)
      : options(std::move(given)),
        guard{new_token(), 0, options.lan},
        uploads(options.folder, {.bytes = options.largest_waiting_bytes}),
        jobs({options.folder,
              options.command,
              measure_options_of(options),
              options.limits,
              {options.player.filename().string()}}),
        results(options.folder) {}

  void set_up();
  [[nodiscard]] std::optional<Refusal> refusal(const Request& request) const;
  void refuse(const Request& request, Response& response, int status, const Message& message) const;
  httplib::Server::HandlerResponse before(const Request& request, Response& response) const;
  void home(Response& response) const;
  void list(Response& response);
  void reed(const Request& request, Response& response) const;
  void reed_file(const Request& request, Response& response) const;
  void compare_two(const Request& request, Response& response);
  void keep_hand_of(const Request& request, Response& response);
  [[nodiscard]] std::optional<Compared> compared(const Request& request, Response& response);
  void take_scan(const Request& request, Response& response, const httplib::ContentReader& read);
  void events(const Request& request, Response& response);
};

/// A program hears why as JSON, a person who followed a link as a page.
void Server::Parts::refuse(const Request& request, Response& response, int status, const Message& message) const {
  const bool person =
      request.method == "GET" && request.get_header_value("Accept").find("text/html") != std::string::npos;
  if (!person) return answer(response, status, {{"message", message}});
  const std::string body =
      way_home(kServed, options.speech) + "<main><p role=\"alert\">" + said(message, options.speech) + "</p></main>";
  response.status = status;
  response.set_content(framed_page(kServed, {"serve.title"}, body, {}, options.speech), "text/html; charset=utf-8");
}

std::optional<Refusal> Server::Parts::refusal(const Request& request) const {
  const std::string header_token = request.get_header_value("X-Canewise-Token");
  const bool reads = request.method == "GET" || request.method == "HEAD";
  const bool follows_a_link = request.get_header_value("Sec-Fetch-Mode") == "navigate" &&
                              request.get_header_value("Sec-Fetch-Dest") == "document";
  return refusal_of(
      {request.method, request.get_header_value("Host"), request.get_header_value("Origin"),
       request.get_header_value("Sec-Fetch-Site"), follows_a_link,
       reads && header_token.empty() ? request.get_param_value("token") : header_token, cookie_token(request)},
      guard);
}

httplib::Server::HandlerResponse Server::Parts::before(const Request& request, Response& response) const {
  using Handled = httplib::Server::HandlerResponse;
  // Who sends a scan hears why it is refused only once it is all sent; see take_scan.
  if (request.method == "POST" && request.path == kScans) return Handled::Unhandled;
  if (const auto refused = refusal(request)) {
    refuse(request, response, refused->status, refused->message);
    response.set_header("Connection", "close");
    return Handled::Handled;
  }
  if (guard.lan && request.has_param("token") && (request.method == "GET" || request.method == "HEAD")) {
    // Out of the address line, where it could be read over a shoulder or kept in a history.
    response.set_header("Set-Cookie", "canewise=" + guard.token + "; HttpOnly; SameSite=Strict; Path=/");
    // Not by a redirect: after a link in a mail that would still count as the mail's request and go without the cookie.
    response.set_content(
        "<!doctype html><html><head><meta charset=\"utf-8\"><meta http-equiv=\"refresh\" content=\"0;url=/\">"
        "<title>canewise</title></head><body><p><a href=\"/\">canewise</a></p></body></html>\n",
        "text/html; charset=utf-8");
    return Handled::Handled;
  }
  return Handled::Unhandled;
}

void Server::Parts::home(Response& response) const {
  const std::string body = "<main id=\"home\" data-token=\"" + guard.token + "\"><h1>" +
                           said(Message{"serve.your_reeds"}, options.speech) + "</h1></main>";
  response.set_content(framed_page(kServed, {"serve.title"}, body, {}, options.speech), "text/html; charset=utf-8");
}

void Server::Parts::list(Response& response) {
  json found = json::array();
  {
    const std::lock_guard lock(results_mutex);
    for (const ResultEntry& entry : results.entries()) {
      found.push_back({{"name", entry.name},
                       {"headline", entry.headline},
                       {"measured_at", entry.measured_at},
                       {"state", entry.state}});
    }
  }
  answer(response, 200, {{"results", std::move(found)}});
}

void Server::Parts::reed(const Request& request, Response& response) const {
  const auto folder = result_folder(options.folder, request.matches[1].str());
  if (!folder) return refuse(request, response, 404, {"serve.no_such_reed"});
  try {
    const Result result = read_result(*folder);
    PagePictures pictures;
    pictures.template_pdf = file_bytes(*folder / "template.pdf").value_or("");
    response.set_content(reed_page(result, pictures, kServed, options.speech), "text/html; charset=utf-8");
  } catch (const Error& error) {
    refuse(request, response, 422, error.message());
  }
}

void Server::Parts::reed_file(const Request& request, Response& response) const {
  const auto folder = result_folder(options.folder, request.matches[1].str());
  const std::string name = request.matches[2].str();
  const auto* served =
      std::find_if(kServedFiles.begin(), kServedFiles.end(), [&](const ServedFile& f) { return f.name == name; });
  if (!folder || served == kServedFiles.end()) return refuse(request, response, 404, {"serve.no_such_file"});
  const auto bytes = file_bytes(*folder / name);
  if (!bytes) return refuse(request, response, 404, {"serve.no_such_file"});
  response.set_content(*bytes, std::string(served->type));
}

std::optional<Compared> Server::Parts::compared(const Request& request, Response& response) {
  const auto no = [&](int status, const Message& message) -> std::optional<Compared> {
    refuse(request, response, status, message);
    return std::nullopt;
  };
  const auto before = result_folder(options.folder, request.get_param_value("before")),
             after = result_folder(options.folder, request.get_param_value("after"));
  if (!before || !after) return no(404, {"serve.no_such_reed"});
  const auto strokes_done = shares_from(request.get_param_value("strokes_done"));
  if (!strokes_done) return no(400, {"serve.strokes_made"});
  try {
    Compared both{read_result(*before), read_result(*after), {}};
    CompareOptions how{both.before.player, *strokes_done};
    {
      const std::lock_guard lock(player_mutex);
      if (std::filesystem::is_regular_file(options.player)) how.player = read_player(options.player);
    }
    both.comparison = compare(both.before, both.after, how);
    return both;
  } catch (const Error& error) {
    return no(422, error.message());
  }
}

void Server::Parts::compare_two(const Request& request, Response& response) {
  const auto both = compared(request, response);
  if (!both) return;
  const PageHome home{.in_one_file = false, .pictures_inside = true, .token = guard.token};
  const std::string picture = removal_png(both->comparison, both->before, options.speech);
  response.set_content(comparison_page(both->comparison, both->before, both->after, picture, home, options.speech),
                       "text/html; charset=utf-8");
}

void Server::Parts::keep_hand_of(const Request& request, Response& response) {
  const auto both = compared(request, response);
  if (!both) return;
  if (!both->comparison.hand) return refuse(request, response, 409, {"serve.no_hand"});
  try {
    const std::lock_guard lock(player_mutex);
    const auto kept = keep_hand(options.player, both->comparison, both->before.player);
    answer(response, 200, {{"file", options.player.filename().string()}, {"kept", kept.has_value()}});
  } catch (const Error& error) {
    refuse(request, response, 507, error.message());
  }
}

void Server::Parts::take_scan(const Request& request, Response& response, const httplib::ContentReader& read) {
  response.set_header("Connection", "close");
  const auto refuse_after_all = [&](int status, const Message& message, std::chrono::seconds patience) {
    // A connection that is closed on a sender takes the answer along: what is on its way is let run out.
    const auto until = std::chrono::steady_clock::now() + patience;
    const auto drop = [&](const char*, std::size_t) { return std::chrono::steady_clock::now() < until && !stopping; };
    if (request.is_multipart_form_data()) {
      (void)read([](const httplib::MultipartFormData&) { return true; }, drop);
    } else {
      (void)read(drop);
    }
    refuse(request, response, status, message);
  };
  const auto refuse_known = [&](int status, const Message& message) {
    refuse_after_all(status, message, kLongestDrain);
  };
  // Who is not known is not waited for.
  if (const auto refused = refusal(request))
    return refuse_after_all(refused->status, refused->message, kDrainOfStrangers);
  if (request.is_multipart_form_data()) return refuse_known(415, {"serve.not_a_form"});
  const std::string name = safe_file_name(request.get_param_value("name"));
  if (name.empty()) return refuse_known(400, {"serve.name_needed"});
  const auto of_file = [&name](Message what) -> Message {
    return {"in_file", {{"file", text(name)}, {"what", part(std::move(what))}}};
  };
  std::vector<std::string> of_this_scan;
  struct Choice {
    const char *key, *option;
    std::vector<std::string> values;
  };
  for (const Choice& choice : {Choice{"state", "--state", {"unknown", "dry", "wet"}},
                               Choice{"rolling_test", "--rolling-test", {"not-done", "left", "right", "even"}}}) {
    const std::string value = request.get_param_value(choice.key);
    if (value.empty()) continue;
    if (std::find(choice.values.begin(), choice.values.end(), value) == choice.values.end())
      return refuse_known(400, {"serve.no_such_value", {{"key", text(choice.key)}}});
    of_this_scan.insert(of_this_scan.end(), {choice.option, value});
  }
  // As it is now: it may have been learned while this server ran.
  if (std::filesystem::is_regular_file(options.player))
    of_this_scan.insert(of_this_scan.end(), {"--player", options.player.string()});
  if (!request.has_header("Content-Length")) return refuse_known(411, of_file({"serve.size_needed"}));
  const auto length = request.get_header_value<std::uint64_t>("Content-Length");
  if (length > options.largest_upload_bytes) {
    const auto megabytes = static_cast<double>(options.largest_upload_bytes >> 20U);
    return refuse_known(413, of_file({"serve.too_large", {{"megabytes", number(megabytes)}}}));
  }
  Message why_not;
  auto slot = [&]() -> std::optional<Uploads::Slot> {
    try {
      return uploads.begin(length);
    } catch (const Error& error) {
      why_not = error.message();
      return std::nullopt;
    }
  }();
  if (!why_not.empty()) return refuse_known(507, why_not);
  if (!slot) return refuse_known(503, {"serve.too_many_scans"});

  std::size_t received = 0;
  bool too_slow = false, full = false;
  const auto deadline = std::chrono::steady_clock::now() + kLongestUpload;
  {
    std::ofstream file(slot->folder() / name, std::ios::binary);
    const bool whole = read([&](const char* bytes, std::size_t count) {
      received += count;
      too_slow = std::chrono::steady_clock::now() > deadline;
      file.write(bytes, static_cast<std::streamsize>(count));
      full = !file;
      return !too_slow && !full && !stopping;
    });
    file.close();
    full = full || !file;
    if (full) return refuse(request, response, 507, of_file({"serve.scan_not_written"}));
    if (received == 0) return refuse(request, response, 400, of_file({"serve.scan_empty"}));
    if (!whole) return refuse(request, response, 400, of_file({"serve.scan_not_whole"}));
  }
  const auto id = jobs.start({slot->folder() / name, std::move(of_this_scan)});
  if (!id) return refuse(request, response, 503, {"serve.too_many_scans"});
  slot->keep();
  answer(response, 202, {{"id", *id}});
}

void Server::Parts::events(const Request& request, Response& response) {
  const std::string id = request.matches[1].str();
  if (!jobs.watch(id, 0, {})) return refuse(request, response, 404, {"serve.no_such_scan"});
  auto counted = std::make_shared<Counted>(event_streams);
  if (counted->now() > kMostEventStreams) return refuse(request, response, 503, {"serve.too_many_pages"});
  auto seen = std::make_shared<std::uint64_t>(0);
  auto first = std::make_shared<bool>(true);
  response.set_chunked_content_provider(
      "text/event-stream", [this, id, seen, first, counted](std::size_t, httplib::DataSink& sink) {
        constexpr std::chrono::seconds heartbeat{2};
        const auto view = jobs.watch(id, *seen, *first ? std::chrono::milliseconds(0) : heartbeat);
        // Without news a comment, so that a reader who went away is noticed.
        const bool news = view && (*first || view->changes > *seen);
        const std::string text = news ? event_of(*view) : ": waiting\n\n";
        *first = false;
        if (view) *seen = view->changes;
        if (stopping || !sink.write(text.data(), text.size())) return false;
        if (!view || view->over()) sink.done();
        return true;
      });
}

void Server::Parts::set_up() {
  http.new_task_queue = [] { return new httplib::ThreadPool(kThreads); };
  http.set_tcp_nodelay(true);
  // The library would share the port with any other program that asks for it.
  http.set_socket_options([this](socket_t socket) {
    const int yes = 1;
    ::setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
    bound = socket;
  });
  constexpr time_t patience_s = 10;
  http.set_read_timeout(patience_s);
  http.set_write_timeout(patience_s);
  http.set_keep_alive_timeout(2);
  http.set_payload_max_length(options.largest_upload_bytes);
  http.set_default_headers({
      {"Content-Security-Policy",
       "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; "
       "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"},
      {"X-Content-Type-Options", "nosniff"},
      {"Referrer-Policy", "no-referrer"},
      {"Cross-Origin-Resource-Policy", "same-origin"},
      {"Cross-Origin-Opener-Policy", "same-origin"},
      {"Cache-Control", "no-store"},
  });
  http.set_pre_routing_handler([this](const Request& q, Response& r) { return before(q, r); });
  http.set_exception_handler(
      [this](const Request& q, Response& r, const std::exception_ptr&) { refuse(q, r, 500, {"serve.internal"}); });
  http.set_error_handler([this](const Request& q, Response& r) {
    if (r.body.empty())
      refuse(q, r, r.status, r.status == 404 ? Message{"serve.nothing_here"} : Message{"serve.not_understood"});
  });
  http.Get("/", [this](const Request&, Response& r) { home(r); });
  http.Get("/app.js", [](const Request&, Response& r) {
    r.set_content(page_script().data(), page_script().size(), "text/javascript; charset=utf-8");
  });
  http.Get("/app.css", [](const Request&, Response& r) {
    r.set_content(page_style().data(), page_style().size(), "text/css; charset=utf-8");
  });
  http.Get("/api/results", [this](const Request&, Response& r) { list(r); });
  http.Get(R"(/reed/([^/]+)/)", [this](const Request& q, Response& r) { reed(q, r); });
  http.Get(R"(/reed/([^/]+)/([^/]+))", [this](const Request& q, Response& r) { reed_file(q, r); });
  http.Get("/compare", [this](const Request& q, Response& r) { compare_two(q, r); });
  http.Post("/api/hand", [this](const Request& q, Response& r) { keep_hand_of(q, r); });
  http.Post(kScans,
            [this](const Request& q, Response& r, const httplib::ContentReader& read) { take_scan(q, r, read); });
  http.Get(R"(/api/jobs/([0-9a-f]{64})/events)", [this](const Request& q, Response& r) { events(q, r); });
  http.Delete(R"(/api/jobs/([0-9a-f]{64}))", [this](const Request& q, Response& r) {
    if (!jobs.cancel(q.matches[1].str())) return refuse(q, r, 404, {"serve.no_such_scan"});
    answer(r, 200, json::object());
  });
}

Server::Server(ServerOptions options) : parts_(std::make_unique<Parts>(std::move(options))) {
  Parts& p = *parts_;
  p.set_up();
  const char* address = p.options.lan ? "0.0.0.0" : "127.0.0.1";
  if (p.options.port == 0) {
    p.guard.port = p.http.bind_to_any_port(address);
  } else if (p.http.bind_to_port(address, p.options.port)) {
    p.guard.port = p.options.port;
  }
  // The library lets five wait to be let in: of a crowd some would be turned away before they could say a word.
  if (p.guard.port > 0) ::listen(p.bound, SOMAXCONN);
  if (p.guard.port <= 0)
    throw OutputError({"serve.port_taken", {{"port", number(static_cast<double>(p.options.port))}}});
}

Server::~Server() {
  parts_->stopping = true;
  parts_->http.stop();
  if (parts_->listener.joinable()) parts_->listener.join();
}

int Server::port() const { return parts_->guard.port; }
const std::string& Server::token() const { return parts_->guard.token; }

void Server::start() {
  parts_->listener = std::thread([this] { parts_->http.listen_after_bind(); });
  // Or a stop that follows at once would come before there is anything to stop, and the listener would never end.
  constexpr std::chrono::milliseconds glance{1};
  for (int waits = 0; waits < 5000 && !parts_->http.is_running(); ++waits) std::this_thread::sleep_for(glance);
}

}  // namespace canewise
