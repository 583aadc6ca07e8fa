#pragma once

#include <array>
#include <boost/asio/awaitable.hpp>
#include <boost/asio/buffer.hpp>
#include <boost/asio/thread_pool.hpp>
#include <boost/beast/core/tcp_stream.hpp>
#include <chrono>
#include <cstddef>
#include <utility>

#include "viewer/http/http_message.h"
#include "viewer/http/http_server.h"

// Included by sources of this room alone: Asio's headers are heavy.
namespace canewise {

struct Connection {
  explicit Connection(boost::asio::ip::tcp::socket socket) : stream(std::move(socket)) {}
  boost::beast::tcp_stream stream;
  bool has_asked = false;  ///< Its head is whole.
  bool is_answered = false;
  bool is_known = false;  ///< It may ask.
};

/// What reading costs that is done for strangers in vain: by time, since a megabyte of tiny pieces costs a hundred
/// times one of large pieces. On the network thread alone.
class StrangersShare {
 public:
  explicit StrangersShare(double of_a_core) : of_a_core_(of_a_core) {}
  /// False once the network thread has taken this second's share of a core, for whomever.
  bool is_left();
  /// Where vain bytes go, over each other: nobody reads them.
  [[nodiscard]] boost::asio::mutable_buffer waste() { return boost::asio::buffer(waste_); }

 private:
  using Clock = std::chrono::steady_clock;
  double of_a_core_;
  Clock::time_point since_{};
  std::chrono::nanoseconds taken_before_{};
  std::array<char, 16384> waste_{};
};

struct ConnectionContext {
  HttpHandler& handler;
  const HttpLimits& limits;
  boost::asio::thread_pool& workers;
  StrangersShare& strangers;
};

/// One request and its answer; returns when the connection may be closed. Throws nothing for what the other side does.
boost::asio::awaitable<void> serve_connection(Connection& connection, ConnectionContext context);

}  // namespace canewise
