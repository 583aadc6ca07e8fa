#include "viewer/server/results.h"

#include <algorithm>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

namespace canewise {
namespace {

namespace fs = std::filesystem;

/// Reads the few texts without building the maps: these are large.
struct HeadReader : nlohmann::json_sax<nlohmann::json> {
  ResultEntry* entry;
  std::string format, at;
  int depth = 0;
  explicit HeadReader(ResultEntry& e) : entry(&e) {}
  bool null() override { return true; }
  bool boolean(bool) override { return true; }
  bool number_integer(number_integer_t) override { return true; }
  bool number_unsigned(number_unsigned_t) override { return true; }
  bool number_float(number_float_t, const string_t&) override { return true; }
  bool binary(binary_t&) override { return true; }
  bool string(string_t& value) override {
    if (depth != 1) return true;
    if (at == "format") format = value;
    if (at == "headline") entry->headline = value;
    if (at == "measured_at") entry->measured_at = value;
    if (at == "state") entry->state = value;
    return true;
  }
  bool start_object(std::size_t) override { return ++depth < 64; }
  bool end_object() override { return --depth >= 0; }
  bool start_array(std::size_t) override { return ++depth < 64; }
  bool end_array() override { return --depth >= 0; }
  bool key(string_t& name) override {
    if (depth == 1) at = name;
    return true;
  }
  bool parse_error(std::size_t, const std::string&, const nlohmann::json::exception&) override { return false; }
};

}  // namespace

std::vector<ResultEntry> ResultList::entries() {
  std::vector<Known> now;
  std::error_code error;
  for (fs::directory_iterator it(folder_, error), end; !error && it != end; it.increment(error)) {
    const std::string name = it->path().filename().string();
    const auto folder = result_folder(folder_, name);
    if (!folder) continue;
    std::error_code gone;
    Known known{fs::last_write_time(*folder / "result.json", gone), fs::file_size(*folder / "result.json", gone), {}};
    if (gone) continue;
    const auto before = std::find_if(known_.begin(), known_.end(), [&](const Known& k) {
      return k.entry.name == name && k.written == known.written && k.bytes == known.bytes;
    });
    if (before != known_.end()) {
      now.push_back(*before);
      continue;
    }
    std::ifstream file(*folder / "result.json", std::ios::binary);
    HeadReader reader(known.entry);
    if (!nlohmann::json::sax_parse(file, &reader) || reader.format != "canewise-result") continue;
    known.entry.name = name;
    now.push_back(std::move(known));
  }
  known_ = std::move(now);
  std::vector<ResultEntry> entries;
  for (const Known& known : known_) entries.push_back(known.entry);
  std::sort(entries.begin(), entries.end(), [](const ResultEntry& a, const ResultEntry& b) {
    return a.measured_at != b.measured_at ? a.measured_at > b.measured_at : a.name < b.name;
  });
  return entries;
}

std::optional<fs::path> result_folder(const fs::path& folder, const std::string& name) {
  if (name.empty() || name.front() == '.' || name.find('/') != std::string::npos ||
      name.find('\0') != std::string::npos)
    return std::nullopt;
  std::error_code error;
  const fs::path inside = fs::canonical(folder, error);
  if (error) return std::nullopt;
  const fs::path found = fs::canonical(inside / name, error);
  if (error || found.parent_path() != inside || !fs::is_regular_file(found / "result.json", error)) return std::nullopt;
  return found;
}

std::string safe_file_name(std::string_view given) {
  const auto last = given.find_last_of("/\\");
  if (last != std::string_view::npos) given.remove_prefix(last + 1);
  std::string name;
  for (const char c : given) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
    name += plain || c == '.' || c == '-' || c == '_' || c == ' ' ? c : '_';
  }
  constexpr std::size_t longest = 80;
  if (name.size() > longest) name.erase(0, name.size() - longest);  // The ending tells the format.
  name.erase(0, name.find_first_not_of(". "));
  while (!name.empty() && (name.back() == '.' || name.back() == ' ')) name.pop_back();
  return name.find_first_not_of("._ -") == std::string::npos ? std::string() : name;
}

std::optional<std::string> file_bytes(const fs::path& path) {
  std::error_code error;
  // A link could lead anywhere.
  if (!fs::is_regular_file(fs::symlink_status(path, error)) || error) return std::nullopt;
  std::ifstream file(path, std::ios::binary);
  if (!file) return std::nullopt;
  std::ostringstream bytes;
  bytes << file.rdbuf();
  return std::move(bytes).str();
}

}  // namespace canewise
