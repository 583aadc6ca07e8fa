#include "viewer/server/guard.h"

#include <arpa/inet.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <random>

#include "viewer/http/status.h"

namespace canewise {
namespace {

bool is_ip_address(const std::string& host) {
  std::array<unsigned char, sizeof(in6_addr)> address{};
  if (host.size() > 2 && host.front() == '[' && host.back() == ']')
    return ::inet_pton(AF_INET6, host.substr(1, host.size() - 2).c_str(), address.data()) == 1;
  return ::inet_pton(AF_INET, host.c_str(), address.data()) == 1;
}

/// 'localhost:8000' is allowed for port 8000, 'localhost' for port 80; on a network any address is, but no name.
bool is_own_host(std::string_view host, const GuardOptions& options) {
  const std::string port = fmt::format(":{}", options.port);
  constexpr int usual_port = 80;
  if (host.ends_with(port)) {
    host.remove_suffix(port.size());
  } else if (options.port != usual_port) {
    return false;
  }
  return host == "localhost" || host == "127.0.0.1" || host == "[::1]" ||
         (options.lan && is_ip_address(std::string(host)));
}

bool may_read(const RequestFacts& request, const GuardOptions& options) {
  const auto& [reading, writing] = options.secrets;
  return same_secret(request.address_token, reading) || same_secret(request.header_token, writing) ||
         cookie_holds(request.cookies, cookie_name(options.port), reading);
}

}  // namespace

std::optional<Refusal> refusal_of(const RequestFacts& request, const GuardOptions& options) {
  if (!is_own_host(request.host, options)) return Refusal{kMisdirected, {"serve.own_address_only"}};
  if (!request.fetch_site.empty() && request.fetch_site != "same-origin" && request.fetch_site != "none") {
    // Reading changes nothing, and no page of another origin sees or frames what a person is led to.
    if (request.method != "GET" || !request.follows_a_link) return Refusal{kForbidden, {"serve.another_page"}};
  }
  if (request.method == "GET" || request.method == "HEAD") {
    if (!may_read(request, options)) return Refusal{kForbidden, {"serve.token_missing"}};
    return std::nullopt;
  }
  if (!request.origin.empty() && request.origin != fmt::format("http://{}", request.host))
    return Refusal{kForbidden, {"serve.another_page"}};
  if (!same_secret(request.header_token, options.secrets.writing)) return Refusal{kForbidden, {"serve.earlier_start"}};
  return std::nullopt;
}

std::string new_token() {
  std::random_device device;
  std::string token;
  for (int k = 0; k < 8; ++k) token += fmt::format("{:08x}", device());
  return token;
}

bool same_secret(std::string_view given, std::string_view secret) {
  if (given.size() != secret.size() || secret.empty()) return false;
  unsigned int different = 0;
  for (std::size_t i = 0; i < secret.size(); ++i)
    different |= static_cast<unsigned char>(given[i]) ^ static_cast<unsigned char>(secret[i]);
  return different == 0;
}

std::string cookie_name(int port) { return fmt::format("canewise-{}", port); }

bool cookie_holds(std::string_view cookies, std::string_view name, std::string_view secret) {
  bool holds = false;
  while (!cookies.empty()) {
    const std::size_t end = std::min(cookies.find(';'), cookies.size());
    std::string_view one = cookies.substr(0, end);
    cookies.remove_prefix(std::min(end + 1, cookies.size()));
    one.remove_prefix(std::min(one.find_first_not_of(' '), one.size()));
    if (one.size() <= name.size() || !one.starts_with(name) || one[name.size()] != '=') continue;
    holds = same_secret(one.substr(name.size() + 1), secret) || holds;
  }
  return holds;
}

}  // namespace canewise
