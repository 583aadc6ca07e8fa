#include <fcntl.h>
#include <sys/mman.h>
#include <unistd.h>

#include <string>

#include "scanproc/assess/target_file.h"
#include "scanproc/core/error.h"
#include "scanproc/scan/read_scan.h"
#include "scanproc/scan/rig.h"
#include "tests/fuzz/read_scan_target.h"

void read_as_everything(const std::uint8_t* data, std::size_t size) {
  using namespace canewise;
  const int memory = ::memfd_create("scan", MFD_CLOEXEC);
  if (memory < 0 || ::write(memory, data, size) != static_cast<ssize_t>(size)) {
    if (memory >= 0) ::close(memory);
    return;
  }
  const std::string path = "/proc/self/fd/" + std::to_string(memory);
  try {
    (void)read_scan(ScanFile(path));
  } catch (const Error&) {  // Refused in words: as it should be.
  }
  try {
    (void)read_rig(path);
  } catch (const Error&) {
  }
  try {
    (void)target_from_json(std::string(reinterpret_cast<const char*>(data), size), "target");
  } catch (const Error&) {
  }
  ::close(memory);
}
