#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "scanproc/words/message.h"

namespace canewise {

/// A settings file as plain values. TOML and JSON both end here, so that every settings file is checked in one way:
/// each key is asked for by name, and what nobody asked for is refused with the names that are known.
class Settings {
 public:
  /// Reads a TOML or JSON file (told by the content). Throws InputError that names file and line.
  [[nodiscard]] static Settings read(const std::filesystem::path& path);
  /// The same from text; `name` stands for the file in messages.
  [[nodiscard]] static Settings parse(const std::string& text, const std::string& name);

  [[nodiscard]] bool has(const std::string& key);
  /// Empty where the key is absent; throws InputError where it is not a number from `low` to `high`.
  [[nodiscard]] std::optional<double> number(const std::string& key, double low, double high);
  [[nodiscard]] std::optional<std::string> text(const std::string& key);
  [[nodiscard]] std::optional<bool> flag(const std::string& key);
  [[nodiscard]] std::vector<double> numbers(const std::string& key, std::size_t count, double low, double high);
  /// A list of any length up to `most`; empty where it is absent.
  [[nodiscard]] std::vector<double> numbers_up_to(const std::string& key, std::size_t most, double low, double high);
  [[nodiscard]] std::vector<std::string> texts(const std::string& key);
  /// A table inside; empty where it is absent.
  [[nodiscard]] Settings table(const std::string& key);

  /// Tables of one name, [[key]], in their order; empty where there are none.
  [[nodiscard]] std::vector<Settings> tables(const std::string& key);
  /// Names of the texts in this table, for tables whose keys are the user's own.
  [[nodiscard]] std::map<std::string, std::string> all_texts();
  /// The same for numbers.
  [[nodiscard]] std::map<std::string, double> all_numbers(double low, double high);
  [[nodiscard]] const std::string& file() const { return file_; }

  /// Sets `value` if the key is there.
  void number_into(double& value, const std::string& key, double low, double high) {
    if (const auto given = number(key, low, high)) value = *given;
  }
  /// Throws InputError for the first key that was never asked for.
  void refuse_unknown() const;
  [[noreturn]] void fail(const std::string& key, Message what) const;

 private:
  struct Value {
    enum class Kind { number, text, flag, list, table, other } kind = Kind::other;
    double number = 0.0;
    bool flag = false;
    std::string text;
    std::vector<double> numbers;  ///< Of a list.
    std::vector<Value> items;     ///< What is in it besides.
    std::map<std::string, Value> entries;
    int line = 0;  ///< 0: not known.
    [[nodiscard]] std::size_t size() const { return numbers.size() + items.size(); }
  };
  struct Build;
  [[nodiscard]] const Value* find(const std::string& key);

  std::string file_, prefix_;
  Value root_;
  std::set<std::string> asked_;
};

}  // namespace canewise
