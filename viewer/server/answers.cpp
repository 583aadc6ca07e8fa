#include "viewer/server/answers.h"

#include <nlohmann/json.hpp>

#include "scanproc/report/page_frame.h"
#include "scanproc/report/said.h"
#include "scanproc/words/message_json.h"
#include "viewer/http/status.h"

namespace canewise {

using nlohmann::json;

const std::vector<std::pair<std::string, std::string>>& policies() {
  static const std::vector<std::pair<std::string, std::string>> all{
      {"Content-Security-Policy",
       "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; "
       "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"},
      {"X-Content-Type-Options", "nosniff"},
      {"Referrer-Policy", "no-referrer"},
      {"Cross-Origin-Resource-Policy", "same-origin"},
      {"Cross-Origin-Opener-Policy", "same-origin"},
      {"Cache-Control", "no-store"},
  };
  return all;
}

HttpAnswer json_answer(int status, const json& body) {
  HttpAnswer answer;
  answer.status = status;
  answer.body = body.dump(-1, ' ', false, json::error_handler_t::replace);
  return answer;
}

HttpAnswer page_answer(std::string page, int status) {
  HttpAnswer answer;
  answer.status = status;
  answer.type = "text/html; charset=utf-8";
  answer.body = std::move(page);
  return answer;
}

HttpAnswer refusal_answer(const HttpRequest& request, int status, const Message& message, const Speech& speech) {
  const bool person = request.method == "GET" && request.header("accept").find("text/html") != std::string_view::npos;
  if (!person) return json_answer(status, {{"message", message}});
  const PageHome served{.in_one_file = false};
  // Who may not come in has no way home.
  const bool may_come = status != kForbidden && status != kMisdirected;
  const std::string body = (may_come ? way_home(served, speech) : std::string()) + "<main><p role=\"alert\">" +
                           said(message, speech) + "</p></main>";
  return page_answer(framed_page(served, {{"serve.title"}, body}, speech), status);
}

}  // namespace canewise
