#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "scanproc/clouds/ply_header.h"

namespace canewise {

/// Where a reader stands in a body: for its refusals.
struct PlyRow {
  const PlyElement* element = nullptr;
  std::uint64_t index = 0;

  /// 'point 3', 'face 3', 'row 3 of its element 'strip''.
  [[nodiscard]] Message place() const;
  [[noreturn]] void fail_end(const ScanFile& file) const;
  [[noreturn]] void fail_list(const ScanFile& file, const PlyProperty& property) const;
};

/// Rows of an ascii body, one a line; each value is read or skipped in its turn. Refuses with the row's place what is
/// missing or no number. Work is linear in the file's size, whatever its counts say.
class PlyAsciiBody {
 public:
  PlyAsciiBody(const ScanFile& file, std::string_view body) : file_(file), rest_(body) {}

  /// Refuses an element with more rows than the body can hold.
  void begin(const PlyElement& element);
  void begin_row(std::uint64_t row);
  [[nodiscard]] double value(ScalarType type);
  [[nodiscard]] std::uint64_t list_size(const PlyProperty& property);
  void skip(ScalarType type, std::uint64_t values);
  void skip_rows(const PlyElement& element);
  [[nodiscard]] const PlyRow& row() const { return row_; }
  [[nodiscard]] const ScanFile& file() const { return file_; }

 private:
  [[nodiscard]] std::string_view word();

  const ScanFile& file_;
  std::string_view rest_, line_;
  PlyRow row_;
};

/// The same of a binary body, which is read in pieces.
class PlyBinaryBody {
 public:
  PlyBinaryBody(const ScanFile& file, std::uint64_t offset, bool big_endian);

  void begin(const PlyElement& element);
  void begin_row(std::uint64_t row) { row_.index = row; }
  [[nodiscard]] double value(ScalarType type);
  [[nodiscard]] std::uint64_t list_size(const PlyProperty& property);
  void skip(ScalarType type, std::uint64_t values);
  void skip_rows(const PlyElement& element);
  [[nodiscard]] const PlyRow& row() const { return row_; }
  [[nodiscard]] const ScanFile& file() const { return file_; }
  [[nodiscard]] std::uint64_t offset() const { return begin_ + at_; }
  [[nodiscard]] bool is_big_endian() const { return big_endian_; }

 private:
  [[nodiscard]] std::uint64_t room() const { return file_.size() - offset(); }
  void forward(std::uint64_t bytes);

  const ScanFile& file_;
  bool big_endian_;
  std::vector<char> piece_;
  std::uint64_t begin_;  ///< Of the piece in the file.
  std::size_t at_ = 0;   ///< In the piece.
  PlyRow row_;
};

/// Steps over a row of `element`.
template <typename Body>
void skip_row(Body& body, const PlyElement& element) {
  for (const PlyProperty& property : element.properties)
    body.skip(property.type, property.is_list ? body.list_size(property) : 1);
}

}  // namespace canewise
