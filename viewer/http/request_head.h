#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "viewer/http/http_message.h"

namespace canewise {

/// Takes bytes of a connection until a request's head is whole. What is no head of HTTP/1.0 or 1.1 ([RFC9112]), is
/// longer than `kMostBytes`, or leaves doubt about where its body ends is refused.
class RequestHead {
 public:
  static constexpr std::size_t kMostBytes = 16384;
  /// A short one costs ten times its length once it is kept apart.
  static constexpr std::size_t kMostHeaders = 64, kMostParameters = 32;
  enum class State : std::uint8_t { more, whole, refused };

  /// Takes no more once it is whole or refused. Never throws for what the bytes hold.
  State put(std::string_view bytes);
  [[nodiscard]] State state() const { return state_; }
  /// Of a refused head.
  [[nodiscard]] int status() const { return status_; }
  /// Of a whole head.
  [[nodiscard]] const HttpRequest& request() const { return request_; }
  /// What came behind a whole head: the body's beginning.
  [[nodiscard]] const std::string& rest() const { return rest_; }

 private:
  State refuse(int status);
  State parse(std::size_t head_bytes);

  State state_ = State::more;
  int status_ = 0;
  std::string bytes_, rest_;
  HttpRequest request_;
};

/// Decodes percent signs, and '+' as a blank if asked for; nothing if a sign is no pair of hex digits or stands for a
/// control character.
[[nodiscard]] std::optional<std::string> percent_decoded(std::string_view text, bool plus_is_blank);

}  // namespace canewise
