// What goes to the child that makes a page, and what comes of it.
#include "viewer/server/page_work.h"

#include <gtest/gtest.h>

#include <sstream>

#include "scanproc/core/error.h"

namespace canewise {
namespace {

PageWork some_work() {
  PageWork work;
  work.what = PageWork::What::comparison;
  work.results = {{"before \"1\"", std::string("a\n\0b", 4)}, {"after", ""}};
  work.template_pdf = "%PDF\n";
  work.strokes_done = {1.0, 0.5};
  work.player = "/somewhere/player.toml";
  work.token = std::string(64, 'f');
  work.ledger = "/somewhere/ledger.sqlite";
  work.day = "2026-12-01";
  work.box = "B3";
  work.table = "trial";
  work.columns = {{"reed", "B3-7"}, {"words", "so\n\"so\""}};
  return work;
}

TEST(PageWork, ArrivesAsItWasSent) {
  const PageWork sent = some_work();
  std::istringstream text(text_of(sent));
  const PageWork came = page_work_from(text);
  EXPECT_EQ(came.what, sent.what);
  ASSERT_EQ(came.results.size(), 2U);
  for (std::size_t k = 0; k < 2; ++k) {
    EXPECT_EQ(came.results[k].name, sent.results[k].name);
    EXPECT_EQ(came.results[k].bytes, sent.results[k].bytes);
  }
  EXPECT_EQ(came.template_pdf, sent.template_pdf);
  EXPECT_EQ(came.strokes_done, sent.strokes_done);
  EXPECT_EQ(came.player, sent.player);
  EXPECT_EQ(came.token, sent.token);
  EXPECT_EQ(came.ledger, sent.ledger);
  EXPECT_EQ(came.day, sent.day);
  EXPECT_EQ(came.box, sent.box);
  EXPECT_EQ(came.table, sent.table);
  EXPECT_EQ(came.columns, sent.columns);
}

TEST(PageWork, WhatIsCutOffOrPromisesTooMuchIsRefused) {
  const std::string whole = text_of(some_work());
  for (const std::size_t left : {std::size_t{0}, std::size_t{5}, whole.find('\n'), whole.size() - 1}) {
    std::istringstream text(whole.substr(0, left));
    EXPECT_ANY_THROW((void)page_work_from(text)) << left;
  }
  std::istringstream huge(
      R"({"what":0,"template_bytes":0,"strokes_done":[],"player":"","token":"","ledger":"","day":"","box":"","table":"","columns":[],"results":[{"name":"a","bytes":99999999999}]})"
      "\n");
  EXPECT_ANY_THROW((void)page_work_from(huge));
  std::istringstream unknown(
      R"({"what":9,"template_bytes":0,"strokes_done":[],"player":"","token":"","ledger":"","day":"","box":"","table":"","columns":[],"results":[]})"
      "\n");
  EXPECT_ANY_THROW((void)page_work_from(unknown));
}

TEST(PageWork, AFileThatIsNoResultIsNamedInTheRefusal) {
  PageWork work;
  work.results = {{"B3-7", "{}"}};
  try {
    (void)page_of(work, {});
    FAIL();
  } catch (const InputError& error) {
    EXPECT_NE(std::string(error.what()).find("B3-7"), std::string::npos) << error.what();
  }
}

}  // namespace
}  // namespace canewise
