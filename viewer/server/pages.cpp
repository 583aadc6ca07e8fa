#include "viewer/server/pages.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <nlohmann/json.hpp>
#include <optional>
#include <span>
#include <system_error>

#include "scanproc/core/error.h"
#include "scanproc/core/utc.h"
#include "scanproc/ledger/dates.h"
#include "scanproc/report/page_frame.h"
#include "scanproc/report/said.h"
#include "scanproc/words/message_json.h"
#include "viewer/http/status.h"
#include "viewer/server/answers.h"
#include "viewer/server/child_words.h"

namespace canewise {
namespace {

using nlohmann::json;

constexpr std::chrono::seconds kLongestPage{60}, kLongestList{1};
constexpr std::size_t kMostFileBytes = std::size_t{64} << 20U, kMostPageBytes = std::size_t{128} << 20U,
                      kMostWaitingBytes = std::size_t{256} << 20U;
const PageHome kServed{.in_one_file = false};

struct ServedFile {
  std::string_view name, type;
};
constexpr std::array kServedFiles{
    ServedFile{"balance.png", "image/png"},  ServedFile{"map.png", "image/png"},
    ServedFile{"bending.png", "image/png"},  ServedFile{"modes.png", "image/png"},
    ServedFile{"table.png", "image/png"},    ServedFile{"template.pdf", "application/pdf"},
    ServedFile{"thickness.csv", "text/csv"}, ServedFile{"result.json", "application/json"},
};

/// What a page may note of a trial and change of a reed; other columns are not for it.
constexpr std::array<std::string_view, 14> kOfTrial{
    "reed",          "mouthpiece", "minutes",       "response",   "evenness",   "tone",      "articulation",
    "high_register", "airiness",   "dynamic_range", "resistance", "freer_side", "suction_s", "words"};
constexpr std::array<std::string_view, 4> kOfReed{"label", "stage", "is_keeper", "note"};

/// '1,0,0.5'; nothing if it is no such list.
std::optional<std::vector<double>> shares_from(std::string_view text) {
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

/// By what the child says of itself: its message, or its exit code.
int status_of(const Message& refused, int exit_code) {
  if (refused.id == "serve.no_hand") return kConflict;
  return exit_code == static_cast<int>(ExitCode::cannot_write) ? kNoRoom : kUnprocessable;
}

}  // namespace

HttpAnswer Pages::refuse(const HttpRequest& request, int status, const Message& message) const {
  return refusal_answer(request, status, message, options_.speech);
}

HttpAnswer Pages::home() const {
  const std::string body = "<main id=\"home\" data-token=\"" + options_.writing_secret + "\"><h1>" +
                           said(Message{"serve.your_reeds"}, options_.speech) + "</h1></main>";
  return page_answer(framed_page(kServed, {{"serve.title"}, body}, options_.speech));
}

HttpAnswer Pages::list() {
  json found = json::array();
  // Who comes while others read is not kept waiting: a worker is for everybody.
  const std::unique_lock lock(results_mutex_, std::try_to_lock);
  if (!lock.owns_lock()) return json_answer(200, {{"results", std::move(found)}, {"more", true}});
  const auto until = std::chrono::steady_clock::now() + kLongestList;
  const auto listed = results_.list(folder_, [&] { return !stopping_ && std::chrono::steady_clock::now() < until; });
  for (const ResultEntry& entry : listed.entries) {
    found.push_back({{"name", entry.name},
                     {"label", entry.reed.label},
                     {"box", entry.reed.box},
                     {"player", entry.reed.player},
                     {"headline", entry.headline},
                     {"measured_at", entry.measured_at},
                     {"state", entry.state}});
  }
  return json_answer(200, {{"results", std::move(found)}, {"more", listed.more}});
}

/// When one of the places for children is free: only then is a result read, so that few are in memory at once.
HttpAnswer Pages::in_turn(const HttpRequest& request, const std::function<HttpAnswer()>& make) {
  const struct Line {
    std::atomic<int>& in_line;
    int now;
    explicit Line(std::atomic<int>& count) : in_line(count), now(++count) {}
    ~Line() { --in_line; }
  } line(in_line_);
  // Whoever waits holds a worker, and others are to be answered meanwhile.
  if (line.now > kAtOnce + kWaiting) return refuse(request, kUnavailable, {"serve.too_many_pages"});
  children_.acquire();
  const struct Place {
    std::counting_semaphore<kAtOnce>& children;
    ~Place() { children.release(); }
  } place{children_};
  if (stopping_) return refuse(request, kUnavailable, {"serve.too_many_pages"});
  return make();
}

/// What a child makes of it, or why it does not.
std::variant<HttpAnswer, std::string> Pages::made(const HttpRequest& request, PageWork work) {
  Message refused;
  ChildCommand command;
  command.words = {options_.command.string(), "page", "--lang", std::string(code_of(options_.speech.language)),
                   kTellHere};
  command.input = text_of(std::move(work));
  command.most_output_bytes = kMostPageBytes;
  ChildLimits limits = options_.limits;
  limits.time = kLongestPage;
  ChildEnd end = run_child(
      command, limits,
      [&](const std::string& line) {
        if (const auto told = told_on(line)) refused = told->refused;
      },
      [this] { return stopping_.load(); });
  if (end.how == ChildEnd::How::exited && end.exit_code == 0) return std::move(end.output);
  if (refused.empty()) return refuse(request, kBroken, {"serve.page_broke_off"});
  const int status = status_of(refused, end.exit_code);
  return refuse(request, status, without_places(std::move(refused), options_.places));
}

HttpAnswer Pages::reed(const HttpRequest& request, const std::string& name) {
  return in_turn(request, [&] { return reed_page_of(request, name); });
}
HttpAnswer Pages::comparison(const HttpRequest& request) {
  return in_turn(request, [&] { return compared_page(request); });
}
HttpAnswer Pages::keep_hand(const HttpRequest& request) {
  return in_turn(request, [&] { return kept_hand(request); });
}

HttpAnswer Pages::season(const HttpRequest& request) {
  PageWork work;
  work.what = PageWork::What::season;
  return in_turn(request, [&] { return page_from_ledger(request, std::move(work)); });
}
HttpAnswer Pages::box(const HttpRequest& request, const std::string& name) {
  PageWork work;
  work.what = PageWork::What::box;
  work.box = name;
  return in_turn(request, [&] { return page_from_ledger(request, std::move(work)); });
}

HttpAnswer Pages::page_from_ledger(const HttpRequest& request, PageWork work) {
  work.ledger = options_.ledger.string();
  work.day = day_of(now_utc());
  auto page = made(request, std::move(work));
  if (auto* refused = std::get_if<HttpAnswer>(&page)) return std::move(*refused);
  return page_answer(std::move(std::get<std::string>(page)));
}

HttpAnswer Pages::note(const HttpRequest& request, const std::string& table) {
  PageWork work;
  work.what = PageWork::What::note;
  work.ledger = options_.ledger.string();
  work.day = day_of(now_utc());
  work.table = table;
  for (const std::string_view column :
       table == "trial" ? std::span<const std::string_view>(kOfTrial) : std::span<const std::string_view>(kOfReed)) {
    const std::string name(column);
    if (request.has_parameter(column)) work.columns.emplace_back(name, request.parameter(column));
  }
  return in_turn(request, [&] {
    auto kept = made(request, std::move(work));
    if (auto* refused = std::get_if<HttpAnswer>(&kept)) return std::move(*refused);
    HttpAnswer answer;
    answer.body = std::move(std::get<std::string>(kept));
    return answer;
  });
}

HttpAnswer Pages::reed_page_of(const HttpRequest& request, const std::string& name) {
  auto bytes = result_bytes(folder_, name);
  if (!bytes) return refuse(request, kNotFound, {"serve.no_such_reed"});
  PageWork work;
  work.results.push_back({name, std::move(*bytes)});
  work.ledger = options_.ledger.string();
  work.token = options_.writing_secret;
  work.template_pdf = folder_.read(name, "template.pdf", kMostFileBytes).value_or("");
  auto page = made(request, std::move(work));
  if (auto* refused = std::get_if<HttpAnswer>(&page)) return std::move(*refused);
  return page_answer(std::move(std::get<std::string>(page)));
}

HttpAnswer Pages::reed_file(const HttpRequest& request, const std::string& name, const std::string& file) {
  const auto* served =
      std::find_if(kServedFiles.begin(), kServedFiles.end(), [&](const ServedFile& f) { return f.name == file; });
  auto bytes = served == kServedFiles.end() ? std::nullopt : folder_.read(name, file, kMostFileBytes);
  // Of a result alone: other folders that lie here are nobody's business.
  if (!bytes || !folder_.state(name, "result.json")) return refuse(request, kNotFound, {"serve.no_such_file"});
  // However slowly they are read, only so many bytes wait to be sent.
  if ((bytes_waiting_ += bytes->size()) > kMostWaitingBytes) {
    bytes_waiting_ -= bytes->size();
    return refuse(request, kUnavailable, {"serve.too_many_pages"});
  }
  HttpAnswer answer;
  answer.hold = std::shared_ptr<void>(nullptr, [this, size = bytes->size()](void*) { bytes_waiting_ -= size; });
  answer.type = served->type;
  answer.body = std::move(*bytes);
  return answer;
}

std::variant<HttpAnswer, PageWork> Pages::both_of(const HttpRequest& request) const {
  PageWork work;
  for (const char* which : {"before", "after"}) {
    const std::string name(request.parameter(which));
    auto bytes = result_bytes(folder_, name);
    if (!bytes) return refuse(request, kNotFound, {"serve.no_such_reed"});
    work.results.push_back({name, std::move(*bytes)});
  }
  auto strokes = shares_from(request.parameter("strokes_done"));
  if (!strokes) return refuse(request, kBadRequest, {"serve.strokes_made"});
  work.strokes_done = std::move(*strokes);
  work.player = options_.player.string();
  work.token = options_.writing_secret;
  return work;
}

HttpAnswer Pages::compared_page(const HttpRequest& request) {
  auto both = both_of(request);
  if (auto* refused = std::get_if<HttpAnswer>(&both)) return std::move(*refused);
  auto& work = std::get<PageWork>(both);
  work.what = PageWork::What::comparison;
  auto page = made(request, std::move(work));
  if (auto* refused = std::get_if<HttpAnswer>(&page)) return std::move(*refused);
  return page_answer(std::move(std::get<std::string>(page)));
}

HttpAnswer Pages::kept_hand(const HttpRequest& request) {
  auto both = both_of(request);
  if (auto* refused = std::get_if<HttpAnswer>(&both)) return std::move(*refused);
  auto& work = std::get<PageWork>(both);
  work.what = PageWork::What::hand;
  work.token.clear();
  const std::lock_guard lock(player_mutex_);  // What one learns the next must not overwrite.
  auto kept = made(request, std::move(work));
  if (auto* refused = std::get_if<HttpAnswer>(&kept)) return std::move(*refused);
  HttpAnswer answer;
  answer.body = std::move(std::get<std::string>(kept));
  return answer;
}

}  // namespace canewise
