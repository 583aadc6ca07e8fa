#pragma once

#include <boost/asio/awaitable.hpp>
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
  bool is_known = false;   ///< It may ask.
};

/// What strangers send in vain, all together, each second. On the network thread alone.
class StrangersShare {
 public:
  explicit StrangersShare(std::size_t bytes_per_second) : bytes_per_second_(bytes_per_second) {}
  /// False once this second's share is used up.
  bool is_left();
  void take(std::size_t bytes) { taken_ += bytes; }

 private:
  using Clock = std::chrono::steady_clock;
  std::size_t bytes_per_second_, taken_ = 0;
  Clock::time_point since_ = Clock::now();
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
