#include "scanproc/bytes/scan_file.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <utility>
#include <vector>

#include "scanproc/bytes/number_text.h"
#include "scanproc/core/error.h"
#include "scanproc/core/sha256.h"

namespace canewise {
namespace {

Message cannot_open(int error_number) {
  return {"scan_file.cannot_open", {{"reason", text(std::strerror(error_number))}}};
}

}  // namespace

ScanFile::ScanFile(std::filesystem::path path) : path_(std::move(path)) {
  struct stat status {};
  if (::stat(path_.c_str(), &status) != 0) {
    fail(errno == ENOENT ? Message{"scan_file.none"} : cannot_open(errno));
  }
  if (S_ISDIR(status.st_mode)) fail({"scan_file.folder"});
  if (!S_ISREG(status.st_mode)) fail({"scan_file.not_regular"});
  descriptor_ = ::open(path_.c_str(), O_RDONLY | O_CLOEXEC);
  if (descriptor_ < 0) fail(cannot_open(errno));
  size_ = static_cast<std::uint64_t>(status.st_size);
  if (size_ == 0) {
    ::close(descriptor_);
    fail({"scan_file.empty"});
  }
}

ScanFile::~ScanFile() { ::close(descriptor_); }

void ScanFile::read_at(std::uint64_t offset, std::span<char> bytes) const {
  std::size_t done = 0;
  while (done < bytes.size()) {
    const auto got = ::pread(descriptor_, bytes.data() + done, bytes.size() - done, static_cast<off_t>(offset + done));
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) fail({"scan_file.cannot_read", {{"reason", text(std::strerror(errno))}}});
    if (got == 0) fail({"scan_file.ends_early", {{"byte", digits(offset + done)}}});
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

void ScanFile::fail(Message what_where_and_remedy) const {
  throw InputError({"in_file", {{"file", text(path_.string())}, {"what", part(std::move(what_where_and_remedy))}}});
}

}  // namespace canewise
