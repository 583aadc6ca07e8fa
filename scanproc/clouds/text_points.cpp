#include "scanproc/clouds/text_points.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <optional>
#include <string>
#include <vector>

#include "scanproc/bytes/number_text.h"
#include "scanproc/clouds/records.h"

namespace canewise {
namespace {

struct TextFormat {
  char separator = ' ';  ///< ' ' stands for any blanks.
  bool decimal_comma = false;
  std::array<std::size_t, 3> columns{0, 1, 2};
};

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
  return text;
}

bool is_comment(std::string_view line) {
  return line.empty() || line.front() == '#' || line.front() == '%' || line.starts_with("//");
}

std::string_view next_field(std::string_view& line, char separator) {
  if (separator == ' ') return next_word(line);
  const std::size_t end = line.find(separator);
  const std::string_view field = trimmed(line.substr(0, end));
  line.remove_prefix(end == std::string_view::npos ? line.size() : end + 1);
  return field;
}

/// Calls use(field) for every field of a line, however many they are, until it says false.
template <typename Use>
void for_each_field(std::string_view line, char separator, const Use& use) {
  while (!line.empty()) {
    const std::string_view field = next_field(line, separator);
    if (separator == ' ' && field.empty()) continue;
    if (!use(field)) return;
  }
}

/// The first fields of a line: more columns no table has.
std::vector<std::string_view> fields_of(std::string_view line, char separator) {
  constexpr std::size_t most = 1000;
  std::vector<std::string_view> fields;
  for_each_field(line, separator, [&](std::string_view field) {
    fields.push_back(field);
    return fields.size() < most;
  });
  return fields;
}

std::optional<double> read_number(std::string_view field, bool decimal_comma) {
  if (!decimal_comma || field.find(',') == std::string_view::npos) return number_from<double>(field);
  if (field.size() > 64) return std::nullopt;
  std::array<char, 64> copy{};
  std::replace_copy(field.begin(), field.end(), copy.begin(), ',', '.');
  return number_from<double>(std::string_view(copy.data(), field.size()));
}

bool is_number(std::string_view field) { return read_number(field, true).has_value(); }

/// True for a remark behind a ';'. Where ';' parts the columns a row may begin with it, its first field being empty:
/// that is told by the numbers behind.
bool is_semicolon_comment(std::string_view line, bool semicolon_separates) {
  if (!line.starts_with(';')) return false;
  line.remove_prefix(1);
  std::size_t fields = 0, numbers = 0;
  for_each_field(line, ';', [&](std::string_view field) {
    ++fields;
    numbers += is_number(field) ? 1 : 0;
    return true;
  });
  return semicolon_separates ? numbers == 0 : !(numbers == fields && numbers > 1);
}

/// The line without the remark behind a ';' that parts no columns; a number there is no remark, so it stays.
std::string_view without_remark(std::string_view line) {
  const std::size_t end = line.find(';');
  if (end == std::string_view::npos) return line;
  std::string_view remark = line.substr(end + 1);
  return is_number(next_word(remark)) ? line : trimmed(line.substr(0, end));
}

char separator_of(std::string_view line) {
  if (line.find(';') != std::string_view::npos) return ';';
  if (line.find('\t') != std::string_view::npos) return '\t';
  // 'a,b c,d e,f' has decimal commas between blanks; 'a, b, c' is separated by commas.
  std::size_t words = 0;
  bool bare = true;
  for_each_field(line, ' ', [&](std::string_view word) {
    ++words;
    bare = word.back() != ',' && word.front() != ',';
    return bare;
  });
  const bool blanks_separate = words >= 3 && bare;
  if (line.find(',') != std::string_view::npos && !blanks_separate) return ',';
  return ' ';
}

/// Columns named x, y and z ('X', 'x_mm', '"x"' too); empty if the line does not name all three.
std::optional<std::array<std::size_t, 3>> named_columns(const std::vector<std::string_view>& fields) {
  std::array<std::optional<std::size_t>, 3> found;
  for (std::size_t i = 0; i < fields.size(); ++i) {
    std::string name;
    for (const char c : fields[i]) {
      if (c == '_' || c == '[' || c == '(') break;
      if (c != '"' && c != ' ') name += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    }
    for (std::size_t axis = 0; axis < 3; ++axis) {
      if (name.size() == 1 && name[0] == "xyz"[axis] && !found.at(axis)) found.at(axis) = i;
    }
  }
  if (!found[0] || !found[1] || !found[2]) return std::nullopt;
  return std::array<std::size_t, 3>{*found[0], *found[1], *found[2]};
}

bool all_numbers(const std::vector<std::string_view>& fields, bool decimal_comma) {
  return std::all_of(fields.begin(), fields.end(), [&](std::string_view f) { return read_number(f, decimal_comma); });
}

/// Takes the lines one by one: first finds the form from the first row or from a header before it.
class RowReader {
 public:
  explicit RowReader(const ScanFile& file) : file_(file) {}

