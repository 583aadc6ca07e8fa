#pragma once

#include <string_view>
#include <vector>

namespace canewise {

/// One file of assess/targets/, embedded when the program is built.
struct BuiltinTarget {
  std::string_view name;
  std::string_view text;
};
extern const std::vector<BuiltinTarget> kBuiltinTargets;

}  // namespace canewise
