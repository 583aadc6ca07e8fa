#pragma once

#include <map>
#include <string>
#include <string_view>

#include "scanproc/words/speech.h"

namespace canewise {

/// Patterns of ICU MessageFormat by id, as in the language's JSON file, which is built in and read when first asked
/// for.
using Catalogue = std::map<std::string, std::string, std::less<>>;
[[nodiscard]] const Catalogue& catalogue_of(Language language);
[[nodiscard]] std::string_view catalogue_file(Language language);

}  // namespace canewise
