#include "scanproc/ledger/ledger_file.h"

#include <SQLiteCpp/Database.h>
#include <sqlite3.h>

#include <fstream>
#include <stdexcept>
#include <string>
#include <system_error>

#include "scanproc/core/error.h"

namespace canewise {
namespace {

InputError in_file(const std::filesystem::path& path, Message what) {
  return InputError({"in_file", {{"file", text(path.string())}, {"what", part(std::move(what))}}});
}

/// Percent-encoded for a file: address.
std::string address_of(const std::filesystem::path& path) {
  constexpr std::string_view kDigits = "0123456789ABCDEF";
  std::string address = "file:";
  for (const char c : std::filesystem::absolute(path).string()) {
    const auto byte = static_cast<unsigned char>(c);
    const bool is_plain = (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') ||
                          (byte >= '0' && byte <= '9') || c == '/' || c == '-' || c == '_' || c == '.';
    if (is_plain) {
      address += c;
    } else {
      address += '%';
      address += kDigits[byte >> 4U];
      address += kDigits[byte & 15U];
    }
  }
  return address;
}

/// A journal that names another may have SQLite delete any file of the user's ("super-journal"). None of ours does.
/// Source: SQLite's file format, 3.2: such a journal ends in the magic of its head.
void refuse_foreign_journal(const std::filesystem::path& path) {
  std::filesystem::path journal = path;
  journal += "-journal";
  std::error_code unknown;
  const auto status = std::filesystem::symlink_status(journal, unknown);
  if (status.type() == std::filesystem::file_type::not_found) return;
  constexpr std::string_view kMagic("\xd9\xd5\x05\xf9\x20\xa1\x63\xd7", 8);
  std::string end(kMagic.size(), '\0');
  std::ifstream file;
  if (status.type() == std::filesystem::file_type::regular) file.open(journal, std::ios::binary);
  file.seekg(-static_cast<std::streamoff>(end.size()), std::ios::end);
  file.read(end.data(), static_cast<std::streamsize>(end.size()));
  const bool is_empty = file.is_open() && std::filesystem::file_size(journal, unknown) < kMagic.size() && !unknown;
  if (!is_empty && (!file || end == kMagic)) throw in_file(journal, {"ledger.foreign_journal"});
}

int compare_as_people_do(void*, int a_size, const void* a_bytes, int b_size, const void* b_bytes) {
  const std::string_view a(static_cast<const char*>(a_bytes), static_cast<std::size_t>(a_size));
  const std::string_view b(static_cast<const char*>(b_bytes), static_cast<std::size_t>(b_size));
  const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
  const auto digits_from = [&](std::string_view words, std::size_t& at) {
    while (at + 1 < words.size() && words[at] == '0' && is_digit(words[at + 1])) ++at;
    const std::size_t begin = at;
    while (at < words.size() && is_digit(words[at])) ++at;
    return words.substr(begin, at - begin);
  };
  std::size_t i = 0, j = 0;
  while (i < a.size() && j < b.size()) {
    if (is_digit(a[i]) && is_digit(b[j])) {
      const std::string_view m = digits_from(a, i), n = digits_from(b, j);
      if (m.size() != n.size()) return m.size() < n.size() ? -1 : 1;
      if (const int order = m.compare(n); order != 0) return order;
      continue;
    }
    const auto small = [](char c) { return static_cast<unsigned char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c); };
    if (small(a[i]) != small(b[j])) return small(a[i]) < small(b[j]) ? -1 : 1;
    ++i, ++j;
  }
  const std::size_t left_of_a = a.size() - i, left_of_b = b.size() - j;
  return left_of_a == left_of_b ? a.compare(b) : left_of_a < left_of_b ? -1 : 1;
}

}  // namespace

bool is_ledger_file(const std::filesystem::path& path, Ledger::Access access) {
  std::error_code unknown;
  const auto type = std::filesystem::status(path, unknown).type();
  std::error_code ignored;
  const bool is_link = std::filesystem::is_symlink(path, ignored);
  if (type == std::filesystem::file_type::none)  // It may not even be asked for.
    throw InputError({"in_file", {{"file", text(path.string())}, {"what", text(unknown.message())}}});
  if (type == std::filesystem::file_type::not_found && !is_link) return false;
  const bool is_empty = type == std::filesystem::file_type::regular && std::filesystem::file_size(path, unknown) == 0;
  // An empty file is what a maker leaves who was killed at once.
  if (type != std::filesystem::file_type::regular || (is_empty && access != Ledger::Access::make))
    throw in_file(path, {"ledger.is_none"});
  refuse_foreign_journal(path);
  return true;
}

SQLite::Database open_unwritable(const std::filesystem::path& path) {
  constexpr int wait_ms = 5000;
  std::error_code ignored;
  std::filesystem::path beside = path;
  beside += "-wal";
  if (std::filesystem::file_size(beside, ignored) > 0 && !ignored) throw in_file(path, {"ledger.half_written_beside"});
  return {address_of(path) + "?immutable=1", SQLite::OPEN_READONLY | SQLite::OPEN_URI, wait_ms};
}

void add_people_order(SQLite::Database& database) {
  if (sqlite3_create_collation(database.getHandle(), "people", SQLITE_UTF8, nullptr, compare_as_people_do) != SQLITE_OK)
    throw std::runtime_error("a collation cannot be made");
}

}  // namespace canewise
