#pragma once

#include <cstdint>
#include <filesystem>
#include <map>
#include <mutex>
#include <optional>
#include <string>

namespace canewise {

struct UploadLimits {
  std::size_t at_once = 56;
  std::uintmax_t bytes = 8ULL << 30U;  ///< Of all that are on the disk or on their way.
};

/// Scans that come in, each in a hidden folder of its own inside the served folder. Whatever way the server ended, the
/// next one takes away what was left.
class Uploads {
 public:
  /// Throws OutputError if another server serves this folder: each would take the other's uploads for leftovers.
  Uploads(std::filesystem::path folder, UploadLimits limits);
  ~Uploads();
  Uploads(const Uploads&) = delete;
  Uploads& operator=(const Uploads&) = delete;

  /// One upload; its folder goes with it unless it was kept.
  class Slot {
   public:
    Slot(Uploads& uploads, std::filesystem::path folder) : uploads_(&uploads), folder_(std::move(folder)) {}
    ~Slot();
    Slot(Slot&& other) noexcept : uploads_(other.uploads_), folder_(std::move(other.folder_)), kept_(other.kept_) {
      other.uploads_ = nullptr;
    }
    Slot& operator=(Slot&&) = delete;
    [[nodiscard]] const std::filesystem::path& folder() const { return folder_; }
    void keep() { kept_ = true; }  ///< From here on somebody else takes the folder away.

   private:
    Uploads* uploads_;
    std::filesystem::path folder_;
    bool kept_ = false;
  };
  /// Room for so many bytes; nothing if too much is on its way. Throws OutputError if the folder cannot be made.
  [[nodiscard]] std::optional<Slot> begin(std::uintmax_t bytes);

 private:
  void take_leftovers_away() const;
  [[nodiscard]] std::uintmax_t bytes_taken() const;

  std::filesystem::path folder_;
  UploadLimits limits_;
  int lock_ = -1;
  std::mutex mutex_;
  std::map<std::filesystem::path, std::uintmax_t> on_their_way_;
};

}  // namespace canewise
