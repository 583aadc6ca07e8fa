#include "tests/fuzz/read_scan_target.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  read_as_everything(data, size);
  return 0;
}
