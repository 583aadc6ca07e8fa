#include "scanproc/ledger/ledger.h"

#include <SQLiteCpp/Database.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <thread>

#include "scanproc/core/error.h"
#include "scanproc/ledger/ledger_file.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

Row reed(const std::string& label, const Cell& box = {}) {
  return {{"label", label}, {"box", box}, {"stage", "new"}, {"added_at", "2026-12-01T10:00:00Z"}};
}
Row trial(const std::string& of) {
  return {{"reed", of},
          {"played_at", "2026-12-01T18:00:00Z"},
          {"response", std::int64_t{4}},
          {"evenness", std::int64_t{3}},
          {"tone", std::int64_t{5}}};
}

class LedgerTest : public testing::Test {
 protected:
  test::TempFolder folder_;
  fs::path path_ = folder_.path() / "ledger.sqlite";
  Ledger ledger_{path_, Ledger::Access::make};

  template <typename Work>
  std::string refused(const Work& work) {
    try {
      work();
      return {};
    } catch (const Error& error) {
      return error.what();
    }
  }
};

TEST_F(LedgerTest, IsBegunOnceAndFoundAgain) {
  EXPECT_TRUE(ledger_.is_new());
  ledger_.insert("box", {{"name", "B3"}});
  const Ledger again(path_, Ledger::Access::write);
  EXPECT_FALSE(again.is_new());
  EXPECT_TRUE(again.has("box", "B3"));
  EXPECT_THAT(refused([&] { (void)Ledger(folder_.path() / "no.sqlite", Ledger::Access::write); }),
              HasSubstr("there is no ledger here"));
  EXPECT_FALSE(fs::exists(folder_.path() / "no.sqlite"));
}

TEST_F(LedgerTest, GivesBackWhatItWasGiven) {
  const Row box{{"name", "B3"},
                {"strength", "3 1/2"},
                {"holds", std::int64_t{10}},
                {"note", "two lines\nand 'quotes' \"of\" both kinds; -- no comment"}};
  EXPECT_EQ(ledger_.insert("box", box), Cell("B3"));
  EXPECT_EQ(ledger_.row("box", "B3"), box);
  const Cell id = ledger_.insert("trial", [&] {
    ledger_.insert("reed", reed("B3-1", "B3"));
    Row row = trial("B3-1");
    row["suction_s"] = 4.5;
    return row;
  }());
  EXPECT_EQ(ledger_.row("trial", id).at("suction_s"), Cell(4.5));
  EXPECT_EQ(ledger_.row("box", "B4"), Row());
}

TEST_F(LedgerTest, SaysWhichNameIsNotThereOrTaken) {
  EXPECT_THAT(refused([&] { ledger_.insert("reed", reed("B3-1", "B3")); }), HasSubstr("no box named B3"));
  ledger_.insert("box", {{"name", "B3"}});
  ledger_.insert("reed", reed("B3-1", "B3"));
  EXPECT_THAT(refused([&] { ledger_.insert("reed", reed("B3-1")); }), HasSubstr("already has a reed named B3-1"));
  EXPECT_THAT(refused([&] { ledger_.update("reed", "B3-2", {{"note", "x"}}); }), HasSubstr("no reed named B3-2"));
  EXPECT_THAT(refused([&] { ledger_.erase("box", "B3"); }), HasSubstr("other entries still name this box"));
  EXPECT_TRUE(ledger_.has("box", "B3"));
}

TEST_F(LedgerTest, RenamesWhereverANameStands) {
  ledger_.insert("box", {{"name", "B3"}});
  ledger_.insert("reed", reed("B3-1", "B3"));
  ledger_.insert("trial", trial("B3-1"));
  ledger_.update("box", "B3", {{"name", "Lent"}});
  ledger_.update("reed", "B3-1", {{"label", "Old friend"}});
  EXPECT_EQ(ledger_.row("reed", "Old friend").at("box"), Cell("Lent"));
  EXPECT_EQ(ledger_.rows("trial").front().at("reed"), Cell("Old friend"));
}

TEST_F(LedgerTest, LetsTrialsGoWithTheirReed) {
  ledger_.insert("reed", reed("A"));
  ledger_.insert("reed", reed("B"));
  ledger_.insert("trial", trial("A"));
  ledger_.insert("trial", trial("B"));
  ledger_.erase("reed", "A");
  ASSERT_EQ(ledger_.rows("trial").size(), 1U);
  EXPECT_EQ(ledger_.rows("trial").front().at("reed"), Cell("B"));
  EXPECT_TRUE(ledger_.faults().empty());
}

