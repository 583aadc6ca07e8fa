#include "viewer/http/connection.h"

#include <array>
#include <boost/asio/buffer.hpp>
#include <boost/asio/co_spawn.hpp>
#include <boost/asio/redirect_error.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/use_awaitable.hpp>
#include <boost/beast/http/empty_body.hpp>
#include <boost/beast/http/message.hpp>
#include <boost/beast/http/write.hpp>
#include <ctime>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include "viewer/http/request_head.h"

namespace canewise {
namespace {

namespace asio = boost::asio;
namespace http = boost::beast::http;
using boost::system::error_code;
using Clock = std::chrono::steady_clock;
template <typename T>
using Task = asio::awaitable<T>;

constexpr std::size_t kPiece = 65536;

/// Runs `work` on a worker and comes back to the network thread.
template <typename Work>
Task<std::invoke_result_t<Work&>> on_worker(asio::thread_pool& workers, Work work) {
  using Outcome = std::invoke_result_t<Work&>;
  auto run = [](Work given) -> Task<Outcome> { co_return given(); };
  auto task = run(std::move(work));
  auto outcome = co_await asio::co_spawn(workers, std::move(task), asio::use_awaitable);
  co_return outcome;
}

/// Bytes that are there, within `patience`; 0 if there will be none.
Task<std::size_t> read_some(Connection& connection, asio::mutable_buffer into, std::chrono::milliseconds patience) {
  error_code error;
  connection.stream.expires_after(patience);
  auto token = asio::redirect_error(asio::use_awaitable, error);
  const std::size_t got = co_await connection.stream.async_read_some(into, token);
  co_return error ? 0 : got;
}

/// False if the other side takes nothing for a while or is gone.
Task<bool> write_all(Connection& connection, std::string_view bytes, std::chrono::seconds silence) {
  while (!bytes.empty()) {
    error_code error;
    connection.stream.expires_after(silence);
    auto token = asio::redirect_error(asio::use_awaitable, error);
    const asio::const_buffer rest(bytes.data(), std::min(bytes.size(), kPiece));
    const std::size_t wrote = co_await connection.stream.async_write_some(rest, token);
    if (error || wrote == 0) co_return false;
    bytes.remove_prefix(wrote);
  }
  co_return true;
}

/// Whoever sends in many small pieces is read now and then: reading costs by the piece.
constexpr std::chrono::milliseconds kPause{50};

Task<void> pause(Connection& connection) {
  asio::steady_timer timer(connection.stream.get_executor(), kPause);
  error_code error;
  auto token = asio::redirect_error(asio::use_awaitable, error);
  co_await timer.async_wait(token);
}

Task<void> read_head(Connection& connection, const HttpLimits& limits, RequestHead& head) {
  const auto deadline = Clock::now() + limits.head;
  std::array<char, 4096> bytes;
  while (true) {
    const auto left = std::chrono::duration_cast<std::chrono::milliseconds>(deadline - Clock::now());
    if (left.count() <= 0) co_return;
    const std::size_t got = co_await read_some(connection, asio::buffer(bytes), left);
    if (got == 0) co_return;
    if (head.put({bytes.data(), got}) != RequestHead::State::more) co_return;
    if (got < bytes.size()) co_await pause(connection);
  }
}

std::string head_of(const HttpAnswer& answer, const HttpHandler& handler) {
  http::response<http::empty_body> head(static_cast<http::status>(answer.status), 11);
  for (const auto* headers : {&handler.common_headers(), &answer.headers}) {
    for (const auto& [name, value] : *headers) head.set(name, value);
  }
  head.set(http::field::content_type, answer.type);
  head.set(http::field::connection, "close");
  if (!answer.events) head.content_length(answer.body.size());
  std::ostringstream text;
  text << head.base();
  return std::move(text).str();
}

/// Without news a comment now and then, so that a reader who went away is noticed.
Task<void> write_events(Connection& connection, const HttpAnswer& answer, std::chrono::seconds silence) {
  constexpr std::chrono::milliseconds glance{100};
  constexpr std::chrono::seconds heartbeat{2};
  asio::steady_timer timer(connection.stream.get_executor());
  auto last = Clock::now();
  while (true) {
    EventNews news = answer.events();
    const bool over = news.over;
    if (news.text.empty() && !over && Clock::now() - last > heartbeat) news.text = ": waiting\n\n";
    if (!news.text.empty()) {
      const bool wrote = co_await write_all(connection, news.text, silence);
      if (!wrote) co_return;
      last = Clock::now();
    }
    if (over) co_return;
    timer.expires_after(glance);
    error_code error;
    auto token = asio::redirect_error(asio::use_awaitable, error);
    co_await timer.async_wait(token);
    if (error || !connection.stream.socket().is_open()) co_return;
  }
}

Task<void> write_answer(Connection& connection, ConnectionContext context, const HttpAnswer& answer, bool head_alone) {
  const std::string head = head_of(answer, context.handler);
  const HttpLimits& limits = context.limits;
  const bool wrote = co_await write_all(connection, head, limits.silence);
  if (!wrote || head_alone) co_return;
  if (answer.events) {
    co_await write_events(connection, answer, limits.silence);
  } else {
    (void)co_await write_all(connection, answer.body, limits.silence);
  }
}

/// How fast a body comes.
class Pace {
 public:
  explicit Pace(const HttpLimits& limits) : limits_(limits) {}
  bool is_too_slow_after(std::size_t bytes) {
    bytes_ += bytes;
    const auto took = std::chrono::duration_cast<std::chrono::seconds>(Clock::now() - since_);
    const auto least = limits_.least_bytes_per_second * static_cast<std::uint64_t>(took.count());
    return took > limits_.body || (took > limits_.silence && bytes_ < least);
  }

