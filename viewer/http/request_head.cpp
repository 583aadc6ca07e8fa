#include "viewer/http/request_head.h"

#include <algorithm>
#include <boost/asio/buffer.hpp>
#include <boost/beast/http/empty_body.hpp>
#include <boost/beast/http/parser.hpp>
#include <charconv>
#include <limits>

#include "viewer/http/status.h"

namespace canewise {
namespace {

namespace http = boost::beast::http;

int hex_digit(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return -1;
}

std::string lower_case(std::string_view text) {
  std::string lower(text);
  std::transform(lower.begin(), lower.end(), lower.begin(),
                 [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
  return lower;
}

/// 'a=1&b=2'; false if a part of it cannot be decoded, or there are too many.
bool decode_query(std::string_view text, HttpRequest& request) {
  const auto parts = static_cast<std::size_t>(std::count(text.begin(), text.end(), '&'));
  if (parts >= RequestHead::kMostParameters) return false;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('&'), text.size());
    const std::string_view pair = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    if (pair.empty()) continue;
    const std::size_t equals = std::min(pair.find('='), pair.size());
    auto name = percent_decoded(pair.substr(0, equals), true);
    auto value = percent_decoded(pair.substr(std::min(equals + 1, pair.size())), true);
    if (!name || !value) return false;
    request.query.emplace_back(std::move(*name), std::move(*value));
  }
  return true;
}

bool decode_target(std::string_view target, HttpRequest& request) {
  if (!target.starts_with('/')) return false;
  const std::size_t end = std::min(target.find('?'), target.size());
  auto path = percent_decoded(target.substr(0, end), false);
  if (!path) return false;
  request.path = std::move(*path);
  return decode_query(target.substr(std::min(end + 1, target.size())), request);
}

/// Digits alone: no sign, no blank, no list.
std::optional<std::uint64_t> length_from(std::string_view text) {
  std::uint64_t length = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), length);
  if (error != std::errc() || end != text.data() + text.size()) return std::nullopt;
  if (length > static_cast<std::uint64_t>(std::numeric_limits<std::int64_t>::max())) return std::nullopt;
  return length;
}

/// 0 if it is clear where the body ends; else the status.
int find_length(HttpRequest& request) {
  // The page sends files as they are, with their length.
  if (request.has_header("transfer-encoding")) return kLengthRequired;
  const std::string encoding = lower_case(request.header("content-encoding"));
  if (request.has_header("content-encoding") && encoding != "identity") return kUnsupported;
  if (!request.has_header("content-length")) return request.method == "POST" ? kLengthRequired : 0;
  const std::string_view text = request.header("content-length");
  request.content_length = text.empty() ? std::nullopt : length_from(text);
  return request.content_length ? 0 : kBadRequest;
}

}  // namespace

std::optional<std::string> percent_decoded(std::string_view text, bool plus_is_blank) {
  std::string decoded;
  for (std::size_t i = 0; i < text.size(); ++i) {
    char c = text[i];
    if (c == '%') {
      if (text.size() - i < 3) return std::nullopt;
      const int high = hex_digit(text[i + 1]), low = hex_digit(text[i + 2]);
      if (high < 0 || low < 0) return std::nullopt;
      c = static_cast<char>(16 * high + low);
      constexpr unsigned char blank = 0x20, del = 0x7f;
      if (static_cast<unsigned char>(c) < blank || static_cast<unsigned char>(c) == del) return std::nullopt;
      i += 2;
    } else if (c == '+' && plus_is_blank) {
      c = ' ';
    }
    decoded += c;
  }
  return decoded;
}

RequestHead::State RequestHead::refuse(int status) {
  status_ = status;
  bytes_ = {};
  return state_ = State::refused;
}

RequestHead::State RequestHead::put(std::string_view bytes) {
  if (state_ != State::more || bytes.empty()) return state_;
  constexpr std::string_view end = "\r\n\r\n";
  const std::size_t seen = bytes_.size();
  // No more is kept than a head may have: what is behind it in the same piece is the body's.
  const std::string_view kept = bytes.substr(0, kMostBytes + end.size() - std::min(seen, kMostBytes));
  bytes_ += kept;
  // TLS, other protocols and garbage are told by their first byte.
  if (bytes_.front() < 'A' || bytes_.front() > 'Z') return refuse(kBadRequest);
  const std::size_t found = bytes_.find(end, seen < end.size() ? 0 : seen - end.size() + 1);
  if (found == std::string::npos) return bytes_.size() > kMostBytes ? refuse(kHeadTooLarge) : State::more;
  const std::size_t head_bytes = found + end.size();
  if (head_bytes > kMostBytes) return refuse(kHeadTooLarge);
  rest_ = bytes.substr(head_bytes - seen);
  return parse(head_bytes);
}

RequestHead::State RequestHead::parse(std::size_t head_bytes) {
  const auto lines = static_cast<std::size_t>(std::count(bytes_.data(), bytes_.data() + head_bytes, '\n'));
  if (lines > kMostHeaders + 2) return refuse(kHeadTooLarge);
  http::request_parser<http::empty_body> parser;
  parser.header_limit(static_cast<std::uint32_t>(kMostBytes));
  parser.body_limit(std::numeric_limits<std::uint64_t>::max());
  boost::beast::error_code error;
  parser.put(boost::asio::buffer(bytes_.data(), head_bytes), error);
  bytes_.clear();
  bytes_.shrink_to_fit();
  if (!parser.is_header_done()) return refuse(kBadRequest);
  const auto& head = parser.get();
  request_.method = std::string(head.method_string());
  for (const auto& field : head) {
    const std::string_view name(field.name_string().data(), field.name_string().size());
    request_.headers.emplace_back(lower_case(name), std::string(field.value()));
  }
  if (!decode_target({head.target().data(), head.target().size()}, request_)) return refuse(kBadRequest);
  if (const int status = find_length(request_); status != 0) return refuse(status);
  return state_ = State::whole;
}

}  // namespace canewise
