#pragma once

#include <cstdlib>

// Included into every source of the tool's own build by the compiler's option -include: the sources stay as they are
// but for the planted faults, so tests that read the sources' includes still hold.
namespace canewise::mutants {

// Not a static of on(): planted faults stand in the innermost loops, where a guard would cost time.
inline const unsigned long chosen = [] {
  const char* number = std::getenv("CANEWISE_MUTANT");
  return number == nullptr ? 0UL : std::strtoul(number, nullptr, 10);
}();

[[nodiscard]] inline bool on(unsigned long number) { return chosen == number; }

}  // namespace canewise::mutants
