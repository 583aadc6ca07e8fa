#pragma once

#include <CLI/CLI.hpp>
#include <string>
#include <vector>

#include "scanproc/words/speech.h"

namespace canewise {

/// The parser's help with its headings in the reader's language.
class HelpFormat : public CLI::Formatter {
 public:
  explicit HelpFormat(const Speech& speech);
  std::string make_group(std::string group, bool is_positional, std::vector<const CLI::Option*> options) const override;
  std::string make_description(const CLI::App* app) const override;
};

}  // namespace canewise