TEST_F(LedgerTest, DoesAllOfAStepOrNothing) {
  EXPECT_THROW(ledger_.in_one_step([&] {
    ledger_.insert("box", {{"name", "B3"}});
    ledger_.insert("reed", reed("B3-1", "B4"));
  }),
               UsageError);
  EXPECT_FALSE(ledger_.has("box", "B3"));
  ledger_.insert("box", {{"name", "B3"}});  // And it goes on.
  EXPECT_TRUE(ledger_.has("box", "B3"));
}

TEST_F(LedgerTest, FindsSortsAndCountsPages) {
  for (const char* label : {"B3-10", "B3-2", "Low 50%", "low_note", "Z"}) ledger_.insert("reed", reed(label));
  ledger_.update("reed", "Z", {{"note", "a LOW reed"}});
  EXPECT_EQ(ledger_.rows("reed", {.find = "low"}).size(), 3U);
  EXPECT_EQ(ledger_.rows("reed", {.find = "50%"}).size(), 1U);
  EXPECT_EQ(ledger_.rows("reed", {.find = "w_n"}).size(), 1U);
  EXPECT_EQ(ledger_.count_of("reed", {.find = "low"}), 3);
  EXPECT_EQ(ledger_.rows("reed", {.equal = {{"note", Cell()}}}).size(), 4U);
  const Rows page = ledger_.rows("reed", {.order_by = "label", .descending = true, .most = 2, .first = 1});
  ASSERT_EQ(page.size(), 2U);
  EXPECT_EQ(page[0].at("label"), Cell("low_note"));
  EXPECT_EQ(page[1].at("label"), Cell("Low 50%"));
  EXPECT_EQ(ledger_.rows("reed")[0].at("label"), Cell("B3-2")) << "before B3-10, as people count";
  EXPECT_THAT(refused([&] { (void)ledger_.rows("reed", {.order_by = "label; DROP TABLE reed"}); }),
              HasSubstr("nothing called"));
}

TEST_F(LedgerTest, HasOneWriterAndManyReaders) {
  ledger_.insert("box", {{"name", "B3"}});
  constexpr int writers = 3, each = 40;
  std::vector<std::thread> threads;
  for (int w = 0; w < writers; ++w) {
    threads.emplace_back([&, w] {
      Ledger own(path_, Ledger::Access::write);
      for (int k = 0; k < each; ++k) own.insert("reed", reed(std::to_string(w) + "-" + std::to_string(k)));
    });
  }
  std::thread reader([&] {
    const Ledger own(path_, Ledger::Access::read);
    std::int64_t seen = 0;
    for (int k = 0; k < 200; ++k) {
      const std::int64_t now = own.count_of("reed");
      EXPECT_GE(now, seen);
      seen = now;
    }
  });
  for (std::thread& thread : threads) thread.join();
  reader.join();
  EXPECT_EQ(ledger_.count_of("reed"), writers * each);
}

TEST_F(LedgerTest, TellsWhenSomebodyElseWritesTooLong) {
  Ledger other(path_, Ledger::Access::write);
  other.in_one_step([&] {
    EXPECT_THAT(refused([&] { ledger_.insert("box", {{"name", "B3"}}); }), HasSubstr("more than five seconds"));
  });
  ledger_.insert("box", {{"name", "B3"}});
}

TEST_F(LedgerTest, IsReadWhereNothingCanBeWritten) {
  ledger_.insert("box", {{"name", "B3"}});
  ledger_ = Ledger(folder_.path() / "other.sqlite", Ledger::Access::make);
  fs::permissions(path_, fs::perms::owner_read | fs::perms::group_read | fs::perms::others_read);
  fs::permissions(folder_.path(), fs::perms::owner_read | fs::perms::owner_exec | fs::perms::group_read |
                                      fs::perms::group_exec | fs::perms::others_read | fs::perms::others_exec);
  const pid_t child = ::fork();
  if (child == 0) {
    constexpr uid_t nobody = 65534;
    if (::geteuid() == 0 && ::setuid(nobody) != 0) ::_exit(9);  // Root may write everywhere.
    try {
      if (!Ledger(path_, Ledger::Access::read).has("box", "B3")) ::_exit(1);
    } catch (const Error&) {
      ::_exit(2);
    }
    try {
      Ledger(path_, Ledger::Access::write).insert("box", {{"name", "B4"}});
      ::_exit(3);
    } catch (const OutputError&) {
      ::_exit(0);
    }
  }
  int status = 0;
  ::waitpid(child, &status, 0);
  fs::permissions(folder_.path(), fs::perms::owner_all);
  EXPECT_TRUE(WIFEXITED(status));
  EXPECT_EQ(WEXITSTATUS(status), 0);
}

