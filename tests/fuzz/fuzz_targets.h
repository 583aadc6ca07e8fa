#pragma once

#include <span>
#include <string>
#include <string_view>

/// Something that meets strangers' bytes. Whatever they are, it reads or refuses in words.
struct FuzzTarget {
  std::string_view name;  ///< Also of its folder in the corpus.
  void (*feed)(const std::string& bytes);
};

/// All of them.
[[nodiscard]] std::span<const FuzzTarget> fuzz_targets();
/// Those of the server.
[[nodiscard]] std::span<const FuzzTarget> server_fuzz_targets();
