// Everything that is said stands in the catalogues, in every language, and nowhere else.
#include "scanproc/words/catalogue.h"

#include <gtest/gtest.h>
#include <unicode/messagepattern.h>
#include <unicode/msgfmt.h>
#include <unicode/unistr.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

namespace canewise {
namespace {

namespace fs = std::filesystem;

std::string utf8(const icu::UnicodeString& text) {
  std::string out;
  text.toUTF8String(out);
  return out;
}

/// Arguments of a pattern and how it takes them: "side select", "steps plural", "depth none".
struct Taken {
  std::set<std::string> names;
  std::map<std::string, std::set<std::string>> selected;  ///< Words that each select knows.
  std::set<std::string> counted;                          ///< Arguments of a plural.
  bool valid = false;
};

Taken taken_by(const std::string& pattern) {
  Taken taken;
  UErrorCode status = U_ZERO_ERROR;
  const icu::MessagePattern parsed(icu::UnicodeString::fromUTF8(pattern), nullptr, status);
  taken.valid = U_SUCCESS(status) != 0;
  if (!taken.valid) return taken;
  std::vector<std::string> open;
  for (std::int32_t i = 0; i < parsed.countParts(); ++i) {
    const auto& part = parsed.getPart(i);
    if (part.getType() == UMSGPAT_PART_TYPE_ARG_NAME) {
      std::string name = utf8(parsed.getSubstring(part));
      if (name.ends_with("_bare") || name.ends_with("_unit")) name.resize(name.size() - 5);
      taken.names.insert(name);
      open.push_back(name);
      if (i > 0 && parsed.getPart(i - 1).getArgType() == UMSGPAT_ARG_TYPE_PLURAL) taken.counted.insert(name);
    } else if (part.getType() == UMSGPAT_PART_TYPE_ARG_LIMIT) {
      if (!open.empty()) open.pop_back();
    } else if (part.getType() == UMSGPAT_PART_TYPE_ARG_SELECTOR && !open.empty()) {
      taken.selected[open.back()].insert(utf8(parsed.getSubstring(part)));
    }
  }
  return taken;
}

/// String literals of a C++ or TypeScript source, neighbours joined as C++ joins them, without those in comments.
std::vector<std::string> literals_of(const std::string& source) {
  std::vector<std::string> literals;
  bool joins = false;
  for (std::size_t i = 0; i < source.size();) {
    if (source.compare(i, 2, "//") == 0) {
      i = std::min(source.size(), source.find('\n', i));
    } else if (source.compare(i, 2, "/*") == 0) {
      i = source.find("*/", i + 2);
      i = i == std::string::npos ? source.size() : i + 2;
    } else if (source.compare(i, 2, "R\"") == 0) {
      const std::size_t open = source.find('(', i);
      const std::string close = ")" + source.substr(i + 2, open - i - 2) + "\"";
      const std::size_t end = source.find(close, open);
      literals.push_back(source.substr(open + 1, end - open - 1));
      i = end + close.size();
      joins = false;
    } else if (source[i] == '\'' && i > 0 && std::isalnum(static_cast<unsigned char>(source[i - 1])) != 0) {
      ++i;  // A digit separator.
    } else if (source[i] == '"' || source[i] == '\'' || source[i] == '`') {
      const char quote = source[i++];
      std::string text;
      while (i < source.size() && source[i] != quote) {
        if (source[i] == '\\' && i + 1 < source.size()) text += source[i++];
        text += source[i++];
      }
      ++i;
      if (joins && quote == '"') {
        literals.back() += text;
      } else {
        literals.push_back(text);
      }
      joins = quote == '"';
    } else {
      if (std::isspace(static_cast<unsigned char>(source[i])) == 0) joins = false;
      ++i;
    }
  }
  return literals;
}

struct Source {
  std::string file, text;
  std::vector<std::string> literals;
};

std::vector<Source> sources(const std::vector<std::string>& folders, const std::set<std::string>& suffixes) {
  std::vector<Source> all;
  for (const auto& folder : folders) {
    for (const auto& entry : fs::recursive_directory_iterator(fs::path(CANEWISE_SOURCE_DIR) / folder)) {
      if (!suffixes.contains(entry.path().extension().string())) continue;
      std::ifstream file(entry.path());
      std::string text{std::istreambuf_iterator<char>(file), {}};
      const std::string name = fs::relative(entry.path(), CANEWISE_SOURCE_DIR).generic_string();
      all.push_back({name, text, literals_of(text)});
    }
  }
  return all;
}

std::vector<Source> command_sources() { return sources({"scanproc", "calib", "viewer/server"}, {".cpp", ".h"}); }
std::vector<Source> page_sources() { return sources({"viewer/app/src"}, {".ts", ".tsx"}); }

TEST(Catalogue, HasEveryMessageInEveryLanguageWithTheSameArguments) {
  const Catalogue& english = catalogue_of(Language::english);
  EXPECT_GT(english.size(), 500U);
  for (const Language language : kLanguages) {
    const Catalogue& catalogue = catalogue_of(language);
    EXPECT_EQ(catalogue.size(), english.size()) << code_of(language);
    for (const auto& [id, pattern] : catalogue) {
      const Taken taken = taken_by(pattern);
      ASSERT_TRUE(taken.valid) << code_of(language) << " " << id << ": " << pattern;
      EXPECT_FALSE(pattern.empty()) << id;
      ASSERT_TRUE(english.contains(id)) << code_of(language) << " has " << id << ", English has not";
      const Taken in_english = taken_by(english.at(id));
      EXPECT_EQ(taken.names, in_english.names) << code_of(language) << " " << id;
      for (const auto& [name, words] : taken.selected)
        EXPECT_TRUE(words.contains("other")) << id << " {" << name << "}";
    }
  }
}

TEST(Catalogue, HoldsWhatIsSaidAndNothingThatIsNot) {
  const Catalogue& english = catalogue_of(Language::english);
  std::set<std::string> said;
  const std::regex wanted(R"re((?:Message(?:\(|\{)|\(\{|fail\()"([a-z0-9_.]+)")re");
  for (const Source& source : command_sources()) {
    for (const std::string& literal : source.literals) {
      if (english.contains(literal)) said.insert(literal);
    }
    for (auto match = std::sregex_iterator(source.text.begin(), source.text.end(), wanted);
         match != std::sregex_iterator(); ++match) {
      const std::string id = (*match)[1];
      const bool is_file = id.ends_with(".png") || id.ends_with(".json");
      if (id.find('.') != std::string::npos && !is_file) {
        EXPECT_TRUE(english.contains(id)) << source.file << " says " << id;
      }
    }
  }
  // The page asks for its own words by the name behind 'page.', which may be put together from a key.
  std::string page;
  for (const Source& source : page_sources()) page += source.text;
  for (const auto& [id, pattern] : english) {
    if (id.starts_with("page.")) {
      const std::string name = id.substr(5);
      const auto joint = name.find('_');
      // Zones are named by their keys in the data.
      const bool is_zone = name == "tip" || name == "front" || name == "middle" || name == "back" || name == "centre" ||
                           name == "flank" || name == "rail";
      const bool is_named =
          is_zone || page.find("\"" + name + "\"") != std::string::npos || page.find(name + ":") != std::string::npos ||
          (joint != std::string::npos && page.find("`" + name.substr(0, joint + 1) + "${") != std::string::npos);
      EXPECT_TRUE(is_named) << "nothing on the page says " << id;
    } else {
      EXPECT_TRUE(said.contains(id) || page.find("\"" + id + "\"") != std::string::npos) << "nothing says " << id;
    }
  }
}

/// Names that stand first in the braces of a list of arguments, `{{"depth", um(3.0)}, {"side", ...}}`; `at` is behind
/// its first brace.
std::set<std::string> names_given(const std::string& source, std::size_t at) {
  static const std::regex first(R"re(^\{\s*"(\w+)"\s*,)re");
  std::set<std::string> names;
  for (int depth = 1; depth > 0 && at < source.size(); ++at) {
    if (source[at] == '"') {
      for (++at; at < source.size() && source[at] != '"'; ++at) at += source[at] == '\\';
    } else if (source[at] == '{') {
      std::smatch match;
      const std::string here = source.substr(at, 60);
      if (depth == 1 && std::regex_search(here, match, first)) names.insert(match[1]);
      ++depth;
    } else if (source[at] == '}') {
      --depth;
    }
  }
  return names;
}

TEST(Catalogue, TakesWhatTheSourcesGive) {
  const std::regex with_arguments(R"re("([a-z0-9_.]+)"\s*,\s*\{(?=\s*\{\s*"))re");
  int seen = 0;
  for (const Source& source : command_sources()) {
    const std::string& text = source.text;
    for (auto match = std::sregex_iterator(text.begin(), text.end(), with_arguments); match != std::sregex_iterator();
         ++match) {
      const auto pattern = catalogue_of(Language::english).find((*match)[1].str());
      if (pattern == catalogue_of(Language::english).end()) continue;
      const auto behind = static_cast<std::size_t>(match->position() + match->length());
      EXPECT_EQ(names_given(text, behind), taken_by(pattern->second).names)
          << source.file << " says " << pattern->first;
      ++seen;
    }
  }
  EXPECT_GT(seen, 400) << "the test must have read something";
}

/// What is a key of files or data and never shown as it is: words that a pattern selects by, values in result.json
/// (kept so since version 1), what rig.toml and a cloud say of how they were made, and what the shell's parser says.
bool is_key(const std::string& file, const std::string& literal) {
  static const std::set<std::string> of_files{"scanproc/pipeline/result_json.cpp",
                                              "scanproc/cli/parser_words.cpp",
                                              "scanproc/rig/rig.h",
                                              "scanproc/rig/rig.cpp",
                                              "scanproc/rig/rig_text.cpp",
                                              "scanproc/heights/x3p.cpp",
                                              "scanproc/frames/depth_folder.cpp",
                                              "scanproc/clouds/text_points.cpp",
                                              "scanproc/pipeline/laid_anew.cpp",
                                              "scanproc/scrape/plan_words.cpp",
                                              "calib/steps_gauge.cpp",
                                              "calib/steps_surface.cpp",
                                              "calib/steps_import.cpp",
                                              "calib/steps_optics.cpp"};
  static const std::set<std::string> selected = [] {
    std::set<std::string> all;
    for (const auto& [id, pattern] : catalogue_of(Language::english)) {
      for (const auto& [name, words] : taken_by(pattern).selected) all.insert(words.begin(), words.end());
    }
    return all;
  }();
  std::string key = literal;
  std::replace(key.begin(), key.end(), ' ', '_');
  const bool is_sentence = literal.size() > 100 || literal.find(". ") != std::string::npos;
  return selected.contains(key) || (of_files.contains(file) && (!is_sentence || literal.starts_with("#")));
}

/// Three words in a row, the later ones small: prose, if no programmer's text.
bool is_prose(const std::string& literal) {
  static const std::regex words(R"re((^|[^A-Za-z<>_./-])[A-Za-z][a-z]+,? [a-z']+,? [a-z']+)re");
  return std::regex_search(literal, words);
}

TEST(Catalogue, AloneHoldsProse) {
  EXPECT_TRUE(is_prose("the reed is too thin"));
  EXPECT_FALSE(is_prose("result.json"));
  // Where no person reads: faults of the program, what other programs' files say, what a shader or a style sheet is.
  const std::regex programmer(R"re((logic_error|invalid_argument|static_assert|runtime_error|NOLINT)[^;]*)re");
  std::size_t lines = 0;
  for (const auto& list : {command_sources(), page_sources()}) {
    for (const Source& source : list) {
      const std::string without = std::regex_replace(source.text, programmer, "");
      for (const std::string& literal : literals_of(without)) {
        if (!is_prose(literal) || is_key(source.file, literal)) continue;
        ++lines;
        ADD_FAILURE() << source.file << ": \"" << literal.substr(0, 120) << "\"";
      }
    }
  }
  RecordProperty("lines_of_prose", static_cast<int>(lines));
}

TEST(Catalogue, EveryMessageIsSaidInEveryLanguageForEveryWordThatAPatternKnows) {
  for (const Language language : kLanguages) {
    const icu::Locale locale(std::string(code_of(language)).c_str());
    for (const auto& [id, pattern] : catalogue_of(language)) {
      const Taken taken = taken_by(pattern);
      // Each select's words in turn, the first of all others beside them.
      std::size_t rounds = 1;
      for (const auto& [name, words] : taken.selected) rounds = std::max(rounds, words.size());
      for (std::size_t round = 0; round < rounds; ++round) {
        UErrorCode status = U_ZERO_ERROR;
        const icu::MessageFormat format(icu::UnicodeString::fromUTF8(pattern), locale, status);
        std::vector<icu::UnicodeString> names;
        std::vector<icu::Formattable> values;
        const auto give = [&](const std::string& name, const icu::Formattable& value) {
          names.push_back(icu::UnicodeString::fromUTF8(name));
          values.push_back(value);
        };
        for (const std::string& name : taken.names) {
          const auto words = taken.selected.find(name);
          if (taken.counted.contains(name)) {
            give(name, icu::Formattable(static_cast<std::int64_t>(round)));
          } else if (words != taken.selected.end()) {
            auto key = words->second.begin();
            std::advance(key, static_cast<std::ptrdiff_t>(round % words->second.size()));
            for (const char* part : {"", "_unit"})
              give(name + part, icu::Formattable(icu::UnicodeString::fromUTF8(*key)));
          } else {
            give(name, icu::Formattable("<" + icu::UnicodeString::fromUTF8(name) + ">"));
            for (const char* part : {"_bare", "_unit"})
              give(name + part, icu::Formattable("<" + icu::UnicodeString::fromUTF8(name) + ">"));
          }
        }
        icu::UnicodeString out;
        format.format(names.data(), values.data(), static_cast<std::int32_t>(names.size()), out, status);
        ASSERT_TRUE(U_SUCCESS(status)) << code_of(language) << " " << id;
        EXPECT_EQ(utf8(out).find('{'), std::string::npos) << code_of(language) << " " << id << ": " << utf8(out);
      }
    }
  }
}

}  // namespace
}  // namespace canewise
