#include "scanproc/datum/joining_part.h"

#include <dlfcn.h>
#include <fmt/format.h>

#include <string>
#include <string_view>
#include <system_error>

#include "scanproc/core/error.h"

namespace canewise {
namespace {

Error cannot_join(const std::string& why) {
  return {ExitCode::internal,
          "the scans cannot be joined: " + why + " Install canewise again, or measure the scans one by one."};
}

}  // namespace

const JoiningPart& load_joining_part(const std::vector<std::filesystem::path>& files) {
  std::string looked_at;
  for (const auto& file : files) {
    looked_at += (looked_at.empty() ? "" : " and ") + file.string();
    std::error_code none;
    if (!std::filesystem::exists(file, none)) continue;
    // Never closed: what it returned may outlive any caller.
    void* const library = dlopen(file.c_str(), RTLD_LAZY | RTLD_LOCAL);
    if (library == nullptr)
      throw cannot_join(fmt::format("canewise's part {} cannot be loaded ({}).", file.string(), dlerror()));
    using Entry = const JoiningPart* (*)();
    const auto entry = reinterpret_cast<Entry>(dlsym(library, "canewise_joining_part"));
    if (entry == nullptr || std::string_view(entry()->version) != CANEWISE_VERSION)
      throw cannot_join(fmt::format("canewise's part {} is of another version.", file.string()));
    return *entry();
  }
  throw cannot_join(fmt::format("a part of canewise is missing (looked for {}).", looked_at));
}

const JoiningPart& joining_part() {
  static const JoiningPart& part = []() -> const JoiningPart& {
    std::error_code none;
    const auto folder = std::filesystem::read_symlink("/proc/self/exe", none).parent_path();
    return load_joining_part(
        {folder / CANEWISE_JOINING_FILE, (folder / CANEWISE_JOINING_INSTALLED).lexically_normal()});
  }();
  return part;
}

}  // namespace canewise
