// Heads of HTTP/1.1 requests [RFC9112], bounded, and without doubt about where their bodies end.
#include "viewer/http/request_head.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace canewise {
namespace {

using State = RequestHead::State;

RequestHead head_of(std::string_view bytes) {
  RequestHead head;
  head.put(bytes);
  return head;
}
/// 0: it is whole; -1: it is not whole yet.
int status_of(std::string_view bytes) {
  const RequestHead head = head_of(bytes);
  return head.state() == State::whole ? 0 : head.state() == State::more ? -1 : head.status();
}
std::string post(const std::string& headers) {
  return "POST /api/scans HTTP/1.1\r\nHost: a\r\n" + headers + "\r\n\r\n";
}

TEST(RequestHead, SaysWhatIsAsked) {
  const RequestHead head = head_of(
      "GET /reed/my%20reed/map.png?token=1%2B2&name=a+b HTTP/1.1\r\nHost: 127.0.0.1:8000\r\nX-Canewise-Token:  t "
      "\r\n\r\n");
  ASSERT_EQ(head.state(), State::whole);
  const HttpRequest& request = head.request();
  EXPECT_EQ(request.method, "GET");
  EXPECT_EQ(request.path, "/reed/my reed/map.png");
  EXPECT_EQ(request.parameter("token"), "1+2");
  EXPECT_EQ(request.parameter("name"), "a b");
  EXPECT_EQ(request.header("host"), "127.0.0.1:8000");
  EXPECT_EQ(request.header("x-canewise-token"), "t");
  EXPECT_FALSE(request.content_length);
  EXPECT_EQ(head.rest(), "");
}

TEST(RequestHead, ComesInPiecesOfAnySize) {
  const std::string bytes = post("Content-Length: 4") + "bodyAND MORE";
  for (std::size_t piece = 1; piece <= bytes.size(); ++piece) {
    RequestHead head;
    std::string rest;
    for (std::size_t at = 0; at < bytes.size(); at += piece) {
      if (head.state() == State::whole) {
        rest += bytes.substr(at);
        break;
      }
      head.put(std::string_view(bytes).substr(at, piece));
    }
    ASSERT_EQ(head.state(), State::whole) << piece;
    EXPECT_EQ(head.request().content_length, 4U);
    EXPECT_EQ(head.rest() + rest, "bodyAND MORE") << piece;
  }
}

TEST(RequestHead, IsBoundedHoweverItComes) {
  const std::string begin = "GET / HTTP/1.1\r\nHost: a\r\nX: ", end = "\r\n\r\n";
  const auto of_size = [&](std::size_t size) {
    return begin + std::string(size - begin.size() - end.size(), 'x') + end;
  };
  EXPECT_EQ(status_of(of_size(RequestHead::kMostBytes)), 0);
  EXPECT_EQ(status_of(of_size(RequestHead::kMostBytes + 1)), 431);
  EXPECT_EQ(status_of(begin + std::string(10000000, 'x')), 431) << "one line without end";
  RequestHead lines;
  lines.put("GET / HTTP/1.1\r\n");
  int put = 0;
  while (lines.put("a: b\r\n") == State::more) ASSERT_LT(++put, 3000) << "lines without end";
  EXPECT_EQ(lines.status(), 431);
  EXPECT_EQ(lines.put("\r\n"), State::refused) << "what is refused stays so";
}

TEST(RequestHead, OfManySmallPartsFewAreKept) {
  const auto with_headers = [](std::size_t count) {
    std::string bytes = "GET / HTTP/1.1\r\n";
    for (std::size_t k = 0; k < count; ++k) bytes += "a:\r\n";
    return bytes + "\r\n";
  };
  EXPECT_EQ(status_of(with_headers(RequestHead::kMostHeaders)), 0);
  EXPECT_EQ(status_of(with_headers(RequestHead::kMostHeaders + 1)), 431);
  EXPECT_EQ(status_of(with_headers(3000)), 431);
  const auto with_parameters = [](std::size_t count) {
    std::string bytes = "GET /?a";
    for (std::size_t k = 1; k < count; ++k) bytes += "&a";
    return bytes + " HTTP/1.1\r\nHost: a\r\n\r\n";
  };
  EXPECT_EQ(status_of(with_parameters(RequestHead::kMostParameters)), 0);
  EXPECT_EQ(status_of(with_parameters(RequestHead::kMostParameters + 1)), 400);
  EXPECT_EQ(status_of(with_parameters(8000)), 400);
}

TEST(RequestHead, ALargeBodyBehindItIsNotItsSize) {
  const RequestHead head = head_of(post("Content-Length: 100000") + std::string(100000, 'b'));
  ASSERT_EQ(head.state(), State::whole);
  EXPECT_EQ(head.rest().size(), 100000U);
}

TEST(RequestHead, WhatIsNoRequestIsTold) {
  for (const std::string& bytes : {std::string("\r\n\r\n"),
                                   std::string("GET\r\n\r\n"),
                                   std::string("GET /\r\n\r\n"),
                                   std::string("GET / HTTP/2.0\r\n\r\n"),
                                   std::string("PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n"),
                                   std::string("get / HTTP/1.1\r\n\r\n"),
                                   std::string("\x16\x03\x01\x02"),
                                   std::string(64, '\0'),
                                   std::string("GET  / HTTP/1.1\r\n\r\n"),
                                   std::string("GET http://a/ HTTP/1.1\r\n\r\n"),
                                   std::string("OPTIONS * HTTP/1.1\r\n\r\n"),
                                   std::string("GET / HTTP/1.1\r\nno colon\r\n\r\n"),
                                   std::string("GET / HTTP/1.1\r\na b: c\r\n\r\n"),
                                   std::string("GET / HTTP/1.1\r\na: b\nc: d\r\n\r\n"),
                                   std::string("GET / HTTP/1.1\r\na: \0b\r\n\r\n", 27),
                                   std::string("GET /\0 HTTP/1.1\r\n\r\n", 19),
                                   std::string("GET /%zz HTTP/1.1\r\n\r\n"),
                                   std::string("GET /% HTTP/1.1\r\n\r\n"),
                                   std::string("GET /%00 HTTP/1.1\r\n\r\n"),
                                   std::string("GET /?a=%0a HTTP/1.1\r\n\r\n")})
    EXPECT_EQ(status_of(bytes), 400) << testing::PrintToString(bytes);
  EXPECT_EQ(status_of("GET / HTTP/1.1\r\nHost: a\r\n"), -1) << "it may still come";
}

TEST(RequestHead, LeavesNoDoubtWhereABodyEnds) {
  EXPECT_EQ(status_of(post("Content-Length: 5")), 0);
  EXPECT_EQ(status_of(post("Content-Length: 0")), 0);
  EXPECT_EQ(status_of(post("X: y")), 411);
  for (const char* chunked :
       {"Transfer-Encoding: chunked", "transfer-encoding: identity", "Transfer-Encoding: gzip, chunked"})
    EXPECT_EQ(status_of(post(chunked)), 411) << chunked;
  EXPECT_EQ(status_of("GET / HTTP/1.1\r\nHost: a\r\nTransfer-Encoding: chunked\r\n\r\n"), 411) << "whatever is asked";
  EXPECT_GE(status_of(post("Content-Length: 5\r\nTransfer-Encoding: chunked")), 400);
  EXPECT_GE(status_of(post("Transfer-Encoding: chunked\r\nContent-Length: 5")), 400);
  for (const char* length :
       {"-5", "+5", "5 5", "5,5", "5;", "0x5", "", "five", "5.0", "18446744073709551616", "18446744073709551615"})
    EXPECT_EQ(status_of(post(std::string("Content-Length: ") + length)), 400) << length;
  EXPECT_EQ(status_of(post("Content-Length: 5\r\nContent-Length: 6")), 400);
  EXPECT_EQ(status_of(post("Content-Length: 5\r\nContent-Length: 5")), 400) << "given twice";
  for (const char* encoding : {"gzip", "br", "deflate", "identity, gzip"})
    EXPECT_EQ(status_of(post(std::string("Content-Length: 5\r\nContent-Encoding: ") + encoding)), 415) << encoding;
  EXPECT_EQ(status_of(post("Content-Length: 5\r\nContent-Encoding: identity")), 0);
}

TEST(PercentDecoded, GivesTheByteAndNoControlCharacter) {
  EXPECT_EQ(percent_decoded("a%20b+c", false), "a b+c");
  EXPECT_EQ(percent_decoded("a%20b+c", true), "a b c");
  EXPECT_EQ(percent_decoded("%C3%a9", false), "\xc3\xa9");
  for (const char* no : {"%", "%2", "%g0", "%0a", "%00", "%7f", "%1F"}) EXPECT_FALSE(percent_decoded(no, true)) << no;
}

}  // namespace
}  // namespace canewise
