// What the server's answers carry, and to whom a refusal is a page.
#include "viewer/server/answers.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <map>
#include <nlohmann/json.hpp>
#include <sstream>

namespace canewise {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

constexpr const char* kBrowser = "text/html,application/xhtml+xml;q=0.9,*/*;q=0.8";

HttpRequest asking(const char* method, const char* accept) {
  HttpRequest request;
  request.method = method;
  request.path = "/reed/7";
  if (accept != nullptr) request.headers = {{"accept", accept}};
  return request;
}
Message verbatim(const char* words) { return {"verbatim", {{"text", text(words)}}}; }

/// Directives of the content security policy.
std::map<std::string, std::string> directives() {
  std::map<std::string, std::string> all;
  for (const auto& [name, value] : policies()) {
    if (name != "Content-Security-Policy") continue;
    std::istringstream rest(value);
    for (std::string each; std::getline(rest >> std::ws, each, ';');) {
      const auto space = each.find(' ');
      all[each.substr(0, space)] = each.substr(space + 1);
    }
  }
  return all;
}

TEST(Policies, OnlyThisServersOwnScriptsAndStylesRunAndNoPageHoldsItsPages) {
  EXPECT_EQ(directives(), (std::map<std::string, std::string>{{"default-src", "'none'"},
                                                              {"script-src", "'self'"},
                                                              {"style-src", "'self'"},
                                                              {"img-src", "'self' data: blob:"},
                                                              {"connect-src", "'self'"},
                                                              {"base-uri", "'none'"},
                                                              {"form-action", "'none'"},
                                                              {"frame-ancestors", "'none'"}}));
}

TEST(Policies, NothingIsGuessedStoredOrToldToOthers) {
  const std::map<std::string, std::string> all(policies().begin(), policies().end());
  EXPECT_EQ(all.size(), policies().size()) << "one of them stands twice";
  EXPECT_EQ(all.at("X-Content-Type-Options"), "nosniff");
  EXPECT_EQ(all.at("Referrer-Policy"), "no-referrer");
  EXPECT_EQ(all.at("Cross-Origin-Resource-Policy"), "same-origin");
  EXPECT_EQ(all.at("Cross-Origin-Opener-Policy"), "same-origin");
  EXPECT_EQ(all.at("Cache-Control"), "no-store");
}

TEST(Answers, JsonIsOneLineAndBrokenTextInItIsReplaced) {
  const HttpAnswer answer = json_answer(202, {{"job", 7}, {"name", "a\nb\xff"}});
  EXPECT_EQ(answer.status, 202);
  EXPECT_EQ(answer.type, "application/json");
  EXPECT_EQ(answer.body, "{\"job\":7,\"name\":\"a\\nb\xEF\xBF\xBD\"}");
}

TEST(Answers, APageIsHtmlAndAllIsWellUnlessSaid) {
  const HttpAnswer page = page_answer("<p>\xC3\xBC</p>");
  EXPECT_EQ(page.status, 200);
  EXPECT_EQ(page.type, "text/html; charset=utf-8");
  EXPECT_EQ(page.body, "<p>\xC3\xBC</p>");
  EXPECT_EQ(page_answer("", 404).status, 404);
}

TEST(Refusals, AProgramHearsTheMessageItself) {
  for (const auto& request : {asking("GET", nullptr), asking("GET", "application/json"), asking("GET", "*/*"),
                              asking("POST", kBrowser), asking("DELETE", kBrowser)}) {
    const HttpAnswer answer = refusal_answer(request, 404, verbatim("a<b"), {});
    EXPECT_EQ(answer.status, 404);
    EXPECT_EQ(answer.type, "application/json");
    EXPECT_EQ(answer.body, R"({"message":{"id":"verbatim","text":{"text":"a<b"}}})") << request.method;
  }
}

TEST(Refusals, APersonWhoFollowedALinkSeesAPageInTheirLanguage) {
  const HttpAnswer answer = refusal_answer(asking("GET", kBrowser), 404, verbatim("a<b"), {Language::german});
  EXPECT_EQ(answer.status, 404);
  EXPECT_EQ(answer.type, "text/html; charset=utf-8");
  EXPECT_THAT(answer.body, AllOf(testing::StartsWith("<!doctype html><html lang=\"de\">"), HasSubstr("role=\"alert\""),
                                 HasSubstr(">A&lt;b<"), Not(HasSubstr("a<b"))));
  EXPECT_THAT(answer.body, AllOf(HasSubstr("href=\"/app.css\""), Not(HasSubstr("<style"))))
      << "the policy allows no style within a page";
}

TEST(Refusals, WhoMayNotComeInIsShownNoWayToTheList) {
  const auto body = [](int status) { return refusal_answer(asking("GET", kBrowser), status, verbatim("no"), {}).body; };
  for (const int status : {400, 404, 409, 500}) EXPECT_THAT(body(status), HasSubstr("<a href=\"/\">")) << status;
  for (const int status : {403, 421}) EXPECT_THAT(body(status), Not(HasSubstr("<a "))) << status;
}

}  // namespace
}  // namespace canewise
