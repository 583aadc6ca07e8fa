#pragma once

#include <memory>
#include <span>
#include <string>

namespace canewise {

/// SHA-256 of bytes that arrive in pieces. Used to tell in a result which file it was measured from.
class Sha256 {
 public:
  Sha256();
  ~Sha256();
  Sha256(Sha256&&) noexcept;
  Sha256& operator=(Sha256&&) noexcept;

  void add(std::span<const char> bytes);
  /// 64 hex digits. Call once, last.
  [[nodiscard]] std::string hex();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace canewise
