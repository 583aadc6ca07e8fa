#include "scanproc/core/output_place.h"

#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <system_error>

#include "scanproc/core/durable.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;

OutputError unusable_name(const fs::path& path, const std::error_code& why) {
  return OutputError({"output.unusable_name", {{"path", text(path.string())}, {"why", text(why.message())}}});
}

const char* name_of(Left left) {
  switch (left) {
    case Left::unchanged:
      return "unchanged";
    case Left::written:
      return "written";
    case Left::mixed:
      return "mixed";
    case Left::aside:
      return "aside";
  }
  return "mixed";
}

}  // namespace

bool is_there(const fs::path& path) {
  std::error_code error;
  const bool there = fs::exists(path, error);
  if (error) throw unusable_name(path, error);
  return there;
}

fs::path real_place(const fs::path& folder) {
  std::error_code error;
  fs::path place = fs::absolute(folder, error);
  if (!error) place = fs::weakly_canonical(place, error);
  if (error) throw unusable_name(folder, error);
  return place.has_filename() ? place : place.parent_path();
}

OutputError cannot_write(const fs::path& path, int error_number, Left left) {
  const bool no_room = error_number == ENOSPC || error_number == EFBIG || error_number == EDQUOT;
  return OutputError({"output.cannot_write",
                      {{"path", text(path.string())},
                       {"why", text(std::strerror(error_number))},
                       {"left", word(name_of(left))},
                       {"no_room", word(no_room ? "yes" : "no")}}});
}

MadeFolders::MadeFolders(const fs::path& folder) {
  std::vector<fs::path> missing;
  for (fs::path path = folder; !path.empty() && !fs::exists(path); path = path.parent_path()) missing.push_back(path);
  std::reverse(missing.begin(), missing.end());
  try {
    for (const fs::path& path : missing) {
      constexpr mode_t as_the_user_likes = 0777;  // Less what umask says.
      made_.push_back(path);
      if (::mkdir(path.c_str(), as_the_user_likes) != 0) {
        const int why = errno;
        made_.pop_back();
        throw std::system_error(why, std::generic_category());
      }
      sync_folder(path.parent_path());
    }
  } catch (...) {
    take_away();
    throw;
  }
}

MadeFolders::~MadeFolders() { take_away(); }

void MadeFolders::take_away() noexcept {
  for (auto path = made_.rbegin(); path != made_.rend(); ++path) ::rmdir(path->c_str());
}

}  // namespace canewise
