// What strangers and children say to the server. Beside 'does not crash', each feed holds what must be true of whatever
// comes out; a breach ends the process, which the fuzzer and the replay both report.
#include <algorithm>
#include <array>
#include <cstdlib>
#include <sstream>

#include "tests/fuzz/fuzz_targets.h"
#include "viewer/http/request_head.h"
#include "viewer/server/child_words.h"
#include "viewer/server/guard.h"
#include "viewer/server/held_folder.h"
#include "viewer/server/page_work.h"
#include "viewer/server/results.h"

namespace {

using namespace canewise;

void hold(bool what) {
  if (!what) std::abort();
}

bool has_control(std::string_view text) {
  return std::any_of(text.begin(), text.end(),
                     [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; });
}

void feed_head(const std::string& bytes) {
  RequestHead at_once, in_bytes;
  at_once.put(bytes);
  for (std::size_t i = 0; i < bytes.size() && in_bytes.state() == RequestHead::State::more; ++i)
    in_bytes.put(std::string_view(bytes).substr(i, 1));
  // However it comes, it is the same request.
  hold(at_once.state() == in_bytes.state());
  if (at_once.state() == RequestHead::State::refused) {
    hold(at_once.status() >= 400 && at_once.status() < 500 && at_once.status() == in_bytes.status());
    return;
  }
  if (at_once.state() == RequestHead::State::more) return hold(bytes.size() <= RequestHead::kMostBytes + 3);
  const HttpRequest& request = at_once.request();
  hold(request.path.starts_with('/') && !has_control(request.path) && request.path == in_bytes.request().path);
  hold(at_once.rest().size() < bytes.size() && bytes.ends_with(at_once.rest()));
  hold(!request.has_header("transfer-encoding"));
  // Nobody guesses a secret, and without one nobody is let in.
  static const GuardOptions guard{{}, 8000, true};
  hold(refusal_of({request.method, request.header("host"), request.header("origin"), request.header("sec-fetch-site"),
                   true, request.header("x-canewise-token"), request.parameter("token"), request.header("cookie")},
                  guard)
           .has_value());
}

void feed_child_line(const std::string& bytes) {
  const auto told = told_on(bytes);
  if (!told) return;
  hold(told->fraction >= 0.0 && told->fraction <= 1.0);
  (void)for_sender(told->stage, "/served/.canewise-incoming-1/reed.ply");
  (void)for_sender(told->refused, "/served/.canewise-incoming-1/reed.ply");
  (void)for_sender(bytes, "/served/.canewise-incoming-1/reed.ply");
}

void feed_name(const std::string& bytes) {
  const std::string name = safe_file_name(bytes);
  hold(name.size() <= 80);
  if (!name.empty()) {
    hold(is_plain_name(name) && !has_control(name));
    const auto is_letter_or_digit = [](char c) {
      return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
    };
    hold(is_letter_or_digit(name.front()) && name == safe_file_name(name));
  }
  static const Secrets secrets;
  hold(!cookie_holds(bytes, cookie_name(8000), secrets.reading));
  if (const auto decoded = percent_decoded(bytes, true)) hold(decoded->size() <= bytes.size());
}

void feed_page_work(const std::string& bytes) {
  std::istringstream text(bytes);
  try {
    const PageWork work = page_work_from(text);
    std::istringstream again(text_of(work));
    hold(page_work_from(again).results.size() == work.results.size());
  } catch (const std::exception&) {  // Refused: as it should be.
  }
}

constexpr std::array kTargets{FuzzTarget{"http_head", feed_head}, FuzzTarget{"child_line", feed_child_line},
                              FuzzTarget{"served_name", feed_name}, FuzzTarget{"page_work", feed_page_work}};

}  // namespace

std::span<const FuzzTarget> server_fuzz_targets() { return kTargets; }
