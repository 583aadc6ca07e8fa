#pragma once

#include <chrono>
#include <cstddef>
#include <string>
#include <string_view>

namespace canewise::attack {

using Clock = std::chrono::steady_clock;
using Milliseconds = std::chrono::milliseconds;

/// Longer than any deadline of the server: what takes longer counts as never.
constexpr Milliseconds kPatience{16000};

/// What came back on one connection, from its first byte to the server's closing it.
struct Answer {
  int status = 0;       ///< Of the first answer that is not 1xx; 0: none came.
  int answers = 0;      ///< How many answers stand on the connection, those of 1xx not counted.
  int interim = 0;      ///< Answers of 1xx.
  std::string head;     ///< Status line and headers of the first answer.
  std::string body;     ///< Everything behind that head.
  bool closed = false;  ///< By the server, by FIN or by RST.
  double seconds = 0.0;
  std::size_t sent_bytes = 0;
  [[nodiscard]] std::string header(std::string_view name) const;  ///< Empty if it is not there.
};

/// A bare TCP connection to 127.0.0.1 that never blocks, for what no client library sends.
class Wire {
 public:
  /// `receive_buffer` in bytes: a small one makes the server wait for a slow reader; 0: as the system likes it.
  explicit Wire(int port, int receive_buffer = 0);
  ~Wire();
  Wire(Wire&& other) noexcept;
  Wire& operator=(Wire&&) = delete;
  Wire(const Wire&) = delete;

  /// As much as the system takes now; how many bytes.
  std::size_t send_some(std::string_view bytes);
  /// At most `most` bytes that are there now are read and kept.
  void read_some(std::size_t most);
  /// No more will be sent; what comes can still be read.
  void finish_sending() const;
  /// Of what was received only the beginning is kept, where it is too much.
  void forget();
  void wait_for_news(bool also_room, Milliseconds longest) const;

  [[nodiscard]] int socket() const { return socket_; }
  [[nodiscard]] bool closed() const { return closed_; }
  [[nodiscard]] bool broken() const { return broken_; }  ///< Nothing can be sent any more.
  [[nodiscard]] std::size_t sent_bytes() const { return sent_; }
  [[nodiscard]] const std::string& received() const { return received_; }
  [[nodiscard]] Answer answer() const;  ///< What was received, taken apart.

 private:
  int socket_ = -1;
  bool closed_ = false, broken_ = false;
  std::size_t sent_ = 0;
  std::string received_;
  Clock::time_point since_ = Clock::now();
};

/// Sends all, as long as the server takes it, and reads to the end of the connection or of the patience.
[[nodiscard]] Answer ask(int port, std::string_view bytes, Milliseconds patience = kPatience);
/// The same, but says at once that nothing will follow.
[[nodiscard]] Answer ask_and_finish(int port, std::string_view bytes, Milliseconds patience = kPatience);

}  // namespace canewise::attack
