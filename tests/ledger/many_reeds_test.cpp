// A ledger that a workshop filled for years still answers page by page.
#include <gtest/gtest.h>

#include "scanproc/advise/box_view.h"
#include "scanproc/advise/keeping.h"
#include "scanproc/ledger/records.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

TEST(ManyReeds, AreListedByPagesAndABoxIsFoundAmongThousands) {
  const test::TempFolder folder;
  Ledger ledger(folder.path() / "ledger.sqlite", Ledger::Access::make);
  constexpr int boxes = 2000, each = 10;
  ledger.in_one_step([&] {
    for (int b = 0; b < boxes; ++b) {
      const std::string box = "B" + std::to_string(b);
      ledger.insert("box", {{"name", box}, {"holds", std::int64_t{each}}, {"strength", "3"}});
      for (int r = 1; r <= each; ++r)
        ledger.insert("reed", {{"label", box + "-" + std::to_string(r)},
                               {"box", box},
                               {"number", std::int64_t{r}},
                               {"stage", "new"},
                               {"added_at", "2026-12-01T10:00:00Z"}});
    }
  });
  EXPECT_EQ(ledger.count_of("reed"), boxes * each);
  const Rows page = ledger.rows("reed", {.order_by = "added_at", .most = 50, .first = 10000});
  EXPECT_EQ(page.size(), 50U);
  EXPECT_EQ(ledger.rows("reed", {.find = "B1999-1", .most = 50}).size(), 2U);
  const auto reeds = reeds_of_box(ledger, "B1234");
  ASSERT_EQ(reeds.size(), static_cast<std::size_t>(each));
  EXPECT_EQ(reeds.back().label, "B1234-10");
  EXPECT_EQ(view_box(ledger, "B1234").reeds.size(), static_cast<std::size_t>(each));
  EXPECT_EQ(tried_boxes(ledger).size(), static_cast<std::size_t>(boxes));
  ledger.update("reed", "B7-1", {{"stage", std::string("playing")}});
  EXPECT_EQ(chores_of(ledger, {}, "2026-12-01").size(), 2U) << "to be played, and to be scanned";
}

}  // namespace
}  // namespace canewise
