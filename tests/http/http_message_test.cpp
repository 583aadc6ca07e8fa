// What a request says, and what it leaves open.
#include "viewer/http/http_message.h"

#include <gtest/gtest.h>

namespace canewise {
namespace {

TEST(HttpRequest, AValueGivenTwiceIsNone) {
  HttpRequest request;
  request.headers = {{"host", "a"}, {"cookie", "b"}, {"cookie", "c"}};
  request.query = {{"name", "x"}, {"token", "1"}, {"token", "1"}};
  EXPECT_EQ(request.header("host"), "a");
  EXPECT_EQ(request.header("cookie"), "") << "nobody knows which is meant";
  EXPECT_TRUE(request.has_header("cookie"));
  EXPECT_EQ(request.header("origin"), "");
  EXPECT_FALSE(request.has_header("origin"));
  EXPECT_EQ(request.parameter("name"), "x");
  EXPECT_EQ(request.parameter("token"), "");
  EXPECT_TRUE(request.has_parameter("token"));
}

TEST(HttpRequest, LookingChangesNothing) {
  HttpRequest request;
  for (const char* method : {"GET", "HEAD"}) {
    request.method = method;
    EXPECT_TRUE(request.reads()) << method;
  }
  for (const char* method : {"POST", "PUT", "DELETE", "OPTIONS", "get", ""}) {
    request.method = method;
    EXPECT_FALSE(request.reads()) << method;
  }
}

}  // namespace
}  // namespace canewise
