#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "scanproc/words/speech.h"
#include "viewer/server/child.h"
#include "viewer/server/guard.h"

namespace canewise {

/// That run at once: two that measure, two that make pages.
inline constexpr std::size_t kServerChildren = 4;

struct ServerOptions {
  std::filesystem::path folder;              ///< Of results; there already.
  std::filesystem::path command;             ///< This program, to measure with.
  std::vector<std::string> measure_options;  ///< For every measurement.
  std::filesystem::path player;              ///< Player file that learns the hand; need not be there yet.
  int port = 0;                              ///< 0: any that is free.
  bool lan = false;
  std::size_t largest_upload_bytes = 2ULL << 30U;
  std::size_t largest_waiting_bytes = 8ULL << 30U;  ///< Of all uploads that are on the disk at once.
  ChildLimits limits;
  Speech speech;  ///< Of pages and of what is written; the page says it anew for its reader.
};

/// Serves the page, the results in a folder, and measurements of scans that are dropped on it. Bound to loopback unless
/// `lan`; see guard.h for who is answered.
class Server {
 public:
  /// Binds. Throws OutputError if the port is taken.
  explicit Server(ServerOptions options);
  ~Server();  ///< Closes every connection, cancels what is being measured, takes unfinished uploads away.
  Server(const Server&) = delete;
  Server& operator=(const Server&) = delete;

  [[nodiscard]] int port() const;
  [[nodiscard]] const Secrets& secrets() const;
  void start();  ///< Answers from here on, on threads of its own.

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace canewise
