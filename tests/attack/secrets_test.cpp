// Who does not know the two secrets, or only one, or nearly one.
#include <gtest/gtest.h>

#include <random>

#include "tests/attack/support/crowd.h"
#include "tests/attack/support/tally.h"

namespace canewise::attack {
namespace {

/// Nearly the secret, and far from it.
std::vector<std::string> wrong_ones(const std::string& secret) {
  std::vector<std::string> all;
  constexpr std::string_view digits = "0123456789abcdef";
  for (std::size_t at = 0; at < secret.size(); ++at) {
    std::string changed = secret;
    changed[at] = digits[(digits.find(changed[at]) + 1 + at % 15) % 16];
    all.push_back(changed);
    all.push_back(secret.substr(0, at));
    all.push_back(secret.substr(at + 1));
  }
  all.push_back(secret + "0");
  all.push_back(secret + "%00");
  all.push_back("%20" + secret);
  all.push_back(secret + secret);
  all.push_back(std::string(64, '*'));
  std::mt19937_64 random(1);
  constexpr std::size_t enough = 1000;
  while (all.size() < enough) {
    std::string one;
    for (int k = 0; k < 64; ++k) one += digits[random() % 16];
    all.push_back(one);
  }
  return all;
}

TEST(Secrets, AreTwoOf256BitsAndNewAtEveryStart) {
  const Served first, second;
  for (const Served* each : {&first, &second}) {
    EXPECT_EQ(each->reading.size(), 64U) << each->said;
    EXPECT_EQ(each->writing.size(), 64U);
    EXPECT_NE(each->reading, each->writing);
  }
  EXPECT_NE(first.reading, second.reading);
  EXPECT_NE(first.writing, second.writing);
}

TEST(Secrets, TheAddressOpensThePage) {
  const Served served;
  const Answer first = ask(served.port, request("GET", "/?token=" + served.reading, served.host()));
  EXPECT_EQ(first.status, 200);
  const std::string cookie = first.header("Set-Cookie");
  EXPECT_TRUE(cookie.starts_with(served.cookie() + ";")) << cookie;
  for (const char* part : {"HttpOnly", "SameSite=Strict", "Path=/"})
    EXPECT_NE(cookie.find(part), std::string::npos) << cookie;
  EXPECT_EQ((first.head + first.body).find(served.writing), std::string::npos) << "only the page itself may write";
  EXPECT_EQ(served.get("/").status, 200);
  EXPECT_EQ(served.get("/").header("Set-Cookie"), "");
}

TEST(Secrets, NoPageIsReadWithoutOne) {
  const Served served;
  served.put("reed", "result.json", "{\"format\":\"none\"}");
  Tally tally("pages without a secret");
  for (const char* target :
       {"/", "/app.js", "/app.css", "/api/results", "/reed/reed/", "/reed/reed/result.json", "/nothing",
        "/compare?before=reed&after=reed", "/?token", "/?token=", "/?Token=x", "/favicon.ico",
        "/api/jobs/0000000000000000000000000000000000000000000000000000000000000000/events"}) {
    for (const char* method : {"GET", "HEAD"}) {
      const Answer answer = ask(served.port, request(method, target, served.host()));
      tally.add(answer);
      EXPECT_EQ(answer.status, 403) << method << ' ' << target;
      EXPECT_EQ(answer.header("Set-Cookie"), "") << target;
      EXPECT_EQ(answer.body.find("data-token"), std::string::npos) << target;
    }
  }
}

TEST(Secrets, AThousandWrongOnesReadNothing) {
  const Served served;
  ASSERT_EQ(served.reading.size(), 64U) << "the address carries no reading secret";
  Tally tally("wrong reading secrets, as token and as cookie");
  std::size_t read = 0;
  for (const std::string& wrong : wrong_ones(served.reading)) {
    const std::string as_cookie = "Cookie: canewise-" + std::to_string(served.port) + "=" + wrong + "\r\n";
    for (const Answer& answer : {ask(served.port, request("GET", "/?token=" + wrong, served.host())),
                                 ask(served.port, request("GET", "/", served.host(), as_cookie))}) {
      tally.add(answer);
      read += (answer.status != 403 && answer.status != 400) || !answer.header("Set-Cookie").empty();
    }
  }
  EXPECT_EQ(read, 0U);
}

TEST(Secrets, TheRightOneInTheWrongPlaceReadsNothing) {
  const Served served;
  ASSERT_EQ(served.reading.size(), 64U) << "the address carries no reading secret";
  const std::string port = std::to_string(served.port), right = served.reading;
  std::string capitals = right;
  for (char& c : capitals) c = static_cast<char>(std::toupper(c));
  Tally tally("the right secret in the wrong place");
  for (const std::string& cookie :
       {"canewise=" + right, "canewise-" + std::to_string(served.port + 1) + "=" + right,
        "xcanewise-" + port + "=" + right, "canewise-" + port + "x=" + right, "canewise-0" + port + "=" + right,
        "Canewise-" + port + "=" + right, "canewise-" + port + "=" + capitals,
        "canewise-" + port + "=" + served.writing, "canewise-" + port + "==" + right,
        "canewise-" + port + "=" + right + "x", "canewise-" + port, right, "a=canewise-" + port + "=" + right,
        "canewise-" + port + "=" + right.substr(0, 32) + "; canewise-" + port + "=" + right.substr(32)}) {
    const Answer answer = ask(served.port, request("GET", "/", served.host(), "Cookie: " + cookie + "\r\n"));
    tally.add(answer);
    EXPECT_EQ(answer.status, 403) << cookie;
  }
  for (const std::string& target :
       {"/?token=" + served.writing, "/?token=" + capitals, "/?Token=" + right, "/?xtoken=" + right,
        "/?a=token=" + right, "/#token=" + right, "/token=" + right, "/?token%00=" + right}) {
    const Answer answer = ask(served.port, request("GET", target, served.host()));
    tally.add(answer);
    EXPECT_TRUE(answer.status == 403 || answer.status == 400) << target << ": " << answer.status;
  }
  const Answer header = ask(served.port, request("GET", "/", served.host(), "X-Canewise-Token: " + right + "\r\n"));
  EXPECT_EQ(header.status, 403) << "as a header";
}

TEST(Secrets, GivenTwiceTheyAreAnsweredOnce) {
  const Served served;
  const std::string right = served.reading, wrong(64, '0');
  for (const std::string& target : {"/?token=" + wrong + "&token=" + wrong, "/?token=&token=" + wrong})
    EXPECT_EQ(ask(served.port, request("GET", target, served.host())).status, 403) << target;
  for (const std::string& target : {"/?token=" + wrong + "&token=" + right, "/?token=" + right + "&token=" + wrong,
                                    "/?token=" + right + "&token=" + right}) {
    const Answer answer = ask(served.port, request("GET", target, served.host()));
    EXPECT_TRUE(answer.status == 200 || answer.status == 403 || answer.status == 400)
        << target << ": " << answer.status;
    EXPECT_EQ(answer.answers, 1) << target;
  }
}

/// What does not write, with all that a browser would add.
std::vector<std::string> heads_that_do_not_write(const Served& served) {
  const std::string cookie = "Cookie: " + served.cookie() + "\r\n", own = "Origin: http://" + served.host() + "\r\n";
  std::vector<std::string> all{"",
                               cookie,
                               cookie + own,
                               "Cookie: canewise-" + std::to_string(served.port) + "=" + served.writing + "\r\n",
                               cookie + "X-Canewise-Tokens: " + served.writing + "\r\n",
                               cookie + "Authorization: Bearer " + served.writing + "\r\n"};
  for (const std::string& wrong : {served.reading, std::string(), served.writing + "0", "0" + served.writing,
                                   served.writing.substr(0, 63), std::string(64, '0'), "\"" + served.writing + "\""})
    all.push_back(cookie + own + "X-Canewise-Token: " + wrong + "\r\n");
  return all;
}

TEST(Secrets, OnlyTheWritingSecretInItsHeaderWrites) {
  const Served served;
  Tally tally("writing without the writing secret");
  const std::string job = std::string(64, '0'), query = "&token=" + served.writing;
  const std::pair<const char*, std::string> wishes[]{{"POST", "/api/scans?name=a.ply"},
                                                     {"POST", "/api/scans?name=a.ply" + query},
                                                     {"POST", "/api/scans?name=a.ply&token=" + served.reading},
                                                     {"POST", "/api/hand?before=a&after=b"},
                                                     {"POST", "/api/trial?reed=a&response=3&evenness=3&tone=3"},
                                                     {"POST", "/api/reed?label=a&stage=playing"},
                                                     {"DELETE", "/api/jobs/" + job},
                                                     {"DELETE", "/api/jobs/" + job + "?token=" + served.writing}};
  for (const auto& [method, target] : wishes) {
    for (const std::string& more : heads_that_do_not_write(served)) {
      const Answer answer = ask(served.port, request(method, target, served.host(), more + "Content-Length: 0\r\n"));
      tally.add(answer);
      EXPECT_EQ(answer.status, 403) << method << ' ' << target << '\n' << more;
    }
  }
  const Answer allowed = ask(served.port, served.writes_head("DELETE", "/api/jobs/" + job, ""));
  EXPECT_EQ(allowed.status, 404) << "or the refusals above say nothing";
}

}  // namespace
}  // namespace canewise::attack
