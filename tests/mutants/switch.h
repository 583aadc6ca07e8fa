// Stands at the head of every file of the copy that has a fault; the others stay as they are, and use the tests'
// precompiled headers. A guard, because a source file cannot say '#pragma once'.
#ifndef CANEWISE_TESTS_MUTANTS_SWITCH_H
#define CANEWISE_TESTS_MUTANTS_SWITCH_H

#include <cstdlib>

namespace canewise::mutants {

// Not a static of on(): planted faults stand in the innermost loops, where a guard would cost time.
inline const unsigned long chosen = [] {
  const char* number = std::getenv("CANEWISE_MUTANT");
  return number == nullptr ? 0UL : std::strtoul(number, nullptr, 10);
}();

[[nodiscard]] inline bool on(unsigned long number) { return chosen == number; }

}  // namespace canewise::mutants

#endif
