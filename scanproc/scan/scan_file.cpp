#include "scanproc/scan/scan_file.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <vector>

#include "scanproc/core/error.h"
#include "scanproc/core/sha256.h"

namespace canewise {

ScanFile::ScanFile(std::filesystem::path path) : path_(std::move(path)) {
  struct stat status {};
  if (::stat(path_.c_str(), &status) != 0) {
    fail(errno == ENOENT ? "there is no such file. Check the name and the folder."
                         : std::string("cannot be opened: ") + std::strerror(errno) + ". Check its permissions.");
  }
  if (S_ISDIR(status.st_mode)) fail("is a folder, not a file. Name the file inside it.");
  if (!S_ISREG(status.st_mode)) fail("is not a regular file. Save the scan to disk first.");
  descriptor_ = ::open(path_.c_str(), O_RDONLY | O_CLOEXEC);
  if (descriptor_ < 0) fail(std::string("cannot be opened: ") + std::strerror(errno) + ". Check its permissions.");
  size_ = static_cast<std::uint64_t>(status.st_size);
  if (size_ == 0) {
    ::close(descriptor_);
    fail("is empty. Export the scan again.");
  }
}

ScanFile::~ScanFile() { ::close(descriptor_); }

void ScanFile::read_at(std::uint64_t offset, std::span<char> bytes) const {
  std::size_t done = 0;
  while (done < bytes.size()) {
    const auto got = ::pread(descriptor_, bytes.data() + done, bytes.size() - done, static_cast<off_t>(offset + done));
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) fail(std::string("cannot be read: ") + std::strerror(errno) + ". Copy it to this disk and try again.");
    if (got == 0) fail("ends before its content does (byte " + std::to_string(offset + done) + "). Export it again.");
    done += static_cast<std::size_t>(got);
  }
}

std::string ScanFile::head(std::size_t limit) const {
  std::string text(static_cast<std::size_t>(std::min<std::uint64_t>(limit, size_)), '\0');
  read_at(0, text);
  return text;
}

std::string ScanFile::all() const { return head(static_cast<std::size_t>(size_)); }

std::string ScanFile::sha256() const {
  Sha256 hash;
  std::vector<char> buffer(std::size_t{1} << 18U);
  for (std::uint64_t offset = 0; offset < size_; offset += buffer.size()) {
    const std::span<char> piece(buffer.data(),
                                static_cast<std::size_t>(std::min<std::uint64_t>(buffer.size(), size_ - offset)));
    read_at(offset, piece);
    hash.add(piece);
  }
  return hash.hex();
}

void ScanFile::fail(const std::string& what_where_and_remedy) const {
  throw InputError(path_.string() + ": " + what_where_and_remedy);
}

}  // namespace canewise
