#pragma once

#include <arpa/inet.h>
#include <gtest/gtest.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <unistd.h>

#include <array>
#include <cstdint>
#include <string>
#include <string_view>

namespace canewise::test {

/// Bytes on a bare connection to this computer, for what no client library sends.
class Wire {
 public:
  explicit Wire(int port) : socket_(::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0)) {
    sockaddr_in to{};
    to.sin_family = AF_INET;
    to.sin_port = htons(static_cast<std::uint16_t>(port));
    to.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    const timeval patience{30, 0};
    ::setsockopt(socket_, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
    EXPECT_EQ(::connect(socket_, reinterpret_cast<const sockaddr*>(&to), sizeof to), 0);
  }
  ~Wire() { ::close(socket_); }
  Wire(const Wire&) = delete;
  Wire& operator=(const Wire&) = delete;
  /// False if the other side takes no more.
  bool send(std::string_view bytes) const {
    return ::send(socket_, bytes.data(), bytes.size(), MSG_NOSIGNAL) == static_cast<ssize_t>(bytes.size());
  }
  /// Until the other side closes or falls silent.
  [[nodiscard]] std::string all() const { return received_until(std::string_view()); }
  /// Until the head is there as well.
  [[nodiscard]] std::string answer() const { return received_until("\r\n\r\n"); }

 private:
  [[nodiscard]] std::string received_until(std::string_view end) const {
    std::string received;
    std::array<char, 65536> buffer{};
    for (ssize_t got = 0; (got = ::recv(socket_, buffer.data(), buffer.size(), 0)) > 0;) {
      received.append(buffer.data(), static_cast<std::size_t>(got));
      if (!end.empty() && received.find(end) != std::string::npos) break;
    }
    return received;
  }
  int socket_;
};

}  // namespace canewise::test
