#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <string_view>

#include "scanproc/ledger/row.h"
#include "scanproc/words/message.h"

namespace canewise {

/// How the file is called where nobody says otherwise.
inline constexpr const char* kLedgerFile = "ledger.sqlite";

/// Which entries of a table, and in which order.
struct LedgerQuery {
  Row equal = {};             ///< Columns that must have these values; not known asks for what is not known.
  std::string find = {};      ///< In any of its words, whatever the case of a to z.
  std::string order_by = {};  ///< A column; empty: the key.
  bool descending = false;
  std::int64_t most = -1;  ///< All.
  std::int64_t first = 0;  ///< After so many.
};

/// What is remembered of players, boxes, reeds, trials and days: one SQLite file (tables.h). A change that returned is
/// on the disk; one that was cut short has not happened. Several processes may read and one at a time may write.
///
/// All functions throw OutputError where the file cannot be written or somebody else writes for longer than five
/// seconds, InputError where it is damaged or holds what no column takes, and UsageError for values, names and
/// references that do not fit.
class Ledger {
 public:
  enum class Access {
    read,   ///< It must be there; also where its folder may not be written.
    write,  ///< It must be there.
    make,   ///< It is made if it is not there.
  };
  /// A ledger of an older version is backed up beside itself and brought up to date; one of a newer version, a file
  /// that is no ledger and one whose tables somebody changed are refused.
  Ledger(const std::filesystem::path& path, Access access);
  ~Ledger();
  Ledger(Ledger&&) noexcept;
  Ledger& operator=(Ledger&&) noexcept;

  [[nodiscard]] const std::filesystem::path& path() const { return path_; }
  /// Whether the file was not there before.
  [[nodiscard]] bool is_new() const { return is_new_; }

  [[nodiscard]] Rows rows(std::string_view table, const LedgerQuery& query = {}) const;
  [[nodiscard]] std::int64_t count_of(std::string_view table, const LedgerQuery& query = {}) const;
  /// Not known, if there is none.
  [[nodiscard]] Row row(std::string_view table, const Cell& key) const;
  [[nodiscard]] bool has(std::string_view table, const Cell& key) const;

  /// Returns the key.
  Cell insert(std::string_view table, Row row);
  /// Changes the columns that are named. A changed key changes wherever it is referred to.
  void update(std::string_view table, const Cell& key, const Row& changes);
  /// With what belongs to it: trials and results go with their reed. What others still refer to is refused.
  void erase(std::string_view table, const Cell& key);
  /// All that `work` changes, or nothing if it throws.
  void in_one_step(const std::function<void()>& work);

  /// A copy that is whole, whoever writes meanwhile. Refuses to write over a file.
  void back_up(const std::filesystem::path& copy) const;
  /// What is wrong with the file, for people; empty if nothing is. Reads all of it.
  [[nodiscard]] Messages faults() const;

 private:
  struct Store;
  [[nodiscard]] Rows rows_as_they_are(std::string_view table, const LedgerQuery& query) const;
  std::filesystem::path path_;
  bool is_new_ = false;
  std::unique_ptr<Store> store_;
};

}  // namespace canewise
