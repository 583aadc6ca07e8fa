#include "tests/attack/support/wire.h"

#include <arpa/inet.h>
#include <netinet/in.h>
#include <netinet/tcp.h>
#include <poll.h>
#include <strings.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <charconv>
#include <stdexcept>

namespace canewise::attack {
namespace {

constexpr std::string_view kHeadEnd = "\r\n\r\n";

bool same_letters(std::string_view a, std::string_view b) {
  return a.size() == b.size() && ::strncasecmp(a.data(), b.data(), a.size()) == 0;
}

/// 'HTTP/1.1 403 ...'; 0 if no answer begins here.
int status_at(std::string_view text) {
  if (!text.starts_with("HTTP/1.") || text.size() < 12) return 0;
  int status = 0;
  (void)std::from_chars(text.data() + 9, text.data() + 12, status);
  return status;
}

/// Answers that begin anywhere: no page of this server holds a status line.
int count_answers(std::string_view text) {
  int count = 0;
  for (std::size_t at = text.find("HTTP/1."); at != std::string_view::npos; at = text.find("HTTP/1.", at + 1))
    count += status_at(text.substr(at)) > 0;
  return count;
}

Answer ask_with(int port, std::string_view bytes, Milliseconds patience, bool finish) {
  Wire wire(port);
  const auto until = Clock::now() + patience;
  bool finished = false;
  while (!wire.closed() && Clock::now() < until) {
    if (!bytes.empty() && !wire.broken()) bytes.remove_prefix(wire.send_some(bytes));
    if (finish && !finished && bytes.empty()) {
      wire.finish_sending();
      finished = true;
    }
    constexpr Milliseconds glance{100};
    wire.wait_for_news(!bytes.empty() && !wire.broken(), glance);
    wire.read_some(1U << 20U);
  }
  return wire.answer();
}

}  // namespace

std::string Answer::header(std::string_view name) const {
  for (std::size_t at = head.find("\r\n"); at != std::string::npos; at = head.find("\r\n", at + 2)) {
    const std::string_view line = std::string_view(head).substr(at + 2, head.find("\r\n", at + 2) - at - 2);
    const auto colon = line.find(':');
    if (colon == std::string_view::npos || !same_letters(line.substr(0, colon), name)) continue;
    const auto value = line.find_first_not_of(' ', colon + 1);
    return value == std::string_view::npos ? "" : std::string(line.substr(value));
  }
  return {};
}

Wire::Wire(int port, int receive_buffer) : socket_(::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0)) {
  if (socket_ < 0) throw std::runtime_error("no socket");
  if (receive_buffer > 0) ::setsockopt(socket_, SOL_SOCKET, SO_RCVBUF, &receive_buffer, sizeof receive_buffer);
  const int yes = 1;
  ::setsockopt(socket_, IPPROTO_TCP, TCP_NODELAY, &yes, sizeof yes);
  sockaddr_in to{};
  to.sin_family = AF_INET;
  to.sin_port = htons(static_cast<std::uint16_t>(port));
  to.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  if (::connect(socket_, reinterpret_cast<const sockaddr*>(&to), sizeof to) != 0) closed_ = broken_ = true;
}

Wire::~Wire() {
  if (socket_ >= 0) ::close(socket_);
}

Wire::Wire(Wire&& other) noexcept
    : socket_(other.socket_),
      closed_(other.closed_),
      broken_(other.broken_),
      sent_(other.sent_),
      received_(std::move(other.received_)),
      since_(other.since_) {
  other.socket_ = -1;
}

std::size_t Wire::send_some(std::string_view bytes) {
  const auto sent = ::send(socket_, bytes.data(), bytes.size(), MSG_NOSIGNAL | MSG_DONTWAIT);
  if (sent >= 0) {
    sent_ += static_cast<std::size_t>(sent);
    return static_cast<std::size_t>(sent);
  }
  if (errno != EAGAIN && errno != EINTR) broken_ = true;
  return 0;
}

void Wire::read_some(std::size_t most) {
  std::array<char, 16384> buffer{};
  while (most > 0 && !closed_) {
    const auto got = ::recv(socket_, buffer.data(), std::min(most, buffer.size()), MSG_DONTWAIT);
    if (got > 0) {
      received_.append(buffer.data(), static_cast<std::size_t>(got));
      most -= static_cast<std::size_t>(got);
    } else if (got == 0 || (errno != EAGAIN && errno != EINTR)) {
      closed_ = true;
    } else {
      return;
    }
  }
}

void Wire::finish_sending() const { ::shutdown(socket_, SHUT_WR); }

void Wire::forget() {
  constexpr std::size_t beginning = 4096;
  received_.resize(std::min(received_.size(), beginning));
}

void Wire::wait_for_news(bool also_room, Milliseconds longest) const {
  pollfd wait{socket_, static_cast<short>(also_room ? POLLIN | POLLOUT : POLLIN), 0};
  (void)::poll(&wait, 1, static_cast<int>(longest.count()));
}

Answer Wire::answer() const {
  Answer answer;
  answer.closed = closed_;
  answer.sent_bytes = sent_;
  answer.seconds = std::chrono::duration<double>(Clock::now() - since_).count();
  std::string_view rest = received_;
  constexpr int first_final = 200;
  while (status_at(rest) > 0 && status_at(rest) < first_final) {
    ++answer.interim;
    rest.remove_prefix(std::min(rest.find(kHeadEnd), rest.size() - kHeadEnd.size()) + kHeadEnd.size());
  }
  answer.status = status_at(rest);
  answer.answers = count_answers(rest);
  const auto end = rest.find(kHeadEnd);
  answer.head = rest.substr(0, end == std::string_view::npos ? rest.size() : end + 2);
  if (end != std::string_view::npos) answer.body = rest.substr(end + kHeadEnd.size());
  return answer;
}

Answer ask(int port, std::string_view bytes, Milliseconds patience) { return ask_with(port, bytes, patience, false); }
Answer ask_and_finish(int port, std::string_view bytes, Milliseconds patience) {
  return ask_with(port, bytes, patience, true);
}

}  // namespace canewise::attack
