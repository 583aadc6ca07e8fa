#include "scanproc/scan/ply_body.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "scanproc/scan/number_text.h"

namespace canewise {
namespace {

constexpr std::size_t kPieceBytes = 1U << 18U;

std::string rows_of(const PlyElement& element) {
  if (element.name == "vertex") return "points";
  if (element.name == "face") return "faces";
  return "rows of " + shown(element.name);
}

}  // namespace

std::string PlyRow::place() const {
  const std::string number = std::to_string(index + 1);
  if (element->name == "vertex") return "point " + number;
  if (element->name == "face") return "face " + number;
  return "row " + number + " of its element " + shown(element->name);
}

void PlyRow::fail_end(const ScanFile& file) const {
  file.fail("ends after " + std::to_string(index) + " of the " + std::to_string(element->count) + " " +
            rows_of(*element) + " that its header promises. It was cut short; export it again.");
}

void PlyRow::fail_list(const ScanFile& file, const PlyProperty& property) const {
  file.fail(place() + " has an impossible number of entries in its list " + shown(property.name) +
            ". It was cut short or is damaged; export it again.");
}

void PlyAsciiBody::begin(const PlyElement& element) {
  row_ = {&element, 0};
  // Each value takes a digit and what parts it from the next; the very last may lack that.
  const std::uint64_t least = std::max<std::uint64_t>(1, 2 * element.properties.size() - 1);
  if (element.properties.empty() || element.count <= (rest_.size() + 1) / least) return;
  file_.fail("its header promises " + std::to_string(element.count) + " " + rows_of(element) +
             ", but the file has room for at most " + std::to_string((rest_.size() + 1) / least) +
             ". It was cut short or its header is damaged; export it again.");
}

void PlyAsciiBody::begin_row(std::uint64_t row) {
  row_.index = row;
  if (rest_.empty()) row_.fail_end(file_);
  line_ = next_line(rest_);
}

std::string_view PlyAsciiBody::word() {
  const std::string_view word = next_word(line_);
  if (word.empty()) file_.fail(row_.place() + " has too few numbers. It was cut short; export it again.");
  return word;
}

double PlyAsciiBody::value(ScalarType /*type*/) {
  const std::string_view text = word();
  const auto value = number_from<double>(text);
  if (!value) file_.fail(row_.place() + ": " + shown(text) + " is not a number. Export it again.");
  return *value;
}

std::uint64_t PlyAsciiBody::list_size(const PlyProperty& property) {
  const auto entries = number_from<std::uint32_t>(word());
  if (!entries) row_.fail_list(file_, property);
  return *entries;
}

void PlyAsciiBody::skip(ScalarType /*type*/, std::uint64_t values) {
  for (std::uint64_t i = 0; i < values; ++i) (void)word();
}

void PlyAsciiBody::skip_rows(const PlyElement& element) {
  begin(element);
  for (std::uint64_t row = 0; row < element.count; ++row) {
    begin_row(row);
    skip_row(*this, element);
  }
}

PlyBinaryBody::PlyBinaryBody(const ScanFile& file, std::uint64_t offset, bool big_endian)
    : file_(file), big_endian_(big_endian), begin_(offset) {}

void PlyBinaryBody::begin(const PlyElement& element) {
  row_ = {&element, 0};
  const std::size_t least = element.least_bytes();
  if (least == 0 || element.count <= room() / least) return;
  file_.fail("its header promises " + std::to_string(element.count) + " " + rows_of(element) +
             ", but the file has room for " + std::to_string(room() / least) +
             ". It was cut short or its header is damaged; export it again.");
}

void PlyBinaryBody::forward(std::uint64_t bytes) {
  if (bytes > room()) row_.fail_end(file_);
  if (bytes <= piece_.size() - at_) {
    at_ += static_cast<std::size_t>(bytes);
    return;
  }
  begin_ = offset() + bytes;
  piece_.clear();
  at_ = 0;
}

double PlyBinaryBody::value(ScalarType type) {
  const std::size_t size = size_of(type);
  if (size > piece_.size() - at_) {
    if (size > room()) row_.fail_end(file_);
    const std::uint64_t begin = offset();
    piece_.resize(static_cast<std::size_t>(std::min<std::uint64_t>(kPieceBytes, room())));
    begin_ = begin;
    at_ = 0;
    file_.read_at(begin_, piece_);
  }
  const double value = decode_scalar(piece_.data() + at_, type, big_endian_);
  at_ += size;
  return value;
}

std::uint64_t PlyBinaryBody::list_size(const PlyProperty& property) {
  const double entries = value(property.count_type);
  if (entries < 0) row_.fail_list(file_, property);
  return static_cast<std::uint64_t>(entries);
}

void PlyBinaryBody::skip(ScalarType type, std::uint64_t values) { forward(values * size_of(type)); }

void PlyBinaryBody::skip_rows(const PlyElement& element) {
  begin(element);
  if (!element.has_list()) {
    forward(element.count * element.least_bytes());
    return;
  }
  for (std::uint64_t row = 0; row < element.count; ++row) {
    begin_row(row);
    skip_row(*this, element);
  }
}

}  // namespace canewise
