#pragma once

#include <string>
#include <string_view>

#include "scanproc/words/speech.h"

namespace canewise {

/// What is said, as an element of HTML that also carries its message, so that the page's script can say it anew in
/// another language or unit: <span data-say='[{"id": ...}]'>words</span>. Sentences begin with a capital letter; a
/// phrase stands as the catalogue has it, and is no list: data-say='{"id": ...}'. Nothing for nothing said.
[[nodiscard]] std::string said(const Messages& sentences, const Speech& speech);
[[nodiscard]] std::string said(const Message& sentence, const Speech& speech);
[[nodiscard]] std::string said_phrase(const Message& phrase, const Speech& speech);
/// The same as attributes of an element: ` alt="words" data-say-alt='...'`.
[[nodiscard]] std::string said_as(std::string_view attribute, const Message& sentence, const Speech& speech);
/// What an element carries whose text is that sentence: ` data-say='...'`.
[[nodiscard]] std::string say_attribute(const Message& sentence);

}  // namespace canewise
