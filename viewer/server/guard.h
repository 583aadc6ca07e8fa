#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "scanproc/words/message.h"

namespace canewise {

/// What of a request decides whether it may be answered. Empty text where a header is missing.
struct RequestFacts {
  std::string_view method, host, origin, fetch_site;
  bool follows_a_link = false;  ///< A person goes to this page, from wherever (Sec-Fetch-Mode and -Dest).
  std::string_view token, cookie_token;
};

struct GuardOptions {
  std::string token;
  int port = 0;
  bool lan = false;  ///< Others on the network may come; then reading needs the token too.
};

struct Refusal {
  int status = 403;
  Message message;
};

/// Why a request is refused, or nothing. Host must name this computer itself: a name that a stranger's page resolves to
/// this address must not get through (DNS rebinding). What writes needs this start's token in a header, which no page
/// of another origin can send unasked, and an Origin that is this server, where the browser gives one.
[[nodiscard]] std::optional<Refusal> refusal_of(const RequestFacts& request, const GuardOptions& options);

/// 256 random bits, as hexadecimal digits.
[[nodiscard]] std::string new_token();

/// Compares without telling by its duration where two texts differ.
[[nodiscard]] bool same_secret(std::string_view given, std::string_view secret);

}  // namespace canewise
