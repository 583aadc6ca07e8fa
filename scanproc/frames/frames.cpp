#include "scanproc/frames/frames.h"

#include <algorithm>
#include <array>
#include <cctype>

#include "scanproc/bytes/number_text.h"
#include "scanproc/core/error.h"

namespace canewise {

std::vector<std::filesystem::path> picture_files(const std::filesystem::path& folder,
                                                 const std::vector<std::string>& names, std::size_t most,
                                                 std::string_view what) {
  std::vector<std::filesystem::path> files;
  if (!names.empty()) {
    for (const auto& name : names) files.push_back(folder / name);
  } else {
    constexpr std::array suffixes{".png", ".tif", ".tiff", ".jpg", ".jpeg"};
    std::error_code error;
    for (const auto& entry : std::filesystem::directory_iterator(folder, error)) {
      std::string suffix = entry.path().extension().string();
      std::transform(suffix.begin(), suffix.end(), suffix.begin(),
                     [](char c) { return static_cast<char>(std::tolower(static_cast<unsigned char>(c))); });
      if (entry.path().filename().string().starts_with('.')) continue;  // What other systems leave beside files.
      if (std::find(suffixes.begin(), suffixes.end(), suffix) != suffixes.end()) files.push_back(entry.path());
      if (files.size() > most) break;
    }
    if (error) {
      throw InputError(
          {"frames.unreadable_folder", {{"folder", text(folder.string())}, {"why", text(error.message())}}});
    }
    // Numbers without leading noughts too: frame-2 comes before frame-10.
    std::sort(files.begin(), files.end(), [](const auto& a, const auto& b) {
      const auto length = [](const std::filesystem::path& p) { return p.stem().string().size(); };
      return length(a) != length(b) ? length(a) < length(b) : a < b;
    });
  }
  if (files.empty()) throw InputError({"frames.none", {{"folder", text(folder.string())}, {"what", word(what)}}});
  if (files.size() > most) {
    throw InputError(
        {"frames.too_many", {{"folder", text(folder.string())}, {"most", digits(most)}, {"what", word(what)}}});
  }
  return files;
}

}  // namespace canewise
