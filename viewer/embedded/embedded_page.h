#pragma once

#include <string_view>

namespace canewise {

/// The built page of viewer/app, embedded so that the command is complete without it.
[[nodiscard]] std::string_view page_script();
[[nodiscard]] std::string_view page_style();

}  // namespace canewise
