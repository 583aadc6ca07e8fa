#pragma once

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <memory>

#include "viewer/http/http_message.h"

namespace canewise {

struct HttpLimits {
  std::size_t connections = 256;  ///< At once; the oldest that has not asked yet makes room for a newcomer.
  std::size_t workers = 8;        ///< Threads that answer.
  std::chrono::seconds head{10};  ///< For a whole head.
  std::chrono::seconds silence{15}, body{600};
  std::uint64_t least_bytes_per_second = 4096;  ///< Of a body, on average, once `silence` is over.
  /// While somebody still sends who was answered: who may send a body, and all others.
  std::chrono::seconds linger{30}, linger_for_others{2};
  double strangers_share = 0.01;  ///< Of a core, for what strangers still send in vain.
};

struct HttpEndpoint {
  bool whole_network = false;  ///< Else this computer alone.
  int port = 0;                ///< 0: any that is free.
};

/// HTTP/1.1 on Boost.Asio and Beast. One request a connection: whatever follows it is never read as another. The head
/// is bounded in bytes and time, a body by its length before a byte of it is kept; every read and write has a deadline.
/// Who may not ask is answered on the network thread and reaches no worker.
class HttpServer {
 public:
  /// Binds. `handler` outlives the server. Throws std::system_error if the port cannot be had.
  HttpServer(HttpHandler& handler, const HttpEndpoint& endpoint, const HttpLimits& limits = {});
  /// Closes every connection; waits for answers that workers are making.
  ~HttpServer();
  HttpServer(const HttpServer&) = delete;
  HttpServer& operator=(const HttpServer&) = delete;

  [[nodiscard]] int port() const;
  void start();  ///< Answers from here on, on threads of its own.

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace canewise
