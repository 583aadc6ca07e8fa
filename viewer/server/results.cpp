#include "viewer/server/results.h"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "scanproc/words/message_json.h"

namespace canewise {
namespace {

using nlohmann::json;

/// A value of a file as JSON again, piece by piece as it is read.
class Copied {
 public:
  void key(const std::string& name) {
    add(json(name).dump());
    text_ += ':';
  }
  void add(std::string_view piece) {
    const bool first = text_.empty() || text_.back() == '[' || text_.back() == '{' || text_.back() == ':';
    if (text_.size() < kMost) text_ += (first ? "" : ",") + std::string(piece);
  }
  void end(char bracket) {
    if (text_.size() < kMost) text_ += bracket;
  }
  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  static constexpr std::size_t kMost = 8192;  ///< What is longer is no headline: it is cut and so is no JSON.
  std::string text_;
};

/// Reads the few texts without building the maps: these are large.
struct HeadReader : nlohmann::json_sax<json> {
  ResultEntry entry;
  std::string format, at, within;  ///< The key on the uppermost level, and the one below.
  Copied headline;
  int depth = 0;
  bool in_headline = false;
  bool null() override { return copy("null"); }
  bool boolean(bool value) override { return copy(value ? "true" : "false"); }
  bool number_integer(number_integer_t value) override { return !in_headline || copy(std::to_string(value)); }
  bool number_unsigned(number_unsigned_t value) override { return !in_headline || copy(std::to_string(value)); }
  bool number_float(number_float_t, const string_t& digits) override { return copy(digits); }
  bool binary(binary_t&) override { return true; }
  bool string(string_t& value) override {
    if (in_headline) return value.size() > kLongest || copy(json(value).dump());
    if (depth == 2 && at == "reed" && value.size() <= kLongest) {
      if (within == "label") entry.reed.label = value;
      if (within == "box") entry.reed.box = value;
      if (within == "player") entry.reed.player = value;
    }
    if (depth != 1) return true;
    if (at == "format") format = value;
    if (value.size() > kLongest) return true;
    // A result of the first version holds the words themselves.
    if (at == "headline") entry.headline = {Message{"verbatim", {{"text", text(value)}}}};
    if (at == "measured_at") entry.measured_at = value;
    if (at == "state") entry.state = value;
    return true;
  }
  bool start_object(std::size_t) override { return copy("{") && ++depth < kDeepest; }
  bool end_object() override { return end('}'); }
  bool start_array(std::size_t) override {
    if (depth == 1 && at == "headline") {
      in_headline = true;
      headline = {};
    }
    return copy("[") && ++depth < kDeepest;
  }
  bool end_array() override {
    const bool goes_on = end(']');
    if (depth == 1 && in_headline) {
      in_headline = false;
      entry.headline = messages_of(headline.text());
    }
    return goes_on;
  }
  bool key(string_t& name) override {
    if (depth == 1) at = name;
    if (depth == 2) within = name;
    if (in_headline) headline.key(name);
    return true;
  }
  bool parse_error(std::size_t, const std::string&, const nlohmann::json::exception&) override { return false; }

 private:
  static constexpr int kDeepest = 64;
  static constexpr std::size_t kLongest = 2000;  ///< Of a text that is listed.
  bool copy(std::string_view piece) {
    if (in_headline) headline.add(piece);
    return true;
  }
  bool end(char bracket) {
    if (in_headline) headline.end(bracket);
    return --depth >= 0;
  }
  static Messages messages_of(const std::string& list) {
    try {
      return json::parse(list).get<Messages>();
    } catch (const std::exception&) {
      return {};
    }
  }
};

/// A number or text that is longer than any of ours: a parser would keep it two or three times.
bool has_endless_token(std::string_view json_text) {
  constexpr std::size_t longest = std::size_t{1} << 20U;
  constexpr std::string_view ends_number = ",:[]{} \t\r\n";
  std::size_t length = 0;
  bool in_text = false;
  for (std::size_t at = 0; at < json_text.size() && length <= longest; ++at) {
    const char c = json_text[at];
    if (in_text && c == '\\') ++at;
    if (c == '"') in_text = !in_text;
    length = c == '"' || (!in_text && ends_number.find(c) != std::string_view::npos) ? 0 : length + 1;
  }
  return length > longest;
}

/// What the file says of itself; nothing if it is no result.
std::optional<ResultEntry> entry_of(const std::string& bytes, const std::string& name) {
  HeadReader reader;
  if (has_endless_token(bytes)) return std::nullopt;
  if (!nlohmann::json::sax_parse(bytes, &reader) || reader.format != "canewise-result") return std::nullopt;
  reader.entry.name = name;
  return std::move(reader.entry);
}

}  // namespace

std::optional<std::string> result_bytes(const HeldFolder& folder, const std::string& name) {
  return folder.read(name, "result.json", kMostResultBytes);
}

ResultList::Listed ResultList::list(const HeldFolder& folder, const std::function<bool()>& may_read) {
  std::map<std::string, Known> now;
  Listed listed;
  auto& entries = listed.entries;
  for (const std::string& name : folder.names(kMost)) {
    const auto state = folder.state(name, "result.json");
    if (!state) continue;
    const auto before = known_.find(name);
    Known known{*state, {}};
    if (before != known_.end() && before->second.state == *state) {
      known = before->second;
    } else if (!may_read()) {
      listed.more = true;
      continue;
    } else if (const auto bytes = result_bytes(folder, name)) {
      known.entry = entry_of(*bytes, name);
    }
    if (known.entry) entries.push_back(*known.entry);
    now.emplace(name, std::move(known));
  }
  known_ = std::move(now);
  std::sort(entries.begin(), entries.end(), [](const ResultEntry& a, const ResultEntry& b) {
    return a.measured_at != b.measured_at ? a.measured_at > b.measured_at : a.name < b.name;
  });
  return listed;
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
  // Of a name in another script only the ending may be left, which tells the format.
  const std::size_t ending = name.rfind('.'), first = name.find_first_not_of("._- ");
  if (ending != std::string::npos && ending > 0 && first != std::string::npos && first > ending) {
    name = ("scan" + name.substr(ending)).substr(0, longest);
  }
  // A name that begins with '-' would be an option to many a program.
  name.erase(0, std::min(name.find_first_not_of("._- "), name.size()));
  while (!name.empty() && (name.back() == '.' || name.back() == ' ')) name.pop_back();
  return name;
}

}  // namespace canewise
