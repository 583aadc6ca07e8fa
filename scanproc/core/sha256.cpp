#include "scanproc/core/sha256.h"

#include <openssl/evp.h>

#include <array>
#include <new>

#include "scanproc/core/hex.h"

namespace canewise {

struct Sha256::State {
  EVP_MD_CTX* context = EVP_MD_CTX_new();
  State() {
    if (context == nullptr || EVP_DigestInit_ex(context, EVP_sha256(), nullptr) != 1) throw std::bad_alloc();
  }
  ~State() { EVP_MD_CTX_free(context); }
  State(const State&) = delete;
  State& operator=(const State&) = delete;
};

Sha256::Sha256() : state_(std::make_unique<State>()) {}
Sha256::~Sha256() = default;
Sha256::Sha256(Sha256&&) noexcept = default;
Sha256& Sha256::operator=(Sha256&&) noexcept = default;

void Sha256::add(std::span<const char> bytes) { EVP_DigestUpdate(state_->context, bytes.data(), bytes.size()); }

std::string Sha256::hex() {
  std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
  unsigned int size = 0;
  EVP_DigestFinal_ex(state_->context, digest.data(), &size);
  return hex_of(std::span(digest.data(), size));
}

}  // namespace canewise
