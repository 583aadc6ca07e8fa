#pragma once

#include <ostream>
#include <string>
#include <vector>

#include "scanproc/words/speech.h"

namespace canewise {

// For failures of a test.
inline std::ostream& operator<<(std::ostream& out, const Message& message) { return out << phrase(message); }
inline std::ostream& operator<<(std::ostream& out, const Messages& messages) { return out << sentences(messages); }

namespace test {

inline std::string in_english(const Message& message) { return phrase(message); }
inline std::string in_english(const Messages& messages) { return sentences(messages); }
/// For a list whose items stand alone.
inline std::vector<std::string> each_in_english(const Messages& messages) {
  std::vector<std::string> each;
  for (const Message& message : messages) each.push_back(sentence(message));
  return each;
}

}  // namespace test
}  // namespace canewise
