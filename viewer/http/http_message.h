#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

namespace canewise {

/// A request's head, decoded. Header names are in lower case.
struct HttpRequest {
  std::string method;
  std::string path;  ///< Without the query; percent signs decoded.
  std::vector<std::pair<std::string, std::string>> query, headers;
  std::optional<std::uint64_t> content_length;

  [[nodiscard]] bool reads() const { return method == "GET" || method == "HEAD"; }
  /// Empty where it is missing, and where it is given twice: nobody knows which of two is meant.
  [[nodiscard]] std::string_view header(std::string_view lower_case_name) const;
  [[nodiscard]] std::string_view parameter(std::string_view name) const;
  [[nodiscard]] bool has_header(std::string_view lower_case_name) const;
  [[nodiscard]] bool has_parameter(std::string_view name) const;
};

/// What an event stream has to say now; nothing yet if `text` is empty.
struct EventNews {
  std::string text;
  bool over = false;
};

struct HttpAnswer {
  int status = 200;
  std::string type = "application/json", body;
  std::vector<std::pair<std::string, std::string>> headers;
  /// Instead of the body: asked about ten times a second, must not block.
  std::function<EventNews()> events;
  /// Let go once the answer is written.
  std::shared_ptr<void> hold;
};

/// How a body ended.
enum class BodyEnd : std::uint8_t { whole, cut_off, too_slow };

/// Where a body goes, piece by piece, never more than its Content-Length. Called on a worker thread.
class BodySink {
 public:
  BodySink() = default;
  virtual ~BodySink() = default;
  BodySink(const BodySink&) = delete;
  BodySink& operator=(const BodySink&) = delete;
  /// False if it takes no more; `end` is asked for the answer then too.
  virtual bool take(std::string_view bytes) = 0;
  virtual HttpAnswer end(BodyEnd how) = 0;
};

/// Who answers. `refuse` and `not_understood` are asked on the one network thread: they must be quick. The others are
/// asked on worker threads and must not throw.
class HttpHandler {
 public:
  HttpHandler() = default;
  virtual ~HttpHandler() = default;
  HttpHandler(const HttpHandler&) = delete;
  HttpHandler& operator=(const HttpHandler&) = delete;
  /// Go with every answer.
  [[nodiscard]] virtual const std::vector<std::pair<std::string, std::string>>& common_headers() const = 0;
  /// The answer to who may not ask, or to what is asked wrongly.
  [[nodiscard]] virtual std::optional<HttpAnswer> refuse(const HttpRequest& request) = 0;
  /// Nothing of this request could be read: its status says why.
  [[nodiscard]] virtual HttpAnswer not_understood(int status) = 0;
  /// For a request with a body: where that goes, or why nowhere.
  [[nodiscard]] virtual std::variant<HttpAnswer, std::unique_ptr<BodySink>> receive(const HttpRequest& request) = 0;
  /// For a request without a body.
  [[nodiscard]] virtual HttpAnswer answer(const HttpRequest& request) = 0;
};

}  // namespace canewise