TEST_F(LedgerTest, NoJournalBesideItHasOtherFilesDeleted) {
  const std::string magic("\xd9\xd5\x05\xf9\x20\xa1\x63\xd7", 8);
  const fs::path victim = folder_.file("victim.txt", "mine"), other = folder_.path() / "other.sqlite";
  { const Ledger made(other, Ledger::Access::make); }
  (void)folder_.file("other.sqlite-journal", magic + std::string(504, '\0') + victim.string() + magic);
  EXPECT_THAT(refused([&] { (void)Ledger(other, Ledger::Access::read); }), HasSubstr("not one of canewise's"));
  EXPECT_TRUE(fs::exists(victim));
  fs::remove(folder_.path() / "other.sqlite-journal");
  fs::create_directory(folder_.path() / "other.sqlite-journal");
  EXPECT_NE(refused([&] { (void)Ledger(other, Ledger::Access::read); }), "");
}

TEST_F(LedgerTest, WhatIsNoFileIsNoLedgerAndReadingMakesNone) {
  const fs::path base = folder_.path();
  fs::create_directory(base / "folder");
  ASSERT_EQ(::mkfifo((base / "pipe").c_str(), 0600), 0);
  fs::create_symlink(base / "nowhere", base / "dangling");
  (void)folder_.file("empty", "");
  for (const char* name : {"folder", "pipe", "dangling"})
    for (const Ledger::Access access : {Ledger::Access::read, Ledger::Access::make})
      EXPECT_THROW((void)Ledger(base / name, access), InputError) << name;
  EXPECT_THROW((void)Ledger(base / "empty", Ledger::Access::read), InputError);
  EXPECT_EQ(fs::file_size(base / "empty"), 0U);
  EXPECT_FALSE(fs::exists(base / "nowhere"));
}

TEST_F(LedgerTest, WhatAnotherProgramPutThereIsRefusedWhereItIsRead) {
  ledger_.insert("reed", reed("A"));
  {
    SQLite::Database database(path_.string(), SQLite::OPEN_READWRITE);
    database.exec("INSERT INTO playing (reed, played_on, minutes) VALUES ('A', 'some day', 5)");
  }
  EXPECT_THAT(refused([&] { (void)ledger_.rows("playing"); }), HasSubstr("Another program"));
  EXPECT_EQ(ledger_.faults().size(), 1U);
  EXPECT_EQ(ledger_.rows("reed").size(), 1U);
}

TEST_F(LedgerTest, IsCopiedWholeAndNeverOverAFile) {
  ledger_.insert("box", {{"name", "B3"}});
  const fs::path copy = folder_.path() / "copy.sqlite";
  ledger_.back_up(copy);
  EXPECT_TRUE(Ledger(copy, Ledger::Access::read).has("box", "B3"));
  ledger_.insert("box", {{"name", "B4"}});
  EXPECT_THAT(refused([&] { ledger_.back_up(copy); }), HasSubstr("already"));
  EXPECT_FALSE(Ledger(copy, Ledger::Access::read).has("box", "B4"));
  for (const auto& entry : fs::directory_iterator(folder_.path()))
    EXPECT_FALSE(entry.path().filename().string().starts_with('.')) << entry.path();
}

TEST_F(LedgerTest, FindsWhatIsBrokenInItsFile) {
  for (int k = 0; k < 300; ++k)
    ledger_.insert("box", {{"name", "B" + std::to_string(k)}, {"note", std::string(500, 'n')}});
  const fs::path copy = folder_.path() / "broken.sqlite";
  ledger_.back_up(copy);
  {
    std::fstream file(copy, std::ios::in | std::ios::out | std::ios::binary);
    file.seekp(static_cast<std::streamoff>(fs::file_size(copy)) / 2);
    file << std::string(9000, '\xa5');
  }
  const std::string opened = refused([&] { EXPECT_FALSE(Ledger(copy, Ledger::Access::read).faults().empty()); });
  EXPECT_TRUE(opened.empty() || opened.find("ledger") != std::string::npos) << opened;
}

}  // namespace
}  // namespace canewise
