#include "scanproc/clouds/ply_body.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "scanproc/bytes/number_text.h"

namespace canewise {
namespace {

constexpr std::size_t kPieceBytes = 1U << 18U;

Argument kind_of(const PlyElement& element) {
  return word(element.name == "vertex" ? "point" : element.name == "face" ? "face" : "row");
}

}  // namespace

Message PlyRow::place() const {
  return {"ply.row", {{"kind", kind_of(*element)}, {"number", digits(index + 1)}, {"element", excerpt(element->name)}}};
}

void PlyRow::fail_end(const ScanFile& file) const {
  file.fail({"ply.ends_early",
             {{"rows", digits(index)},
              {"promised", digits(element->count)},
              {"kind", kind_of(*element)},
              {"element", excerpt(element->name)}}});
}

void PlyRow::fail_list(const ScanFile& file, const PlyProperty& property) const {
  file.fail({"ply.impossible_list", {{"place", part(place())}, {"list", excerpt(property.name)}}});
}

void PlyAsciiBody::begin(const PlyElement& element) {
  row_ = {&element, 0};
  // Each value takes a digit and what parts it from the next; the very last may lack that.
  const std::uint64_t least = std::max<std::uint64_t>(1, 2 * element.properties.size() - 1);
  if (element.properties.empty() || element.count <= (rest_.size() + 1) / least) return;
  file_.fail({"ply.short_text",
              {{"promised", digits(element.count)},
               {"kind", kind_of(element)},
               {"element", excerpt(element.name)},
               {"room", digits((rest_.size() + 1) / least)}}});
}

void PlyAsciiBody::begin_row(std::uint64_t row) {
  row_.index = row;
  if (rest_.empty()) row_.fail_end(file_);
  line_ = next_line(rest_);
}

std::string_view PlyAsciiBody::word() {
  const std::string_view word = next_word(line_);
  if (word.empty()) file_.fail({"ply.few_numbers", {{"place", part(row_.place())}}});
  return word;
}

double PlyAsciiBody::value(ScalarType /*type*/) {
  const std::string_view text = word();
  const auto value = number_from<double>(text);
  if (!value) file_.fail({"ply.no_number", {{"place", part(row_.place())}, {"word", excerpt(text)}}});
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
  file_.fail({"ply.short",
              {{"promised", digits(element.count)},
               {"kind", kind_of(element)},
               {"element", excerpt(element.name)},
               {"room", digits(room() / least)}}});
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
