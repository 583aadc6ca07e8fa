#include "scanproc/core/md5.h"

#include <openssl/evp.h>

#include <array>
#include <stdexcept>

#include "scanproc/core/hex.h"

namespace canewise {

std::string md5(std::span<const char> bytes) {
  std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
  unsigned int size = 0;
  if (EVP_Digest(bytes.data(), bytes.size(), digest.data(), &size, EVP_md5(), nullptr) != 1) {
    throw std::runtime_error("MD5 is not available in this system's cryptographic library");
  }
  return hex_of(std::span(digest.data(), size));
}

}  // namespace canewise
