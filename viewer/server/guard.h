#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "scanproc/words/message.h"

namespace canewise {

/// 256 random bits, as hexadecimal digits.
[[nodiscard]] std::string new_token();

/// Compares without telling by its duration where two texts differ. Nothing equals an empty secret.
[[nodiscard]] bool same_secret(std::string_view given, std::string_view secret);

/// What lets in. The address that the command prints carries the one for reading, and a cookie keeps it; the one for
/// writing stands in pages alone, so that nobody writes by a cookie that goes along with what another page sends.
struct Secrets {
  std::string reading = new_token(), writing = new_token();
};

struct GuardOptions {
  Secrets secrets;
  int port = 0;
  bool lan = false;  ///< Others on the network may come: by any address of this computer.
};

/// What of a request decides whether it may be answered. Empty text where a header is missing.
struct RequestFacts {
  std::string_view method, host, origin, fetch_site;
  bool follows_a_link = false;  ///< A person goes to this page, from wherever (Sec-Fetch-Mode and -Dest).
  std::string_view header_token, address_token, cookies;
};

struct Refusal {
  int status = 403;
  Message message;
};

/// Why a request is refused, or nothing. Host must name this computer itself: a name that a stranger's page resolves to
/// this address must not get through (DNS rebinding). Reading needs this start's reading secret, on this computer too:
/// it has other users. What writes needs the writing secret in a header, which no page of another origin can send
/// unasked, and an Origin that is this server, where the browser gives one.
[[nodiscard]] std::optional<Refusal> refusal_of(const RequestFacts& request, const GuardOptions& options);

/// 'canewise-8000': cookies know no port, so that two servers of one computer would overwrite each other's.
[[nodiscard]] std::string cookie_name(int port);
/// True if one of 'a=1; b=2' has that name and holds the secret.
[[nodiscard]] bool cookie_holds(std::string_view cookies, std::string_view name, std::string_view secret);

}  // namespace canewise
