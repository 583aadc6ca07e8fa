#include "scanproc/core/own_folder.h"

#include <algorithm>
#include <cstdint>
#include <fstream>
#include <nlohmann/json.hpp>
#include <system_error>

#include "scanproc/core/error.h"
#include "scanproc/core/output_place.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

/// Stops at the key "format" of the uppermost object.
class FormatReader : public nlohmann::json_sax<json> {
 public:
  std::string format;

  bool null() override { return stands_here(); }
  bool boolean(bool) override { return stands_here(); }
  bool number_integer(number_integer_t) override { return stands_here(); }
  bool number_unsigned(number_unsigned_t) override { return stands_here(); }
  bool number_float(number_float_t, const string_t&) override { return stands_here(); }
  bool binary(binary_t&) override { return stands_here(); }
  bool string(string_t& value) override {
    if (is_next_) format = value;
    return stands_here();
  }
  bool key(string_t& name) override {
    is_next_ = depth_ == 1 && name == "format";
    return true;
  }
  bool start_object(std::size_t) override { return begin(); }
  bool end_object() override { return --depth_ > 0; }
  bool start_array(std::size_t) override { return depth_ > 0 && begin(); }
  bool end_array() override { return --depth_ > 0; }
  bool parse_error(std::size_t, const std::string&, const nlohmann::json::exception&) override { return false; }

 private:
  int depth_ = 0;
  bool is_next_ = false;

  /// Whatever the key's value is, nothing is read behind it.
  [[nodiscard]] bool stands_here() const { return depth_ > 0 && !is_next_; }
  bool begin() {
    ++depth_;
    return !is_next_;
  }
};

}  // namespace

bool says_format(const fs::path& json_file, const std::string& format) {
  std::error_code error;
  if (!fs::is_regular_file(json_file, error)) return false;  // A pipe would be waited for.
  constexpr std::uintmax_t most = 16U << 20U;
  std::string head(static_cast<std::size_t>(std::min(most, fs::file_size(json_file, error))), '\0');
  std::ifstream file(json_file, std::ios::binary);
  file.read(head.data(), static_cast<std::streamsize>(head.size()));
  head.resize(static_cast<std::size_t>(std::max<std::streamsize>(0, file.gcount())));
  FormatReader reader;
  json::sax_parse(head, &reader);
  return !format.empty() && reader.format == format;
}

void refuse_foreign(const fs::path& folder, const OwnFolder& own) {
  if (!is_there(folder)) return;
  std::error_code error;
  if (!fs::is_directory(folder, error)) throw OutputError({"output.is_a_file", {{"path", text(folder.string())}}});
  const fs::directory_iterator first(folder, error);
  if (error) throw cannot_write(folder, error.value(), Left::unchanged);
  if (first == fs::directory_iterator() || says_format(folder / own.proof, own.format)) return;
  throw OutputError({"output.foreign", {{"folder", text(folder.string())}, {"proof", text(own.proof)}}});
}

}  // namespace canewise
