#include "scanproc/datum/joining_part.h"

#include <dlfcn.h>

#include <string_view>
#include <system_error>
#include <utility>

#include "scanproc/core/error.h"

namespace canewise {
namespace {

Error cannot_join(Message why) { return {ExitCode::internal, {"joining.no_part", {{"why", part(std::move(why))}}}}; }

}  // namespace

const JoiningPart& load_joining_part(const std::vector<std::filesystem::path>& files) {
  Message looked_at;
  for (const auto& file : files) {
    const Argument name = text(file.string());
    looked_at = looked_at.empty() ? Message{"verbatim", {{"text", name}}}
                                  : Message{"joining.file_and_file", {{"files", part(looked_at)}, {"file", name}}};
    std::error_code none;
    if (!std::filesystem::exists(file, none)) continue;
    // Never closed: what it returned may outlive any caller.
    void* const library = dlopen(file.c_str(), RTLD_LAZY | RTLD_LOCAL);
    if (library == nullptr) throw cannot_join({"joining.part_unloadable", {{"file", name}, {"why", text(dlerror())}}});
    using Entry = const JoiningPart* (*)();
    const auto entry = reinterpret_cast<Entry>(dlsym(library, "canewise_joining_part"));
    if (entry == nullptr || std::string_view(entry()->version) != CANEWISE_VERSION)
      throw cannot_join({"joining.part_of_other_version", {{"file", name}}});
    return *entry();
  }
  throw cannot_join({"joining.part_missing", {{"files", part(looked_at)}}});
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