  /// Coordinates of the line, if it is a row of points. Throws InputError for what is neither row, header nor remark.
  std::optional<std::array<double, 3>> row(std::string_view line, std::size_t line_number) {
    const bool semicolon_separates = format_ ? format_->separator == ';' : header_separator_ == ';';
    if (is_comment(line) || is_semicolon_comment(line, semicolon_separates)) return std::nullopt;
    if (format_ && !semicolon_separates) line = without_remark(line);
    if (!format_) {
      // What stands before a ';' may be the whole row, with a remark behind.
      bool understood = understands(line);
      if (!understood && without_remark(line).size() < line.size()) {
        line = without_remark(line);
        understood = understands(line);
      }
      if (!understood) {
        file_.fail({"scan_text.no_row", {{"line", digits(line_number)}, {"words", excerpt(line)}}});
      }
      if (!format_) return std::nullopt;
    }
    return coordinates(line, line_number);
  }

 private:
  /// Sets the form from a row; true also for a header or a count of points, as some XYZ files begin with.
  bool understands(std::string_view line) {
    TextFormat candidate;
    candidate.separator = separator_of(line);
    candidate.decimal_comma = candidate.separator != ',';
    const auto fields = fields_of(line, candidate.separator);
    if (fields.size() >= 3 && all_numbers({fields.begin(), fields.begin() + 3}, candidate.decimal_comma)) {
      if (header_columns_) candidate.columns = *header_columns_;
      format_ = candidate;
      return true;
    }
    if (header_columns_) return false;
    if (fields.size() == 1 && number_from<std::uint64_t>(fields[0])) return true;
    header_columns_ = named_columns(fields);
    if (header_columns_) header_separator_ = candidate.separator;
    return header_columns_.has_value();
  }

  [[nodiscard]] std::array<double, 3> coordinates(std::string_view line, std::size_t line_number) const {
    const std::size_t last = *std::max_element(format_->columns.begin(), format_->columns.end());
    std::array<double, 3> xyz{};
    for (std::size_t column = 0; column <= last; ++column) {
      const bool missing = line.empty();
      const std::string_view field = next_field(line, format_->separator);
      for (std::size_t axis = 0; axis < 3; ++axis) {
        if (format_->columns.at(axis) != column) continue;
        const auto value = missing ? std::nullopt : read_number(field, format_->decimal_comma);
        if (!value) {
          file_.fail(missing || field.empty()
                         ? Message{"scan_text.number_missing", {{"line", digits(line_number)}}}
                         : Message{"scan_text.no_number", {{"line", digits(line_number)}, {"word", excerpt(field)}}});
        }
        xyz.at(axis) = *value;
      }
    }
    return xyz;
  }

  const ScanFile& file_;
  std::optional<TextFormat> format_;
  std::optional<std::array<std::size_t, 3>> header_columns_;
  char header_separator_ = ' ';
};

}  // namespace

bool looks_like_text(std::string_view head) {
  return std::all_of(head.begin(), head.end(), [](char c) {
    return c == '\n' || c == '\r' || c == '\t' || static_cast<unsigned char>(c) >= 0x20U;
  });
}

Cloud read_text_points(const ScanFile& file, double mm_per_unit) {
  const std::string text = file.all();
  return read_in_little_room(file, Reading::whole_text, [&](Room& room) {
    std::string_view rest = text;
    if (rest.starts_with("\xEF\xBB\xBF")) rest.remove_prefix(3);  // A byte order mark, as spreadsheets write it.
    RowReader reader(file);
    CloudBuilder builder(text.size() / 24, mm_per_unit, &room);
    for (std::size_t line_number = 1; !rest.empty(); ++line_number) {
      const auto xyz = reader.row(trimmed(next_line(rest)), line_number);
      if (xyz) builder.add((*xyz)[0], (*xyz)[1], (*xyz)[2]);
    }
    return std::move(builder).finish("text, one point a line");
  });
}

}  // namespace canewise
