#include <cstddef>
#include <cstdint>

#include "tests/fuzz/fuzz_targets.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  for (const auto& target : fuzz_targets()) {
    if (target.name == CANEWISE_FUZZ_TARGET) target.feed(std::string(reinterpret_cast<const char*>(data), size));
  }
  return 0;
}