 private:
  const HttpLimits& limits_;
  std::uint64_t bytes_ = 0;
  Clock::time_point since_ = Clock::now();
};

/// A body's pieces, the first of which came with the head.
Task<HttpAnswer> receive_body(Connection& connection, ConnectionContext context, const RequestHead& head,
                              BodySink& sink) {
  std::uint64_t left = *head.request().content_length;
  Pace pace(context.limits);
  std::vector<char> bytes(kPiece);
  std::string_view piece(head.rest());
  BodyEnd how = BodyEnd::whole;
  bool takes = true;
  while (left > 0) {
    if (piece.empty()) {
      const std::size_t most = std::min<std::uint64_t>(left, bytes.size());
      const std::size_t got = co_await read_some(connection, asio::buffer(bytes.data(), most), context.limits.silence);
      piece = {bytes.data(), got};
    }
    const bool is_late = pace.is_too_slow_after(piece.size());
    if (piece.empty() || is_late) {
      how = is_late ? BodyEnd::too_slow : BodyEnd::cut_off;
      break;
    }
    piece = piece.substr(0, std::min<std::uint64_t>(left, piece.size()));
    takes = co_await on_worker(context.workers, [&sink, piece] { return sink.take(piece); });
    if (!takes) break;
    left -= piece.size();
    piece = {};
  }
  auto answer = co_await on_worker(context.workers, [&sink, how] { return sink.end(how); });
  co_return answer;
}

/// A connection that is closed on a sender takes the answer along: what is on its way is let run out.
Task<void> linger(Connection& connection, ConnectionContext context, std::chrono::seconds patience) {
  const auto deadline = Clock::now() + patience;
  while (Clock::now() < deadline && connection.stream.socket().is_open()) {
    if (!connection.is_known && !context.strangers.is_left()) {
      co_await pause(connection);
      continue;
    }
    const auto left = std::chrono::duration_cast<std::chrono::milliseconds>(deadline - Clock::now());
    const std::size_t got = co_await read_some(connection, context.strangers.waste(), left);
    if (got == 0) co_return;
  }
}

Task<HttpAnswer> answer_of(Connection& connection, ConnectionContext context, const RequestHead& head) {
  HttpHandler& handler = context.handler;
  const HttpRequest& request = head.request();
  if (auto refused = handler.refuse(request)) co_return std::move(*refused);
  connection.is_known = true;
  if (request.content_length.value_or(0) == 0) {
    auto answer = co_await on_worker(context.workers, [&handler, &request] { return handler.answer(request); });
    co_return answer;
  }
  auto received = co_await on_worker(context.workers, [&handler, &request] { return handler.receive(request); });
  if (auto* refused = std::get_if<HttpAnswer>(&received)) co_return std::move(*refused);
  if (request.header("expect") == "100-continue" && head.rest().empty()) {
    const bool wrote = co_await write_all(connection, "HTTP/1.1 100 Continue\r\n\r\n", context.limits.silence);
    if (!wrote) co_return HttpAnswer{};
  }
  auto answer = co_await receive_body(connection, context, head, *std::get<std::unique_ptr<BodySink>>(received));
  co_return answer;
}

}  // namespace

bool StrangersShare::is_left() {
  std::timespec cpu{};
  ::clock_gettime(CLOCK_THREAD_CPUTIME_ID, &cpu);
  const auto taken = std::chrono::seconds(cpu.tv_sec) + std::chrono::nanoseconds(cpu.tv_nsec);
  const auto now = Clock::now();
  if (now - since_ > std::chrono::seconds(1)) since_ = now, taken_before_ = taken;
  return std::chrono::duration<double>(taken - taken_before_).count() < of_a_core_;
}

Task<void> serve_connection(Connection& connection, ConnectionContext context) {
  std::optional<RequestHead> head(std::in_place);
  co_await read_head(connection, context.limits, *head);
  if (head->state() == RequestHead::State::more) co_return;
  connection.has_asked = true;
  const bool is_request = head->state() == RequestHead::State::whole;
  std::optional<HttpAnswer> answer;
  if (is_request) {
    answer = co_await answer_of(connection, context, *head);
  } else {
    answer = context.handler.not_understood(head->status());
  }
  const bool head_alone = is_request && head->request().method == "HEAD";
  const bool may_send = is_request && head->request().content_length.value_or(0) > 0;
  head.reset();  // Nobody needs it any more, and many may linger.
  co_await write_answer(connection, context, *answer, head_alone);
  answer.reset();
  connection.is_answered = true;
  error_code gone;
  connection.stream.socket().shutdown(asio::ip::tcp::socket::shutdown_send, gone);
  if (gone) co_return;
  // No page of ours sends what is no head: a moment for the answer, and nothing more is read.
  if (!is_request) co_return co_await pause(connection);
  const bool is_waited_for = connection.is_known && may_send;
  co_await linger(connection, context, is_waited_for ? context.limits.linger : context.limits.linger_for_others);
}

}  // namespace canewise
